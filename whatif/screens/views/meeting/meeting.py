"""The meeting: a verdict over all alternatives, and a page an alternative in large figures."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from typing_extensions import override

from whatif.answers.doubts import to_be_tried
from whatif.answers.together import not_together
from whatif.answers.verdict import verdict_of
from whatif.screens.views.meeting.page import PAGES_TRIED, has_room_for_dots, page_rows
from whatif.screens.views.meeting.verdict import TALL, lines_kept, verdict_rows
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, no_answer
from whatif.screens.widgets.drawing import (
    Chooses,
    SpanRow,
)
from whatif.session.calculate.questions import UnderDoubts
from whatif.study.edits.values import SetValue
from whatif.telling.meeting.decision import (
    decision_text,
    why_decided,
)
from whatif.telling.meeting.doubts import being_tried_words, not_tried_words, tried_words
from whatif.telling.meeting.verdict import verdict_told

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from whatif.answers.verdict import Verdict
    from whatif.session.calculate.requests import Question
    from whatif.telling.meeting.lines import AlternativeLine
    from whatif.telling.meeting.verdict import VerdictTold


class MeetingView(View):
    """First the verdict, a line an alternative; then a page an alternative."""

    name = "meeting"
    reads = """\
First the verdict: a line an alternative, who comes first and why, and what that rests on. "one-off"
(in little room "once") is what it takes at once, "open" what has no price; "costs" is what it costs
more a year, "takes" what it takes of paid hours a week where a wage is missing. "worth today" is
what all its years bring more, less the one-off cost; money counts for less the later it comes: at
8 % a year 108 in a year are worth 100 today. "!" before a gain: it rests on what is not so yet.
In much room "floor" is all that machines and pallets stand on, as entered.
Where a likely range leads the gain, the worth today and the payback are its middle, or that range.
"drawbacks" are what speaks against it, the weightiest first. "at most", "up to" and ≤: with all
priced it will be less; "at least", "from" and ≥: it will be more; "about" and ≈: more or less.
"no-go" is what cannot be done as it is entered; it stands last whatever it is worth.
"again", set in, is the alternative above it again, which has no place of its own: with stops
entered, other scatter of visits, or hour meters read otherwise, which are no choices.
Where there is no room for a line each the last ones stand in one, with why: a shows them.
Where likely ranges overlap the narrowly best is the one that is worth most, costs least or takes
the fewest hours: which of them is said. What is less in the same draws is told apart all the same,
as what both inherit moves both alike there; by how much is said. The rest stand by what they take.
Then a page an alternative, in large figures. "±0" means that the difference is smaller than what a
second more or less of people's times would change. What is counted by other rates than the
reference, or has other demand, stands below the rest, in no order. A shorter cycle that nothing is
laid out for is not priced and never best.
"ranked by the verdict": what is clearly better stands before the rest, each by what is told of it.
A decision that notes hold (d writes one) stands above the table: when, what, against what.
Opened first, or from the reference, the meeting begins with what comes first, so that Enter opens
its page."""
    keys = """\
