"""Pictures of a report, drawn in SVG: the machines' hours, the night, cash over the years.

Each is well formed by itself, refers to nothing outside, and says in shades and words whatever it
says in colour, so that a copy in grey tells the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import ceil, floor, log10
from textwrap import wrap
from typing import TYPE_CHECKING, Final, TypeAlias
from xml.sax.saxutils import escape, quoteattr

from whatif.answers.shares import Band, Scope, shares, stacked
from whatif.reports.document import cells
from whatif.telling.amounts import grouped, rounded
from whatif.telling.clock import clock_text, hour_text
from whatif.telling.harmless import harmless
from whatif.telling.night_pictures import group_label
from whatif.telling.shares import BAND_WORDS

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.answers.night.night import GroupNight, Nights, NightsAfter
    from whatif.telling.money.curve import CashLine

_WIDTH: Final = 720.0
_LABEL: Final = 160.0
"""Of a picture, and of what stands at its left; a page is about 720 wide."""

_SIZE: Final = 10.5
_SIGN: Final = 5.6
"""Height of a text, and width of one of its signs as it is reckoned with."""

_HOUR: Final = 3600
_DAY: Final = 24 * _HOUR
_INK: Final = "#111"
_FAINT: Final = "#888"
_SHADES: Final[dict[Band, str]] = {
    "cutting": "#1d6b3a",
    "unsold": "#7fb08f",
    "serving": "#6f9fd8",
    "waiting": "#b79ad6",
    "resting": "#e4e4e4",
}
"""As light apart in grey as in colour: what cuts is darkest, what rests lightest."""

_ON: Final[dict[Band, str]] = {"cutting": "#fff"}
"""Ink on a shade, where it is not the usual one."""


class _Canvas:
    """Elements of one picture, in a coordinate system of `_WIDTH`."""

    def __init__(self, words: str) -> None:
        self._words = words
        self._parts: list[str] = []

    def text(
        self, x: float, y: float, words: str, *, anchor: str = "start", ink: str = _INK
    ) -> None:
        self._parts.append(
            f'<text x="{x:.1f}" y="{y:.1f}" fill="{ink}" text-anchor="{anchor}">'
            f"{_escaped(words)}</text>"
        )

    def box(self, x: float, y: float, width: float, height: float, fill: str) -> None:
        self._parts.append(
            f'<rect x="{x:.1f}" y="{y:.1f}" width="{max(width, 0):.1f}" height="{height:.1f}" '
            f'fill="{fill}" stroke="#fff" stroke-width="0.6"/>'
        )

    def line(self, points: Iterable[tuple[float, float]], ink: str, width: float = 0.8) -> None:
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        self._parts.append(
            f'<polyline points="{path}" fill="none" stroke="{ink}" stroke-width="{width:g}"/>'
        )

    def area(self, points: Iterable[tuple[float, float]], fill: str) -> None:
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        self._parts.append(f'<polygon points="{path}" fill="{fill}"/>')

    def hatched(self, x: float, y: float, width: float, height: float) -> None:
        """Slanted strokes within a box; no pattern, whose name might be another picture's."""
        at = -height
        while at < width:
            low, high = max(at, 0.0), min(at + height, width)
            if high > low:
                ends = [(x + low, y + height - (low - at)), (x + high, y + height - (high - at))]
                self.line(ends, "#bbb", 0.6)
            at += 6.0

    def done(self, height: float) -> str:
        """The whole as one element."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:g} {height:.0f}" '
            f'role="img" aria-label={_quoted(self._words)} '
            f'font-family="Liberation Sans, Arial, Helvetica, sans-serif" '
            f'font-size="{_SIZE:g}">{"".join(self._parts)}</svg>'
        )


def _escaped(words: str) -> str:
    return escape(_drawable(words))


def _quoted(words: str) -> str:
    return quoteattr(_drawable(words))


def _drawable(words: str) -> str:
    """What XML may hold: no control sign but blanks."""
    return " ".join(harmless(words).split())


def title_rows(text: str, room: float, most: int = 2) -> list[str]:
    """A name in no more rows than that, cut where it is longer still."""
    signs = max(4, int(room / _SIGN))
    rows = wrap(" ".join(text.split()), signs) or [""]
    rows = [row for each in rows for row in _narrow(each, signs)]
    if len(rows) > most:
        rows = [*rows[: most - 1], f"{rows[most - 1][: signs - 1]}…"]
    return rows


def _narrow(row: str, signs: int) -> list[str]:
    """A row in halves where signs take two places each."""
    if cells(row) <= signs or len(row) < 2:
        return [row]
    half = len(row) // 2
    return [*_narrow(row[:half], signs), *_narrow(row[half:], signs)]


def _label(canvas: _Canvas, title: str, y: float, height: float) -> None:
    rows = title_rows(title, _LABEL - 8)
    top = y + height / 2 + _SIZE * (0.36 - 0.55 * (len(rows) - 1))
    for place, row in enumerate(rows):
        canvas.text(0, top + place * _SIZE * 1.1, row)


# -- hours -------------------------------------------------------------------------------------

_BAR: Final = 15.0
_STEP: Final = 17.0
_TWO_ROWS: Final = 24.0
"""Height of a bar, and from one to the next: of names in one row, and in two."""

_PARTS: Final = 100_000
"""Pieces that a bar's hours are shared out to: as good as exact."""


