"""The desk's hands on views: opening and closing them, and having their questions answered."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from textual import on
from textual.screen import ModalScreen

from whatif.screens.desk.command import Command
from whatif.screens.desk.file_hands import FileHands
from whatif.screens.desk.scenario_hands import ScenarioHands
from whatif.screens.dialogs.dialogs import Name
from whatif.screens.dialogs.pick import Pick
from whatif.screens.dialogs.view_list import ViewList
from whatif.screens.views.all import VIEWS
from whatif.screens.views.pane import ViewPane
from whatif.screens.views.view import View
from whatif.screens.widgets.editor import Editor
from whatif.screens.widgets.sheet import Sheet
from whatif.session.calculate.requests import ANY_REVISION, Reply
from whatif.session.hours import ATTENDED
from whatif.session.sheet import Line
from whatif.study.draft import Draft
from whatif.study.edits.values import home_of, others_of
from whatif.study.raw import Path

COMMANDS = (
    Command("views", "Other views", "a list of them", "f6", "F6", "views"),
    *(
        Command(f"view('{one.name}')", one.title, one.asks, one.opens, one.opens.upper())
        for one in VIEWS
    ),
    Command("close_view", "Close the view", "back to the sheet of inputs", "", "Esc"),
    Command("stop", "Stop what is being worked out", "or go on with it", "s"),
)


class ViewHands(ScenarioHands, FileHands):
    """What opens views and keeps them answered."""

    _opened_from: View | None = None
    """Where Escape goes back to from a view that was opened on the way; None is the sheet."""
    _back_to: str | None = None
    """The scenario to choose again once the editor is closed."""

    # -- opening and closing -----------------------------------------------------------

    def action_views(self) -> None:
        """Offer the views."""
        now = "" if self.view is None else self.view.name

        def chosen(name: str | None) -> None:
            if name is not None and name != now:
                self.action_view(name)

        self.app.push_screen(ViewList(VIEWS, now), chosen)

    def action_view(self, name: str) -> None:
        """Open a view in place of the sheet; the same one again goes back."""
        self.close_editor(keep=True)
        if self.view is not None and self.view.name == name:
            self.close_view()
            return
        self.notice = ""
        before, look = self.view, self.look()
        self.view = next(one for one in VIEWS if one.name == name)()
        self._opened_from = before if self.view.aside else None
        if before is not None:
            self.view.turn_to(before.figure(look))
        self._stopped = False
        self._repaint_twice()
        self.set_focus(self.query_one(ViewPane))
        self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What the line of keys offers: in a view the way back, not what is changed elsewhere.

        Enter edits below a view all the same: view and line of inputs take it themselves.
        """
        view = self.view
        if action == "close_view":
            return view is not None
        if view is not None and (action == "edit" or (view.whole and action in ("find", "things"))):
            return False
        return super().check_action(action, parameters)

    def action_close_view(self) -> None:
        """Go back to the sheet."""
        self.close_view()

    def close_view(self) -> None:
        """Go back to the view that this one was opened from, or else to the sheet."""
        self.close_editor(keep=True)
        self.view, self._opened_from = self._opened_from, None
        self._stopped = False
        self._repaint_twice()
        if not self.focus_view():
            self.focus_sheet()
        self.refresh_bindings()

    def focus_sheet(self) -> None:
        """Give the keys to the sheet, or to its one line below a view."""
        self.set_focus(self.query_one(Sheet))

    def focus_view(self) -> bool:
        """Give the keys to the view; whether there is one."""
        if self.view is None:
            return False
        self.set_focus(self.query_one(ViewPane))
        return True

    # -- what views ask of the desk ----------------------------------------------------

    def edit_value(self, path: Path) -> None:
        """Open the editor on a value of the chosen scenario, or the list or form that it has."""
        if self.go_to_value(path):
            self.press_enter()

    def edit_for_all(self, path: Path) -> None:
        """Open the editor on a value where it holds for all, and say which scenario that is."""
        self.close_editor(keep=True)
        draft, before = self.session.shown, self.chosen
        if before is None:
            return
        home = home_of(draft, path, before, draft.reference_id)
        self.choose(home)
        self.repaint()
        self.edit_value(path)
        if self.query_one(Editor).is_open:
            self._back_to = before
            self.notice = _for_all_words(draft, path, home)
        else:
            self.choose(before)
        self.repaint()

    def close_editor(self, *, keep: bool) -> None:
        """Close it, and go back to the scenario from which a value of another was edited."""
        super().close_editor(keep=keep)
        if self._back_to is not None and not self.query_one(Editor).is_open:
            before, self._back_to = self._back_to, None
            self.choose(before)
            self.repaint()

    def go_to_value(self, path: Path) -> bool:
        """Put the cursor on a value's row, its heading open; whether there is one."""
        place = ("hours",) if path == ATTENDED else path[:2]
        self._folded -= {place, path[:1]}
        for i, row in enumerate(self._all_rows()):
            if isinstance(row, Line) and row.path == path:
                self._place, self._path, self._row = row.place, path, i
                self.repaint()
                return True
        return False

    def tell(self, words: str) -> None:
        """Say something in the line below."""
        self.notice = words

    def ask_line(self, question: str, text: str, take: Callable[[str], None]) -> None:
        """Have a line typed; nothing is taken where that is given up."""
        self._ask_over(Name(question, text), take)

    def ask_which(
        self, question: str, things: Mapping[str, str], take: Callable[[str], None]
    ) -> None:
        """Have one of some things chosen by its name."""
        self._ask_over(Pick(question, things), take)

    def _ask_over(self, dialog: ModalScreen[str | None], take: Callable[[str], None]) -> None:
        def done(said: str | None) -> None:
            if said is not None:
                take(said)
                self.repaint()

        self.close_editor(keep=True)
        self.app.push_screen(dialog, done)

    # -- having questions answered -----------------------------------------------------

    def repaint(self) -> None:
        """Draw everything; ask anew where the view wants to know something else than before."""
        self._ask_anew()
        super().repaint()
        # Drawing may have moved the columns, and a view may ask about those that are shown.
        if self._ask_anew():
            super().repaint()

    def _ask_anew(self) -> bool:
        if self.view is None:
            return False
        question = self.view.question(self.look())
        # What was stopped was one question; another one is worked out again.
        self._stopped = self._stopped and question == self._stopped_at
        if self._stopped:
            question = None
        if question == self._asked:
            return False
        self._asked = question
        self._progress = ""
        if self.wanted() is not None:
            self.send()
        return True

    def action_stop(self) -> None:
        """Stop the work on the view's question, or go on with it."""
        if self.view is None or (self._asked is None and not self._stopped):
            self.notice = "Nothing is being worked out that could be stopped."
        else:
            self._stopped = not self._stopped
            self._stopped_at, self._asked = self._asked, None
            self.send()
        self.repaint()

    @on(FileHands.Replied)
    def _view_replied(self, message: FileHands.Replied) -> None:
        reply = message.reply
        if reply.revision not in (ANY_REVISION, self.session.revision):
            return
        if reply.question is None:
            if reply.fault and self.wanted() is not None and self._asked is not None:
                # What ended the calculation took the view's question with it.
                self.faults[self._asked] = reply.fault
                self.repaint()
            return
        if reply.fault:
            self.faults[reply.question] = reply.fault
        elif reply.result is not None:
            (self.partly if reply.partly else self.results)[reply.question] = reply.result
        if not reply.partly:
            self._progress = progress_words(reply)
        self.repaint()


def _for_all_words(draft: Draft, path: Path, home: str) -> str:
    """Where a value is entered, and who has one of their own."""
    said = f"For the whole shop: entered in {draft.scenario(home).title}"
    others = [draft.scenario(one).title for one in others_of(draft, path, home)]
    if not others:
        return f"{said}."
    has = "has its own" if len(others) == 1 else "have their own"
    return f"{said}; {', '.join(others)} {has}."


def progress_words(reply: Reply) -> str:
    """How far the work is and how long the rest may take."""
    if not reply.of:
        return ""
    left = "" if reply.left is None else f", about {max(1, round(reply.left))} s left"
    return f"Being worked out: {reply.done} of {reply.of}{left}. s stops it."
