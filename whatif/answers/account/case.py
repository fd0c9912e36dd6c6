"""One scenario to be explained: its answer, and where each of its inputs is from."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cached_property

from whatif.answers.account.account import Figure, Value
from whatif.answers.account.origins import CountedIn, Entered, FoundBy, OfStudy, See
from whatif.answers.account.terms import Expr, Term, summed
from whatif.answers.answer import Answer, Comparison
from whatif.answers.figures import Figures
from whatif.answers.indicators import Indicator, indicators
from whatif.cell.model import HOUR, MINUTE, Cell, Making, Part, Shift
from whatif.plan.model import PartPlan, Plan, in_money
from whatif.records import dataclass
from whatif.study.check.check import Checked
from whatif.study.raw import Path
from whatif.study.resolve import Origin
from whatif.study.schema.catalogue import key_for
from whatif.study.schema.kinds import DAYS
from whatif.study.shifts import clock
from whatif.units import Dimension, Quantity

_UNITS = {"min": MINUTE, "h": HOUR}


@dataclass(frozen=True)
class Case:
    """A scenario of a comparison, with the check that holds its values' origins.

    Attributes:
        list_figures: finds the figures of a case, of which some are numbers of others.
        viewer: the scenario that is accounted for, where this is the one that it is held against;
            "" where they are the same.
    """

    found: Comparison
    checked: Checked
    scenario: str
    list_figures: Callable[[Case], Iterable[Figure]]
    viewer: str = ""

    @cached_property
    def answer(self) -> Answer:
        """The scenario's answer."""
        return self.found.answers[self.scenario]

    @property
    def plan(self) -> Plan:
        """The scenario's plan."""
        return self.answer.plan

    @property
    def figures(self) -> Figures | None:
        """None where the scenario has no parts."""
        return self.answer.figures

    @property
    def simulated(self) -> Figures:
        """The figures, where there are some."""
        assert self.answer.figures is not None
        return self.answer.figures

    @property
    def cell(self) -> Cell:
        """The scenario as the engine sees it, where there is something to simulate."""
        assert self.plan.cell is not None
        return self.plan.cell

    @cached_property
    def indicators(self) -> Mapping[str, Indicator] | None:
        """The indicators by their key; None where nothing is simulated."""
        return None if self.figures is None else indicators(self.plan, self.figures)

    @property
    def hour_meters(self) -> Mapping[str, Value] | None:
        """The share that they measured, and the gains that their gap leaves open."""
        meters, gains = self.plan.meters, self.answer.gain_range
        if meters is None:
            return None
        share = 100 * float(meters.measured) if meters.own else None
        return {"utilization_percent": share, "gain_range_percent": gains}

    @cached_property
    def listed(self) -> Mapping[str, Figure]:
        """All figures of the scenario by id."""
        return {figure.id: figure for figure in self.list_figures(self)}

    @cached_property
    def reference(self) -> Case:
        """The scenario that gains are measured against."""
        viewer = self.viewer or self.scenario
        return replace(self, scenario=self.found.reference, viewer=viewer)

    @cached_property
    def today(self) -> Case:
        """The scenario that stands in the shop now."""
        viewer = self.viewer or self.scenario
        return replace(self, scenario=self.found.today, viewer=viewer)

    @property
    def is_reference(self) -> bool:
        """Whether this is the scenario that gains are measured against."""
        return self.scenario == self.found.reference

    @property
    def title(self) -> str:
        """The scenario's title."""
        return self.plan.title

    @property
    def in_money(self) -> bool:
        """Whether worth is money; else it is minutes of cycle."""
        return in_money(self.found.plans)

    @cached_property
    def worth_unit(self) -> str:
        """The unit of output: the currency, or minutes of cycle."""
        prices = self.found.plans[self.found.reference].prices
        return prices.currency if self.in_money and prices is not None else "min"

    def told(self, label: str) -> str:
        """A label, with the scenario's title where another scenario is accounted for."""
        return label if self._is_own else f"{label}, {self.title}"

    @property
    def _is_own(self) -> bool:
        return self.viewer in ("", self.scenario)

    # -- origins ---------------------------------------------------------------------------

    @property
    def counted(self) -> CountedIn:
        """The origin of what the simulation counts."""
        return CountedIn(self.plan.weeks, self.plan.runs)

    def see(self, figure: str) -> See:
        """The origin of what is another figure, of the scenario whose it is."""
        return See(figure, "" if self._is_own else self.title)

    def entered(self, *path: str) -> Entered:
        """Where an input is from."""
        return self._entered(self.checked.resolved[self.scenario].origin(*path))

    def _entered(self, origin: Origin) -> Entered:
        title = self.found.answers[origin.scenario].plan.title if origin.scenario else ""
        return Entered(origin, title, self._is_own)

    def head(self, key: str, label: str, number: float, unit: str = "") -> Term:
        """An input of the study as a whole, such as the weeks measured."""
        return Term(label, number, unit, OfStudy(self.checked.has_head(key)))

    # -- inputs ----------------------------------------------------------------------------

    def given(self, label: str, unit: str, *path: str, without: float | None = None) -> Term:
        """An input as a term, in ``unit``: "min", "h", "%", or whatever a bare number is in.

        ``without`` is the number where nothing is given; what nobody has priced counts as 0, and
        an operation is wanted as often as the next one needs it. Raises ValueError where nothing
        is given and no number stands for it.
        """
        resolved = self.checked.resolved[self.scenario]
        given, key = resolved.values[path], key_for(path)
        origin = self._entered(given.origin)
        if given.raw is None:
            if key is not None and key.says.money is not None:
                without = 0.0
            elif path[-1] == "weekly" and (weekly := resolved.weekly(path[1])) is not None:
                return Term(self.told(label), float(weekly), unit, FoundBy("next operation"))
            if without is None:
                raise ValueError(f"nothing is given at {'.'.join(path)}")
            return Term(self.told(label), without, unit, origin)
        typed, number = read(path, given.raw, unit)
        return Term(self.told(label), number, unit, origin, typed)

    def of_part(self, label: str, unit: str, id_: str, key: str) -> Term:
        """An input of a part, which is named behind the label."""
        return self.given(f"{label} {id_}", unit, "part", id_, key)

    def of_machine(self, label: str, unit: str, id_: str, key: str) -> Term:
        """An input of a machine group, which is named in brackets behind the label."""
        return self.given(f"{label} ({id_})", unit, "machine", id_, key)

    def making(self, part: str, key: str, label: str, unit: str, group: str) -> Term:
        """A part's input on one machine: what `on` says where it says something."""
        path = ("part", part, "on", group, key)
        if self.checked.resolved[self.scenario].has(*path):
            return self.given(f"{label} on {group}", unit, *path)
        return self.given(label, unit, "part", part, key)

    def part(self, id_: str) -> PartPlan:
        """The plan of a part."""
        return next(part for part in self.plan.parts if part.id == id_)

    def made(self, id_: str) -> Part | None:
        """A part as the engine makes it; None where it is not made."""
        place = self.part(id_).place
        return None if place is None else self.cell.parts[place]

    def ways(self, id_: str) -> dict[str, Making]:
        """How a part is made, by machine group on which it may be made."""
        made = self.made(id_)
        if made is None:
            return {}
        pairs = zip(self.cell.groups, made.making, strict=True)
        return {group.id: making for group, making in pairs if making is not None}

    def counted_term(self, label: str, number: float, unit: str = "h a week") -> Term:
        """What the simulation counts, as a term."""
        return Term(self.told(label), number, unit, self.counted)

    def figure_term(self, label: str, figure: str, unit: str = "h a week") -> Term:
        """Another figure of this scenario as a term, by its id."""
        return Term(self.told(label), self.listed[figure].number, unit, self.see(figure))

    def a_load(self, part: str) -> Term:
        """Pieces in the largest load of a part that is made."""
        pieces = max(way.per_pallet for way in self.ways(part).values())
        group = next(iter(self.plan.fits.get(part, {})), "")
        origin = self.see(f"fit.{part}.{group}") if group else FoundBy("inputs")
        return Term(self.told(f"pieces per load of {part}"), pieces, "", origin)

    def machines(self, groups: Container[str] | None = None) -> Expr:
        """How many machines are in use, of some groups or of all."""
        counts = [
            self.of_machine("machines", "", group.id, "count")
            for group in self.plan.groups
            if groups is None or group.id in groups
        ]
        return counts[0] if len(counts) == 1 else summed("machines", counts)

    def shift_hours(self) -> Term:
        """Hours of a week in which a shift that loads runs, breaks included."""
        shifts = [shift for shift in self.cell.shifts if "load" in shift.does]
        told = "; ".join(f"{shift.id} {times(shift)}" for shift in shifts)
        number = self.plan.shift_seconds / HOUR
        return Term("hours a week that a shift runs", number, "h", FoundBy("shifts", told))

    def shift_ends(self) -> Term:
        """How often a week a shift that loads ends."""
        shifts = [shift for shift in self.cell.shifts if "load" in shift.does]
        told = "; ".join(f"{shift.id} {times(shift)}" for shift in shifts)
        number = sum(len(shift.days) for shift in shifts)
        return Term("ends of shifts a week", number, "", FoundBy("shifts", told))

    def weeks(self) -> Term:
        """The weeks measured."""
        return self.head("weeks", "weeks measured", self.plan.weeks)


def times(shift: Shift) -> str:
    """When a shift runs: "mon tue 06:00-14:00"."""
    days = " ".join(DAYS[day] for day in shift.days)
    return f"{days} {clock(shift.start)}-{clock(shift.start + shift.length)}"


def read(path: Path, raw: object, unit: str) -> tuple[str, float]:
    """What the file holds at a path: as the user typed it, and as a number in ``unit``."""
    key = key_for(path)
    assert key is not None
    value = key.kind.read(raw)
    if not isinstance(value, Quantity):
        return "", float(value)
    if value.dimension is Dimension.TIME:
        # Times are rounded to whole seconds (rule `study.values`).
        return value.text, float(Fraction(value.seconds, _UNITS[unit]))
    return value.text, float(100 * value.value if unit == "%" else value.value)
