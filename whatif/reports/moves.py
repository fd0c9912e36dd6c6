"""Curves, grids, rankings and break-evens for reading: what moves a scenario, as tables."""

from __future__ import annotations

from whatif.answers.gains import is_difference
from whatif.answers.moves.break_even import BreakEven
from whatif.answers.moves.changing import AskedAbout, Outcome, Point
from whatif.answers.moves.sensitivity import Effect, Ranking, Side
from whatif.answers.moves.vary import Curve, Grid, Varied
from whatif.reports.sheets import Sheet
from whatif.telling.amounts import signed
from whatif.telling.moves_sentences import (
    TARGET_UNITS,
    break_even_sentences,
    curve_sentences,
    grid_sentences,
    ranking_sentences,
    target_words,
    unmoved,
)
from whatif.telling.problems import what_is_wrong
from whatif.telling.table import NOTHING, gain_text, number

_BAR = 8
"""Cells of the longest bar."""

SAME = "="
"""Stands in narrow tables for "no difference"."""


def _against(asked: AskedAbout) -> str:
    if asked.is_reference:
        return f"against: {asked.against}, as it stands"
    return f"against: {asked.against}"


def _input(varied: Varied) -> str:
    now = f"now {varied.now_text}, {varied.origin}" if varied.now_text else "not given now"
    return f"{varied.key}: {varied.label} ({now})"


# -- curves --------------------------------------------------------------------------------


def curve_sheet(found: Curve) -> Sheet:
    """A row for each value, every part's pieces in it."""
    parts = _parts(found)
    in_money = _in_money(found)
    heads = ["value", "saleable gain %", "grain", "spindle h", "met %"]
    heads += [f"{what} {part}" for part in parts for what in ("pieces", "met %")]
    heads += _MONEY if in_money else []
    rows = []
    for place, point in enumerate(found.points):
        one = point.outcome
        row = [point.value.text, number(one.gains.saleable, 3), number(one.grain.saleable, 3)]
        row += [number(one.spindle_hours, 3), number(one.least_met)]
        for part in parts:
            row += [number(one.pieces.get(part), 3), number(one.demand_met.get(part))]
        rows.append((*row, *(_money(one) if in_money else []), _marks(found, place)))
    return _curve(found, heads, rows)


def narrow_curve_sheet(found: Curve) -> Sheet:
    """The same for a terminal: pieces only of an only part, and a bar of the saleable output."""
    parts = _parts(found)
    shown = parts if len(parts) == 1 else []
    in_money = _in_money(found)
    heads = ["value", "gain", "grain", "spindle h", *("pieces" for _ in shown), "met %"]
    heads += _MONEY if in_money else ["output".ljust(_BAR)]
    rows = []
    for place, point in enumerate(found.points):
        one = point.outcome
        row = [point.value.text, gain_text(one.gains.saleable, one.grain.saleable)]
        row += [number(one.grain.saleable, 2), number(one.spindle_hours)]
        row += [number(one.pieces.get(part)) for part in shown]
        row += [number(one.least_met), *(_money(one) if in_money else [_bar(found, point)])]
        rows.append((*row, _marks(found, place)))
    return _curve(found, heads, rows)


_MONEY = ["year's gain", "payback"]


def _curve(found: Curve, heads: list[str], rows: list[tuple[str, ...]]) -> Sheet:
    return Sheet(
        title=f"{found.asked.title}: {found.varied.label}",
        facts=(_against(found.asked), _input(found.varied)),
        heads=(*heads, "note"),
        rows=tuple(rows),
        sentences=curve_sentences(found),
        noted=True,
    )


def _parts(found: Curve) -> list[str]:
    return list(dict.fromkeys(part for one in found.points for part in one.outcome.pieces))


def _in_money(found: Curve) -> bool:
    return any(one.outcome.money is not None for one in found.points)


def _money(one: Outcome) -> list[str]:
    if one.money is None:
        return [NOTHING, NOTHING]
    return [number(one.money.year_gain, 0), number(one.money.payback_years)]


def _bar(found: Curve, point: Point) -> str:
    most = max((one.outcome.saleable or 0.0 for one in found.points), default=0.0)
    share = (point.outcome.saleable or 0.0) / most if most else 0.0
    return ("#" * round(_BAR * share)).ljust(_BAR)


