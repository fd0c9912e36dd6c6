"""A study on a screen without a terminal, for the tests of the screens."""

from __future__ import annotations

import asyncio
import time
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import ClassVar

import few_draws
import pytest
from few_draws import SCENARIOS as SCENARIOS
from remembered import remembered
from textual._context import visible_screen_stack
from textual.events import Key
from textual.geometry import Region
from textual.pilot import Pilot
from typing_extensions import override

from whatif.answers.answer import Comparison
from whatif.answers.compare import compare_wholly
from whatif.answers.doubts import Tried
from whatif.answers.moves.inputs import Unanswerable
from whatif.answers.progress import Progress, Told
from whatif.screens.app import WhatIf
from whatif.screens.desk.desk import Desk
from whatif.screens.views.pane import ViewPane
from whatif.screens.widgets.composing import Prompt
from whatif.screens.widgets.editor import Editor
from whatif.screens.widgets.sheet import Sheet
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.questions import UnderDoubts
from whatif.session.calculate.requests import Alone, Material, Question, Reply, Request
from whatif.session.kept.left import left_behind
from whatif.session.kept.recovery import Recovery
from whatif.session.kept.state import is_first_time
from whatif.session.opened import Opened
from whatif.session.session import Session
from whatif.session.sheet import Line
from whatif.study.check.check import check
from whatif.study.draft import Draft
from whatif.study.file.reading import read_file
from whatif.study.file.writing import to_text

SMALL, MIDDLE, LARGE = (80, 24), (120, 32), (200, 50)
SIZES = (SMALL, MIDDLE, LARGE)
SMALL_FIRST = (
    SMALL,
    pytest.param(MIDDLE, marks=pytest.mark.long),
    pytest.param(LARGE, marks=pytest.mark.long),
)
"""The same, of which only the smallest is tried where the long sets are not asked for."""


_A_MOMENT = 0.001
_TURNS_AT_REST = 5
"""Turns of the event loop with nothing to do after which a screen is taken to be at rest: what a
widget has begun and waits for with an empty queue goes on within fewer."""
LONGEST = 60
"""Seconds after which a screen is taken never to come to rest."""


class AtOnce:
    """Answers in the asking thread, so that a test sees the screen as it settles."""

    memory = Memory()
    known: ClassVar[dict[str, object]] = {}
    """What questions were answered with, by question and text of the study: one demo is asked
    often."""
    compared: ClassVar[dict[str, Comparison | None]] = {}
    """The comparisons, by the text of the study too."""
    tried: ClassVar[tuple[Tried, ...]] = ()
    """How every verdict ends under doubts: to try them of each demo would take seconds."""

    def __init__(self, deliver: Callable[[Reply], None]) -> None:
        self._deliver = deliver
        self.held: list[Request] | None = None

    def start(self) -> None:
        pass

    def ask(self, request: Request) -> None:
        if isinstance(request.question, Alone):
            result = request.question.work_alone(self.memory)
            self._deliver(Reply(request.revision, question=request.question, result=result))
            return
        if self.held is not None:
            self.held.append(request)
            return
        self.answer(request)

    def answer(self, request: Request) -> None:
        draft = self.to_compare(request.draft)
        asked = f"{type(self)._compare.__qualname__}\n{to_text(draft)}"
        if asked not in self.compared:
            self.compared[asked] = remembered(asked, lambda: self._compare(draft))
        found = self.compared[asked]
        if found is not None and request.question is not None:
            self._deliver(self._asked(request, request.question, found))
        self._deliver(Reply(request.revision, found, final=True))

    def to_compare(self, draft: Draft) -> Draft:
        """The draft whose figures are worked out in place of a draft's."""
        return few_draws.to_compare(draft)

    def to_ask(self, draft: Draft) -> Draft:
        """The draft of which something more is asked in place of a draft."""
        return few_draws.to_ask(draft)

    def _compare(self, draft: Draft) -> Comparison | None:
        """All that is answered; None where the study has problems."""
        checked = check(draft)
        if checked.study is None:
            return None
        return compare_wholly(checked, self.memory, self.memory.pause)

    def _asked(self, request: Request, question: Question, found: Comparison) -> Reply:
        if isinstance(question, UnderDoubts):
            return Reply(request.revision, question=question, result=self.tried)
        asked = self._in_full(request, question)
        if asked not in self.known:
            try:
                self.known[asked] = remembered(
                    asked,
                    lambda: question.work_out(
                        self._material(request, found, lambda done, of: None)
                    ),
                )
            except Unanswerable as why:
                self.known[asked] = why
        return Reply(request.revision, question=question, result=self.known[asked])

    def _in_full(self, request: Request, question: Question) -> str:
        """All that an answer depends on."""
        drafts = (self.to_compare(request.draft), self.to_ask(request.draft))
        return "\n".join((repr(question), *map(to_text, drafts)))

    def _material(
        self,
        request: Request,
        found: Comparison,
        told: Told,
        partly: Callable[[object], None] = lambda result: None,
    ) -> Material:
        draft, memory = self.to_ask(request.draft), self.memory
        return Material(draft, check(draft), found, memory, memory.pause, told, partly)

    def close(self) -> None:
        pass