def hours_drawing(answers: Sequence[Answer]) -> str:
    """A bar a scenario, as long as its machines' week, in bands by what they do."""
    canvas = _Canvas("Hours of all machines in a week, a bar for each scenario")
    told = [(each, shares(each.figures, None, Scope.WEEK)) for each in answers if each.figures]
    longest = max((sum(share.hours for share in of) for _, of in told), default=0.0) or 1.0
    room = _WIDTH - _LABEL - 60
    seen: dict[Band, None] = {}
    long = any(title_rows(each.plan.title, _LABEL - 8)[1:] for each, _ in told)
    y, step = (_TWO_ROWS - _BAR) / 2 if long else 0.0, _TWO_ROWS if long else _STEP
    for answer, of in told:
        _label(canvas, answer.plan.title, y, _BAR)
        whole = sum(share.hours for share in of)
        x = _LABEL
        for stretch in stacked(of, _PARTS):
            seen[stretch.band] = None
            width = room * whole / longest * stretch.percent / 100
            canvas.box(x, y, width, _BAR, _SHADES[stretch.band])
            hours = f"{rounded(whole * stretch.percent / 100)} h"
            said = _longest((f"{BAND_WORDS[stretch.band]} {hours}", hours), width - 6)
            ink = _ON.get(stretch.band, _INK)
            canvas.text(x + 3, y + _BAR / 2 + _SIZE * 0.36, said, ink=ink)
            x += width
        canvas.text(x + 4, y + _BAR / 2 + _SIZE * 0.36, f"{rounded(whole, 0)} h", ink="#444")
        y += step
    x = _LABEL
    for band in (each for each in _SHADES if each in seen):
        canvas.box(x, y + 3, 11, 11, _SHADES[band])
        canvas.text(x + 15, y + 12, BAND_WORDS[band])
        x += 30 + _SIGN * len(BAND_WORDS[band])
    return canvas.done(y + 18)


def _longest(texts: Sequence[str], room: float) -> str:
    """The first text that there is room for, or nothing."""
    return next((text for text in texts if _SIGN * cells(text) <= room), "")


# -- the night ---------------------------------------------------------------------------------

_LANE: Final = 20.0
_STEPS: Final = (1, 2, 3, 4, 6, 12, 24)
_MARK: Final = 46.0
"""Room that a text of the clock takes."""

_At: TypeAlias = Callable[[float], float]
NightTold: TypeAlias = "tuple[str, Nights, NightsAfter]"
"""A scenario's title, its nights, and the one of them that is drawn."""


def night_drawing(told: Sequence[NightTold]) -> str:
    """Nights below each other on one clock: how many of the machines still cut, hour by hour."""
    canvas = _Canvas("How long the spindles go on after the people have left")
    day = told[0][2].days[0]
    starts = [night.start + (day - night.days[0]) * _DAY for _, _, night in told]
    ends = [
        at + round(night.length * _HOUR) for at, (_, _, night) in zip(starts, told, strict=True)
    ]
    begin, end = min(starts), max(ends)
    of_days = any(len(night.days) == 1 for _, _, night in told)
    room = _WIDTH - _LABEL - 20

    def at(second: float) -> float:
        return _LABEL + room * (second - begin) / (end - begin)

    y = _clock(canvas, begin, end, at, of_days=of_days)
    for start, (title, nights, night) in zip(starts, told, strict=True):
        for group in night.groups:
            name = title if len(night.groups) == 1 else f"{title}: {group_label(group)}"
            _label(canvas, name, y, _LANE)
            _lane(canvas, nights, night, group, (start, y), at)
            y += _LANE + 2
        y += 2
    return canvas.done(y)


