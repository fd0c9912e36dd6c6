"""What moves a scenario: curves, tables of two inputs, rankings and break-evens."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from itertools import chain
from typing import Any, Final

from whatif.answers.moves.break_even import BreakEven, Crossing
from whatif.answers.moves.inputs import Input, Value
from whatif.answers.moves.sensitivity import Effect, Ranking, Side
from whatif.answers.moves.trial import AskedAbout, Outcome
from whatif.answers.moves.vary import Curve, Grid
from whatif.answers.ranks import Range
from whatif.reports.asked import asked_data
from whatif.reports.document import (
    Block,
    Column,
    Document,
    Either,
    TextHeading,
    TextTable,
    lines_of,
)
from whatif.reports.money import money_data
from whatif.study.draft import Draft
from whatif.telling.amounts import NOTHING, number, same_decimals
from whatif.telling.gain_texts import digits_of
from whatif.telling.money.ranges import payback_texts, year_gain_texts
from whatif.telling.moves.break_even import TARGET_UNITS, break_even_sentences, target_words
from whatif.telling.moves.curve import curve_sentences, marks
from whatif.telling.moves.grid import grid_sentences
from whatif.telling.moves.in_units import curve_in, grid_in, level_in, ranking_in
from whatif.telling.moves.ranking import now_in_short, ranking_sentences, side_text, unmoved
from whatif.telling.moves.tried import (
    SAME,
    UNTOLD,
    amount_words,
    gain_in_short,
    is_over_now,
    moved_in_short,
    moved_words,
    over_now_words,
    typed_in_short,
)
from whatif.telling.problems import what_is_wrong
from whatif.telling.sources import input_source_words, source_words

_BAR: Final = 8
"""Cells of the longest bar."""

_RANKED: Final = 25
"""Inputs that a terminal shows."""

_SIGNS: Final = f'"{SAME}" is no difference, "{UNTOLD}" one not told from the likely range.'

AS_TYPED: Final = "as typed"
"""In place of a system of units: every value in the unit that was typed."""


def told_in(draft: Draft) -> str:
    """In what units a study's values are told: an inch study in inches throughout."""
    return "inch" if draft.head.get("units") == "inch" else AS_TYPED


def _document(
    asked: AskedAbout,
    title: str,
    facts: Sequence[str],
    told: Sequence[Block | Either],
    rows: Sequence[Sequence[str]],
    data: dict[str, Any],
) -> Document:
    """What all of them have: what was asked, the facts beside it, what was found."""
    return Document([TextHeading(title), lines_of(facts), *told], asked_data(asked) | data, rows)


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> TextTable:
    return TextTable([Column(head, at_left=not i) for i, head in enumerate(heads)], rows)


def _csv_rows(
    heads: Sequence[str], rows: Sequence[Sequence[str]], sentences: Sequence[str]
) -> list[tuple[str, ...]]:
    """The table, then a row with each sentence."""
    after = [""] * (len(heads) - 2)
    return [tuple(heads), *map(tuple, rows), *(("note", text, *after) for text in sentences)]


def _against(asked: AskedAbout) -> str:
    stands = ", as it stands" if asked.is_reference else ""
    return f"against: {asked.against}{stands}"


def _input(varied: Input, asked: AskedAbout) -> str:
    """The input, what holds now, and where it is moved: a table is read with that in mind."""
    now = "not given now"
    if varied.now_text:
        holds = varied.now_value
        text = varied.now_text if holds is None else amount_words(holds)
        now = f"now {text}, {input_source_words(varied)}"
        if varied.all_of:
            now = f"now {text} of what each is"
    moved = f"; moved {moved_words(varied, asked)}"
    return f"{varied.dotted}: {varied.label} ({now}){moved}"


# -- curves --------------------------------------------------------------------------------


