"""The inputs that matter most, in words and for the columns of a list."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from whatif.answers.gains import is_difference, lies_outside
from whatif.answers.moves.held import Moved
from whatif.answers.moves.sensitivity import Effect, MovedBy, Ranking, Side
from whatif.telling.amounts import NOTHING, rounded, signed
from whatif.telling.gain_texts import (
    bare_percent_text,
    digits_of,
    leading_range_text,
    percent_text,
    range_text,
)
from whatif.telling.moves.tried import (
    CANNOT_BE_TOLD,
    SAME,
    UNTOLD,
    draws_words,
    moved_words,
    resting_words,
    worked_from,
)
from whatif.telling.sources import input_source_words

_NONE_MOVES = "No input makes a clear difference."


def ranking_lead(found: Ranking) -> str:
    """What matters most, and what of that nobody has measured."""
    if not found.moving:
        return _NONE_MOVES
    text = _first(found)
    measure = _only_assumed(found)
    if not measure:
        return f"{text} {_all_entered(found)}"
    listed = ", ".join(measure[:4])
    more = f" and {len(measure) - 4} more" if len(measure) > 4 else ""
    return f"{text} Only assumed, and it matters: {listed}{more}. {_LOOK}"


def ranking_so_far(found: Ranking) -> str:
    """Above a ranking that is still worked out: what is there, and what is not."""
    if any(effect.is_open for effect in found.effects):
        return "So far, ranges follow:"
    return "So far:"


def _first(found: Ranking) -> str:
    """What matters most of what is measured or bought, and of the shop's own rules."""
    rules = [effect.input.label for effect in found.moving if effect.input.is_chosen]
    others = [effect for effect in found.moving if not effect.input.is_chosen]
    if not others:
        return f"What matters most: {rules[0]}, which you decide yourselves."
    unit = "%" if found.asked.is_reference else "points"
    sides = [
        (effect, side)
        for effect in others
        for side in (effect.down, effect.up)
        if side is not None and side.is_difference
    ]
    # That the reference changes is no reason to do a thing, or to fear it.
    sides = [pair for pair in sides if _is_its_own(*pair)] or sides
    effect, first = max(sides, key=lambda pair: abs(pair[1].leading or 0.0))
    text = f"What matters most, each by its own step: {_by_side(effect, first, unit)}"
    # What costs most when it is less is not what brings most when it is more.
    raising = [pair for pair in sides if (pair[1].leading or 0.0) > 0]
    if (first.leading or 0.0) < 0 and raising:
        best = max(raising, key=lambda pair: pair[1].leading or 0.0)
        of = "output" if found.asked.is_reference else "the gain"
        text += f"; what raises {of} most: {_by_side(*best, unit)}"
    text += "."
    return f"{text} Of what you decide yourselves: {rules[0]}." if rules else text


def _is_its_own(effect: Effect, side: Side) -> bool:
    """Whether what the scenario itself makes moves as the gain does, by half as much at least."""
    if side.itself is None or effect.input.moved is not Moved.BOTH:
        return True
    change = side.leading or 0.0
    return change * side.itself > 0 and abs(side.itself) >= abs(change) / 2


def _by_side(effect: Effect, side: Side, unit: str) -> str:
    """An input with the value that it is moved to, and what that changes: "people 2, +54 %"."""
    return f"{effect.input.label} {side.value.text}, {side_text(side)} {unit}"


def ranking_sentences(found: Ranking) -> tuple[str, ...]:
    """How the inputs were moved; what to go and measure; what is assumed to be nothing."""
    return (ranking_how(found), _measure(found), *ranking_rest(found))


def ranking_how(found: Ranking) -> str:
    """How far each input was moved, and what the change is of."""
    asked = found.asked
    what = (
        f"its own saleable output, since {asked.title} is the reference"
        if asked.is_reference
        else f"its saleable gain over {asked.against}, in percentage points"
    )
    where = (
        ""
        if asked.is_reference
        else (
            f" What {asked.title} and {asked.against} have in common is moved in both, what "
            f"{asked.title} has of its own in it alone."
        )
    )
    return (
        "Each input is moved by a tenth, in all parts at once where several have it, counts by "
        "one, times of day by half an hour; what nobody has said is tried at values that a shop "
        f"may have. The change is that of {what}.{where} "
        "What you decide yourselves stands behind all else that matters, however much it changes."
    )


