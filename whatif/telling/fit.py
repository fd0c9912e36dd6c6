"""A part on a machine: what limits it, why it is not made, what would have to change."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, Final, Literal

from whatif.answers.on_table import (
    Change,
    LargerFace,
    LargerLoad,
    LighterPart,
    LowerPart,
    Lying,
    OnTable,
    StrongerTable,
)
from whatif.cell.fit.fit import AXES, Fit, Lack, Limit
from whatif.plan.model import LoadedFewer
from whatif.records import dataclass
from whatif.study.problem import Problem, ProblemKind
from whatif.telling.amounts import NOTHING, listed
from whatif.units import Dimension, show

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.cell.model import Work
    from whatif.plan.model import NotMade, Plan
    from whatif.study.raw import Path

WANTING: dict[Lack, str] = {
    "table or travel": "the machine's table or travel",
    "table": "the machine's table",
    "travel": "the machine's travel",
    "size": "the part's size",
    "work height": "the machine's work height",
    "table load": "the machine's table load",
    "mass": "the part's mass",
}
"""What is to be entered, so that what lacks it can be checked."""


WORKS: dict[Work, str] = {
    "load": "loading",
    "setup": "a setup",
    "prove_out": "a prove-out",
    "tools": "new tools",
    "repair": "repairs",
    "release": "the release of a first piece",
}
"""What people may do, as what a part needs."""


def not_made_sentence(unmade: NotMade) -> str:
    """Why a part is not made; where it fits no machine, by how much it misses on each."""
    part = unmade.part
    match unmade.why:
        case "no machine":
            return f"{part} is not made: there is no machine; enter a machine's count."
        case "nobody":
            works = listed([WORKS[work] for work in unmade.works])
            return (
                f"{part} is not made: it needs {works}, and nobody in any shift may do that; "
                "enter it under what a shift may do."
            )
        case "not before":
            return f"{part} is not made: {unmade.before}, which it comes after, is not made."
        case "no fit":
            told = [
                f"on {group}: "
                + " ".join(fit_limit_words(limit, part, group, unmade.units) for limit in missed)
                for group, missed in unmade.missed
            ]
            return f"{part} is not made, it fits no machine; {'; '.join(told)}"


def fit_limit_words(limit: Limit, part: str, group: str, units: str) -> str:
    """One limit of a part on a machine group, met, missed or unchecked; `units` as in a study."""
    if limit.has is None or limit.needs is None:
        return _unchecked(limit, part, group)
    words = {"face": _face, "height": _height, "load": _load}[limit.kind]
    measure = mass if limit.kind == "load" else length
    margin = limit.has - limit.needs
    if margin < 0:
        return f"{words(limit, units)}: it misses by {measure(-margin, units)}."
    text = f"{words(limit, units)}: {measure(margin, units)} to spare."
    if limit.room is not None:
        text += f" One more would be too heavy; there is room for {limit.room}."
    return text


def _unchecked(limit: Limit, part: str, group: str) -> str:
    if limit.lacks is None:
        return f"{part} is not to be made on {group}: its list of machines leaves it out."
    if limit.lacks == "table or travel":
        missing, enter = "the machine's table and travel are", "one of them"
    else:
        missing, enter = f"{WANTING[limit.lacks]} is", "it"
    what = {"table": "Table", "travel": "Reach"}.get(limit.lacks, limit.kind.capitalize())
    return f"{what}: {missing} not given, so not checked: enter {enter}."


def _face(limit: Limit, units: str) -> str:
    assert limit.axis is not None
    assert limit.has is not None
    assert limit.needs is not None
    if limit.bound == "travel":
        there = f"the travel is {length(limit.has, units)}"
    elif limit.has <= 0:
        there = f"edges of {length(limit.edge, units)} leave nothing of the face"
    else:
        there = f"the face has {length(limit.has, units)} between its edges"
    where = " on one face" if limit.faces > 1 else ""
    need = "needs" if limit.pieces == 1 else "need"
    needed = length(limit.needs, units)
    turned = turned_words(limit)
    # What stands between two commas belongs to the pieces.
    lying = f"{where}, {turned}," if turned else where
    return f"{limit.axis.capitalize()}: {pieces_text(limit.pieces)}{lying} {need} {needed}, {there}"


def turned_words(limit: Limit) -> str:
    """Whether pieces lie turned, their length along the table's width; "" where none does."""
    if not limit.turned:
        return ""
    return "turned" if limit.turned == limit.pieces else f"{limit.turned} of them turned"


