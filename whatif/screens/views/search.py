"""What would do it: the levers and their prices, then the front of what was tried."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len
from typing_extensions import override

from whatif.answers.moves.inputs import Unanswerable
from whatif.answers.search.goal import read_goal
from whatif.answers.search.options import (
    ONE_OFF,
    YEARLY,
    making,
    options_of,
    unpriced_levers,
)
from whatif.answers.search.proposals import all_levers
from whatif.answers.search.search import NextStep, NextSteps
from whatif.screens.views.search_held import FoundBefore, without
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, no_answer
from whatif.screens.widgets.drawing import (
    Span,
    SpanRow,
    Tone,
    cut,
    left_in,
    paragraph,
    right_in,
    row,
    window,
    wrap,
)
from whatif.screens.widgets.plotted import placed_row, plotted
from whatif.session.calculate.questions import NextStepsFrom
from whatif.study.edits import SetLever
from whatif.study.edits.starting import fresh_id
from whatif.study.levers import also_from, also_text, with_lever
from whatif.study.raw import Path, Raw
from whatif.study.resolve import resolve
from whatif.study.schema.catalogue import ALSO, LEVER_KEYS
from whatif.telling.amounts import listed
from whatif.telling.refusals import refusal_words
from whatif.telling.search import (
    GOALS,
    OWN_PRICES,
    WRITE_ALSO,
    also_words,
    cost_words,
    counted_words,
    entry_words,
    gain_alone,
    gain_words,
    goal_words,
    how_sentences,
    lead_sentence,
    lever_name,
    more_people_words,
    offered_words,
    rests_sentences,
    short_gain_words,
    short_money_words,
    step_title,
)
from whatif.telling.search_plot import (
    FRONT,
    TRIED,
    UP,
    across_words,
    behind_words,
    front_plot,
    list_words,
    off_plot_words,
    sign_of,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from whatif.study.draft import Draft
    from whatif.study.levers import SearchLever

_MOVES = {"up": -1, "down": 1, "pageup": -8, "pagedown": 8, "home": -10_000, "end": 10_000}
_GUTTER = 8
_WORDS = 25
"""Cells that a step's words and its letter have at least."""
_FEWEST = 3
"""Steps that are in sight, though the page has to be scrolled then."""
_NOTHING_YET = (
    "These are levers, not steps: b begins the search of them, or l goes to what it has found, "
    "where Enter makes a scenario."
)
_NOT_FOUND_YET = "There is no step to make a scenario of yet."
_STOPPED = "The search stands, as a scenario was made of it; b searches on. So far:"
_NO_LEVERS = "The levers are on the other page: l goes there."
_NOT_SEARCHED = "Nothing has been searched from here yet: b begins."
_TONES: dict[str, Tone] = {FRONT: "plain", TRIED: "faint"}
_BEGIN = ViewKey("b", "b", "begin", "begin the search; a minute or so, s stops it and goes on")
_AGAIN = ViewKey("b", "b", "search on", "search again from here on; what was run is known already")
_GOAL = ViewKey("g", "g", "goal", "what for: demand, orders, a gain, a payback, a sum, most")
_LEVERS = ViewKey("l", "l", "levers", "what may be changed, at what price; the list and back")
_VALUES = ViewKey("v", "v", "values", "the values that are tried; none leaves the lever out")
_PRICES = ViewKey("p", "p", "price", "the price once; n that of each more, y the cost a year")
_OTHER_PRICES = ViewKey("n,y", "n y", "", "the price of each more, the cost a year")
_WITH = ViewKey("w", "w", "with", "what is entered with every value, such as fixtures")
_MAKE = ViewKey("enter", "\u23ce", "scenario", "make a scenario of the line under the cursor")
_ALONG = ViewKey("up,down,home,end,pageup,pagedown", "\u2191\u2193", "", "from line to line")
_AMOUNTS = {
    "gain": ("Saleable output over the reference, percent at least:", "25"),
    "payback": ("Years until it has paid back:", "2"),
    "sum": ("Money at most:", "50000"),
}
"""What is asked beside a goal, and what is proposed for it."""
_TYPED = {"v": "values", "p": "price", "n": "price_each", "y": "yearly"}
"""The key of a lever that a letter asks for."""


class _Kept:
    """What drawing keeps: the last row of the line under the cursor."""

    __slots__ = ("row",)

    def __init__(self) -> None:
        self.row: int | None = None