def ranking_signs(found: Ranking) -> tuple[str, ...]:
    """How the bars of a list are read, and what stands in the place of some."""
    of = "output" if found.asked.is_reference else "gain"
    bars = (
        f"Less and more of an input change the {of} by so much; the bar is as long as the larger "
        "change of the two, up or down. A single █ is any change, however small."
    )
    if not any(map(output_beside, found.effects)):
        return (bars,)
    return bars, (
        f'"output" or "below" in the place of a bar: the gain does not show what '
        f"{found.asked.title} itself makes, as {found.asked.against} changes too. It makes so many "
        "points more (+) or less (-); under the cursor that is said in words. The first sentence "
        "leaves out what moves the other one more."
    )


def _measure(found: Ranking) -> str:
    """What matters and is only assumed, so that it has to be measured."""
    if not found.moving:
        return _NONE_MOVES
    which = ", ".join(_only_assumed(found)[:5])
    if not which:
        return _all_entered(found)
    return f"Only assumed, and it matters: {which}. {_LOOK}"


_LOOK = "Go and look at these, or measure them, first."


def _all_entered(found: Ranking) -> str:
    if any(effect.input.origin.is_assumed for effect in found.moving):
        return "Of what matters only what you decide or plan yourselves is assumed: decide it."
    return "Every input that matters has been entered; none of them is only assumed."


def _only_assumed(found: Ranking) -> list[str]:
    # A rule of the shop's own is decided, and what is planned too: nothing to be looked at.
    return [
        effect.input.label
        for effect in found.moving
        if effect.input.origin.is_assumed and not (effect.input.is_chosen or _is_planned(effect))
    ]


def ranking_rest(found: Ranking) -> tuple[str, ...]:
    """What it rests on."""
    return (*resting_words(found.caveats), worked_from(found.asked))


def _with_ids(label: str, ids: Sequence[str]) -> str:
    """The name of an input with the things that have it, as long as these are few."""
    if not ids:
        return label
    return f"{label} ({', '.join(ids)})" if len(ids) <= 3 else f"{label} ({len(ids)} of them)"


def unmoved(found: Ranking) -> str:
    """The inputs that make no clear difference, as one list in words; "" where all make one."""
    names: dict[str, list[str]] = {}
    for effect in found.effects:
        if not effect.most:
            ids = names.setdefault(effect.input.key.label, [])
            ids.extend(path[1] for path in effect.input.paths if path[2:])
    return ", ".join(_with_ids(name, things) for name, things in names.items())


def effect_words(found: Ranking, effect: Effect) -> str:
    """What one input does to the gain, in words."""
    source = effect.input.origin
    origin = _assumed(effect) if source.is_assumed else input_source_words(effect.input)
    what = "its output" if found.asked.is_reference else "the gain"
    unit = "%" if found.asked.is_reference else "points"
    sides = (effect.down, effect.up)
    draws = draws_words(found.asked.draws)
    said = [
        _side_words(side, what, unit, draws, _because(found, effect, side))
        for side in sides
        if side is not None
    ]
    moved = "; ".join(said) or "it cannot be moved from here"
    # Whose it is stands above: why a gain rises with what costs both needs that first.
    against, is_both = found.asked.against, effect.input.moved is Moved.BOTH
    where = f"in {against} too" if is_both else moved_words(effect.input, found.asked)
    rule = ", which you decide yourselves" if effect.input.is_chosen else ""
    held = f"moved {where}, {now_words(effect)} ({origin})"
    if is_both and origin == f"inherited from {against}":
        # The title is long: once is enough.
        held = f"{origin}, so changed in both, {now_words(effect)}"
    why = f" {_OF_SCRAP}" if _helps_as_scrap(effect) else ""
    return f"{effect.input.label}{rule}, {held}: {moved}.{_itself(found, effect)}{why}"


def _assumed(effect: Effect) -> str:
    """What is to be done about a value that nobody has entered."""
    if _is_planned(effect):
        return "assumed: yours to plan"
    return f"assumed: go and {'count' if effect.input.whole else 'measure'}"