def curve_report(found: Curve, units: str = AS_TYPED) -> Document:
    """A row for each value; JSON has ``points`` in the order of the values, as typed."""
    told = curve_in(found, units)
    heads, rows = _wide_curve(told)
    csv_heads, csv_rows = _csv_curve(told)
    facts = (_against(found.asked), _input(told.varied, found.asked))
    said = curve_sentences(told)
    return _document(
        found.asked,
        f"{found.asked.title}: {found.varied.label}",
        facts,
        [Either([_narrow_curve(told)], [_table(heads, rows)]), lines_of(said)],
        _csv_rows(csv_heads, csv_rows, (*facts, *said)),
        {
            "input": _varied_data(found.varied),
            "points": [_value(each.value) | _outcome(each.outcome) for each in found.points],
            "stops_paying_at": _value_at(found, found.knee if found.stops_paying else None),
            "still_better_by_percent": found.beyond,
            "demand_met_at": _value_at(found, found.met),
            "sentences": said,
        },
    )


def _wide_curve(found: Curve) -> tuple[list[str], list[list[str]]]:
    """Heads and rows with every part's pieces."""
    parts = _parts(found)
    heads = ["value", *_output_heads(found), "saleable gain %", "likely from", "to"]
    heads += ["spindle h", "demand met %"]
    heads += [f"{what} {part}" for part in parts for what in ("pieces", "demand met %")]
    heads += [*_money_heads(found), "note"]
    rows = []
    for place, point in enumerate(found.points):
        outcome = point.outcome
        row = [point.value.text]
        if _is_over_now(found):
            row += [number(outcome.itself, 3), *_ends(outcome.likely_itself)]
        row += [number(outcome.gains.saleable, 3), *_ends(outcome.likely)]
        row.append(number(outcome.spindle_hours, 3))
        row.append(number(outcome.least_met))
        for part in parts:
            row += [number(outcome.pieces.get(part), 3), number(outcome.demand_met.get(part))]
        rows.append([*row, *_money(found, outcome), _marks(found, place)])
    return heads, rows


def _csv_curve(found: Curve) -> tuple[list[str], list[list[str]]]:
    """The same for programs: values as numbers too, and money as entered, with its likely range."""
    heads, rows = _wide_curve(found)
    values = [point.value for point in found.points]
    numbers = same_decimals(value.number for value in values)
    heads[1:1] = ["number", "unit"]
    for row, value, text in zip(rows, values, numbers, strict=True):
        row[1:1] = [text, value.unit]
    if _in_money(found):
        place = heads.index(_money_heads(found)[0])
        heads[place + 1 : place + 1] = ["likely from", "to"]
        for row, point in zip(rows, found.points, strict=True):
            row[place : place + 2] = _plain_money(point.outcome)
    return heads, rows


def _plain_money(outcome: Outcome) -> list[str]:
    """A year's gain and its ends as whole numbers, and the payback as a number or why none."""
    money, likely = outcome.money, outcome.likely_money
    if money is None:
        return [NOTHING] * 4
    ends = (None, None) if likely is None else (likely.low.year_gain, likely.high.year_gain)
    payback = money.leading(likely).payback_years
    told = payback_texts(money, likely, "")[-1] if payback is None else number(payback)
    return [*(number(each, 0) for each in (money.year_gain, *ends)), told]


def _narrow_curve(found: Curve) -> TextTable:
    """For a terminal: pieces only of an only part, and a bar of the saleable output."""
    parts = _parts(found)
    shown = parts if len(parts) == 1 else []
    over_now = _is_over_now(found)
    heads = ["output %", "from", "to", "gain %"] if over_now else ["gain %", "from", "to"]
    heads += ["spindle h", *("pieces" for _ in shown), "demand met %"]
    columns = [Column("value", at_left=True), *map(Column, heads)]
    if _in_money(found):
        columns += map(Column, _money_heads(found))
    elif not over_now:
        columns.append(Column("output", at_left=True, width=_BAR))
    rows = []
    for place, point in enumerate(found.points):
        outcome = point.outcome
        told = outcome.over_now
        digits = digits_of(told.leading_gain, told.likely)
        row = [point.value.text, gain_in_short(told), *_ends(told.likely, digits)]
        row += [gain_in_short(outcome)] if over_now else []
        row.append(number(outcome.spindle_hours))
        row += [number(outcome.pieces.get(part)) for part in shown]
        last = _money(found, outcome) or ([] if over_now else [_bar(found, outcome)])
        rows.append([*row, number(outcome.least_met), *last, _marks(found, place)])
    return TextTable([*columns, Column("note", at_left=True)], rows)