def _marks(found: Curve, place: int) -> str:
    value = found.points[place].value
    now = found.varied.now
    said = ["now"] if now is not None and now.number == value.number else []
    if found.points[place].outcome.problem:
        said.append("not allowed")
    if place == found.knee:
        allowed = [i for i, point in enumerate(found.points) if not point.outcome.problem]
        said.append("as good as any" if place == allowed[:: found.better][0] else "stops paying")
    said += ["demand met"] if place == found.met else []
    return ", ".join(said)


# -- grids ---------------------------------------------------------------------------------


def grid_sheet(found: Grid) -> Sheet:
    """Gains in percent, a row for each value of the first input, a column for the second's."""
    return Sheet(
        title=f"{found.asked.title}: saleable gain in %",
        facts=(
            _against(found.asked),
            f"down: {_input(found.down)}",
            f"across: {_input(found.across)}",
        ),
        heads=("", *(value.text for value in found.values_across)),
        rows=tuple(
            (value.text, *(_grid_cell(one) for one in row))
            for value, row in zip(found.values_down, found.outcomes, strict=True)
        ),
        sentences=(
            *grid_sentences(found),
            f'"{SAME}" is no difference: smaller than its grain. "{NOTHING}" is not allowed.',
        ),
    )


def _grid_cell(one: Outcome) -> str:
    gain = one.gains.saleable
    if gain is None:
        return NOTHING
    return signed(gain) if is_difference(gain, one.grain.saleable) else SAME


def grid_rows(found: Grid) -> Sheet:
    """The same with a row for each pair, for other programs to read."""
    heads = (found.down.key, found.across.key, "saleable gain %", "grain", "spindle h", "problem")
    rows = [
        (
            down.text,
            across.text,
            number(one.gains.saleable, 3),
            number(one.grain.saleable, 3),
            number(one.spindle_hours, 3),
            what_is_wrong(one.problem),
        )
        for down, row in zip(found.values_down, found.outcomes, strict=True)
        for across, one in zip(found.values_across, row, strict=True)
    ]
    return Sheet("", (_against(found.asked),), heads, tuple(rows), grid_sentences(found))


# -- rankings ------------------------------------------------------------------------------


def ranking_sheet(found: Ranking) -> Sheet:
    """A row for each input."""
    return _ranking(found, found.effects, ranking_sentences(found))


def narrow_ranking_sheet(found: Ranking) -> Sheet:
    """The same for a terminal: what makes no difference is only named."""
    moving = tuple(effect for effect in found.effects if effect.most)
    said = ranking_sentences(found)
    if len(moving) > _RANKED:
        said = (*said, f"{len(moving) - _RANKED} more make a smaller difference (--format csv).")
    still = unmoved(found)
    if still:
        said = (*said, f"No difference: {still}.")
    return _ranking(found, moving[:_RANKED], said)


_RANKED = 25
"""Inputs that a terminal shows."""


def _ranking(found: Ranking, effects: tuple[Effect, ...], said: tuple[str, ...]) -> Sheet:
    return Sheet(
        title=f"What moves {found.asked.title}",
        facts=(_against(found.asked),),
        heads=("input", "less", "change", "now", "more", "change", ""),
        rows=tuple(_ranked(effect) for effect in effects),
        sentences=(*said, f'"{SAME}" is no difference: smaller than its grain.'),
        noted=True,
    )


def _ranked(one: Effect) -> tuple[str, ...]:
    return (
        one.label,
        *_side(one.down),
        one.now.text,
        *_side(one.up),
        "assumed" if one.assumed else "",
    )


def _side(side: Side | None) -> tuple[str, str]:
    if side is None:
        return NOTHING, NOTHING
    if side.change is None:
        return side.value.text, "not allowed"
    return side.value.text, signed(side.change) if side.is_difference else SAME


# -- break-evens ---------------------------------------------------------------------------


def break_even_sheet(found: BreakEven) -> Sheet:
    """The places where reaching the target begins or ends."""
    return Sheet(
        title=f"{found.asked.title}: {found.varied.label} for {target_words(found)}",
        facts=(
            _input(found.varied),
            f"looked at: {found.low.text} to {found.high.text}",
        ),
        heads=(
            "reached at",
            "and",
            "not at",
            f"beyond, {TARGET_UNITS[found.target.kind]}",
            "grain",
        ),
        rows=tuple(
            (
                one.at.text,
                "more" if one.upward else "less",
                one.beside.text,
                number(one.margin, 2),
                number(one.grain, 2),
            )
            for one in found.crossings
        ),
        sentences=break_even_sentences(found),
    )
