"""What a whole study takes grows with its scenarios and things, and not with their square."""

from __future__ import annotations

import tracemalloc
from collections.abc import Callable

import pytest
from lengths import first_of
from support.effort import growth, lines_run

from whatif.plan.build import plans_of
from whatif.study.check.check import Checked, check
from whatif.study.check.entries import MOST_HINTED
from whatif.study.edits.values import others_of
from whatif.study.file.reading import StudyError, comments, read_text
from whatif.study.problem import ProblemKind
from whatif.study.raw import LONGEST_SHOWN
from whatif.study.refused import FileFaultKind
from whatif.study.resolve import resolve, resolve_all
from whatif.study.schema.catalogue import closest
from whatif.study.schema.kinds.kind import KindError
from whatif.study.schema.kinds.plain import Text
from whatif.telling.problems import problem_sentence

ROOT = """
format = 1
reference = "today"
[scenario.today.shift.day]
days = ["mon", "tue", "wed", "thu", "fri"]
start = "06:00"
end = "14:00"
[scenario.today.machine.mill]
count = 2
pallets = 2
[scenario.today.part.body]
cycle = "12 min"
weekly = 100
"""


def wide(scenarios: int) -> str:
    """All based on the reference."""
    return ROOT + "".join(
        f'[scenario.s{i}]\nparent = "today"\ntitle = "{i} of {scenarios}"\n'
        f"machine.mill.pallets = {2 + i % 6}\n"
        for i in range(scenarios)
    )


def deep(scenarios: int) -> str:
    """Each based on the one before it."""
    return ROOT + "".join(
        f'[scenario.s{i}]\nparent = "{f"s{i - 1}" if i else "today"}"\n'
        f"machine.mill.pallets = {2 + i % 6 + scenarios}\n"
        for i in range(scenarios)
    )


def circle(scenarios: int) -> str:
    """Each based on the one before it, and the first on the last."""
    return ROOT + "".join(
        f'[scenario.s{i}]\nparent = "s{(i or scenarios) - 1}"\npart.lid.cycle = "3 min"\n'
        for i in range(scenarios)
    )


def orphans(scenarios: int) -> str:
    """All based on what is not there, each on another."""
    return ROOT + "".join(
        f'[scenario.s{i}]\nparent = "gone{i}"\nmachine.mill.pallets = 3\n' for i in range(scenarios)
    )


def parts(count: int) -> str:
    """Many parts, of three operations each, that many orders ask for."""
    return ROOT + "".join(
        f'[scenario.today.part.p{i}]\ncycle = "{5 + i % 20} min"\n'
        + (f'after = "p{i - 1}"\nweekly = 5\n' if i % 3 else "weekly = 5\n")
        + f'[scenario.today.order.o{i}]\npart = "p{i}"\npieces = 3\ndue = "week 3 mon 06:00"\n'
        for i in range(count)
    )


def operations(count: int) -> str:
    """One chain of many operations."""
    return ROOT + "".join(
        f'[scenario.today.part.p{i}]\ncycle = "5 min"\nscrap = "1 %"\n'
        + (f'after = "p{i - 1}"\n' if i else "")
        for i in range(count)
    )


def machines(count: int) -> str:
    """Many machines, each with a part of its own that names it and another one, not there."""
    return ROOT + "".join(
        f"[scenario.today.machine.m{i}]\ncount = 1\n"
        f'[scenario.today.part.p{i}]\ncycle = "5 min"\nweekly = 5\nmachines = ["m{i}"]\n'
        f'on.m{i}.setup = "9 min"\n'
        for i in range(count)
    )


def strangers(count: int) -> str:
    """Many parts that name a machine which is not there, and lack what they need."""
    return ROOT + "".join(
        f'[scenario.today.part.p{i}]\nmachines = ["x{i}"]\n' for i in range(count)
    )


@pytest.mark.parametrize(
    "study", [wide, deep, circle, orphans, parts, operations, machines, strangers]
)
@pytest.mark.long
def test_reading_and_checking_grow_with_what_there_is(study: Callable[[int], str]) -> None:
    def reading_and_checking(count: int) -> Callable[[], Checked]:
        text = study(count)
        return lambda: check(read_text(text))

    check(read_text(ROOT))
    few, many = (120, 240) if study is orphans else (20, 80)
    assert growth(reading_and_checking, few, many) < 1.15


@pytest.mark.parametrize("study", [wide, deep])
def test_building_the_typed_study_grows_with_the_scenarios(study: Callable[[int], str]) -> None:
    def building(count: int) -> Callable[[], object]:
        checked = check(read_text(study(count)))
        return lambda: checked.study

    assert check(read_text(ROOT)).study
    assert growth(building, 20, 80) < 1.15


@pytest.mark.parametrize("study", [wide, deep, parts])
@pytest.mark.long
def test_planning_grows_with_what_there_is(study: Callable[[int], str]) -> None:
    def planning(count: int) -> Callable[[], object]:
        checked = check(read_text(study(count)))
        assert checked.study
        return lambda: plans_of(checked)

    plans_of(check(read_text(ROOT)))
    assert growth(planning, 20, 80) < 1.15