def _is_over_now(found: Curve) -> bool:
    """Whether the scenario's own output stands beside its gain."""
    return is_over_now(point.outcome for point in found.points)


def _output_heads(found: Curve) -> list[str]:
    return list(_OUTPUT) if _is_over_now(found) else []


_OUTPUT: Final = ("output % over reference now", "likely from", "to")


def _ends(likely: Range | None, digits: int = 3) -> tuple[str, str]:
    """The ends of a likely range in two columns."""
    if likely is None:
        return NOTHING, NOTHING
    return number(likely[0], digits), number(likely[2], digits)


def _parts(found: Curve) -> list[str]:
    return list(dict.fromkeys(part for point in found.points for part in point.outcome.pieces))


def _in_money(found: Curve) -> bool:
    return any(point.outcome.money is not None for point in found.points)


def _money_heads(found: Curve) -> tuple[str, ...]:
    """The heads of the two columns of money, with their units; none where there is none."""
    money = (point.outcome.money for point in found.points)
    currency = next((of.currency for of in money if of is not None), None)
    return () if currency is None else (f"yearly gain {currency}", "payback years")


def _money(found: Curve, outcome: Outcome) -> list[str]:
    """The two columns of money, where the curve has them."""
    if not _in_money(found):
        return []
    if outcome.money is None:
        return [NOTHING, NOTHING]
    told = (outcome.money, outcome.likely_money)
    return [year_gain_texts(*told)[-1], payback_texts(*told, "")[-1]]


def _bar(found: Curve, outcome: Outcome) -> str:
    most = max(point.outcome.saleable or 0.0 for point in found.points)
    share = (outcome.saleable or 0.0) / most if most else 0.0
    return "#" * round(_BAR * share)


def _marks(found: Curve, place: int) -> str:
    said = list(marks(found, place))
    outcome = found.points[place].outcome
    said += [each for each in (typed_in_short(outcome),) if each]
    said += [caveat.value for caveat in outcome.caveats]
    return ", ".join([*said, "not allowed"] if outcome.problem else said)


# -- tables of two inputs ------------------------------------------------------------------


def grid_report(found: Grid, units: str = AS_TYPED) -> Document:
    """Gains, a row for each value of the first input and a column for each of the second's.

    CSV has a row for each pair; JSON has ``rows`` by the values of ``down``, in each of them one
    entry for each value of ``across``.
    """
    told = grid_in(found, units)
    against, said = _against(found.asked), grid_sentences(told)
    table = _table(
        ["", *(value.text for value in told.values_across)],
        [
            [value.text, *(gain_in_short(outcome.over_now) for outcome in row)]
            for value, row in zip(told.values_down, told.outcomes, strict=True)
        ],
    )
    legend = f'{_SIGNS} "{NOTHING}" is not allowed.'
    is_moved = is_over_now(chain.from_iterable(found.outcomes))
    what = over_now_words(found.asked) if is_moved else "saleable gain"
    heads = (
        found.down.dotted,
        found.across.dotted,
        *(_OUTPUT if is_moved else ()),
        "saleable gain %",
        "likely from",
        "to",
        "spindle h",
        "problem",
    )
    return _document(
        found.asked,
        f"{found.asked.title}: {what} in %",
        (
            against,
            f"down: {_input(told.down, found.asked)}",
            f"across: {_input(told.across, found.asked)}",
        ),
        [table, lines_of([*said, legend])],
        _csv_rows(heads, _pairs(told), (against, *said)),
        {
            "down": _varied_data(found.down),
            "across": _varied_data(found.across),
            "values_down": [_value(value) for value in found.values_down],
            "values_across": [_value(value) for value in found.values_across],
            "rows": [[_outcome(outcome) for outcome in row] for row in found.outcomes],
            "sentences": said,
        },
    )