class SearchView(View):
    """The levers at first; the search is begun by a key, as it takes a while."""

    name = "search"
    stays = True
    pages_first = True
    reads = """\
What may be changed, with the values that are tried and what they cost: ~ is assumed, a proposal,
and what is entered stands in the study."""
    reads_of_list = """\
Each line is a step that nothing that was tried beats at once in saleable output, money of the first
year and people's hours; all that stands in a line is done together. They stand by what they cost in
the first year, the cheapest first, then by people's hours, and what is not priced last, what has
more levers without a price behind what has fewer, as it counts for dearer: the first need not be
the best, and gains whose likely ranges overlap cannot be told apart. A gain is over the reference;
money and hours are what the step takes more than the scenario that the search began from."""
    reads_of_plot = """\
In the plot the farther left and up, the better; where several would stand in one place, one is
drawn: that of the cursor, else the last. Which stand behind it is said below the plot."""

    def __init__(self) -> None:
        self._begun, self._at, self._lever, self._goal = False, 0, 0, ""
        self._held: FoundBefore | None = None
        self._searched: tuple[str | None, str] | None = None
        """The scenario and the goal that a search was begun with: ``l`` goes back to it."""
        self._left: tuple[Draft, str | None] | None = None
        """The study and the scenario that it was left with."""
        self._kept = _Kept()

    @override
    def how_read(self, drawn: str) -> str:
        """How the levers are read, the list, or list and plot, as they are on the screen."""
        if not self._begun:
            return self.reads
        return f"{self.reads_of_list} {self.reads_of_plot}" if UP in drawn else self.reads_of_list

    # -- what is there -----------------------------------------------------------------

    @override
    def question(self, look: Look) -> NextStepsFrom | None:
        """The search, once it was begun; none while what it had found is held."""
        if not self._begun or self._holds(look) or look.chosen is None or not look.checked.is_sound:
            return None
        return NextStepsFrom(look.chosen, self._goal)

    def _holds(self, look: Look) -> FoundBefore | None:
        """What was found before a scenario was made of it, as long as that is all that is new."""
        held = self._held
        is_same = held is not None and held.holds(look.draft, look.chosen, self._goal)
        return held if is_same else None

    def _found(self, look: Look) -> NextSteps | None:
        if self._begun and (held := self._holds(look)) is not None:
            return held.found
        found = look.result or look.partly
        return found if self._begun and isinstance(found, NextSteps) else None

    def _levers(self, look: Look) -> tuple[SearchLever, ...]:
        if look.chosen is None or not look.checked.is_sound:
            return ()
        held = None if look.answer is None else look.answer.held_back
        return all_levers(look.draft, look.chosen, held)

    # -- left and opened again -----------------------------------------------------------

    @override
    def leave(self, look: Look) -> None:
        """Whoever comes back finds the goal, and as long as nothing is changed the steps."""
        self._left = look.draft, look.chosen

    @override
    def come_back(self, look: Look) -> None:
        """A search of another study, or from another scenario, is begun by its key alone."""
        is_same = self._left is not None and self._left == (look.draft, look.chosen)
        if not is_same and self._holds(look) is None:
            self._begun, self._held, self._at = False, None, 0

    # -- keys --------------------------------------------------------------------------

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """Those of the levers, or those of the front."""
        if not self._begun:
            return (_BEGIN, _GOAL, _VALUES, _PRICES, _OTHER_PRICES, _WITH, _ALONG)
        found = self._found(look)
        front = (_MAKE, _ALONG) if found is not None and found.front else ()
        again = (_AGAIN,) if (held := self._holds(look)) is not None and not held.is_whole else ()
        return (*front, *again, _GOAL, _LEVERS)

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Along the lines, begin, and what the line under the cursor is for."""
        if key in _MOVES:
            # At the end of the list what stands beside it may be scrolled.
            return self._moves(_MOVES[key], look) or key in ("up", "down")
        if key == "g":
            host.ask_which("What is it for?", GOALS, self._take_goal(host))
        elif key == "b" and (not self._begun or self._holds(look)):
            self._begun, self._held = True, None
            self._searched = look.chosen, self._goal
            self._at = 0
        elif key == "l" and not self._begun and self._searched != (look.chosen, self._goal):
            host.tell(_NOT_SEARCHED)
        elif key == "l":
            self._begun, self._searched = not self._begun, (look.chosen, self._goal)
        elif key == "enter":
            self._make(look, host)
        elif key in _TYPED and not self._begun:
            self._ask(_TYPED[key], look, host)
        elif key == "w" and not self._begun:
            self._ask_also(look, host)
        elif key in ("w", *_TYPED):
            host.tell(_NO_LEVERS)
        else:
            return key == "b"
        return True

    def _moves(self, by: int, look: Look) -> bool:
        """Go along the lines; whether that is another one."""
        found = self._found(look)
        if self._begun:
            many, now = 0 if found is None else len(found.front), self._at
            self._at = max(0, min(now + by, many - 1))
            return self._at != now
        many, now = len(self._levers(look)), self._lever
        self._lever = max(0, min(now + by, many - 1))
        return self._lever != now

    @override
    def cursor(self, look: Look) -> int | None:
        """The last row of the line under the cursor."""
        return self._kept.row

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """A click on a line goes there."""
        if self._begun:
            self._at = int(spot)
        else:
            self._lever = int(spot)

    def _take_goal(self, host: ViewHost) -> Callable[[str], None]:
        def take(goal: str) -> None:
            if goal in _AMOUNTS:
                asks, now = _AMOUNTS[goal]
                host.ask_line(asks, now, lambda text: self._set_goal(f"{goal} {text}", host))
            else:
                self._set_goal(goal, host)

        return take

    def _set_goal(self, goal: str, host: ViewHost) -> None:
        try:
            if goal:
                read_goal(goal)
        except Unanswerable as fault:
            host.tell(refusal_words(fault))
        else:
            self._goal, self._at = goal, 0

    def _lever_here(self, look: Look) -> SearchLever | None:
        levers = self._levers(look)
        return levers[min(self._lever, len(levers) - 1)] if levers else None

    def _ask(self, name: str, look: Look, host: ViewHost) -> None:
        lever = self._lever_here(look)
        if lever is None:
            return
        key = LEVER_KEYS[name]
        raw = lever.entries.get((name,), key.default)
        now = "" if raw is None else key.kind.written(raw)
        how = ' with ";" between; none leaves it out' if name == "values" else ""
        question = f"{lever_name(lever)}, {key.label}: {key.says.meaning}{how}"

        def take(text: str) -> None:
            entries: dict[Path, Raw] = {**lever.entries, (name,): key.kind.typed(text)}
            _enter(lever.id, entries, host)

        host.ask_line(question, now, take)

    def _ask_also(self, look: Look, host: ViewHost) -> None:
        lever = self._lever_here(look)
        if lever is None:
            return
        question = (
            f"{lever_name(lever)}: what is entered with every value; {WRITE_ALSO}; none: nothing"
        )

        def take(text: str) -> None:
            try:
                also = also_from("" if text.strip() == "none" else text)
            except ValueError as fault:
                host.tell(f"{fault}: {WRITE_ALSO}.")
                return
            own = {path: raw for path, raw in lever.entries.items() if path[0] != ALSO}
            _enter(lever.id, own | {(ALSO, *path): raw for path, raw in also}, host)

        host.ask_line(question, also_text(lever.also), take)

    def _make(self, look: Look, host: ViewHost) -> None:
        found = self._found(look)
        if not self._begun:
            host.tell(_NOTHING_YET)
            return
        if found is None or not found.front or look.chosen is None:
            host.tell(_NOT_FOUND_YET)
            return
        entry = found.front[min(self._at, len(found.front) - 1)]
        title = step_title(entry.options, [look.title_of(id_) for id_ in look.draft.ids])
        guessed = {
            path: raw
            for option in entry.options
            if option.lever.assumed
            for path, raw in option.changes.items()
            if raw != ""
        }
        id_ = fresh_id(look.draft, title)
        notes = "A step that a search found."
        changes = dict(entry.changes)
        if entry.unpriced:
            notes += f" Not priced: {listed(list(map(lever_name, entry.unpriced)))}."
            held = resolve(look.draft, look.chosen).raw(*ONE_OFF)
            changes.setdefault(ONE_OFF, 0 if held is None else held)
        if entry.unpriced or any(each.lever.assumed for each in entry.options):
            # What nobody has said is no price that money may be reckoned with.
            guessed |= {path: changes[path] for path in (ONE_OFF, YEARLY) if path in changes}
        # The study is another one with it, and the search would begin anew.
        before = self._holds(look)
        made = {id_} if before is None else {*before.made, id_}
        self._held = FoundBefore(
            found,
            look.chosen,
            self._goal,
            frozenset(made),
            without(look.draft, made),
            is_whole=look.result is not None if before is None else before.is_whole,
        )
        host.do(making(look.draft, look.chosen, id_, title, changes, notes=notes, guessed=guessed))
        host.tell(f"New scenario: {title}. u undoes it.")

    # -- drawing -----------------------------------------------------------------------

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The levers, or what was found."""
        rows = self._drawn(look, width, height)
        chosen = (at for at, spans in enumerate(rows) if any(_is_cursor(span) for span in spans))
        self._kept.row = max(chosen, default=None)
        return rows

    def _drawn(self, look: Look, width: int, height: int) -> list[SpanRow]:
        if look.chosen is None or not look.checked.is_sound or look.fault:
            return no_answer(look, width)
        if not self._begun:
            return self._draw_levers(look, width, height)
        found = self._found(look)
        if found is None:
            return no_answer(look, width)
        held = self._holds(look)
        if held is not None and not held.is_whole:
            lead = f"{_STOPPED} {lead_sentence(found)}"
        elif held is None and look.result is None:
            lead = f"{look.waiting or 'Being worked out ...'} So far: {lead_sentence(found)}"
        else:
            lead = lead_sentence(found)
        rows = paragraph(lead, width, "lead")
        if not found.front:
            return [*rows, *self._how(found, width)]
        at = min(self._at, len(found.front) - 1)
        foot = self._of_entry(found, at, width)
        foot += self._how(found, width)
        room = height - len(rows) - len(foot)
        many = min(len(found.front), max(_FEWEST, (room - 1) // 2))
        plot = self._plot(found, at, width, room - many - 2)
        # Where nothing is drawn the list has all the room.
        many = many if plot else len(found.front)
        listed_rows = self._list(found, at, width, many, room - len(plot))
        return [*rows, *plot, *listed_rows, *foot]

    def _draw_levers(self, look: Look, width: int, height: int) -> list[SpanRow]:
        levers = self._levers(look)
        goal = goal_words(read_goal(self._goal)) if self._goal else GOALS[""]
        lead = (
            f"What would do it, from {look.title}? b begins a search of these levers, alone, in "
            f"pairs and in threes. For: {goal}. ~ assumed: what it may be, and what it costs."
        )
        rows = paragraph(lead, width, "lead")
        if not levers:
            return [*rows, *paragraph("There is no lever here.", width)]
        at = min(self._lever, len(levers) - 1)
        goes_with = also_words(levers[at])
        foot = paragraph(f"With that line: {goes_with}.", width, "dim") if goes_with else []
        unpriced = unpriced_levers(options_of(look.draft, look.chosen or "", levers))
        for place in window(len(levers), max(1, height - len(rows) - len(foot)), at):
            lever = levers[place]
            tone: Tone = "chosen" if place == at else "assumed" if lever.assumed else "plain"
            said = offered_words(lever, unpriced)
            if cell_len(said) > width - 1:
                # What most of them are at need not be said of each.
                for price in OWN_PRICES:
                    said = said.removesuffix(f", {price}")
            rows.append(row(left_in(f" {cut(said, width - 1)}", width, tone, str(place))))
        return [*rows, *foot]

    def _plot(self, found: NextSteps, at: int, width: int, height: int) -> list[SpanRow]:
        across = across_words(found, width - 1)
        # Named where all of them have room.
        across += next(
            (text for text in off_plot_words(found) if len(across) + len(text) < width), ""
        )
        last = len(found.front) - 1
        lines = f"1 to {sign_of(last)}: lines below" if last else "1: the line below"
        over = f" {UP}   {lines}   \u00b7 tried and beaten by a line"
        # Where the title leaves no room for it, it stands below the amounts.
        is_beside = len(over) + len(across) + 2 <= width
        # Title, amounts below, and which numbers stand behind others.
        around = 3 if is_beside else 4
        wide = width - _GUTTER - 2
        drawn = front_plot(found, at, wide, height - around) if height > around + 3 else None
        if drawn is None:
            return []
        behind = behind_words(drawn)
        under = paragraph(behind, width, "dim") if behind else []
        told = right_in(across, width - len(over) - 1 if is_beside else width - 1, "dim")
        return [
            row(Span(over, "title"), told) if is_beside else row(Span(over, "title")),
            *plotted(drawn.plot, _GUTTER, _TONES),
            placed_row(Span(" " * _GUTTER), drawn.ticks, _TONES),
            *([] if is_beside else [row(told)]),
            *under,
        ]

    def _list(self, found: NextSteps, at: int, width: int, many: int, lines: int) -> list[SpanRow]:
        """So many steps; fewer where they would take more lines, and a few are whole anyway."""
        for fewer in range(many, min(many, _FEWEST) - 1, -1):
            rows = self._listed(found, at, width, fewer)
            if len(rows) <= lines:
                break
        return rows

    def _listed(self, found: NextSteps, at: int, width: int, many: int) -> list[SpanRow]:
        places = window(len(found.front), many, at)
        # Columns are as wide as the whole list needs them, so that a line stays as it is where
        # others come into sight.
        front = found.front
        words = [entry_words(entry.options) for entry in front]
        gains, money, people = (
            [told(found, entry) for entry in front] for told in (_gain, _money, more_people_words)
        )
        # What the words leave free is the figures'; where it is too little the words are wrapped
        # first, then figures told shortly, and ranges left out last.
        longest = max(map(cell_len, words))
        most = max(46 if width > 92 else width // 2, width - longest - 5)
        hours = [text.removeprefix("people ") for text in people]
        short = [short_money_words(found, entry) for entry in front]
        ranged = [short_gain_words(entry) for entry in front]
        alone = [gain_alone(entry) for entry in front]
        figures = in_columns(
            (
                (gains, money, people),
                (gains, money, hours),
                (gains, short, hours),
                (ranged, short, hours),
            ),
            most,
        )
        if max(map(cell_len, figures)) > width - _WORDS:
            figures = in_columns(((alone, short, hours),), most)
        wide = max(map(cell_len, figures))
        digits = len(sign_of(len(front) - 1))
        money_of = counted_words(found)
        part = f" {list_words(found, places)}"
        if cell_len(part) + cell_len(money_of) < width:
            rows = [row(Span(part, "dim"), right_in(money_of, width - 1 - cell_len(part), "dim"))]
        else:
            rows = paragraph(part.strip(), width, "dim") if part.strip() else []
            rows += paragraph(money_of, width, "dim")
        for place in places:
            said, spot = words[place], str(place)
            tone: Tone = "chosen" if place == at else "plain"
            mark = "\u2713" if front[place].reaches else " "
            words_wide = width - wide - digits - 4
            fits = cell_len(said) <= words_wide
            first, *others = [said] if fits else wrap(said, words_wide - 2)
            rows.append(
                row(
                    left_in(f" {sign_of(place):>{digits}}{mark} ", digits + 3, tone, spot),
                    left_in(first, words_wide + 1, tone, spot),
                    Span(right_in(figures[place], wide).text, tone, spot),
                )
            )
            indent = " " * (digits + 5)
            rows += [row(left_in(f"{indent}{more}", width, tone, spot)) for more in others]
        return rows

    def _of_entry(self, found: NextSteps, at: int, width: int) -> list[SpanRow]:
        """What the line under the cursor rests on; what it does stands in the line."""
        said = rests_sentences(found.front[at], found.goal)
        return paragraph(f"{sign_of(at)}: {'; '.join(said)}.", width) if said else []

    def _how(self, found: NextSteps, width: int) -> list[SpanRow]:
        whole = f"For: {goal_words(found.goal)}. {' '.join(how_sentences(found))}"
        return paragraph(whole, width, "dim")


def _is_cursor(span: Span) -> bool:
    return span.tone == "chosen" and isinstance(span.spot, str) and bool(span.spot)


def _gain(_: NextSteps, entry: NextStep) -> str:
    return gain_words(entry)


def _money(found: NextSteps, entry: NextStep) -> str:
    return cost_words(found, entry)


def in_columns(each: Sequence[Sequence[Sequence[str]]], most: int) -> list[str]:
    """Texts side by side, each as wide as its column: the first of several that there is room for.

    Where there is room for none, the last of them.
    """
    for columns in each:
        room = [max(map(cell_len, column)) for column in columns]
        lines = [
            "  ".join(text.rjust(cells) for text, cells in zip(texts, room, strict=True) if cells)
            for texts in zip(*columns, strict=True)
        ]
        if max(map(cell_len, lines)) <= most:
            break
    return lines


def _enter(id_: str, entries: Mapping[Path, Raw], host: ViewHost) -> None:
    """Enter a lever; what cannot be read would leave a problem in the study, far from this list."""
    look = host.look()
    edit = SetLever(id_, tuple(entries.items()))
    wrong = _problem_of(look, edit)
    if wrong and not look.checked.problems:
        host.tell(wrong)
    else:
        host.do(edit)


def _problem_of(look: Look, edit: SetLever) -> str:
    """What would be wrong with a lever, in words; "" where nothing would."""
    from whatif.study.check.levers import lever_problems
    from whatif.telling.problems import problem_in_short

    draft = with_lever(look.draft, edit.id, dict(edit.entries))
    return next((problem_in_short(each) for each in lever_problems(draft)), "")
