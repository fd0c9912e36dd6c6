"""The main screen: the strip of results, the sheet of inputs or a view, the tree, the editor.

It puts the widgets together, hands keys, clicks and replies to the controllers, and draws what
the state and the answers are. Every change goes through the session; what is drawn follows.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from inspect import isawaitable
from time import monotonic
from typing import TYPE_CHECKING, ClassVar, cast

from rich.cells import cell_len
from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.geometry import Region
from textual.message import Message
from textual.reactive import Reactive
from textual.widget import Widget
from textual.widgets import Input, Static
from typing_extensions import override

from whatif.screens.desk import painting
from whatif.screens.desk.commands import ALWAYS_TOLD, BINDINGS, BY_NAME
from whatif.screens.desk.controllers import Controllers
from whatif.screens.desk.host import Program
from whatif.screens.desk.state import REFUSED, DeskState
from whatif.screens.views.pane import ViewPane
from whatif.screens.widgets.bursts import Burst
from whatif.screens.widgets.choosing import ScenarioChosen
from whatif.screens.widgets.columns import DraggedColumns
from whatif.screens.widgets.composing import FRAME, Prompt
from whatif.screens.widgets.drawing import Seen, Toned, seen_on
from whatif.screens.widgets.editor import Editor
from whatif.screens.widgets.finder import Finder
from whatif.screens.widgets.key_line import KeyLine, OwnKey
from whatif.screens.widgets.later import after
from whatif.screens.widgets.sheet import Sheet
from whatif.screens.widgets.strip import ResultStrip, Room
from whatif.screens.widgets.tabs import ScenarioTabs
from whatif.screens.widgets.titled_rule import TitledRule
from whatif.screens.widgets.tree import ScenarioTree

if TYPE_CHECKING:
    from whatif.screens.dialogs.dialog import Dialog
    from whatif.session.calculate.requests import Reply
    from whatif.session.session import Session

_IN_VIEW = 32
"""Cells of the editor below a view."""

_LOOK_AT_FILE = 2.0
"""Seconds between two looks; a look is one call of the system while nothing changes."""

_ANSWERED = 3 * FRAME
"""Seconds within which what is typed is mostly answered."""


class Desk(Prompt):
    """A study on the desk."""

    AUTO_FOCUS = "#sheet, #view"
    BINDINGS: ClassVar[list[BindingType]] = [*BINDINGS]

    class Replied(Message):
        """The calculation has said something."""

        def __init__(self, reply: Reply) -> None:
            super().__init__()
            self.reply = reply

    class Kept(Message):
        """What is not saved has been kept on the disk, or cannot be."""

    focused: Reactive[Widget | None] = Reactive(None, repaint=False)
    """Who has the keys; whoever gets or loses them is painted, and not the whole screen."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.state = DeskState(session)
        self.controllers = Controllers(self.state, self)
        self._editor = Editor(self._editing_ended)
        self._head = Static(id="head", markup=False)
        self._head_line = ""
        self._tree = ScenarioTree()
        self._strip = ResultStrip()
        self._rule = TitledRule()
        self._tabs = ScenarioTabs()
        self._sheet = Sheet(self)
        self._pane = ViewPane(lambda: self.controllers.views, self)
        self._info = Static(id="info", markup=False)
        self._keys = KeyLine(BY_NAME[name].action for name in ALWAYS_TOLD)
        self._finder = Finder(self._find, self._finding_ended)
        self._typing_from: Widget | None = None
        self._letters: frozenset[str] = frozenset()
        """Those that were no commands when the desk was drawn last."""
        self._to_paint = False
        """Whether the desk has been changed and is still to be drawn."""
        self._asked = False
        """Whether that has been asked about."""
        self._behind = False
        """Whether the sheet has been drawn, and the rest is still to be."""
        self._rest_waits = self._view_waits = False
        """Whether the rest, and the open view, are about to be drawn in a turn for themselves."""
        self._drawn_with: tuple[object, ...] = ()
        """The columns with which the rest was drawn last."""
        self._to_catch_up = False
        """Whether something has come that is still to be heeded."""
        self._caught_up = 0.0
        """When that was done last."""

    def compose(self) -> ComposeResult:
        """Head, tree and desk, the editor above them, the line of keys."""
        # First, so that it comes and goes without moving the others in the order in which they
        # are painted, which would have all of them painted anew.
        yield self._editor
        yield self._head
        with Horizontal(id="body"):
            yield self._tree
            with Vertical(id="desk"):
                yield self._strip
                yield self._rule
                yield self._sheet
                yield self._tabs
                yield self._pane
        yield self._info
        yield self._keys
        yield self._finder

    def on_mount(self) -> None:
        """Look at the file; ask for the first answer."""
        self.focus_sheet()
        self.ask()
        self.controllers.file.look()
        self.set_interval(_LOOK_AT_FILE, self.controllers.file.look)

    def on_resize(self, event: events.Resize) -> None:
        """Lay the columns out anew, once the new sizes are known."""
        self.call_after_refresh(self.repaint_laid_out)

    # -- commands ----------------------------------------------------------------------

    def action_run(self, name: str) -> object:
        """Do a command, as the key that it is bound to does; what takes longer is to be awaited."""
        return BY_NAME[name].run(self.controllers)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Whether the line of keys offers a command now."""
        if action == "run":
            command = BY_NAME[str(parameters[0])]
            # On a row of days a letter is a day: the line of keys tells it as nothing else.
            is_value = command.keys.partition(",")[0] in self.state.letters
            return not is_value and command.offered(self.state)
        return super().check_action(action, parameters)

    # -- replies and clicks ------------------------------------------------------------

    @property
    def is_waiting(self) -> bool:
        """Whether an answer for what is on the screen is still to come."""
        return self._to_catch_up or bool(self.controllers.calculation.status)

    @on(Replied)
    def _replied(self, message: Replied) -> None:
        self.controllers.calculation.take(message.reply)

    @on(Kept)
    def _kept(self) -> None:
        if not self.is_attached:
            return  # The study has been closed meanwhile.
        if self.controllers.file.look_whether_kept():
            self.repaint()
        else:
            self._paint_head()

    def on_key(self, event: events.Key) -> None:
        """Say of a letter that nothing has taken that it does nothing.

        What is typed behind a slash is a row's name: in a view it is looked for in the sheet.
        """
        if event.key == "slash" and self.state.view is not None and self.state.typing is None:
            self.controllers.views.close_all()
            self.action_run("find")
        elif event.is_printable and event.key not in self.active_bindings:
            self.say(f"No key here: {event.character}   (F1 lists the keys)")

    def on_burst(self, event: Burst) -> None:
        """Take a text that has come at once for pasted, and run no command for its letters."""
        event.stop()
        self.controllers.copying.paste_unmarked(event.text)

    @on(Input.Changed, "#editor")
    def _changed(self, message: Input.Changed) -> None:
        self.controllers.values.text_changed(self.typed)

    @on(ResultStrip.Chosen)
    def _strip_chosen(self, message: ResultStrip.Chosen) -> None:
        self.go_to(self.state.row, message.column)

    @on(ScenarioChosen)
    def _scenario_chosen(self, message: ScenarioChosen) -> None:
        self.settle()
        self.state.choose(message.scenario)
        self.repaint()

    @on(DraggedColumns.Dragged)
    def _dragged(self, message: DraggedColumns.Dragged) -> None:
        self.controllers.arranging.resize(message.label, message.width)

    @on(ScenarioTree.Dragged)
    def _tree_dragged(self, message: ScenarioTree.Dragged) -> None:
        self.controllers.arranging.resize_tree(message.width)

    @on(ViewPane.MoreBelow)
    def _more_below(self) -> None:
        if self.is_attached:
            self._paint_info()

    @on(ViewPane.OtherRoom)
    def _other_room(self) -> None:
        if self.is_attached:
            self._keys.show_own(self._own_keys())

    @on(events.Click, "#head")
    def _head_clicked(self) -> None:
        """The head says how many problems there are; a click on it lists them."""
        if self.state.session.checked.problems:
            self.action_run("problems")

    # -- what the sheet asks for -------------------------------------------------------

    def move(self, rows: int, columns: int) -> None:
        """Move the cursor by so many rows and columns."""
        self.state.move(rows, columns)
        self.repaint()

    def go_to(self, row: int, column: int) -> None:
        """Move the cursor to a row and column."""
        self.settle()
        self.state.go_to(row, column)
        self.repaint()

    def press_enter(self) -> None:
        """Edit the value under the cursor, or open and close a heading."""
        self.controllers.entering.press_enter()

    def type_over(self, text: str | None) -> None:
        """Begin to edit the value under the cursor."""
        self.controllers.entering.type_over(text)

    def begins_value(self, character: str) -> bool:
        """Whether a letter is typed over the value under the cursor, and is no command there."""
        return character in self.state.letters

    def belongs_to_refused(self, event: events.Key) -> bool:
        """Whether a key goes on with what has just been refused here, and is no command."""
        character = event.character if event.is_printable else None
        return self.state.belongs_to_refused(character, monotonic())

    def paste(self, text: str) -> None:
        """Take what the terminal has pasted."""
        self.controllers.copying.paste(text)

    def place_editor(self) -> None:
        """Lay the open editor over its value, wherever that has gone."""
        editor = self._editor
        if editor.is_open:
            at, sheet = self._over(), self._sheet.region
            if self.state.view is not None:
                sheet = self._info.region
            editor.styles.offset = (at.x, at.y)
            editor.visible = sheet.y <= at.y < sheet.bottom

    # What the lines below the sheet call, loaded by the first key that needs it.

    def _editing_ended(self, keep: bool, rows: int, columns: int, entered: bool) -> None:
        self.controllers.values.end(keep, rows, columns, entered=entered)

    def _find(self, typed: str, steps: int, again: bool) -> str:
        return self.controllers.search.find(typed, steps, again)

    def _finding_ended(self, stay: bool) -> None:
        self.controllers.search.end(stay)

    # -- what the controllers ask for --------------------------------------------------

    @property
    def program(self) -> Program:
        """The program around the desk."""
        return cast(Program, self.app)

    def ask(self) -> None:
        """Have what is on the screen answered, and draw it."""
        self.repaint(asking=True)

    def say(self, words: str) -> None:
        """Say something in the line below the sheet."""
        self.state.notice = words
        self.repaint()

    def refuse(self, words: str) -> None:
        """Ring, and say in that line why something cannot be done."""
        self.app.bell()
        self.say(f"{REFUSED}{words}")

    def later(self, seconds: float, then: Callable[[], None]) -> object:
        """Have something done after a while, unless the study is closed before."""
        return after(seconds, self, then)

    def settle(self) -> None:
        """End what is being typed, which is kept if it is valid, and what is being looked for."""
        self.controllers.search.end(stay=True)
        self.controllers.values.close(keep=True)

    def lay_over(self, dialog: Dialog, take: Callable[[str], object] | None = None) -> None:
        """Lay a dialog over; ``take`` gets its answer, or else the dialog does what it stands for.

        Nothing is taken where it is given up.
        """

        async def done(answer: str | None) -> None:
            does = None if answer is None else (take or dialog.take)(answer)
            if isawaitable(does):
                await does

        self.app.push_screen(dialog, done)

    @property
    def typed(self) -> str:
        """What stands in the editor."""
        return self._editor.value

    def open_editor(self, text: str, *, marked: bool) -> None:
        """Lay the editor over the value under the cursor, with a text in it."""
        self._typing_from = self.focused
        at, columns = self._over(), self.state.columns
        # Over one column it ends where figures do; over several, or below a view, it begins there.
        is_over_one = self.state.view is None and at.width < columns.width
        behind = at.width - columns.figures if is_over_one else None
        self._editor.open(text, at, marked=marked, behind=behind)
        if self.state.view is not None:
            # The lines below it become two.
            self.call_after_refresh(self.place_editor)

    def refuse_typed(self) -> None:
        """Ring, and mark all that stands in the editor, so that typing takes its place."""
        self.app.bell()
        self._editor.select_all()

    def close_editor(self) -> None:
        """Put the editor away; the keys go back to where they went before."""
        self._editor.close()
        self.set_focus(self._typing_from or self._sheet)

    def open_finder(self) -> None:
        """Show the line in which a row's name is typed."""
        self._finder.open()

    def close_finder(self) -> None:
        """Put that line away; the keys go to the sheet."""
        self._finder.close()
        self.focus_sheet()

    @property
    def is_typed_in(self) -> bool:
        """Whether there is a line that is being typed in."""
        return isinstance(self.focused, Input)

    def insert(self, text: str) -> bool:
        """Put a text into the line that is being typed in; whether there is one."""
        line = self.focused
        if isinstance(line, Input):
            line.replace(text, *line.selection)
        return isinstance(line, Input)

    def on_descendant_focus(self) -> None:
        """A click elsewhere leaves the keys with the line that is being typed in."""
        if self._editor.is_open:
            self.set_focus(self._editor)
        elif self._finder.is_open:
            self.set_focus(self.query_one("#find-name", Input))

    def focus_sheet(self) -> None:
        """Give the keys to the sheet."""
        self.set_focus(self._sheet)

    def focus_view(self) -> None:
        """Give the keys to the view, or to the sheet where none is open."""
        self.set_focus(self._sheet if self.state.view is None else self._pane)

    @property
    def view_room(self) -> tuple[int, int]:
        """Cells and rows that a view is drawn in."""
        return self._pane.room

    @property
    def drawn(self) -> Seen:
        """What is on the screen now."""
        # A query by a class knows of several bases of a widget the first one only.
        seen = seen_on(each for each in self.query() if isinstance(each, Toned))
        # Of the line of keys that alone: the words behind its keys are no signs.
        # Of the head what its figures are told for: names and marks in it are no signs either.
        weeks = "".join(self._head_line.rpartition("per ")[1:])
        text = f"{seen.text}\n{weeks}\n{self._keys.where_more}"
        return replace(seen, text=text, coloured=not self.app.no_color)

    # -- painting ----------------------------------------------------------------------

    def repaint(self, *, asking: bool = False) -> None:
        """Draw everything; ask where that is wanted, or the view wants to know something else."""
        self._make_room()
        self.state.follow()
        if asking:
            self._asked = True
            self.controllers.calculation.ask()
        # A view may ask about the columns that are shown.
        self.controllers.calculation.follow_view()
        if not self._to_paint:
            # A key may change several things one after the other.
            self._to_paint = self.call_later(self._paint)

    def repaint_soon(self) -> None:
        """The same, once for all that comes within a frame of the screen."""
        if self._to_catch_up:
            return
        self._to_catch_up = True
        left = self._caught_up + FRAME - monotonic()
        if left > 0:
            after(left, self, self._catch_up)
        else:
            self._catch_up()

    def _catch_up(self) -> None:
        self._to_catch_up, self._caught_up = False, monotonic()
        if self.is_attached:
            self.repaint()

    def repaint_head(self) -> None:
        """Draw the first line alone, which says how far the answers are."""
        if self.is_attached and not self._to_paint:
            self._paint_head()

    def repaint_laid_out(self) -> None:
        """The same where the room there is for things changes; each is drawn in its new room."""
        self.repaint()
        self.refresh_bindings()
        # The strip may have changed its height, and with it the place of the sheet.
        self.call_after_refresh(self.place_editor)

    @property
    def is_drawn(self) -> bool:
        """Whether all that has changed has been drawn."""
        return not (self._to_paint or self._behind or self._view_waits)

    def _paint(self) -> None:
        self._to_paint = False
        if not self.is_attached:
            return  # The study has been closed meanwhile.
        asked, self._asked = self._asked, False
        if self.state.view is None:
            self._sheet.show(painting.sheet_state(self.state))
        self._paint_info()
        self.place_editor()
        self._behind = True
        if asked and self._columns == self._drawn_with:
            # What was changed is seen first. Most likely the first answer comes next, and all that
            # follows is drawn once; a picture in between would keep its gain waiting.
            after(_ANSWERED, self, self._paint_rest)
        elif not self._rest_waits:
            self._rest_waits = True
            self.in_turn(self._paint_rest_now)

    def _paint_rest_now(self) -> None:
        self._rest_waits = False
        self._paint_rest()
        self.check_idle()

    def _paint_rest(self) -> None:
        if not (self._behind and self.is_attached):
            return
        self._behind, self._drawn_with = False, self._columns
        state, calculation = self.state, self.controllers.calculation
        width, height = self.size
        answer = calculation.current().get(state.chosen or "")
        if state.view is None:
            self._strip.show(painting.strip_state(state, calculation, height))
            self._tree.show(painting.tree_state(state, calculation))
            self._rule.show(painting.rule_state(answer))
        else:
            self._tabs.show(painting.tabs_state(state, calculation), width)
        self._paint_head()
        if state.view is None:
            self._pane.show(None)
        elif not self._view_waits:
            self._view_waits = True
            self.in_turn(self._paint_view)
        self._keys.show_own(self._own_keys())
        if state.letters != self._letters:
            self._letters = state.letters
            self.refresh_bindings()

    @property
    @override
    def _waits_for_more(self) -> bool:
        return self._rest_waits or self._view_waits

    def _paint_view(self) -> None:
        self._view_waits = False
        self._pane.show(self.state.view)
        # Some keys hang on what there is room for.
        self._keys.show_own(self._own_keys())
        self.check_idle()

    @property
    def _columns(self) -> tuple[object, ...]:
        """What stands above the sheet and beside it, all but its figures; a view in its place."""
        state = self.state
        return state.view, state.columns, state.ids, state.titles, state.shown.reference_id

    def _paint_head(self) -> None:
        calculation, file = self.controllers.calculation, self.controllers.file
        answer = calculation.current().get(self.state.chosen or "")
        weeks = None if answer is None else answer.plan.weeks
        status = calculation.status or self.controllers.report.status
        marks = painting.HeadMarks(status, file.kept_mark, file.mark)
        self._head_line = painting.head_line(self.state, marks, self.size.width, weeks)
        _tell(self._head, self._head_line)

    def _own_keys(self) -> tuple[OwnKey, ...]:
        """What the open view's own keys do; while a value is typed letters are none."""
        view = None if self.state.typing is not None else self.state.view
        told = () if view is None else view.own_keys(self.controllers.views.look())
        return tuple(OwnKey(each.shown, each.word, each.key) for each in told if each.word)

    def _paint_info(self) -> None:
        state, info = self.state, self._info
        in_view = state.view is not None
        high = painting.strip_room(self.size.height) is Room.HIGH
        is_wrong = state.typing is not None and bool(state.typing.wrong)
        below = self._pane.below if in_view else 0
        answer = self.controllers.calculation.current().get(state.chosen or "")
        lines = painting.info_lines(state, self.size.width, high=high, below=below, answer=answer)
        # No class: its styles would be looked up anew.
        is_low = in_view and "\n" not in lines
        info.styles.height = 1 if is_low else 4 if high and not in_view else 2
        info.set_class(lines.lstrip().startswith(REFUSED), "wrong")
        _tell(info, lines)
        self._editor.set_class(is_wrong, "wrong")

    def _make_room(self) -> None:
        """Show what there is room for; a view has it all."""
        state, width = self.state, self.size.width
        has_view = state.view is not None
        beside = width >= painting.SIDE_BY_SIDE
        wanted = beside if state.tree_wanted is None else state.tree_wanted
        state.tree_shown = wanted and not has_view
        self._tree.display = state.tree_shown
        self._tabs.display = self._pane.display = has_view
        self._strip.display = self._sheet.display = self._rule.display = not has_view
        state.room = width - (self._room_of_tree(width) if state.tree_shown else 0) - 1

    def _room_of_tree(self, width: int) -> int:
        state, tree = self.state, self._tree
        # A title that is being typed moves nothing until it is kept.
        if state.typing is None:
            tree.take_room(state.branches, width, state.arrangement.tree)
        return tree.room

    def _over(self) -> Region:
        """Where the editor lies: over the value; below a view behind its name."""
        state, sheet = self.state, self._sheet
        if state.view is not None:
            info, asked = self._info.region, cell_len(painting.asked_in_view(state))
            return Region(info.x + asked, info.y, max(8, min(_IN_VIEW, info.width - asked)), 1)
        typing = state.typing
        # Room for the mark behind what stands there, which is read as a whole while it is edited.
        wanted = 0 if typing is None else max(map(cell_len, (typing.untouched or "", typing.over)))
        x, width = state.columns.spanned(state.column, wanted + 1)
        y = sheet.region.y + state.row - round(sheet.scroll_offset.y)
        # Whole columns: figures of a neighbour cut short would be read as whole ones.
        return Region(sheet.region.x + x + 1, y, width - 1, 1)


def _tell(line: Static, words: str) -> None:
    """Put other words on a line, whose size they do not change."""
    if line.content != words:
        line.update(words, layout=False)
