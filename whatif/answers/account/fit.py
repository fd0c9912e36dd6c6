"""Accounts of fit: whether a part stands on a machine, and how many pieces make a load."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from math import floor

from whatif.answers.account.account import Check, Figure, FitLimit, Note, Worked, WorkedLine
from whatif.answers.account.case import Case
from whatif.answers.account.origins import FoundBy
from whatif.answers.account.terms import Expr, Term, smaller
from whatif.cell.fit.fit import Fit

_UNIT = "pieces per load"
_INCH = {
    "mm": ("in", 25.4),
    "mm²": ("in²", 25.4 * 25.4),
    "kg": ("lb", 0.45359237),
    "m²": ("ft²", 0.09290304),
}
"""What lengths, areas and masses are told in, and how much of the metric unit that is (exact)."""

_MISSED = {"face": "room on the face", "height": "room for the height", "load": "table load"}


def fits(case: Case, of: Figure) -> Worked:
    """The smaller of what is wanted and what fits."""
    part, group = of.names
    found = case.plan.fits[part][group]
    units = case.found.units
    limits = (FitLimit(limit, part, group, units) for limit in found.limits)
    said = (*(Note("limit of fit", of=limit) for limit in limits), Note("no permission"))
    if not found.fits:
        none = Term("pieces that fit", 0.0, "", FoundBy("limit missed"))
        if all(limit.kind == "machine" for limit in found.limits):
            none = Term("pieces allowed there", 0.0, "", case.entered("part", part, "machines"))
        return of.worked(none, said, before=_misses(found, units))
    most: list[Expr] = []
    wanted = _wanted(case, part, group)
    if wanted is not None:
        most.append(wanted)
    if found.most is not None:
        most.append(_as_many_as_fit(found.most))
    elif found.cut_down:
        # The load alone decides how many of those wanted are put on.
        most.append(Term("as many as the load allows", found.per_pallet, "", FoundBy("table load")))
    if not most:
        most.append(Term("pieces per load", 1.0, "", FoundBy("pieces unknown")))
    fewest = smaller(*most) if len(most) > 1 else most[0]
    return of.worked(fewest, said, _checks(case, of, found), without="no sizes")


def _as_many_as_fit(most: int) -> Term:
    return Term("as many as fit", most, "", FoundBy("layout"))


def _wanted(case: Case, part: str, group: str) -> Term | None:
    """The pieces a load that are entered, None where as many as fit are meant."""
    raw, path = case.checked.resolved[case.scenario].raw, ("part", part)
    if all(raw(*path, *on, "per_pallet") in (None, "") for on in ((), ("on", group))):
        return None
    return case.making(part, "per_pallet", "pieces per load entered", "", group)


def term_in(term: Term, units: str) -> Term:
    """A length, area or mass in the units asked for."""
    if units == "metric" or term.unit not in _INCH:
        return term
    unit, metric = _INCH[term.unit]
    return replace(term, number=term.number / metric, unit=unit)


def _misses(fit: Fit, units: str) -> Iterator[WorkedLine]:
    """By how much a limit is missed: what there is, less what one piece needs."""
    for limit in fit.limits:
        if limit.state != "missed" or limit.has is None or limit.needs is None:
            continue
        unit = "kg" if limit.kind == "load" else "mm"
        along = f" along the {limit.axis}" if limit.axis else ""
        what, needs = _MISSED[limit.kind] + along, f"what one piece needs{along}"
        has = term_in(Term(what, float(limit.has), unit, FoundBy("inputs")), units)
        piece = Term(needs, float(limit.needs), unit, FoundBy("inputs"))
        yield WorkedLine(has - term_in(piece, units), f"{has.unit} left; below 0 it is missed")


# -- checks ----------------------------------------------------------------------------------


def _checks(case: Case, of: Figure, fit: Fit) -> Iterator[Check]:
    """Plain rows hold no more than are found, nor have face and table more room or load."""
    study, (part, group), units = case.checked.study, of.names, case.found.units
    assert study is not None
    scenario = study.scenarios[case.scenario]
    piece, bears = scenario.part[part], scenario.machine[group].table_load
    by_load = None
    if bears is not None and piece.mass.value:
        by_load = floor((bears.value - piece.fixture_mass.value) / piece.mass.value)
        load = case.given("table load", "kg", "machine", group, "table_load")
        fixture = case.given("mass of the fixture", "kg", "part", part, "fixture_mass", without=0.0)
        mass = case.of_part("mass of a piece of", "kg", part, "mass")
        load, fixture, mass = (term_in(term, units) for term in (load, fixture, mass))
        each = (load - fixture) / mass
        yield of.check("table load", "at most", each, digits=1)
    if piece.size is None or fit.free_face is None or fit.most is None:
        return
    most = _as_many_as_fit(fit.most)
    lying = [side.value for place, side in enumerate(piece.size) if place != fit.standing]
    gap = piece.gap.value
    count = case.given("faces per pallet", "", "machine", group, "faces")
    if by_load is None or by_load > fit.most:
        rows = max(_rows(fit.free_face, lying, gap), _rows(fit.free_face, lying[::-1], gap))
        here = Term("pieces in plain rows on a face", rows, "", FoundBy("plain rows"))
        yield Check("plain rows", WorkedLine(here * count, _UNIT, 0), "at least", most)
    along, across = (float(side + gap) for side in fit.free_face)
    area = Term("face with one gap more each way", along * across, "mm²", FoundBy("sizes"))
    area = term_in(area, units)
    taken = float((lying[0] + gap) * (lying[1] + gap))
    each = term_in(Term("piece with its gap", taken, "mm²", FoundBy("sizes")), units)
    yield Check("area", WorkedLine(count * (area / each), _UNIT), "at most", most)


def _rows(face: tuple[Fraction, Fraction], lying: list[Fraction], gap: Fraction) -> int:
    """Pieces in plain rows, all laid one way."""
    along, across = (
        floor((side + gap) / (size + gap)) for side, size in zip(face, lying, strict=True)
    )
    return along * across
