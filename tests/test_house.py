"""Data flows one way, and the folders show it: who may import whom, and what names stand for."""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "whatif"

MAY_IMPORT = {
    "units": set(),
    "study": {"units"},
    "readings": {"units"},
    "cell": set(),
    "plan": {"units", "study", "cell"},
    "answers": {"units", "study", "cell", "plan"},
    "telling": {"units", "study", "readings", "cell", "plan", "answers"},
    "session": {"units", "study", "readings", "cell", "plan", "answers", "telling"},
    "reports": {"units", "study", "readings", "cell", "plan", "answers", "telling"},
    "screens": {"units", "study", "readings", "cell", "plan", "answers", "telling", "session"},
    "command": {
        "units",
        "study",
        "readings",
        "cell",
        "plan",
        "answers",
        "telling",
        "session",
        "reports",
        "screens",
    },
}

EVERYWHERE = {"records"}
"""What any folder but the cell may use, and stands in none."""

WITHIN = {
    "study/schema": {"study"},
    "study/check": {"study", "study/schema"},
    "study/edits": {"study", "study/schema", "study/check"},
    "study/file": {"study", "study/schema"},
    "study/first": {"study", "study/schema"},
    "study/table": {"study", "study/schema", "study/check", "study/edits", "study/file"},
    "cell/fit": {"cell"},
    "answers/account": {"answers", "answers/money", "answers/orders"},
    "answers/meters": {"answers"},
    "answers/money": {"answers"},
    "answers/moves": {"answers", "answers/meters", "answers/money"},
    "answers/night": {"answers"},
    "answers/search": {
        "answers",
        "answers/meters",
        "answers/money",
        "answers/moves",
        "answers/orders",
    },
    "answers/orders": {"answers"},
    "answers/walk": {"answers", "answers/meters"},
    "telling/account": {"telling", "telling/money"},
    "telling/meeting": {"telling", "telling/money"},
    "telling/money": {"telling"},
    "telling/moves": {"telling", "telling/money"},
    "telling/week": {"telling"},
    "session/calculate": {"session", "session/kept"},
    "session/kept": set(),
    "reports/paper": {"reports"},
    "screens/widgets": set(),
    "screens/views": {"screens/widgets"},
    "screens/dialogs": {"screens/widgets", "screens/views"},
    "screens/beginning": {"screens/widgets", "screens/dialogs"},
    "screens/desk": {"screens/widgets", "screens/dialogs", "screens/views"},
}
"""Rooms within a folder, and which of its other rooms each may import; the folder's own name
stands for the files that are in none."""

FACTS_ONLY = ("units", "study", "readings", "cell", "plan", "answers", "session")
"""Folders that write no sentences: `telling` makes them of facts, also for `session` above it."""

MAY_HAVE_SENTENCES = {
    "answers/states.py": "what is said of each state stands beside what else is true of it",
    "study/schema/models": "how a value is found stands in its field, with all that is true of it",
    "study/schema/kinds": "what may be typed and what is wrong with it, known only to its reader",
    "study/first/questions.py": "a question stands beside how its answer is read",
}
"""Files and rooms below the telling that have sentences, and why."""

SENTENCE = re.compile(r"\w+ \w+ .*[.?;]( |$)")

IN_TWO_MODULES = {
    "Part": "a part as its file says it, and the same as the cell makes it",
    "Shift": "a shift as its file says it, and the same as the cell works it",
}
"""Public names that may stand in a module each of several, and why."""

NOT_IN_THE_CELL = {"pydantic", "pint", "textual", "tomli_w", "tomllib", "pathlib", "io", "time"}
NO_SCREEN = (
    "units",
    "study",
    "readings",
    "cell",
    "plan",
    "answers",
    "telling",
    "session",
    "reports",
)