left right   the scenario before, the one after"""

    def __init__(self) -> None:
        self._is_page = False
        self._is_whole = False
        """Whether lines that there is no room for are drawn all the same."""
        self._kept = _Kept()

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Between the verdict and the pages, and from line to line or page to page."""
        if not look.ids:
            return ()
        if self._is_page:
            decide = _KEEP if look.chosen == look.reference else _DECIDE
            return (*_TO_VERDICT, _TURNS, decide)
        return (
            ViewKey("enter", "⏎", "page", "the page of the alternative chosen"),
            _TURNS,
            _DECIDE,
            *([_FEWER if self._is_whole else _ALL] if self._kept.is_folded else []),
            ViewKey("up,down", "↑↓", "", "the alternative above, below"),
        )

    @override
    def question(self, look: Look) -> Question | None:
        """How the verdict ends under doubts, once there is one."""
        ids = self._kept.to_be_tried(look)
        return UnderDoubts(ids) if ids else None

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Turn between the verdict and the pages, and go from line to line, page to page."""
        if not look.ids or look.chosen is None:
            return False
        if key == "enter":
            if not self._is_page:
                self._on_a_line(look, host)
            self._is_page = not self._is_page
        elif key == "escape" and self._is_page:
            self._is_page = False
        elif key == "space":
            self._turn(look, host)
        elif key == "d":
            self._decide(look, host)
        elif key == "a" and not self._is_page and self._kept.is_folded:
            self._is_whole = not self._is_whole
        elif key in ("up", "down") and not self._is_page:
            self._move(1 if key == "down" else -1, look, host)
        else:
            return False
        return True

    @override
    def begins_with(self, look: Look) -> str | None:
        """What comes first, once that is known."""
        told = self._kept.of(look)
        lines = () if told is None else told.lines
        return next((line.scenario for line in lines if line.is_first), None)

    def _on_a_line(self, look: Look, host: ViewHost) -> Look:
        """What is looked at then: where no line is marked yet, what comes first is meant."""
        told = self._kept.of(look)
        is_marked = look.chosen is not None and look.chosen != look.reference
        if is_marked:
            # Also the one that the meeting began with: somebody has taken it up now.
            host.choose(look.chosen or "")
        if told is None or not told.lines or is_marked:
            return look
        host.choose(told.lines[0].scenario)
        return host.look()

    def _decide(self, look: Look, host: ViewHost) -> None:
        """Have a reason typed, and write the decision into the notes of what is chosen."""
        if not self._is_page:
            look = self._on_a_line(look, host)
        told, id_, reference = self._kept.of(look), look.chosen, look.reference
        if told is None or id_ is None or reference is None:
            return
        against = look.title_of(reference)
        raw = look.draft.scenario(id_).entered.get(("notes",))
        before = raw if isinstance(raw, str) else ""

        def take(reason: str) -> None:
            when = date.today().isoformat()
            text = decision_text(told, id_, look.title, against, when, reason)
            host.do(SetValue(id_, ("notes",), "\n\n".join(filter(None, (before.strip(), text)))))
            host.tell("It stands in the verdict and in its notes (e shows them); u takes it out.")

        host.ask_line(why_decided(told, look.title, against), "", take)

    def _turn(self, look: Look, host: ViewHost) -> None:
        """From the verdict to the page of the best, and on in its order; from the last to it."""
        told = self._kept.of(look)
        lines = () if told is None else told.lines
        # What has no line stands behind: the reference.
        pages = list(dict.fromkeys((*(line.scenario for line in lines), *look.ids)))
        at = pages.index(look.chosen or "") + 1 if self._is_page else 0
        self._is_page = True
        host.choose(pages[at % len(pages)])

    def _move(self, by: int, look: Look, host: ViewHost) -> None:
        told = self._kept.of(look)
        if told is None or not told.lines:
            return
        ids = [line.scenario for line in told.lines]
        at = ids.index(look.chosen) + by if look.chosen in ids else 0
        host.choose(ids[max(0, min(at, len(ids) - 1))])

    @override
    def figure(self, look: Look) -> str:
        """The gain; of the reference its spindle hours."""
        return "spindle_hours.total" if look.chosen == look.reference else ""

    @override
    def page(self, look: Look) -> object:
        """The verdict, or whose page it is."""
        return look.chosen if self._is_page else None

    @override
    def cursor(self, look: Look) -> int | None:
        """The chosen alternative's line."""
        if self._is_page or look.chosen is None:
            return None
        spot = Chooses(look.chosen)
        return next(
            (
                at
                for at, spans in enumerate(self._kept.drawn)
                if any(span.spot == spot for span in spans)
            ),
            None,
        )

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The verdict, or the chosen scenario's page."""
        told = self._kept.of(look)
        if self._is_page:
            lines = () if told is None else told.lines
            in_dots = self._kept.has_dots(look, lines, width, height)
            return page_rows(look, lines, width, height, in_dots=in_dots)
        if told is None:
            return no_answer(look, width)
        tried = self._kept.tried(look)
        kept = lines_kept(look, told, width, height)
        self._kept.is_folded = kept < len(told.lines)
        if self._is_whole:
            kept = len(told.lines)
        self._kept.drawn = verdict_rows(look, told, tried, width, height, kept)
        return self._kept.drawn


