"""A way of looking at the answers: what it asks for, what it draws, which keys it takes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import field
from typing import TYPE_CHECKING, ClassVar, Protocol

from rich.cells import cell_len

from whatif.answers.cautions import Caution, Danger, to_be_read
from whatif.answers.moves.inputs import Unanswerable
from whatif.records import dataclass
from whatif.screens.widgets.columns import in_column
from whatif.screens.widgets.drawing import (
    EDGE,
    SENSES,
    Chooses,
    Span,
    SpanRow,
    Tone,
    cut,
    key_spans,
    left_in,
    paragraph,
    row,
)
from whatif.session.sheet import AS_TYPED, result_units
from whatif.study.draft import Draft
from whatif.telling.cautions import NAMES, WHO_DECIDES
from whatif.telling.refusals import refusal_words

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.screens.widgets.columns import Columns
    from whatif.session.calculate.requests import Question
    from whatif.study.check.check import Checked
    from whatif.study.edits.edit import Edit
    from whatif.study.raw import Path
    from whatif.telling.said import Said


@dataclass(frozen=True, slots=True)
class Look:
    """All that a view draws from.

    Attributes:
        checked: the check of what is on the screen; it may have problems.
        ids: the scenarios in the order of the columns, ``titles`` theirs.
        answers: per scenario the answer that belongs to what is on the screen, if there is one.
        columns: where the columns of the strip stand, for tables below it.
        result: of the view's own question; None until it is there.
        partly: what is known of it so far, where the question tells that.
        waiting: how far the work on it is, in words; "" where nothing is being worked out.
        results: of all questions that have been worked out for what is on the screen.
        rush_waiting: how far the trials of rush orders are, in words; "" before and after them.
        fault: why there will be no result, in words; "" if nothing went wrong.
        draft: what is on the screen.
        under: path of the value under the cursor of the sheet; None on a heading.
        units: what lengths, masses and areas are shown in: as typed, metric or inch.
    """

    checked: Checked
    ids: tuple[str, ...]
    titles: tuple[str, ...]
    chosen: str | None
    reference: str | None
    answers: Mapping[str, Answer]
    columns: Columns
    result: object = None
    partly: object = None
    waiting: str = ""
    fault: str = ""
    draft: Draft = field(default_factory=Draft)
    under: Path | None = None
    units: str = AS_TYPED
    rush_waiting: str = ""
    results: Mapping[Question, object] = field(default_factory=dict)

    @property
    def result_units(self) -> str:
        """What those that nobody typed are shown in: metric or inch."""
        return result_units(self.units, self.draft)

    @property
    def answer(self) -> Answer | None:
        """The chosen scenario's answer."""
        return self.answers.get(self.chosen or "")

    @property
    def base(self) -> Answer | None:
        """The reference's answer."""
        return self.answers.get(self.reference or "")

    @property
    def is_today(self) -> bool:
        """Whether the chosen scenario is the one that stands in the shop."""
        return self.chosen == self.draft.today_id

    @property
    def title(self) -> str:
        """The chosen scenario's title."""
        return self.title_of(self.chosen or "")

    @property
    def shown(self) -> list[str]:
        """The scenarios in the columns that are seen."""
        return [self.ids[place] for place in self.columns.visible]

    def title_of(self, scenario: str) -> str:
        """A scenario's title, also where its column is hidden; "" where it is not in the study."""
        if scenario in self.ids:
            return self.titles[self.ids.index(scenario)]
        return self.draft.scenario(scenario).title if self.draft.has(scenario) else ""


@dataclass(frozen=True, slots=True)
class ViewKey:
    """One of a view's own keys: a letter of what it does.

    Attributes:
        keys: as events name them, with commas between; a click on its word is the first of them.
        shown: as it is written for people.
        word: what it does, in the line of keys; "" where it does not stand there.
        does: the same for the help.
    """

    keys: str
    shown: str
    word: str
    does: str

    @property
    def key(self) -> str:
        """What a click on it is the same as."""
        return self.keys.partition(",")[0]