class AWhile(AtOnce):
    """Works at a question for so many items only, as if one looked while it goes on."""

    items = 3

    class _Enough(Exception):
        pass

    def _asked(self, request: Request, question: Question, found: Comparison) -> Reply:
        if isinstance(question, UnderDoubts):
            return Reply(request.revision, question=question, result=self.tried)
        told, result, partly = remembered(
            f"{self.items} of {self._in_full(request, question)}",
            lambda: self._work_a_while(request, question, found),
        )
        for progress in told:
            self._deliver(Reply(request.revision, progress=progress, question=question))
        return Reply(request.revision, question=question, result=result, partly=partly)

    def _work_a_while(
        self, request: Request, question: Question, found: Comparison
    ) -> tuple[list[Progress], object, bool]:
        """What was told on the way, what is known in the end, and whether that is a part only."""
        told: list[Progress] = []
        known: list[object] = []

        def tell(done: int, of: int) -> None:
            told.append(Progress(done, of))
            if done >= self.items:
                raise self._Enough

        material = self._material(request, found, tell, known.append)
        try:
            return told, question.work_out(material), False
        except self._Enough:
            return told, known[-1] if known else None, True


class Settling(AtOnce):
    """Works out everything over as many weeks and draws as a user gets: for the pictures."""

    @override
    def to_compare(self, draft: Draft) -> Draft:
        return draft

    @override
    def to_ask(self, draft: Draft) -> Draft:
        return draft