def _clock(canvas: _Canvas, begin: int, end: int, at: _At, *, of_days: bool) -> float:
    hours = (end - begin) / _HOUR
    room = at(end) - at(begin)
    step = next((each for each in _STEPS if room / hours * each >= _MARK * 1.4), _STEPS[-1])
    first = -(-(begin + 1) // (step * _HOUR)) * step * _HOUR
    say = clock_text if of_days else hour_text
    canvas.text(at(begin), _SIZE, say(begin))
    for second in range(first, end, step * _HOUR):
        canvas.line([(at(second), _SIZE + 3), (at(second), _SIZE + 6)], _FAINT)
        if at(second) - at(begin) > _MARK and at(end) - at(second) > _MARK:
            canvas.text(at(second), _SIZE, say(second), anchor="middle", ink="#444")
    canvas.text(at(end), _SIZE, say(end), anchor="end")
    return _SIZE + 7


def _lane(
    canvas: _Canvas,
    nights: Nights,
    night: NightsAfter,
    group: GroupNight,
    corner: tuple[int, float],
    at: _At,
) -> None:
    """One machine group's night from a second on: a falling outline of what still cuts."""
    start, y = corner
    floor_ = y + _LANE
    end = start + night.length * _HOUR
    canvas.box(at(start), y, at(end) - at(start), _LANE, "#f3f3f3")
    if nights.after_shift is not None or not night.begins:
        allowed = 0.0 if not night.begins else nights.after_shift or 0.0
        x = at(min(start + allowed * _HOUR, end))
        canvas.hatched(x, y, at(end) - x, _LANE)
    points = [(at(start), floor_)]
    whole = len(group.at_work)
    high = 1.0 if whole else 0.0
    points.append((at(start), floor_ - _LANE * high))
    for place, hours in enumerate(group.at_work, 1):
        x = at(min(start + hours * _HOUR, end))
        points.append((x, floor_ - _LANE * high))
        high = 1.0 - place / whole
        points.append((x, floor_ - _LANE * high))
    canvas.area([*points, (points[-1][0], floor_)], _SHADES["cutting"])
    canvas.line([(at(start), floor_), (at(end), floor_)], _FAINT)


# -- cash --------------------------------------------------------------------------------------

_HIGH: Final = 92.0
_DASHES: Final = ("#0b5c2e", "#1f5fae", "#8a3fa8", "#9a6200")


def cash_drawing(lines: Sequence[CashLine], titles: Sequence[str], years: float, money: str) -> str:
    """What has come in less what was invested, year after year: a line a scenario."""
    canvas = _Canvas("Money that has come in, less the investment, over the years")
    amounts = [0.0, *(line.at(year) for line in lines for year in (0.0, years))]
    amounts += [line.at(min(line.ramp, years)) for line in lines]
    low, high, step = _ticks(min(amounts), max(amounts))
    left, room, top = 90.0, _WIDTH - 90.0 - 170.0, 6.0

    def at(year: float, amount: float) -> tuple[float, float]:
        return left + room * year / years, top + _HIGH * (high - amount) / (high - low)

    for place in range(round((high - low) / step) + 1):
        amount = low + place * step
        x, y = at(0, amount)
        canvas.line([(x, y), (left + room, y)], _INK if abs(amount) < step / 2 else "#ddd", 0.7)
        canvas.text(x - 5, y + 3.5, f"{money} {grouped(amount)}", anchor="end", ink="#444")
    for year in range(floor(years) + 1):
        canvas.text(at(year, low)[0], top + _HIGH + 14, str(year), anchor="middle", ink="#444")
    canvas.text(left + room + 12, top + _HIGH + 14, "years", ink="#444")
    ends = sorted(range(len(lines)), key=lambda place: at(years, lines[place].at(years))[1])
    free = 0.0
    for place in ends:
        line, ink = lines[place], _DASHES[place % len(_DASHES)]
        canvas.line([at(years * n / 60, line.at(years * n / 60)) for n in range(61)], ink, 1.6)
        y = max(at(years, line.at(years))[1] + 3.5, free)
        canvas.text(left + room + 6, y, title_rows(titles[place], 160, 1)[0], ink=ink)
        free = y + _SIZE + 1
    return canvas.done(max(top + _HIGH + 20, free))


def _ticks(low: float, high: float) -> tuple[float, float, float]:
    """Round ends and a round step that hold all amounts, in four to eight steps."""
    wide = (high - low) or 1.0
    power = 10.0 ** floor(log10(wide / 4))
    step = next(power * each for each in (1, 2, 5, 10) if wide / (power * each) <= 6)
    return floor(low / step) * step, ceil(high / step) * step, step
