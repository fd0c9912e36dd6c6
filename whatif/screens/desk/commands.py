"""Every command of the desk: keys, palette, help and the line of keys follow from this table."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.binding import Binding

from whatif.records import dataclass
from whatif.screens.desk.new_things import FROM_TABLE, NEW
from whatif.screens.views.all import VIEWS

if TYPE_CHECKING:
    from whatif.screens.desk.controllers import Controllers
    from whatif.screens.desk.state import DeskState


def _always(state: DeskState) -> bool:
    return True


@dataclass(frozen=True, slots=True)
class Command:
    """One thing that the desk can do.

    Attributes:
        name: by which it is called; no other command has it.
        title, words: its name in the palette, and a few words on it.
        run: calls the controller that does it.
        keys: key names, the first being the one that is shown; "" for the palette alone.
        shown: the key as it is written for people.
        footer: its word in the line of keys; "" where it does not stand there.
        offered: whether the line of keys offers it now.
        finds: further words by which the palette finds it.
    """

    name: str
    title: str
    words: str
    run: Callable[[Controllers], object]
    keys: str = ""
    shown: str = ""
    footer: str = ""
    offered: Callable[[DeskState], bool] = _always
    finds: str = ""

    @property
    def action(self) -> str:
        """What a key of the screen does to call it."""
        return f"run('{self.name}')"

    @property
    def help(self) -> str:
        """The words with the key behind them."""
        key = self.shown or self.keys.partition(",")[0]
        return f"{self.words} ({key})" if key else self.words


def _in_sheet(state: DeskState) -> bool:
    """In a view there is neither a row nor a column to do it with."""
    return state.view is None


def _in_view(state: DeskState) -> bool:
    return state.view is not None


def _adds(group: str) -> Callable[[Controllers], object]:
    return lambda desk: desk.things.add(group)


def _takes(group: str) -> Callable[[Controllers], object]:
    return lambda desk: desk.tables.ask(group)


def _opens(view: str) -> Callable[[Controllers], object]:
    return lambda desk: desk.views.load_and_open(view)


_EDIT = Command(
    "edit", "edit", "the value", lambda desk: desk.entering.press_enter(),
    "enter", footer="edit", offered=_in_sheet,
)  # fmt: skip
_CLOSE_VIEW = Command(
    "close_view", "Close the view", "back to the sheet of inputs",
    lambda desk: desk.views.close_view(), "escape", "Esc", "back", offered=_in_view,
)  # fmt: skip

# A command stands in two or three lines, so that the table can be read as one.
# fmt: off
COMMANDS: tuple[Command, ...] = (
    Command("help", "Help", "what the value is, and the keys",
            lambda desk: desk.help.read(), "f1,question_mark", "F1", "help"),
    Command("scenario", "Summary of the scenario", "limits, fit, warnings, cautions",
            lambda desk: desk.help.read_scenario(), "f2", "F2", "summary",
            finds="assumed bottleneck safety fire lifting"),
    Command("problems", "Problems of the file", "go to one, and mend it",
            lambda desk: desk.mending.offer_all(), "f3", "F3"),

    Command("views", "Other views", "a list of them",
            lambda desk: desk.views.offer_all(), "f6", "F6", "views"),
    *(
        Command(f"view_{view.name}", view.title, view.asks,
                _opens(view.name), view.opens, view.opens.upper(), finds=view.finds)
        for view in VIEWS
    ),
    _CLOSE_VIEW,
    Command("stop", "Stop what is being worked out", "or go on with it",
            lambda desk: desk.stop_or_go_on(), "s"),

    Command("save", "Save", "write the file",
            lambda desk: desk.file.save(), "f10,w", "F10", "save"),
    Command("save_as", "Save under another name", "and go on with that file",
            lambda desk: desk.file.save_as()),
    Command("report", "Write the report", "two pages to hand on, beside the study",
            lambda desk: desk.report.write(), finds="print html paper pdf share export bank"),
    Command("read_again", "Read the file again", "as it stands on disk now",
            lambda desk: desk.file.read_again(), "f"),
    Command("open", "Open another study", "or begin one",
            lambda desk: desk.file.open_another(), "o", offered=_in_sheet),
    Command("leave", "Leave", "asks first where something is not saved",
            lambda desk: desk.file.leave(), "q", footer="leave"),

    Command("undo", "Undo", "the last change",
            lambda desk: desk.changes.undo(), "u", footer="undo"),
    Command("redo", "Do again", "the change undone last",
            lambda desk: desk.changes.redo(), "r"),
    Command("give_back", "Give the value back", "to the parent",
            lambda desk: desk.values.give_back(), "delete,backspace", "Del", offered=_in_sheet),
    Command("changes", "List of changes", "go back to any of them, or forward",
            lambda desk: desk.changes.offer_all(), "l", footer="changes"),

    Command("add", "Add a scenario", "based on the chosen one",
            lambda desk: desk.scenarios.add(), "a"),
    Command("add_root", "Add a scenario of its own", "based on none: a second tree",
            lambda desk: desk.scenarios.add_root()),
    Command("duplicate", "Duplicate the scenario", "the chosen one",
            lambda desk: desk.scenarios.duplicate(), "d"),
    Command("remove", "Remove the scenario", "and what is based on it",
            lambda desk: desk.scenarios.remove(), "x"),
    Command("reference", "Measure against this scenario", "make it the reference",
            lambda desk: desk.scenarios.measure_against(), "m"),
    Command("this_scenario", "This scenario ...", "rename, move, notes, copy, remove",
            lambda desk: desk.scenarios.offer_all(), "e", footer="scenario"),
    Command("rename", "Rename the scenario", "its title",
            lambda desk: desk.scenarios.rename()),
    Command("rename_id", "Change the scenario's id", "its name in the file",
            lambda desk: desk.scenarios.rename_id()),
    Command("move_scenario", "Base the scenario on another", "shows first what would change",
            lambda desk: desk.scenarios.base_on_another()),
    Command("notes", "Notes on the scenario", "where its numbers are from",
            lambda desk: desk.scenarios.notes()),

    Command("whole_study", "The study as a whole", "weeks, runs, accuracy, today, units",
            lambda desk: desk.whole_study.offer_all(), "y"),

    Command("things", "Machines, shifts, parts, orders", "add, copy, remove",
            lambda desk: desk.things.offer_all(), "n", footer="add",
            offered=_in_sheet, finds="people crew break lunch stop breakdown rush pallet"),
    *(
        Command(f"add_{group}", f"Add {name}", f"to the chosen scenario (n {letter})",
                _adds(group))
        for group, (letter, name, _) in NEW.items()
    ),
    *(
        Command(f"{group}_table", name[0].upper() + name[1:], f"a CSV file (n {letter})",
                _takes(group), finds="import spreadsheet sheet")
        for group, (letter, name, _) in FROM_TABLE.items()
    ),
    Command("duplicate_thing", "Duplicate this machine, shift, part", "or order (n d)",
            lambda desk: desk.things.duplicate()),
    Command("rename_thing", "Rename this machine, shift, part", "in the whole study (n n)",
            lambda desk: desk.things.rename()),
    Command("take_thing_out", "Remove this machine, shift, part", "of the chosen scenario (n x)",
            lambda desk: desk.things.take_out()),
    Command("bring_thing_back", "Restore this machine, shift, part", "that was removed (n b)",
            lambda desk: desk.things.bring_back()),

    Command("fold", "Open or close the heading", "the one the cursor is under",
            lambda desk: desk.arranging.fold(), "space", "Space", offered=_in_sheet),
    Command("tree", "Show or hide the tree", "of scenarios",
            lambda desk: desk.arranging.show_tree(), "t", footer="tree",
            offered=_in_sheet),
    Command("find", "Find a row", "by a part of its name",
            lambda desk: desk.search.begin(), "slash", "/", "find",
            offered=_in_sheet,
            finds="search value input break lunch pause price wage walk scrap tool life meeting"),
    Command("only_differing", "Only differences", "or all rows again",
            lambda desk: desk.arranging.only_differing(), "equals_sign", "=", offered=_in_sheet),
    Command("hide", "Hide the column", "of the chosen scenario",
            lambda desk: desk.arranging.hide(), "h", offered=_in_sheet),
    Command("show_hidden", "Show hidden columns", "one of them or all",
            lambda desk: desk.arranging.show_hidden(), "H", offered=_in_sheet),
    Command("beside", "Only this column and the reference", "side by side; again: the others too",
            lambda desk: desk.arranging.beside_reference(), "b", offered=_in_sheet,
            finds="compare two columns"),
    Command("keep", "Keep the column in sight", "at the left, or let it go",
            lambda desk: desk.arranging.keep(), "k", offered=_in_sheet),
    Command("move_left", "Move the column left", "",
            lambda desk: desk.arranging.move_column(-1), "left_square_bracket,shift+left", "[",
            offered=_in_sheet),
    Command("move_right", "Move the column right", "",
            lambda desk: desk.arranging.move_column(1), "right_square_bracket,shift+right", "]",
            offered=_in_sheet),
    Command("wider", "Wider columns", "fewer of them fit",
            lambda desk: desk.arranging.widen(2), "right_curly_bracket", "}"),
    Command("narrower", "Narrower columns", "more of them fit",
            lambda desk: desk.arranging.widen(-2), "left_curly_bracket", "{"),
    Command("fit_columns", "Columns as wide as they fit", "and the labels",
            lambda desk: desk.arranging.fit()),
    Command("per", "Figures per day, week, month, year", "one after the other",
            lambda desk: desk.arranging.next_time(), "p", offered=_in_sheet),
    Command("units", "As typed, metric or inch", "one after the other",
            lambda desk: desk.arranging.next_units(), "i", finds="millimetre pound feet"),

    Command("copy", "Copy the column as text", "twice: into a file",
            lambda desk: desk.copying.copy(), "c", offered=_in_sheet),
    Command("write_column", "Write the column into a file", "as text",
            lambda desk: desk.copying.write_column()),
    Command("paste", "Paste what was copied", "one value a row, downwards",
            lambda desk: desk.copying.paste_copied(), "ctrl+v", "Ctrl+V", offered=_in_sheet),
)
# fmt: on
"""What the palette lists, in its order."""

BY_NAME = {command.name: command for command in (_CLOSE_VIEW, _EDIT, *COMMANDS)}

ALWAYS_TOLD = ("close_view", "edit", "help", "views", "leave")
"""The first words of the line of keys, which stand there however little room there is."""

_IN_LINE = (
    *ALWAYS_TOLD,
    *("save", "scenario", "undo", "tree", "find", "this_scenario", "things", "changes"),
)
"""The order of the line of keys: the same places everywhere; the last ones go first."""

KEYED = tuple({name: BY_NAME[name] for name in (*_IN_LINE, *BY_NAME)}.values())
"""What has a key, in the order in which the line of keys has its words."""

BINDINGS = [
    Binding(
        command.keys,
        command.action,
        command.footer or command.title,
        show=bool(command.footer),
        key_display=command.shown or None,
    )
    for command in KEYED
    if command.keys
]
"""Their keys, for a screen that can run them."""