def lying_sentence(found: Fit) -> str:
    """How the pieces lie that the limits are told of; "" where they lie as they are entered."""
    face = next((limit for limit in found.limits if limit.turned), None)
    said = []
    if any(limit.on_side for limit in found.limits):
        said.append("on its side")
    if face is not None:
        some = "" if face.turned == face.pieces else f"{face.turned} of {face.pieces} "
        said.append(f"{some}turned, the part's length along the table's width")
    return f"Lies {' and '.join(said)}." if said else ""


def _height(limit: Limit, units: str) -> str:
    assert limit.has is not None
    side = " on its side" if limit.on_side else ""
    return (
        f"Height: {length(limit.each, units)} of part{side}{_fixture(limit, length, units)}, "
        f"the work height is {length(limit.has, units)}"
    )


def _load(limit: Limit, units: str) -> str:
    assert limit.has is not None
    assert limit.needs is not None
    return (
        f"Load: {pieces_text(limit.pieces)} of {mass(limit.each, units)}"
        f"{_fixture(limit, mass, units)} make {mass(limit.needs, units)}, "
        f"table or pallet may carry {mass(limit.has, units)}"
    )


def _fixture(limit: Limit, measure: Callable[[Fraction, str], str], units: str) -> str:
    return f" and {measure(limit.fixture, units)} of fixture" if limit.fixture else ""


def pieces_text(count: int) -> str:
    """A number of pieces."""
    return "1 piece" if count == 1 else f"{count} pieces"


def length(mm: Fraction, units: str) -> str:
    """A length given in mm."""
    return _measure(mm, "mm", Dimension.LENGTH, units)


def mass(kg: Fraction, units: str) -> str:
    """A mass given in kg."""
    return _measure(kg, "kg", Dimension.MASS, units)


