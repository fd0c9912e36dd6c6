"""What an answer is: figures, gains, ranges, limits and cautions of a scenario; and of all."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import field, replace

from whatif.answers.cautions import Caution
from whatif.answers.caveats import Caveat
from whatif.answers.figures import BandPerWeek, Figures
from whatif.answers.gains import NO_GAIN, Gains, Likely, is_clear, is_nothing
from whatif.answers.limits import HeldBack
from whatif.answers.meters.held import HeldAgainst, LaidGap
from whatif.answers.meters.reading import seconds_laid
from whatif.answers.money.missing import MoneyGap, NoContribution
from whatif.answers.money.money import MoneyFigures
from whatif.answers.money.returns import LikelyReturns
from whatif.answers.orders.orders import Ordered
from whatif.answers.orders.rush import AnyHour, RushArrival
from whatif.answers.ranks import Range
from whatif.plan.model import Plan
from whatif.records import dataclass


@dataclass(frozen=True, slots=True)
class HoursSaid:
    """What is said in a meeting, kept apart from what is simulated.

    See rule `said.hours` and rule `said.gain`.

    Attributes:
        found_per_day: spindle hours that the simulation finds; None where nothing is simulated,
            or no shift starts on any day.
    """

    hours_per_day: float
    gain: float | None
    found_per_day: float | None

    @property
    def differs(self) -> bool:
        """Whether it and the simulation differ by more than a tenth of what is said."""
        if self.found_per_day is None:
            return False
        # A billionth of an hour is no difference but what floats make of an exact tenth.
        return abs(self.found_per_day - self.hours_per_day) > self.hours_per_day / 10 + 1e-9


@dataclass(frozen=True, slots=True)
class GapAsRead:
    """Saleable output a week with the hour meters' gap read one way, here and in the reference.

    ``seconds`` is what each visit, or each load, then takes longer; None where there is no gap.
    """

    kind: str
    seconds: int | None
    saleable: float
    reference: float
    gain: float


@dataclass(frozen=True, slots=True)
class Answer:
    """One scenario answered.

    Attributes:
        figures: None where the scenario has no parts.
        likely: the likely ranges of the gains; None while they have not been found yet.
        settled: whether the saleable gain over the second half of the weeks measured differs by
            no more than two points from that over the first half.
        could_make: what the cell could make at most, in percent of what is wanted; None where not
            all that is wanted is made, and until it is found.
        band: of spindle hours, 10th and 90th of a hundred seeded runs; None without stops.
        orders, rush: real and rush orders by id; rush is empty until it has been tried out.
        money: None where no part of any scenario has a contribution.
        money_gaps: what is not entered, or not alike, so that the money misleads.
        held: fixtures of one number at most held at once, by part.
        spindle_by_run: spindle hours a week of each seeded run.
        drawn: the gains of each draw, from the first on.
        halves: the gains over either half of the weeks measured; none of one week.
        drift: percent by which its own saleable output differs between them; None where it does
            not (rule `results.drift`).
        gap_read: the saleable output with the hour meters' gap read as people's and as machines';
            none without meters, or until it is found.
        metered: of the hour meters that hold for it, what they say beside the model.
    """

    plan: Plan
    said: HoursSaid | None
    figures: Figures | None
    cautions: tuple[Caution, ...] = ()
    gains: Gains = NO_GAIN
    likely: Likely | None = None
    settled: bool = True
    could_make: float | None = None
    held_back: HeldBack | None = None
    band: BandPerWeek = None
    money: MoneyFigures | None = None
    money_gaps: tuple[MoneyGap, ...] = ()
    orders: Mapping[str, Ordered] = field(default_factory=dict)
    rush: Mapping[str, RushArrival | AnyHour | None] = field(default_factory=dict)
    held: Mapping[str, int] = field(default_factory=dict)
    spindle_by_run: tuple[float, ...] = ()
    drawn: tuple[Gains, ...] = ()
    halves: tuple[Gains, ...] = ()
    drift: float | None = None
    gap_read: tuple[GapAsRead, ...] = ()
    metered: HeldAgainst | None = None

    @property
    def said_differs(self) -> bool:
        """Whether other hours were said of it than are found (rule `said.against`).

        What a scenario inherits was said of the one above it.
        """
        return self.said is not None and self.said.differs and not self.plan.said_of

    @property
    def likely_money(self) -> LikelyReturns | None:
        """What its money lies between; None without money, for the reference, and until found."""
        if self.money is None or self.likely is None or self.is_gap_awaited:
            return None
        return self.money.likely(self.gains.saleable, self.judged)

    @property
    def judged(self) -> Range | None:
        """The saleable gain's range, wide enough for both readings of the hour meters' gap.

        What is told of the gain, and the verdict, go by it (rule `likely.told`).
        """
        likely, between = (None if self.likely is None else self.likely.saleable), self.gain_range
        if likely is None or between is None or not self.is_gap_open:
            return likely
        low, middle, high = likely
        return min(low, between[0]), middle, max(high, between[1])

    def range_of(self, kind: str) -> Range | None:
        """The range that a kind of gain is told with."""
        found: Range | None = getattr(self.likely, kind, None)
        return self.judged if kind == "saleable" else found

    @property
    def is_gap_awaited(self) -> bool:
        """Whether what the hour meters leave its gain is still to be found."""
        has_gain = self.gains.saleable is not None
        return self.plan.meters is not None and not self.gap_read and has_gain

    @property
    def is_gap_open(self) -> bool:
        """Whether there is a gap of the hour meters that may be read one way or the other."""
        return any(reading.seconds for reading in self.gap_read)

    @property
    def laid_gap(self) -> LaidGap | None:
        """The gap that is laid to people or machines here; None where none is."""
        meters, seconds = self.plan.meters, seconds_laid(self.plan)
        if meters is None or self.metered is None or not seconds:
            return None
        gap = self.metered.gap
        return LaidGap(meters.scenario, meters.gap, seconds, gap, self.gain_range)

    @property
    def leaves_no_gap(self) -> bool:
        """Whether a gap was to be laid to people or machines here, and there is none."""
        meters, gap = self.plan.meters, None if self.metered is None else self.metered.gap
        is_read = meters is not None and meters.gap != "show" and gap is not None
        return is_read and not seconds_laid(self.plan)

    @property
    def caveats(self) -> tuple[Caveat, ...]:
        """What its gain rests on that is not so yet."""
        money = self.money
        holds = {
            Caveat.NOT_MADE: any(part.unmade is not None for part in self.plan.parts),
            Caveat.NOT_PRICED: money is not None and money.is_compared and bool(money.not_priced),
            Caveat.NO_WORTH: money is not None and money.is_compared and self.no_worth is not None,
            # Also where nobody asked what the meters say, as of what is tried.
            Caveat.GAP_LAID: bool(seconds_laid(self.plan)),
        }
        return tuple(caveat for caveat, is_so in holds.items() if is_so)

    @property
    def no_worth(self) -> NoContribution | None:
        """The parts whose pieces count as nothing, so that no gain tells of them."""
        return next((gap for gap in self.money_gaps if isinstance(gap, NoContribution)), None)

    @property
    def sells_no_more(self) -> bool:
        """Whether the saleable gain cannot be told from none, and all that is wanted is made.

        No more can be sold then, so that the gain grows and shrinks with what is wanted, and its
        likely range does not tell it from none (rule `likely.difference`).
        """
        likely, held = self.judged, self.held_back
        is_blurred = likely is not None and not (is_clear(likely) or is_nothing(likely))
        return is_blurred and held is not None and held.is_demand_met

    @property
    def guessed_demand(self) -> tuple[str, ...]:
        """Parts of which nobody has said how many are wanted, where that blurs the gain."""
        if not self.sells_no_more or not self.plan.guess_accuracy:
            return ()
        return self.assumed_demand

    @property
    def assumed_demand(self) -> tuple[str, ...]:
        """Parts of which nobody has said how many are wanted."""
        plan = self.plan
        wanted = ((part.id, plan.stated.get(("part", part.id, "weekly"))) for part in plan.parts)
        return tuple(id_ for id_, said in wanted if said and said.value and said.is_assumed)

    @property
    def gain_range(self) -> tuple[float, float] | None:
        """The least and the most saleable gain, however the gap is read; None without a gap."""
        found = [reading.gain for reading in self.gap_read]
        return (min(found), max(found)) if found else None


@dataclass(frozen=True, slots=True)
class Comparison:
    """A study answered; scenarios in the file's order.

    Attributes:
        units: "metric" or "inch", what areas are shown in.
        today: the scenario that stands in the shop.
        in_money: whether the worth of pieces is money: a part of any scenario has a contribution,
            also of one that is not answered.
    """

    title: str
    reference: str
    answers: Mapping[str, Answer]
    units: str = "metric"
    today: str = ""
    in_money: bool = False

    @property
    def plans(self) -> dict[str, Plan]:
        """Every scenario's plan."""
        return {id_: answer.plan for id_, answer in self.answers.items()}

    def of(self, scenarios: Collection[str]) -> Comparison:
        """The same with the answers of some scenarios alone."""
        answers = {id_: answer for id_, answer in self.answers.items() if id_ in scenarios}
        return replace(self, answers=answers)

    def having(self, scenario: str, answer: Answer) -> Comparison:
        """The same with the answer of one scenario."""
        return replace(self, answers={**self.answers, scenario: answer})

    def with_each(self, change: Callable[[str, Answer], Answer]) -> Comparison:
        """The same with every answer, by the scenario's id, changed."""
        answers = {id_: change(id_, answer) for id_, answer in self.answers.items()}
        return replace(self, answers=answers)