class ViewHost(Protocol):
    """What a view may ask of the desk around it."""

    @property
    def room(self) -> tuple[int, int]:
        """Cells and rows that the view is drawn in."""

    def look(self) -> Look:
        """What is to be drawn now."""

    def do(self, edit: Edit) -> None:
        """Make a change that can be undone, or say why it cannot be made."""

    def edit_value(self, path: Path) -> None:
        """Open the editor on a value of the chosen scenario, in the line below the view."""

    def edit_for_all(self, path: Path) -> None:
        """Open the editor on a value where it holds for all, saying which scenario that is."""

    def choose(self, scenario: str) -> None:
        """Choose a scenario's column."""

    def tell(self, words: str) -> None:
        """Say something in the line below, until the next key."""

    def hush(self) -> None:
        """Take back what was told: the next key has been pressed."""

    def ask_line(self, question: str, text: str, take: Callable[[str], None]) -> None:
        """Have a line typed; nothing is taken where that is given up."""

    def ask_which(
        self, question: str, things: Mapping[str, str], take: Callable[[str], None], told: str = ""
    ) -> None:
        """Have one of some things chosen by its name; ``told`` is what F1 says of them."""

    def repaint(self) -> None:
        """Draw everything anew; also after a view's own state has changed."""


class View:
    """One view; its own state (a cursor, a choice of form) is no more than where one looks.

    A new one is a file with a subclass, and its row in :mod:`whatif.screens.views.all`. A page of
    a view is a view that is not listed there and needs none of the attributes.

    Attributes:
        name: of its row there, which has its title and what else is told before it is open.
        reads: how it is read, for the help.
        keys: what keys beside :meth:`own_keys` do, a line a key, for the help.
        in_columns: whether it tells a column a scenario, below their titles.
        aside: whether Escape goes back to the view that it was opened from, if there was one.
        stays: whether it is opened again as it was left, as far as that still holds.
        pages_first: whether PgUp, PgDn, Home and End are its own as long as they move its cursor,
            and scroll only then.
    """

    name: ClassVar[str]
    reads: ClassVar[str]
    keys: ClassVar[str] = ""
    in_columns: ClassVar[bool] = False
    aside: ClassVar[bool] = False
    stays: ClassVar[bool] = False
    pages_first: ClassVar[bool] = False

    @classmethod
    def get_ready(cls) -> None:
        """Have at hand what the first one would have to wait for; from a thread of its own."""

    def how_read(self, drawn: str) -> str:
        """How what it shows now is read, for the help; ``drawn`` is the text on the screen."""
        return self.reads

    def named(self, look: Look, drawn: str) -> list[tuple[str, str]]:
        """What it names now that is no everyday word, and what each is, for the help."""
        return []

    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Its own keys as things are now; they stand in the line of keys behind the common ones.

        None of them is one that every view has: F1 to F10, ``q`` leave, ``u`` undo, ``r`` do again,
        ``s`` stop, ``i`` units, and left and right, which choose the scenario (but where they move
        a cursor). Escape is one where it goes back within the view first; its word then stands in
        the place of the common one.
        """
        return ()

    def question(self, look: Look) -> Question | None:
        """What has to be worked out for it beside the comparison; None where nothing has."""
        return None

    def figure(self, look: Look) -> str:
        """The figure that it is about just now, by its id; "" is the scenario's leading one."""
        return ""

    def turn_to(self, figure: str) -> None:
        """Begin with a figure, where it is a view of one figure."""

    def turn_to_input(self, path: Path) -> None:
        """Begin with what an input is about, that of the sheet's row on which it was opened."""

    def input_looked_at(self, look: Look) -> Path | None:
        """The input that was looked at last, where it is a view over inputs."""
        return None

    def come_back_to(self, path: Path) -> None:
        """Begin with the input that was looked at when it was left."""

    def leave(self, look: Look) -> None:
        """Be put aside; it may be opened again where it ``stays``."""

    def come_back(self, look: Look) -> None:
        """Be opened, again or for the first time, where it ``stays``."""

    def begins_with(self, look: Look) -> str | None:
        """The scenario that is chosen as it opens; None where the chosen one stays so."""
        return None

    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """Everything it says, in rows of at most ``width`` cells; more than ``height`` scroll.

        It changes nothing: where one looks is changed by keys and clicks alone.
        """
        raise NotImplementedError

    def page(self, look: Look) -> object:
        """What tells its pages apart, of which each begins at its top."""
        return None

    def cursor(self, look: Look) -> int | None:
        """The row that must stay in sight; None where it has no cursor."""
        return None

    def heads(self, look: Look) -> int:
        """How many rows at its top stay where the others scroll."""
        return 0

    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Take one of its own keys; whether it was one."""
        return False

    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """Take a click on a spot of its own."""

    def wheel(self, rows: int, columns: int, look: Look, host: ViewHost) -> bool:
        """Take a turn of the wheel, with Shift or sideways by columns; whether it does.

        Where it does not, the wheel scrolls what is drawn.
        """
        return False


def no_answer(look: Look, width: int, indent: int = EDGE) -> list[SpanRow]:
    """What stands in place of an answer that is not there: why, and what to do."""
    if look.fault:
        return paragraph(f"There is no answer: {look.fault}", width, "loss", indent)
    if isinstance(look.result, Unanswerable):
        return paragraph(refusal_words(look.result), width, "plain", indent)
    if not look.ids:
        text = "There is no scenario yet: Esc goes back to the sheet, where a adds one."
    elif not look.checked.is_sound:
        text = "The study has problems; F3 lists them. Once they are mended the answer stands here."
    else:
        text = look.waiting or "Being worked out ..."
    return paragraph(text, width, "dim", indent)


def nothing_yet(says: str, steps: Sequence[tuple[str, str]], width: int) -> list[SpanRow]:
    """What a view says that has nothing to show yet, and what to enter, each by its key.

    A step without a key goes on with what stands above it.
    """
    room = min(width, _EMPTY)
    rows = [*paragraph(says, room), row("")]
    for key, text in steps:
        first, *more = paragraph(text, room - _STEP)
        spans = key_spans(f"{key:^{_STEP}}", tone="key") if key else (Span(" " * _STEP),)
        rows.append((*spans, *first))
        rows += [(Span(" " * _STEP), *line) for line in more]
    return rows


_EMPTY, _STEP = 101, 5
"""Cells in which that is broken, and those of a key before its step."""


def across(
    look: Look, label: str, cells: Iterable[tuple[str, Tone]], tone: Tone = "plain"
) -> SpanRow:
    """A row below the strip's columns: a label, and a text for each scenario that has one."""
    spans = [left_in(label, look.columns.label, tone)]
    for id_, (text, of_text) in zip(look.shown, cells, strict=True):
        spot = Chooses(id_)
        spans += [Span(" ", spot=spot), in_column(text, look.columns, of_text, spot)]
    return tuple(spans)


