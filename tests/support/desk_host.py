"""A desk without a screen: it notes what the controllers ask for, and answers nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from whatif.screens.desk.controllers import Controllers
from whatif.screens.desk.host import MakesReport
from whatif.screens.desk.state import REFUSED, DeskState
from whatif.screens.dialogs.ask import AskLine
from whatif.screens.dialogs.dialog import Dialog
from whatif.screens.widgets.drawing import Seen
from whatif.session.calculate.requests import Request
from whatif.session.kept.recovery import Keeping
from whatif.session.session import Session
from whatif.study.draft import Draft
from whatif.study.file.reading import read_file


@dataclass
class NotingProgram:
    """What has been asked of the program."""

    asked: list[Request] = field(default_factory=list)
    kept_safe: list[Draft | None] = field(default_factory=list)
    bases: list[str] = field(default_factory=list)
    went: str = ""
    clipboard: str = ""
    keeping: Keeping = field(default_factory=Keeping)
    make_report: MakesReport | None = None

    def ask(self, request: Request) -> None:
        self.asked.append(request)

    def saved(self, base: str) -> None:
        self.bases.append(base)

    def note(self, draft: Draft | None) -> None:
        self.kept_safe.append(draft)

    def show_start(self) -> None:
        self.went = "start"

    def exit(self) -> None:
        self.went = "away"

    def copy_to_clipboard(self, text: str) -> None:
        self.clipboard = text


class NotingHost:
    """A desk for the controllers; ``answer`` and ``type`` are what a user does on the screen."""

    def __init__(self, session: Session) -> None:
        self.state = DeskState(session)
        self.program = NotingProgram()
        self.controllers = Controllers(self.state, self)
        self.typed = ""
        self.asked: Dialog | None = None
        self.said_in_dialog = ""
        self.focus = "sheet"
        self.painted = 0
        self.rung = 0
        self.to_do: Callable[[], None] = lambda: None
        """What is to be done after a while."""
        self._take: Callable[[str], object] | None = None
        self.repaint()

    # -- what a user does --------------------------------------------------------------

    def answer(self, text: str) -> None:
        """Answer the small screen that is laid over; what is wrong in a line keeps it open."""
        if isinstance(self.asked, AskLine) and (wrong := self.asked.tries(text)):
            self.said_in_dialog = wrong
            return
        take, self.asked, self._take = self._take, None, None
        assert take is not None
        take(text)

    def type(self, text: str) -> None:
        """Type over the value under the cursor, letter by letter."""
        self.controllers.entering.type_over(text[0])
        for end in range(2, len(text) + 1):
            self.typed = text[:end]
            self.controllers.values.text_changed(self.typed)

    @property
    def notice(self) -> str:
        """What was said last in the line below."""
        return self.state.notice

    def enter(self) -> None:
        self.controllers.values.end(True, 1, 0, entered=True)

    def escape(self) -> None:
        self.controllers.values.end(False, 0, 0)

    def put_on(self, path: tuple[str, ...], scenario: str) -> None:
        self.state.choose(scenario)
        assert self.state.go_to_value(path)
        self.repaint()

    # -- what the controllers ask for --------------------------------------------------

    def repaint(self) -> None:
        self.painted += 1
        self.state.follow()
        self.controllers.calculation.follow_view()

    repaint_laid_out = repaint
    repaint_soon = repaint
    repaint_head = repaint

    def ask(self) -> None:
        self.state.follow()
        self.controllers.calculation.ask()
        self.repaint()

    def say(self, words: str) -> None:
        self.state.notice = words
        self.repaint()

    def settle(self) -> None:
        self.controllers.search.end(stay=True)
        self.controllers.values.close(keep=True)

    def lay_over(self, dialog: Dialog, take: Callable[[str], object] | None = None) -> None:
        self.asked, self._take = dialog, take or dialog.take

    def open_editor(self, text: str, *, marked: bool) -> None:
        self.typed, self.focus = text, "editor, all selected" if marked else "editor"

    def later(self, seconds: float, then: Callable[[], None]) -> None:
        self.to_do = then

    def refuse(self, words: str) -> None:
        self.rung += 1
        self.say(f"{REFUSED}{words}")

    def refuse_typed(self) -> None:
        self.rung += 1
        self.focus = "editor, all selected"

    def close_editor(self) -> None:
        self.focus = "sheet"

    def open_finder(self) -> None:
        self.focus = "finder"

    def close_finder(self) -> None:
        self.focus = "sheet"

    def insert(self, text: str) -> bool:
        if self.focus not in ("editor", "editor, all selected", "finder"):
            return False
        self.typed += text
        return True

    def focus_sheet(self) -> None:
        self.focus = "sheet"

    def focus_view(self) -> None:
        self.focus = "sheet" if self.state.view is None else "view"

    drawn = Seen()

    @property
    def view_room(self) -> tuple[int, int]:
        return 120, 20


def host_of(folder: Path, study: str) -> NotingHost:
    """A desk with a study on it that stands in a file of its own."""
    path = folder / "study.toml"
    path.write_text(study, "utf-8")
    return NotingHost(Session(read_file(path)))