def _pairs(found: Grid) -> list[tuple[str, ...]]:
    is_moved = is_over_now(chain.from_iterable(found.outcomes))
    return [
        (
            down.text,
            across.text,
            *((number(outcome.itself, 3), *_ends(outcome.likely_itself)) if is_moved else ()),
            number(outcome.gains.saleable, 3),
            *_ends(outcome.likely),
            number(outcome.spindle_hours, 3),
            what_is_wrong(outcome.problem),
        )
        for down, row in zip(found.values_down, found.outcomes, strict=True)
        for across, outcome in zip(found.values_across, row, strict=True)
    ]


# -- rankings ------------------------------------------------------------------------------


def ranking_report(found: Ranking, units: str = AS_TYPED) -> Document:
    """A row for each input, the one that moves most first.

    Text has those that make a difference, and the others by name alone.
    """
    heads = ("input", "less", "brings", "now", "more", "brings", "moved", "")
    told = ranking_in(found, units)
    rows = [_ranked(effect) for effect in told.effects]
    against, said = _against(found.asked), ranking_sentences(told)
    legend = _SIGNS
    sides = [Column(head, at_left=i in (0, len(heads) - 1)) for i, head in enumerate(heads)]
    moving = [_ranked(effect) for effect in told.moving]
    shown = TextTable(sides, moving[:_RANKED])
    rest = []
    if len(moving) > _RANKED:
        rest.append(f"{len(moving) - _RANKED} more make a smaller difference (--format csv).")
    if still := unmoved(found):
        rest.append(f"No clear difference: {still}.")
    return _document(
        found.asked,
        f"What matters most in {found.asked.title}",
        (against,),
        [
            Either(
                [shown, lines_of([*said, *rest, legend])],
                [_table(heads, rows), lines_of([*said, legend])],
            )
        ],
        _csv_rows(_RANKED_CSV, [_ranked_plain(each) for each in told.effects], (against, *said)),
        {
            "inputs": [_effect(effect) for effect in found.effects],
            "sentences": said,
        },
    )


def _ranked(effect: Effect) -> list[str]:
    assumed = "assumed" if effect.input.origin.is_assumed else ""
    sides = (*_side(effect.down), now_in_short(effect), *_side(effect.up))
    return [effect.input.label, *sides, moved_in_short(effect.input), assumed]


_RANKED_CSV: Final = (
    *("key", "input"),
    *("less", "changes gain by points", "likely from", "to", "is"),
    "now",
    *("more", "changes gain by points", "likely from", "to", "is"),
    *("moved", "origin"),
)
"""Heads of a ranking for programs."""


def _ranked_plain(effect: Effect) -> list[str]:
    """An input with the changes as numbers, and in a word what they are worth."""
    return [
        effect.input.dotted,
        effect.input.label,
        *_side_plain(effect.down),
        now_in_short(effect),
        *_side_plain(effect.up),
        moved_in_short(effect.input),
        "assumed" if effect.input.origin.is_assumed else "",
    ]


def _side_plain(side: Side | None) -> list[str]:
    if side is None:
        return [NOTHING, NOTHING, NOTHING, NOTHING, ""]
    text = side_text(side, "not allowed")
    word = "" if side.is_difference else text
    return [side.value.text, number(side.change, 3), *_ends(side.likely), word]


def _side(side: Side | None) -> tuple[str, str]:
    value = NOTHING if side is None else side.value.text
    return value, side_text(side, "not allowed")


# -- break-evens ---------------------------------------------------------------------------