class Screen:
    """The app under test, what its screen says, and keys to press."""

    def __init__(self, app: WhatIf, pilot: Pilot[None]) -> None:
        self.app = app
        self.pilot = pilot

    @property
    def session(self) -> Session:
        return self.app.session

    @property
    def text(self) -> str:
        # Textual has no public way to the lines of a screen; an SVG would hold them scattered.
        # What lies below a small screen is handed to it as it is when a terminal is drawn on.
        visible_screen_stack.set(self.app._background_screens)
        drawn = self.app.screen._compositor.render_strips()
        lines = ["".join(part.text for part in line) for line in drawn]
        # A sheet's scroll bar moves by a part of a cell with every input that there is.
        for screen in self.app.screen_stack:
            for sheet in screen.query(Sheet):
                bar = sheet.vertical_scrollbar.region if sheet.show_vertical_scrollbar else Region()
                for y in range(bar.y, bar.bottom):
                    if screen is self.app.screen or self._is_seen_below(bar.x, y):
                        lines[y] = lines[y][: bar.x] + " " * bar.width + lines[y][bar.right :]
        return "\n".join(line.rstrip() for line in lines) + "\n"

    def _is_seen_below(self, x: int, y: int) -> bool:
        """Whether the screen on top leaves a cell to those below it."""
        top = self.app.screen
        return top.get_widget_at(x, y)[0] is top

    @property
    def view_lines(self) -> list[str]:
        """What the open view says, without what stands around it."""
        region = self.app.desk.query_one(ViewPane).region
        return self.text.splitlines()[region.y : region.bottom]

    async def open_view(self, name: str) -> Screen:
        """Open a view through the desk's own command."""
        self.app.desk.controllers.views.open(name)
        return await self.settle()

    async def press(self, *keys: str) -> Screen:
        for key in keys:
            await self._heeded(key)
        return await self.settle()

    async def _heeded(self, key: str) -> None:
        """Send a key and wait until it has been heeded; the pilot would ask each widget, too."""
        await self.app._press_keys([key])
        await self.drawn()

    async def type(self, text: str) -> Screen:
        """Type a text so fast that only what stands there in the end is answered."""
        names = {" ": "space", ":": "colon", "-": "minus", ".": "full_stop", ",": "comma"}
        names |= {
            "?": "question_mark",
            "%": "percent_sign",
            "/": "slash",
            '"': "quotation_mark",
            "_": "underscore",
        }
        calculator = self.app.study.calculator if self.app.is_open else None
        if not isinstance(calculator, AtOnce) or calculator.held is not None:
            return await self.press(*(names.get(letter, letter) for letter in text))
        calculator.held = asked = []
        for letter in text:
            await self._heeded(names.get(letter, letter))
        calculator.held = None
        if asked:
            calculator.answer(asked[-1])
        return await self.settle()

    async def burst(self, *keys: str) -> Screen:
        """Send keys as a slow line does: all at once, none waiting for what another brings."""
        for key in keys:
            named = {"space": " ", "colon": ":"}.get(key, key)
            self.app.post_message(Key(key, named if len(named) == 1 else None))
        return await self.settle()

    async def settle(self) -> Screen:
        """Wait until everything has been answered and drawn."""
        await self.drawn()
        await self.pilot._wait_for_screen()
        await self.drawn()
        end = time.monotonic() + _AN_ANSWER
        while self.app.is_waiting:
            await asyncio.sleep(_A_MOMENT)  # for threads
            await self.drawn()
            assert time.monotonic() < end, f"an answer never came:\n{self.text}"
        return self

    async def drawn(self) -> Screen:
        """Wait until every key has been heeded and drawn, whatever is still to be answered."""
        end = time.monotonic() + LONGEST
        at_rest = turns = 0
        while at_rest < _TURNS_AT_REST:
            # For threads and timers now and then; a turn is enough for what is in a queue.
            turns += 1
            await asyncio.sleep(0 if turns % _TURNS_AT_REST else _A_MOMENT)
            if at_rest == 0 and not self.app._exit and not self._is_held_back:
                self.app.screen._on_timer_update()
            at_rest = 0 if self.app.is_heeding or self._is_at_work else at_rest + 1
            assert time.monotonic() < end, f"the screen never came to rest:\n{self.text}"
        return self

    @property
    def _is_held_back(self) -> bool:
        """Whether the screen makes no picture before something has been drawn."""
        screen = self.app.screen
        return isinstance(screen, Prompt) and screen._waits_for_more

    @property
    def _is_at_work(self) -> bool:
        """Whether something is still to be done or drawn, which only Textual's own notes tell."""
        app, screen = self.app, self.app.screen
        if app._exit:  # nothing is heeded any more
            return False
        return (
            app._resize_timer is not None
            or any(not worker.is_finished for worker in app.workers)
            or screen._layout_required
            or screen._scroll_required
            or screen._repaint_required
            or bool(screen._callbacks or screen._dirty_widgets)
            or (isinstance(screen, Desk) and not screen.is_drawn)
            or any(
                one.message_queue_size or one._next_callbacks
                for one in (app, *screen.walk_children(with_self=True))
            )
        )

    async def put_on(self, path: tuple[str, ...], column: int = 0) -> Screen:
        """Put the cursor on a thing's row, or its heading, without walking there."""
        desk = self.app.desk
        desk.state.put_on(path[:2], path if len(path) > 2 else None)
        desk.state.choose(desk.state.ids[column])
        desk.repaint()
        return await self.settle()

    async def go_to(self, label: str, column: int = 0) -> Screen:
        """Put the cursor on the first row of a label that is not folded away."""
        desk = self.app.desk
        desk.repaint()  # a test may have folded or opened something
        row = next(
            (one for one in desk.state.rows if isinstance(one, Line) and one.label == label), None
        )
        assert row is not None, f"no row {label}"
        desk.state.put_on(row.place, row.path)
        desk.state.choose(desk.state.ids[column])
        desk.repaint()
        return await self.settle()


@asynccontextmanager
async def on_screen(
    study: Path,
    size: tuple[int, int] = (120, 32),
    *,
    state: Path | None = None,
    calculator: type = AtOnce,
    first_time: bool = False,
) -> AsyncIterator[Screen]:
    """Open a study; ``state`` is where unsaved edits are kept.

    Only where ``first_time`` is said is the hint of the first time laid over the desk.
    """
    assert state is not None or study.parent != SCENARIOS, "it would lie beside the demos"
    read = read_file(study)
    folder = study.parent / "state" if state is None else state
    if not first_time:
        is_first_time(folder)
    recovery = Recovery(study, read.fingerprint, folder)
    opened = Opened(Session(read), recovery, left_behind(study, folder))
    app = WhatIf(opened, calculator, state=folder)
    async with app.run_test(size=size) as pilot:
        app.query(Editor)  # composed
        screen = Screen(app, pilot)
        await screen.settle()
        yield screen


@asynccontextmanager
async def on_start(
    state: Path,
    size: tuple[int, int] = (120, 32),
    *,
    missing: Path | None = None,
    calculator: type = AtOnce,
) -> AsyncIterator[Screen]:
    """Begin with the start screen; ``missing`` is a path that was asked for and is not there."""
    is_first_time(state)
    app = WhatIf(None, calculator, missing=missing, state=state)
    async with app.run_test(size=size) as pilot:
        screen = Screen(app, pilot)
        await screen.settle()
        yield screen


_AN_ANSWER = 300
"""Seconds after which an answer is not waited for any more, be the machine as busy as it may."""