_TURNS = ViewKey(
    "space", "Space", "next page", "the next page, as the verdict has them, the reference last"
)
_TO_VERDICT = (
    ViewKey("escape", "Esc", "verdict", "back to the verdict"),
    ViewKey("enter", "⏎", "", "back to the verdict"),
)
_DECIDE = ViewKey("d", "d", "decide", "write into its notes that this one is decided for, and why")
_ALL = ViewKey("a", "a", "all", "a line of each alternative, also of those that stand last")
_FEWER = ViewKey("a", "a", "fewer", "the last alternatives in one line again")
_KEEP = ViewKey(
    "d", "d", "keep as is", "write into its notes that things are kept as they are, and why"
)


# -- the verdict -------------------------------------------------------------------------------


class _Kept:
    """The verdict as it was told last, kept as long as answers and titles are the same objects.

    Attributes:
        drawn: its rows as they were drawn last.
        is_folded: whether there was no room for all of its lines then.
    """

    __slots__ = ("_dots", "_found", "_of", "_titles", "_told", "drawn", "is_folded")

    def __init__(self) -> None:
        self._of: list[object] = []
        self._found: Verdict | None = None
        self._titles: Mapping[str, str] = {}
        self._told: VerdictTold | None = None
        self._dots: tuple[tuple[object, ...], bool] = (), False
        self.drawn: list[SpanRow] = []
        self.is_folded = False

    def has_dots(
        self, look: Look, lines: Sequence[AlternativeLine], width: int, height: int
    ) -> bool:
        """Whether names are drawn in dots on the pages: on all of them, or on none."""
        of = (self._told, lines, look.ids, width, height)
        if not all(map(_is_same, of, self._dots[0])) or len(of) != len(self._dots[0]):
            has = height >= TALL and len(look.ids) <= PAGES_TRIED
            has = has and all(
                has_room_for_dots(replace(look, chosen=id_), lines, width, height)
                for id_ in look.ids
            )
            self._dots = of, has
        return self._dots[1]

    def of(self, look: Look) -> VerdictTold | None:
        """The verdict on what is on the screen; None where nothing is answered."""
        if look.reference is None or look.base is None:
            return None
        answers = [look.answers.get(id_) for id_ in look.ids]
        held = look.checked.resolved[look.reference]
        assumed = tuple(key for key in ("rate", "years") if held.origin("money", key).is_assumed)
        asked = (look.ids, look.titles, look.reference, look.result_units, assumed)
        of: list[object] = [*asked, look.checked.resolved, *answers]
        if len(of) != len(self._of) or not all(map(_is_same, of, self._of)):
            found = verdict_of(look.answers, look.reference, look.ids)
            # The reference may be out of sight, and is what the others are held against.
            titles = {each.id: each.title for each in look.checked.draft}
            titles |= zip(look.ids, look.titles, strict=True)
            apart = not_together(found, look.checked.resolved)
            told = verdict_told(found, look.answers, titles, assumed, look.result_units, apart)
            self._of, self._told = of, told
            self._found, self._titles = found, titles
        return self._told

    def to_be_tried(self, look: Look) -> tuple[str, ...]:
        """The alternatives to be tried under doubts; none before there is a verdict."""
        told, found = self.of(look), self._found
        return () if told is None or found is None else to_be_tried(found)

    def tried(self, look: Look) -> str:
        """How the verdict ends under doubts, as far as that is known."""
        if not self.to_be_tried(look) or self._found is None:
            return ""
        if look.fault:
            return not_tried_words(look.fault)
        whole, partly = look.result, look.partly
        known = whole if isinstance(whole, tuple) else partly if isinstance(partly, tuple) else ()
        words = tried_words(known, self._found, self._titles)
        return words if isinstance(whole, tuple) else being_tried_words(words, look.waiting)


def _is_same(now: object, before: object) -> bool:
    """Whether it is the same answer, or the same names; answers are not compared by content."""
    return now is before or (isinstance(now, str | tuple | int) and now == before)