def test_who_follows_a_value_is_found_from_the_top_down() -> None:
    def following(count: int) -> Callable[[], object]:
        draft = read_text(deep(count))
        return lambda: others_of(draft, ("machine", "mill", "pallets"), "s3")

    assert growth(following, 20, 80) < 1.15
    draft = read_text(deep(6))
    assert others_of(draft, ("handling", "walk"), "s3") == ("today", "s0", "s1", "s2")
    assert others_of(draft, ("machine", "mill", "pallets"), "s3") == (
        *("today", "s0", "s1", "s2", "s4", "s5"),
    )
    order = [each.id for each in read_text(circle(4)).parents_first()]
    assert sorted(order) == ["s0", "s1", "s2", "s3", "today"]


def test_a_key_of_thousands_of_parts_is_refused() -> None:
    with pytest.raises(StudyError) as fault:
        read_text(f"[scenario.x]\n{'.'.join(['a'] * 3_000)} = 1\n")
    assert fault.value.why.kind is FileFaultKind.NESTED_TOO_DEEPLY


@pytest.mark.long
def test_a_list_of_thousands_is_told_by_its_beginning() -> None:
    many = ", ".join(f'"m{i}"' for i in range(5_000))
    draft = read_text(f"{ROOT}[scenario.today.part.lid]\ncycle = '5 min'\nmachines = [{many}]\n")
    problems = check(draft).problems
    assert len(problems) == 5_001
    assert all(len(problem.value) <= LONGEST_SHOWN for problem in problems)


def test_an_edit_resolves_what_it_touches_alone() -> None:
    draft = read_text(wide(100))
    checked = check(draft)
    edited = draft.with_scenario(draft.scenario("s50").having(("machine", "mill", "pallets"), 9))
    now = resolve_all(edited)
    assert now["s50"].value("machine", "mill", "pallets") == 9
    others = [id_ for id_ in draft.ids if id_ != "s50"]
    assert all(now[id_] is checked.resolved[id_] for id_ in others)


@pytest.mark.parametrize("study", first_of([deep, circle]))
@pytest.mark.long
def test_thousands_below_each_other_are_no_matter(study: Callable[[int], str]) -> None:
    draft = read_text(study(3_000))
    assert len(draft.ancestors("s2999")) in (3_000, 2_999)
    assert len(draft.descendants("s0")) == 2_999
    resolved = resolve_all(draft)
    assert resolved["s2999"].raw("parent") == "s2998"


def test_all_are_resolved_as_each_by_itself() -> None:
    for study in (wide(5), deep(5), circle(5), orphans(3), circle(1)):
        draft = read_text(study)
        for id_, here in resolve_all(draft).items():
            alone = resolve(draft, id_)
            assert dict(here.values) == dict(alone.values)
            assert {path: set(ids) for path, ids in here.things.items()} == {
                path: set(ids) for path, ids in alone.things.items()
            }
            assert here.is_whole == alone.is_whole


def test_of_very_many_names_the_first_are_listed() -> None:
    (problem,) = [each for each in check(read_text(orphans(80))).problems if each.scenario == "s7"]
    assert problem.kind is ProblemKind.NO_SUCH_SCENARIO
    assert problem.allowed.startswith("one of today, s0, s1, ")
    assert "s7," not in problem.allowed
    assert problem.allowed.endswith(", s49 and 30 more")


def test_the_nearest_of_very_many_words_is_found_from_either_end() -> None:
    known = tuple(f"{word}{i}" for i in range(300) for word in ("mill", "lathe", "saw"))
    assert closest("mil77", known) == "mill77"
    assert closest("xlathe123", known) == "lathe123"
    assert closest("quite another thing", known) is None
    assert lines_run(lambda: closest("mil78", known)) < lines_run(
        lambda: closest("mil79", known[:40])
    )


def unknown(count: int) -> str:
    """Very many keys that there are not, in a scenario and at the root."""
    below = "".join(f"colour{i} = {i}\n" for i in range(count))
    return f'{below}{ROOT}[scenario.other]\nparent = "today"\n{below}'


@pytest.mark.long
def test_very_many_unknown_keys_take_no_more_each_than_a_few() -> None:
    def checking(count: int) -> Callable[[], object]:
        text = unknown(count)
        return lambda: [problem_sentence(each) for each in check(read_text(text)).problems]

    few, many = MOST_HINTED, 8 * MOST_HINTED
    assert growth(checking, few, many) < 0.45
    # What may stand there is listed in each sentence, and worked out for none of them anew.
    assert lines_run(checking(many)) / (2 * many) < 230


@pytest.mark.parametrize("quotes", ['"', "'", '"""', "'''"])
def test_a_note_of_megabytes_takes_its_own_memory_alone(quotes: str) -> None:
    text = f"notes = {quotes}{'a few words ' * 100_000}{quotes}  # here\n"
    tracemalloc.start()
    try:
        assert comments(text) == ("", True)
        with pytest.raises(KindError):
            Text(lines=True).read(text)
        assert tracemalloc.get_traced_memory()[1] < 3 * len(text)
    finally:
        tracemalloc.stop()