def _is_planned(effect: Effect) -> bool:
    """Whether it is how many there are of what this scenario alone has: nobody can count that."""
    return effect.input.moved is Moved.ALONE and effect.input.whole


def _helps_as_scrap(effect: Effect) -> bool:
    """Whether more scrap raises what it is of, which nobody believes without being told why."""
    more = effect.up
    if effect.input.path[-1] != "scrap" or more is None or not more.is_difference:
        return False
    # Where the reference has it too, a gain may rise as that one falls.
    own = more.itself if effect.input.moved is Moved.BOTH else more.change
    return (own or 0.0) > 0


_OF_SCRAP: Final = (
    "With scrap an order starts more pieces, in whole ones, and so is larger and set up less often "
    "for each good piece: that brings it, as larger orders would, and not the scrap."
)


def _itself(found: Ranking, effect: Effect) -> str:
    """What an input of both moves in the scenario itself; "" for others."""
    if effect.input.moved is not Moved.BOTH:
        return ""
    told, now = [], 0.0
    for side in (effect.down, effect.up):
        # Where it makes what it makes now, that would read as if it came of the value.
        if side is None or side.over_now is None or not is_difference(side.itself, None):
            continue
        points = _points_apart(side) if output_beside(effect) else ""
        told.append(f"{_beside_none(side.over_now)} at {side.value.text}{points}")
        now = side.over_now - (side.itself or 0.0)
    if not told:
        return ""
    over = f"over {found.asked.against} as it stands (now {_beside_none(now)})"
    return f" {found.asked.title} itself then makes {' and '.join(told)} {over}."


def _points_apart(side: Side) -> str:
    """By how much that is more or less than now, as the list says it; "" where it reads 0."""
    apart = side.itself or 0.0
    much = rounded(abs(apart), 0)
    if much == "0":
        return ""
    return f" ({much} point{'s' if much != '1' else ''} {'more' if apart > 0 else 'less'})"


def _beside_none(change: float) -> str:
    """A change in percent; none has no sign."""
    return percent_text(change) if float(rounded(change, digits_of(change, None))) else "0 %"


def _because(found: Ranking, effect: Effect, side: Side) -> str:
    """Why the gain goes another way than the scenario's own output; "" where it does not."""
    change, itself = side.change, side.itself
    if effect.input.moved is not Moved.BOTH or side.is_open or not side.is_difference:
        return ""
    if change is None or itself is None or (change * itself > 0 and _own_output(itself) != "0"):
        return ""
    more = " more" if _own_output(itself) != "0" else ""
    return f", as the output of {found.asked.against} {'falls' if change > 0 else 'rises'}{more}"


def output_beside(effect: Effect) -> str:
    """What less and more of an input do to the scenario's own output; "" where the gain says it.

    An input of both may help the reference as much, or more: the gain stays as it is though both
    make more, or falls though nobody makes less; and where the gain is not clear it does not tell
    that both make nearly nothing. A side that reads as none goes no other way, and is not told.
    In points, as the gain is.
    """
    if effect.input.moved is not Moved.BOTH:
        return ""
    known = {
        which: side
        for which, side in (("less", effect.down), ("more", effect.up))
        if side is not None and side.itself is not None
    }
    told = {
        which: text
        for which, side in known.items()
        if (text := _own_output(side.itself or 0.0)) != "0"
    }
    tells = any(_goes_apart(known[which]) for which in told)
    said = ", ".join(f"{which} {text}" for which, text in told.items())
    return f"output: {said}" if tells and told else ""


def _goes_apart(side: Side) -> bool:
    """Whether the scenario's own output moves another way than the gain, or further than that.

    Where the gain makes no difference, or none that is clear: beyond all that it may be.
    """
    itself = side.itself or 0.0
    if side.is_difference:
        return (side.change or 0.0) * itself < 0
    return side.likely is None or lies_outside(itself, side.likely)


def _own_output(change: float) -> str:
    """A change of it in whole points; nothing has no sign."""
    return signed(change, 0) if rounded(change, 0) != "0" else "0"


def now_words(effect: Effect) -> str:
    """What holds now, in a sentence."""
    if effect.input.all_of:
        return "now each its own"
    return f"now {effect.input.now_text}" if effect.input.now_text else "not given"


