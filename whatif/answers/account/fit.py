"""Accounts of fit: whether a part stands on a machine, and how many pieces make a load."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import floor

from whatif.answers.account.account import Check, Figure, Worked, check, step
from whatif.answers.account.case import Case
from whatif.answers.account.family import Family
from whatif.answers.account.terms import Expr, Term, smaller
from whatif.cell.fit.fit import Fit

PERMISSION = (
    '"Fits" is arithmetic on what was entered, no permission to load: the makers\' limits decide.'
)
_MEANING = "Pieces in one load of this part on this machine: on all faces, under all limits."


def _figures(case: Case) -> Iterator[Figure]:
    for part, by_group in case.plan.fits.items():
        for group, fit in by_group.items():
            said = f"fits, {fit.per_pallet} a load" if fit.fits else "does not fit"
            value = float(fit.per_pallet)
            yield Figure(
                f"fit.{part}.{group}", f"fit: {part} on {group}", "pieces a load", value, said
            )


def _account(case: Case, of: Figure) -> Worked:
    _, part, group = of.id.split(".")
    fit = case.plan.fits[part][group]
    said = (*(limit.text for limit in fit.limits), PERMISSION)
    if not fit.fits:
        none = Term("pieces that fit", 0.0, "", "a limit is missed, see what binds")
        if all(limit.kind == "machine" for limit in fit.limits):
            none = Term("pieces allowed there", 0.0, "", case.origin("part", part, "machines"))
        return Worked(_MEANING, (step(none, "pieces a load", 0),), said, tuple(_misses(fit)))
    wanted = _wanted(case, part, group)
    if wanted is None and fit.most is None:
        one = Term("pieces a load", 1.0, "", "assumed: how many fit is not known")
        return Worked(_MEANING, (step(one, "pieces a load", 0),), said)
    most: list[Expr] = []
    if wanted is not None:
        most.append(wanted)
    if fit.most is not None:
        most.append(Term("as many as fit", fit.most, "", "laid out piece by piece, see the layout"))
    expr = smaller(*most) if len(most) > 1 else most[0]
    if fit.most is None and fit.cut_down:
        # The load alone decides how many of those wanted are put on.
        load = Term("as many as the load allows", fit.per_pallet, "", "table load over mass")
        expr = smaller(*most, load)
    return Worked(
        _MEANING, (step(expr, "pieces a load", 0),), said, tuple(_checks(case, part, group, fit))
    )


def _wanted(case: Case, part: str, group: str) -> Term | None:
    """The pieces a load that are entered, None where as many as fit are meant."""
    resolved = case.checked.resolved[case.scenario]
    if all(
        resolved.raw(*path) in (None, "")
        for path in (
            ("part", part, "on", group, "per_pallet"),
            ("part", part, "per_pallet"),
        )
    ):
        return None
    return case.making(part, "per_pallet", "pieces a load entered", "", group)


# -- checks ----------------------------------------------------------------------------------


def _checks(case: Case, part: str, group: str, fit: Fit) -> Iterator[Check]:
    """Plain rows hold no more than are found, and the face is not larger than it is."""
    sizes = case.checked.study
    assert sizes is not None
    piece = sizes.scenarios[case.scenario].part[part]
    if piece.size is None or fit.free_face is None or fit.most is None:
        return
    lying = [side.value for place, side in enumerate(piece.size) if place != fit.standing]
    gap = piece.gap.value
    count = case.given("faces a pallet", "", "machine", group, "faces")
    if not _by_load(case, part, group, fit):
        rows = max(_rows(fit.free_face, lying, gap), _rows(fit.free_face, lying[::-1], gap))
        here = Term("pieces in plain rows on a face", rows, "", "all laid the same way")
        yield check(
            "Plain rows alone hold this.",
            here * count,
            "at least",
            fit.most,
            "pieces a load",
            digits=0,
        )
    place = _face(fit.free_face, gap)
    area = Term("face with one gap more each way", float(place), "mm²", "from the sizes entered")
    each = Term(
        "piece with its gap",
        float((lying[0] + gap) * (lying[1] + gap)),
        "mm²",
        "from the sizes entered",
    )
    yield check(
        "Each piece takes its own face and its gap: no more than the area has room for.",
        count * (area / each),
        "at most",
        fit.most,
        "pieces a load",
        digits=1,
    )


_MISSED = {"face": "room on the face", "height": "room for the height", "load": "table load"}


def _misses(fit: Fit) -> Iterator[Check]:
    """By how much a limit is missed: what there is, less what one piece needs."""
    for limit in fit.limits:
        if limit.state != "missed" or limit.has is None or limit.needs is None:
            continue
        unit = "kg" if limit.kind == "load" else "mm"
        what = " ".join([_MISSED[limit.kind], *([f"along the {limit.axis}"] if limit.axis else [])])
        has = Term(f"{what}: there is", float(limit.has), unit, "from what is entered")
        needs = Term(f"{what}: one piece needs", float(limit.needs), unit, "from what is entered")
        yield check(
            "What there is, less what is needed: below 0 it is missed.",
            has - needs,
            "is",
            float(limit.has - limit.needs),
            unit,
        )


def _by_load(case: Case, part: str, group: str, fit: Fit) -> bool:
    """Whether the mass allows fewer than the faces have room for."""
    study = case.checked.study
    assert study is not None
    piece = study.scenarios[case.scenario].part[part]
    limit = study.scenarios[case.scenario].machine[group].table_load
    if limit is None or not piece.mass.value or fit.most is None:
        return False
    return floor((limit.value - piece.fixture_mass.value) / piece.mass.value) <= fit.most


def _rows(face: tuple[Fraction, Fraction], lying: list[Fraction], gap: Fraction) -> int:
    """Pieces in plain rows, all laid one way."""
    along, across = (
        floor((side + gap) / (size + gap)) for side, size in zip(face, lying, strict=True)
    )
    return along * across


def _face(face: tuple[Fraction, Fraction], gap: Fraction) -> Fraction:
    return (face[0] + gap) * (face[1] + gap)


FAMILIES = (Family(_figures, _account),)