def across_said(look: Look, label: str, cells: Iterable[Said]) -> SpanRow:
    """The same of texts that say what they mean."""
    room = look.columns.figures
    return across(look, label, ((said.within(room), SENSES[said.sense]) for said in cells))


def caution_rows(
    look: Look, dangers: Sequence[Danger], width: int, indent: int = EDGE
) -> list[SpanRow]:
    """The chosen scenario's cautions of some dangers, by name in one line; F2 has them in full.

    What stands in the shop today calls for them too is told apart, where it is another scenario.
    """
    answer = look.answer
    all_of_it = () if answer is None else to_be_read(answer.cautions, answer.plan)
    cautions = [caution for caution in all_of_it if caution.of in dangers]
    if not cautions:
        return []
    own = [caution for caution in cautions if look.is_today or not caution.stands]
    others = [caution for caution in cautions if caution not in own]
    text, room = f"! Caution: {_named(own, others)}.", width - indent
    # Who decides is said as long as there is room for it; F2 says it in any case.
    texts = [text + more for more in (f" F2 reads more. {WHO_DECIDES}", " F2 reads more.", " F2")]
    # No name is cut: those that there is no room for are counted.
    for kept in range(len(cautions) - 1, 0, -1):
        named = _named(own[:kept], others[: max(0, kept - len(own))])
        texts.append(f"! Caution: {named}, {len(cautions) - kept} more: F2")
    texts.append("! Caution: F2")
    said = next((each for each in texts if cell_len(each) <= room), cut(texts[-1], room))
    return [row(" " * indent, Span(said, "caution"))]


def _named(own: Sequence[Caution], others: Sequence[Caution]) -> str:
    """Cautions by name, those behind them that stand in the shop today."""
    named = (
        begins + ", ".join(NAMES[caution.of] for caution in cautions)
        for begins, cautions in (("", own), ("today too: ", others))
        if cautions
    )
    return "; ".join(named)


def cautions_told(
    cautions: Iterable[Caution], tell: Callable[[Caution], str], width: int, indent: int = EDGE
) -> list[SpanRow]:
    """Each caution in the words that ``tell`` has for it."""
    return [
        line
        for caution in cautions
        for line in paragraph(f"! Caution. {tell(caution)}", width, "caution", indent)
    ]