def _measure(number: Fraction, unit: str, dimension: Dimension, units: str) -> str:
    """Up to three decimals of mm or kg, halves up; something is never told as nothing."""
    thousandths = (number * 2000 + 1) // 2
    less = "less than " if thousandths == 0 and number else ""
    shown = Fraction(1 if less else thousandths, 1000)
    if units != "metric":
        return less + show(shown, dimension, units)
    whole, rest = divmod(shown.numerator * 1000 // shown.denominator, 1000)
    return f"{less}{whole}.{rest:03}".rstrip("0").rstrip(".") + f" {unit}"


HOLDS = (
    '"Fits" is arithmetic on what was entered, no permission to load: the makers\' limits decide.'
)

Sign = Literal["ok", "no", "?"]

_SIGNS: dict[str, Sign] = {"met": "ok", "missed": "no", "unchecked": "?"}


def load_and_room(found: Fit) -> tuple[str, str]:
    """How many pieces make a load, and how many there is room for, as far as that is known."""
    if not found.fits:
        return NOTHING, "0"
    return str(found.per_pallet), "?" if found.most is None else str(found.most)


def verdict(found: Fit, *, on_tables_size: bool = False) -> str:
    """Whether and how a part fits, in a few words.

    ``on_tables_size``: whether a table's size is taken for that of its pallet.
    """
    if not found.fits:
        return "does not fit"
    if on_tables_size:
        return f"{verdict(found)}, {ON_TABLES_SIZE}"
    load, room = load_and_room(found)
    if room == "?":
        return f"{pieces_text(found.per_pallet)} in a load, whether they fit is unchecked"
    if found.cut_down:
        return f"{pieces_text(found.per_pallet)} in a load, though more were entered"
    full = "" if load == room else f", room for {room}"
    return f"{pieces_text(found.per_pallet)} in a load{full}"


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One limit in figures: what is needed, what there is, what is left, in one unit.

    ``unchecked`` says what to enter where there are no figures.
    """

    sign: Sign
    label: str
    needs: str = ""
    has: str = ""
    left: str = ""
    unit: str = ""
    unchecked: str = ""


def check_rows(found: Fit, units: str) -> list[CheckRow]:
    """Each limit that was checked, or could have been."""
    return [_check_row(limit, units) for limit in found.limits if limit.kind != "machine"]


def _check_row(limit: Limit, units: str) -> CheckRow:
    sign = _SIGNS[limit.state]
    if limit.has is None or limit.needs is None or limit.margin is None:
        label = {"table": "edge", "travel": "reach"}.get(limit.lacks or "", limit.kind)
        what = WANTING[limit.lacks] if limit.lacks is not None else "the machine"
        return CheckRow(sign, label, unchecked=f"enter {what}")
    measure = mass if limit.kind == "load" else length
    needs, unit = measure(limit.needs, units).rsplit(" ", 1)
    has, left = (
        measure(abs(amount), units).rsplit(" ", 1)[0] for amount in (limit.has, limit.margin)
    )
    less = "-" if limit.margin < 0 else ""
    return CheckRow(sign, limit.axis or limit.kind, needs, has, f"{less}{left}", unit)


def limits_told(found: Fit, part: str, group: str, units: str) -> tuple[tuple[Sign, str], ...]:
    """Each limit as a sign and a sentence; "?" where it was not checked."""
    return tuple(
        (_SIGNS[limit.state], fit_limit_words(limit, part, group, units)) for limit in found.limits
    )


def changes_told(on_table: OnTable, units: str) -> tuple[str, ...]:
    """What would have to change to fit one more, or to fit at all, in sentences."""
    begin = "For one more:" if on_table.found.fits else "To fit at all:"
    return (begin, *(_change(change, units) for change in on_table.changes))


def _change(change: Change, units: str) -> str:
    match change:
        case LargerLoad():
            stated = f"The load is set to {change.stated}; there is room for {change.room}."
            return f"{stated} Change pieces per load."
        case StrongerTable():
            more = mass(_enough(change.more, _MASS_STEPS[units]), units)
            return f"The table would have to carry {more} more."
        case LowerPart():
            less = length(_enough(change.less, _LENGTH_STEPS[units]), units)
            return f"{less} less of part and fixture, or as much more work height."
        case LighterPart():
            less = mass(_enough(change.less, _MASS_STEPS[units]), units)
            return f"{less} less, or a table that carries as much more."
    return growth_words(change, units)


_LENGTH_STEPS: Final = {"metric": Fraction(1, 1000), "inch": Fraction("0.0254")}
_MASS_STEPS: Final = {"metric": Fraction(1, 1000), "inch": Fraction("0.0045359237")}
"""What a change is told in, in mm and kg: thousandths of mm, inch and kg, hundredths of lb."""


def _enough(number: Fraction, step: Fraction) -> Fraction:
    """Rounded up: whoever changes as much as is told has changed enough."""
    return ceil(number / step) * step


def growth_words(change: LargerFace, units: str) -> str:
    """By how much a face must grow to hold so many pieces, and which of them lie turned then."""
    growth = change.growth
    if growth.lacks is not None:
        return f"Not known: enter {WANTING[growth.lacks]}."
    if growth.too_high:
        return "The part is too high; a larger face does not help."
    if growth.length == 0:
        return f"The face as it is has room for {pieces_text(growth.count)}."
    grown = zip(AXES, (growth.length, growth.width), (change.longer, change.wider), strict=True)
    ways = [
        f"{length(more, units)} more {axis}{_turned_then(lying)}"
        for axis, more, lying in grown
        if more is not None
    ]
    if ways:
        return f"Room for {pieces_text(growth.count)} on a face takes {' or '.join(ways)}."
    if growth.both is not None:
        longer, wider = (length(more, units) for more in growth.both)
        return (
            f"Room for {pieces_text(growth.count)} on a face takes {longer} more length and "
            f"{wider} more width{_turned_then(change.both)}."
        )
    return f"No face up to twice as long and as wide holds {pieces_text(growth.count)}."


def _turned_then(lying: Lying | None) -> str:
    """Which pieces lie turned on the larger face: figures beside it may be of others."""
    if lying is None or not lying.turned:
        return ""
    if lying.turned < lying.pieces:
        return f" ({lying.turned} of them turned)"
    return " (all turned)" if lying.pieces > 1 else " (for the piece turned)"


def fit_text(answer: Answer) -> str:
    """Whether the scenario's parts fit, in a few words."""
    if not answer.plan.parts:
        return NOTHING
    left_out = [part.id for part in answer.plan.parts if part.unmade]
    if left_out:
        return f"not made: {', '.join(left_out)}"
    if answer.plan.misfits:
        each = answer.plan.misfits
        return ", ".join(f"part {part} does not fit machine {group}" for part, group in each)
    fewer = _fewer_fit(answer)
    if fewer:
        return fewer_words(list(fewer))
    unknown = [
        part
        for part, by_group in answer.plan.fits.items()
        if all(fit.most is None for fit in by_group.values())
    ]
    if unknown:
        return "sizes unchecked"
    if _on_tables_size(answer):
        return f"all fit, {ON_TABLES_SIZE}"
    return NOT_ALL_CHECKED if _is_partly_checked(answer) else "all fit"


NOT_ALL_CHECKED: Final = "fit, not all checked"
"""Of parts that fit by what is entered, where a reach, height or load limit is not."""


def _is_partly_checked(answer: Answer) -> bool:
    """Whether a limit of any part on a machine where it is made could not be checked."""
    return any(
        limit.lacks is not None and (limit.has is None or limit.needs is None)
        for by_group in answer.plan.fits.values()
        for fit in by_group.values()
        for limit in fit.limits
    )


def _fewer_fit(answer: Answer) -> dict[str, list[LoadedFewer]]:
    """By part the machines on which fewer are loaded than are entered."""
    found: dict[str, list[LoadedFewer]] = {}
    for warning in answer.plan.warnings:
        if isinstance(warning, LoadedFewer):
            found.setdefault(warning.part, []).append(warning)
    return found


def fewer_words(parts: Sequence[str]) -> str:
    """That fewer pieces of some parts make a load than are entered, in a few words."""
    return f"fewer of {listed(parts)} fit than entered"


def fewer_sentence(answer: Answer, path: Path) -> str:
    """How many pieces are loaded, of a value that enters more a load than fit; "" of others."""
    found = _fewer_fit(answer).get(path[1], [])
    makings = {group for group, fit in answer.plan.fits.get(path[1], {}).items() if fit.fits}
    if len(path) > 3:
        found = [each for each in found if each.group == path[3]]
    counts = {each.per_pallet for each in found}
    if len(counts) == 1 and (len(path) > 3 or makings <= {each.group for each in found}):
        (count,) = counts
        return _loaded(count)
    return " ".join(f"On {each.group}, {_loaded(each.per_pallet)}" for each in found)


def _loaded(count: int) -> str:
    return "1 fits: 1 is loaded." if count == 1 else f"{count} fit: {count} are loaded."


def as_large_as_tables(plan: Plan) -> tuple[str, ...]:
    """Machine groups whose pallets are taken to be as large as the table that they replace."""
    return tuple(
        warning.path[1]
        for warning in plan.warnings
        if isinstance(warning, Problem)
        and warning.kind is ProblemKind.PALLETS_LIKE_TABLES
        and "table" in warning.details[1:]
    )


def _on_tables_size(answer: Answer) -> bool:
    """Whether any part's fit is that of a table, where it lies on a pallet."""
    groups = as_large_as_tables(answer.plan)
    return any(
        fit.fits and group in groups
        for by_group in answer.plan.fits.values()
        for group, fit in by_group.items()
    )


ON_TABLES_SIZE: Final = "as on the table ~"
"""Of what fits the table, where no pallet's size is entered."""


def table_taken_sentence(group: str) -> str:
    """What is taken for the size of a pallet, and what to enter."""
    return (
        f"~ assumed: each pallet is as large as the table it replaces, which pallets seldom are. "
        f"Enter the pallet's face as the table of {group} here."
    )


_FEWER_IN_SHORT: Final = ("fewer a load than entered", "fewer a load")


def fit_in_short(answer: Answer) -> tuple[str, ...]:
    """The same in fewer words, how many parts for which; empty where it is short as it stands."""
    if fit_text(answer).endswith(ON_TABLES_SIZE):
        return "fit as on table ~", "as table ~"
    if fit_text(answer) == NOT_ALL_CHECKED:
        return "not all checked", "unchecked"
    left_out = sum(1 for part in answer.plan.parts if part.unmade)
    if left_out:
        return (f"{left_out} not made",)
    if not answer.plan.misfits:
        return _FEWER_IN_SHORT if _fewer_fit(answer) else ()
    parts = len({part for part, _ in answer.plan.misfits})
    fits = "does not fit" if parts == 1 else "do not fit"
    named = "1 part" if parts == 1 else f"{parts} parts"
    return f"{named} {fits}", f"{parts} {fits}", f"{parts} no fit"
