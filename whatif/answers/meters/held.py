"""Hour meters held against the run to order, nothing laid to anybody (rule `meters.share`)."""

from __future__ import annotations

from dataclasses import replace

from whatif.answers.figures import Figures
from whatif.answers.meters.reading import without_reading
from whatif.cell.model import HOUR, WEEK
from whatif.plan.model import Plan
from whatif.records import dataclass

FAR = 0.5
"""Share of the simulated hours in cut by which the measured ones may differ without a word."""


@dataclass(frozen=True, slots=True)
class HeldAgainst:
    """What hour meters say of a scenario, beside what the model finds of it.

    Attributes:
        scenario: that has the meters.
        measured, modelled: in-cut share of the hours switched on, in percent; the model's with the
            gap laid to nothing, whatever the study lays it to, None where it has nothing to run.
        in_cut, modelled_in_cut: hours in cut a week; None where the meters' weeks are not given.
        switched_on, most: hours over the whole period, and hours that the scenario's machines have
            in it; None where its weeks are not given.
    """

    scenario: str
    measured: float
    modelled: float | None
    in_cut: float | None = None
    modelled_in_cut: float | None = None
    switched_on: float = 0.0
    most: float | None = None

    @property
    def gap(self) -> float | None:
        """What the model finds more than the meters, in points of percent."""
        return None if self.modelled is None else self.modelled - self.measured

    @property
    def more_in_cut(self) -> float | None:
        """Hours in cut a week that the model finds more than the meters."""
        if self.in_cut is None or self.modelled_in_cut is None:
            return None
        return self.modelled_in_cut - self.in_cut

    @property
    def on(self) -> float | None:
        """Hours switched on a week by the meters; None where their weeks are not given."""
        return _whole(self.in_cut, self.measured)

    @property
    def modelled_on(self) -> float | None:
        """The same by the model, None too where it has nothing to run."""
        return _whole(self.modelled_in_cut, self.modelled)

    @property
    def finds_less(self) -> bool:
        """Whether the model finds less than the meters, so that there is nothing to lay."""
        return self.gap is not None and self.gap < -_NIL

    @property
    def is_far_apart(self) -> bool:
        """Whether the hours in cut a week differ by more than a half of what the model finds."""
        if self.in_cut is None or self.modelled_in_cut is None:
            return False
        return abs(self.in_cut - self.modelled_in_cut) > FAR * self.modelled_in_cut + _NIL

    @property
    def is_more_than_there_is(self) -> bool:
        """Whether the machines cannot have been switched on for so long."""
        return self.most is not None and self.switched_on > self.most + _NIL


def _whole(part: float | None, percent: float | None) -> float | None:
    """That of which a part is so many percent."""
    return None if part is None or not percent else 100 * part / percent


_NIL = 1e-9
"""What floats make of exact hours and shares."""


@dataclass(frozen=True, slots=True)
class LaidGap:
    """A gap that is laid to people or machines: an assumption, to be named beside every gain.

    Attributes:
        scenario: that has the meters.
        kind: "people" or "machine".
        seconds: by which every visit, or every load, is longer.
        points: what the model finds more than the meters without them.
        gain_range: the least and the most saleable gain, in percent, however the gap is read;
            None until it is found, and where there is no gain.
    """

    scenario: str
    kind: str
    seconds: int
    points: float | None
    gain_range: tuple[float, float] | None


def as_held(plan: Plan) -> Plan:
    """The plan whose run meters are held against: to order, since a shop that has no more work
    stands too, and with no gap laid to anything."""
    entered = without_reading(plan)
    if entered.cell is None or entered.cell.to_order:
        return entered
    return replace(entered, cell=replace(entered.cell, to_order=True))


def held_against(plan: Plan, figures: Figures | None) -> HeldAgainst:
    """A scenario with hour meters of its own, and the figures of :func:`as_held`."""
    meters = plan.meters
    assert meters is not None
    share = None if figures is None else figures.utilization
    found = HeldAgainst(
        plan.scenario,
        measured=100 * float(meters.measured),
        modelled=None if share is None else share.of_powered,
        switched_on=float(meters.switched_on),
    )
    if meters.weeks is None:
        return found
    week = plan.machines * WEEK / HOUR
    modelled = None if share is None or share.of_week is None else share.of_week / 100 * week
    return replace(
        found,
        in_cut=float(meters.in_cut / meters.weeks),
        modelled_in_cut=modelled,
        most=week * float(meters.weeks),
    )