def break_even_report(found: BreakEven, units: str = AS_TYPED) -> Document:
    """The places where reaching the target begins or ends, in rising order of the value."""
    unit = TARGET_UNITS[found.target.kind]
    told = level_in(found, units) or found
    looked = f"looked at: {amount_words(told.low)} to {amount_words(told.high)}"
    facts = (_input(told.varied, found.asked), looked)
    heads = (
        "reached at",
        "and at",
        "not at",
        f"past target by, {unit}",
        "in doubt between",
        "and",
        "",
    )
    rows = [
        (
            each.at.text,
            _way(each),
            each.beside.text,
            number(each.margin, 2),
            NOTHING if each.below is None else each.below.text,
            NOTHING if each.above is None else each.above.text,
            "" if each.is_clear else "cannot be told",
        )
        for each in told.crossings
    ]
    said = break_even_sentences(told)
    return _document(
        found.asked,
        f"{found.asked.title}: {found.varied.label} for {target_words(found)}",
        facts,
        [_table(heads, rows), lines_of(said)],
        _csv_rows(heads, rows, (*facts, *said)),
        {
            "input": _varied_data(found.varied),
            "target": asdict(found.target) | {"unit": unit},
            "from": _value(found.low),
            "to": _value(found.high),
            "reached": {None: "in part", True: "always", False: "never"}[found.always],
            "nearest": found.nearest and _value(found.nearest),
            "in_doubt": found.in_doubt and _value(found.in_doubt),
            "crossings": [
                {
                    "reached_at": _value(each.at),
                    "not_at": _value(each.beside),
                    "reached_by": _way(each),
                    "margin": each.margin,
                    "clear_below": each.below and _value(each.below),
                    "clear_above": each.above and _value(each.above),
                    "places": each.times,
                    "is_clear": each.is_clear,
                }
                for each in found.crossings
            ],
            "values_tried": found.tried,
            "sentences": said,
        },
    )


def _way(crossing: Crossing) -> str:
    return "more" if crossing.upward else "less"


# -- plain values --------------------------------------------------------------------------


def _varied_data(varied: Input) -> dict[str, Any]:
    return {
        "key": varied.dotted,
        "label": varied.label,
        "now": varied.now_value and _value(varied.now_value),
        "now_text": varied.now_text,
        "origin": source_words(varied.origin),
        "moved": varied.moved.value,
    }


def _value(value: Value) -> dict[str, Any]:
    return {"value": value.text, "number": value.number, "unit": value.unit}


def _value_at(found: Curve, place: int | None) -> dict[str, Any] | None:
    return None if place is None else _value(found.points[place].value)


def _outcome(outcome: Outcome) -> dict[str, Any]:
    return {
        "problem": what_is_wrong(outcome.problem),
        "gain_percent": asdict(outcome.gains),
        "likely_percent": outcome.likely,
        "output_over_reference_now_percent": outcome.itself,
        "likely_output_over_reference_now_percent": outcome.likely_itself,
        "saleable_output": outcome.saleable,
        "spindle_hours": outcome.spindle_hours,
        "pieces": outcome.pieces,
        "demand_met_percent": outcome.demand_met,
        "least_demand_met_percent": outcome.least_met,
        "money": money_data(outcome.money),
        "rests_on": [caveat.value for caveat in outcome.caveats],
        "said_hours_per_day": None if outcome.said is None else outcome.said.hours_per_day,
    }


def _effect(effect: Effect) -> dict[str, Any]:
    return {
        "key": effect.input.dotted,
        "label": effect.input.label,
        "now": effect.input.now_value and _value(effect.input.now_value),
        "moved": effect.input.moved.value,
        "moved_by": effect.step.value,
        "origin": source_words(effect.input.origin),
        "assumed": effect.input.origin.is_assumed,
        "largest_change_percent": effect.most,
        "less": effect.down and _side_data(effect.down),
        "more": effect.up and _side_data(effect.up),
    }


def _side_data(side: Side) -> dict[str, Any]:
    return _value(side.value) | {
        "problem": what_is_wrong(side.problem),
        "change_percent": side.change,
        "likely_percent": side.likely,
        "is_difference": side.is_difference,
    }