def now_in_short(effect: Effect) -> str:
    """The same in a narrow column; "–" where it is not given, of whom where it is of all."""
    if effect.input.path[-1] == "does":
        return "releases"
    if effect.input.all_of:
        return effect.input.label.removeprefix(name_in_short(effect)).removeprefix(" of ")
    return effect.input.now_text or NOTHING


def name_in_short(effect: Effect) -> str:
    """The input's name beside that: "setup" of all parts, which stands there already."""
    label = effect.input.label
    return label.partition(" of all ")[0] if effect.input.all_of else label


def moved_by(effect: Effect) -> str:
    """By how much an input is moved, or what is tried, in a narrow column: "± 10 %", "to 2 %"."""
    down, up = effect.down, effect.up
    if effect.step is MovedBy.TRIED:
        tried = [side.value.text for side in (down, up) if side is not None]
        if effect.input.path[-1] == "does":
            return "to not"
        return f"to {'/'.join(tried)}"
    return f"± {_STEPS[effect.step]}"


_STEPS: Final = {MovedBy.TENTH: "10 %", MovedBy.ONE: "1", MovedBy.HALF_HOUR: "30 min"}


def _side_words(side: Side, what: str, unit: str, draws: str, because: str = "") -> str:
    """What less or more of an input does; ``because`` is why, where the output does not say it.

    ``draws`` is what a range that leads is of: a curve and a table have more draws, and with them
    another middle.
    """
    if side.change is None:
        return f"{side.value.text} is not allowed"
    if side.is_untold:
        return f"what {side.value.text} changes in {what} {CANNOT_BE_TOLD}"
    if not side.is_difference:
        return f"{side.value.text} makes no difference"
    moves = "rises" if side.change > 0 else "falls"
    if side.likely is not None and lies_outside(side.change, side.likely):
        typed = signed(side.change, digits_of(side.change, side.likely))
        ends = leading_range_text(side.likely, side.change)
        moved = f"at {side.value.text} {what} changes by likely {ends} {unit}"
        # The column beside it has the one number.
        middle = f"in the middle of {draws} {side_text(side)}"
        return f"{moved}, {middle}{because} (as typed {typed})"
    digits, likely = digits_of(side.change, side.likely), ""
    if side.is_open:
        likely = " (its likely range follows)"
    elif side.likely is not None:
        likely = f" (likely {range_text(side.likely, gain=side.change)})"
    much = rounded(abs(side.change), digits)
    return f"at {side.value.text} {what} {moves} by {much} {unit}{because}{likely}"


NOT_VALID: Final = "not valid"
"""Of a value that may not be entered, where there is little room."""


def side_text(side: Side | None, not_allowed: str = NOT_VALID) -> str:
    """The change of one side in a narrow column."""
    if side is None:
        return NOTHING
    if side.change is None:
        return not_allowed
    if side.is_difference:
        return bare_percent_text(side.leading or 0.0, side.likely)
    return UNTOLD if side.is_untold else SAME


def sides_in_short(effect: Effect) -> tuple[str, str]:
    """Those of less and of more of an input; a word says why there is none."""
    if not effect.input.key.kind.numeric:
        ends = (NOTHING, NOTHING)
    elif effect.step is MovedBy.TRIED:
        ends = (NOT_TRIED, NOT_TRIED)
    else:
        ends = (LOWEST, HIGHEST)
    less, more = (
        end if side is None else _in_tenths(side)
        for side, end in zip((effect.down, effect.up), ends, strict=True)
    )
    return less, more


def _in_tenths(side: Side) -> str:
    """The change of a side below others: all with as many decimals, so that they compare.

    One that would read as none in tenths has more.
    """
    change = side.leading
    if change is None or not side.is_difference:
        return side_text(side)
    digits = next((each for each in (1, 2) if round(abs(change), each)), 3)
    return signed(change, digits)


LOWEST: Final = "lowest"
HIGHEST: Final = "highest"
"""Of an input that cannot go that way: it stands at its end, or 0 would take the thing out."""

NOT_TRIED: Final = "not tried"
"""Of one that nobody has said, and that is tried at one value alone."""


def pull(side: Side | None) -> float:
    """How far the bar of a side goes, left where it is less than nothing; 0 where none is told."""
    return side.leading or 0.0 if side is not None and side.is_difference else 0.0
