"""How a study is looked at: which columns stand where, and in what its figures are told.

Nothing here is an edit: no value and no answer follows from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import field, replace

from whatif.answers.per import Per
from whatif.records import dataclass
from whatif.session.sheet import AS_TYPED


@dataclass(frozen=True, slots=True)
class Arrangement:
    """What somebody has chosen to see.

    Attributes:
        order: scenarios in the order that their columns were moved to; ones that are not in
            it stand behind the one before them in the file.
        hidden: scenarios without a column.
        hidden_before: those hidden until one was shown alone beside the reference; None where
            that is not so.
        kept: scenarios whose columns stay in sight at the left, beside the reference.
        let_go: the reference too, where it is not to be kept in sight.
        label, width: cells of the labels and of a column, None for what fits.
        tree: cells of the tree of scenarios, None for what its names take.
        only_differing: rows in which all columns say the same are left out.
        per: the time that hours and pieces are told for.
        units: what lengths, masses and areas are shown in.
    """

    order: tuple[str, ...] = ()
    hidden: frozenset[str] = field(default_factory=frozenset)
    hidden_before: frozenset[str] | None = None
    kept: frozenset[str] = field(default_factory=frozenset)
    let_go: frozenset[str] = field(default_factory=frozenset)
    label: int | None = None
    width: int | None = None
    tree: int | None = None
    only_differing: bool = False
    per: Per = Per.WEEK
    units: str = AS_TYPED

    # -- asked -------------------------------------------------------------------------

    def per_words(self, weeks: int | None, *, roomy: bool, in_view: bool) -> str:
        """What the figures are told for, and how many weeks are simulated; views tell a week."""
        per = Per.WEEK if in_view else self.per
        noun = "week" if weeks == 1 else "weeks"
        if not roomy:
            return f"per {per.value}" + ("" if weeks is None else f", {weeks} {noun}")
        days = " with a shift" if per is Per.DAY else ""
        simulated = "" if weeks is None else f", {weeks} {noun} simulated"
        return f"per {per.value}{days}{simulated}"

    def keeps(self, scenario: str, reference: str | None) -> bool:
        """Whether a scenario's column stays in sight; the reference's does unless let go."""
        if scenario == reference:
            return scenario not in self.let_go
        return scenario in self.kept

    def columns(self, ids: Sequence[str], reference: str | None) -> tuple[str, ...]:
        """The scenarios that have a column, from left to right: kept ones first.

        ``ids`` are all scenarios in the file's order. Where every one is hidden all are shown.
        """
        shown = [scenario for scenario in self._ordered(ids) if scenario not in self.hidden]
        # Sorting is stable: within the kept ones, and within the others, the order stays.
        return tuple(
            sorted(
                shown or self._ordered(ids),
                key=lambda scenario: not self.keeps(scenario, reference),
            )
        )

    def out_of_sight(self, ids: Sequence[str]) -> tuple[str, ...]:
        """The scenarios that are hidden, in the order of the columns."""
        hidden = tuple(scenario for scenario in self._ordered(ids) if scenario in self.hidden)
        return hidden if len(hidden) < len(ids) else ()

    def _ordered(self, ids: Sequence[str]) -> list[str]:
        """The scenarios in the order that was wished; a new one behind that before it in the file.

        Each scenario leads to the next, so that there may be a thousand of them.
        """
        if not self.order:
            return list(ids)
        there = set(ids)
        placed: list[str | None] = [None, *(id_ for id_ in self.order if id_ in there)]
        then: dict[str | None, str | None] = dict(zip(placed, [*placed[1:], None], strict=True))
        before: str | None = None
        for scenario in ids:
            if scenario not in then:
                then[scenario], then[before] = then[before], scenario
            before = scenario
        ordered: list[str] = []
        at = then[None]
        while at is not None:
            ordered.append(at)
            at = then[at]
        return ordered

    # -- changed -----------------------------------------------------------------------

    def hiding(self, scenario: str) -> Arrangement:
        """With one column fewer."""
        return replace(self, hidden=self.hidden | {scenario}, hidden_before=None)

    def showing(self, *scenarios: str) -> Arrangement:
        """With columns that were hidden."""
        if self.hidden.isdisjoint(scenarios):
            return self
        return replace(self, hidden=self.hidden.difference(scenarios), hidden_before=None)

    def beside(self, scenario: str, reference: str, ids: Sequence[str]) -> Arrangement:
        """With one column beside the reference's alone."""
        others = frozenset(ids) - {scenario, reference}
        return replace(self, hidden=others, hidden_before=self.hidden)

    def as_before(self) -> Arrangement:
        """With the columns that were there until one was shown alone beside the reference."""
        return replace(self, hidden=self.hidden_before or frozenset(), hidden_before=None)

    def keeping(self, scenario: str, reference: str | None) -> Arrangement:
        """With a column kept in sight that was not, or let go that was."""
        if scenario == reference:
            return replace(self, let_go=self.let_go ^ {scenario})
        return replace(self, kept=self.kept ^ {scenario})

    def moving(
        self, scenario: str, by: int, ids: Sequence[str], reference: str | None
    ) -> Arrangement:
        """With a column one place to the left or right; the same where it cannot go there.

        Kept columns stay at the left of the others.
        """
        shown = self.columns(ids, reference)
        to = shown.index(scenario) + by
        if not 0 <= to < len(shown):
            return self
        beside = shown[to]
        if self.keeps(beside, reference) != self.keeps(scenario, reference):
            return self
        order = [other for other in self._ordered(ids) if other != scenario]
        order.insert(order.index(beside) + (by > 0), scenario)
        return replace(self, order=tuple(order))