@cache
def imports(path: Path) -> set[str]:
    """Every module that a file imports, inside functions too."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports by full name, so that the house shows"
            found.add(node.module or "")
            found |= {f"{node.module}.{name.name}" for name in node.names}
    return found


def files(folder: str) -> list[Path]:
    return sorted((PACKAGE / folder).rglob("*.py"))


def module(path: Path) -> str:
    """The full name by which a file is imported."""
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def test_every_folder_has_its_place() -> None:
    folders = {path.name for path in PACKAGE.iterdir() if (path / "__init__.py").exists()}
    assert folders == set(MAY_IMPORT)


@pytest.mark.parametrize("folder", MAY_IMPORT)
def test_imports_run_one_way(folder: str) -> None:
    assert files(folder)
    for path in files(folder):
        ours = {name.split(".")[1] for name in imports(path) if name.startswith("whatif.")}
        allowed = MAY_IMPORT[folder] | {folder} | (EVERYWHERE if folder != "cell" else set())
        assert ours <= allowed, path


def room(parts: tuple[str, ...]) -> str:
    """The room that a file or module stands in, from the names that lead to it."""
    inner = "/".join(parts[:2])
    return inner if (PACKAGE / inner).is_dir() else parts[0]


def test_every_room_within_a_folder_has_its_place() -> None:
    inner = {path.parent.relative_to(PACKAGE).as_posix() for path in PACKAGE.glob("*/*/*.py")}
    assert inner == set(WITHIN)


@pytest.mark.parametrize("inner", WITHIN)
def test_imports_within_a_folder_run_one_way(inner: str) -> None:
    folder = inner.split("/")[0]
    for path in files(inner):
        ours = [name.split(".")[1:] for name in imports(path) if name.startswith("whatif.")]
        rooms = {room(tuple(parts)) for parts in ours if parts[0] == folder and parts[1:]}
        assert rooms <= WITHIN[inner] | {inner}, path


def test_no_modules_know_each_other_in_a_circle() -> None:
    """Imports for types alone count too: who cannot be read without the other is one with it."""
    known = {module(path): imports(path) for path in sorted(PACKAGE.rglob("*.py"))}
    knows = {name: sorted(found & known.keys() - {name}) for name, found in known.items()}
    try:
        TopologicalSorter(knows).prepare()
    except CycleError as circle:
        pytest.fail(" -> ".join(circle.args[1]))


def test_the_cell_knows_only_plain_python() -> None:
    for path in files("cell"):
        roots = {name.split(".")[0] for name in imports(path)}
        assert not roots & NOT_IN_THE_CELL, path


@pytest.mark.parametrize("folder", NO_SCREEN)
def test_nothing_below_the_screens_knows_textual(folder: str) -> None:
    for path in files(folder):
        roots = {name.split(".")[0] for name in imports(path)}
        assert not roots & {"textual", "rich"}, path


def texts(path: Path) -> Iterator[tuple[int, str]]:
    """Every text of a file with its line, but for docstrings and errors of who writes code.

    "{}" stands for each value in a text.
    """
    tree = ast.parse(path.read_text("utf-8"))
    apart: set[int] = set()
    for node in ast.walk(tree):
        is_docstring = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        if is_docstring or (isinstance(node, ast.Raise) and "ValueError(" in ast.unparse(node)):
            apart |= set(map(id, ast.walk(node)))
        elif isinstance(node, ast.JoinedStr):
            apart |= set(map(id, node.values))
    for node in ast.walk(tree):
        if id(node) in apart:
            continue
        if isinstance(node, ast.JoinedStr):
            parts = (part.value if isinstance(part, ast.Constant) else "{}" for part in node.values)
            yield node.lineno, "".join(map(str, parts))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.lineno, node.value


@pytest.mark.parametrize("folder", FACTS_ONLY)
def test_who_finds_facts_writes_no_sentences(folder: str) -> None:
    for path in files(folder):
        said = [text for text in texts(path) if SENTENCE.search(text[1])]
        assert not said or may_have_sentences(path), f"{path}: {said}"


def may_have_sentences(path: Path) -> bool:
    return any(path.is_relative_to(PACKAGE / place) for place in MAY_HAVE_SENTENCES)


@pytest.mark.parametrize("place", MAY_HAVE_SENTENCES)
def test_a_place_that_may_have_sentences_has_some(place: str) -> None:
    found = files(place) or [PACKAGE / place]
    assert any(SENTENCE.search(text) for path in found for _, text in texts(path))


def test_a_public_name_stands_for_one_thing() -> None:
    modules = defaultdict(list)
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.parse(path.read_text("utf-8")).body:
            if isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
                modules[node.name].append(module(path))
    public = {name: of for name, of in modules.items() if not name.startswith("_")}
    assert {name for name, of in public.items() if len(of) > 1} == set(IN_TWO_MODULES), {
        name: of for name, of in public.items() if len(of) > 1 and name not in IN_TWO_MODULES
    }


def test_no_variable_is_called_one() -> None:
    """A name says what it is: a scenario, an answer, a part."""
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
                assert node.id != "one", f"{path}:{node.lineno}"
            if isinstance(node, ast.arg):
                assert node.arg != "one", f"{path}:{node.lineno}"
