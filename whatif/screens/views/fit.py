"""Fit: every part on every machine, how it lies there to scale, each limit with what is left."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import zip_longest
from typing import TYPE_CHECKING

from rich.cells import cell_len
from typing_extensions import override

from whatif.answers.cautions import Danger
from whatif.answers.on_table import OnTable, Pairing, pairings
from whatif.records import dataclass
from whatif.screens.views.view import Look, View, ViewHost, ViewKey, caution_rows, no_answer
from whatif.screens.widgets.drawing import (
    Span,
    SpanRow,
    Tone,
    cut,
    more_of,
    paragraph,
    row,
    window,
)
from whatif.session.calculate.questions import OnTableOf
from whatif.telling.fit import (
    HOLDS,
    CheckRow,
    Sign,
    as_large_as_tables,
    changes_told,
    check_rows,
    load_and_room,
    lying_sentence,
    table_taken_sentence,
    verdict,
)
from whatif.telling.fit_drawing import Drawn, Ink, from_above, legend, mm_per_cell, to_scale

if TYPE_CHECKING:
    from whatif.session.calculate.requests import Question

_EDITED = {"g": "gap", "b": "edge", "w": "turn", "c": "per_pallet"}

_LIST, _LIST_WIDE = 37, 46
"""Cells of the list and what is said below it; the rest is the drawing's."""

_WIDE = 100
_LOAD, _ROOM = 6, 6
_SIGN, _LABEL, _NEEDS, _HAS, _LEFT = 3, 7, 7, 9, 7

_FACE = 48
"""Cells that a drawing has at least where several stand side by side."""

_BETWEEN = 2
_LEAST_LIST = 2
_LEAST_DRAWN = 5

_NO_PAIRING = (
    "No part of this scenario is allowed on one of its machines: n adds a part or a machine."
)

_SIGNS: dict[Sign, Tone] = {"ok": "gain", "no": "loss", "?": "dim"}

_NEEDED = {"height": ("fixture_height",), "load": ("mass", "fixture_mass")}
"""Of a limit, what counts as nothing where it is not entered."""

_INKS: dict[Ink, Tone] = {
    "free": "plain",
    "piece": "piece",
    "turned": "turned",
    "number": "bold",
    "kept": "dim",
    "outline": "plain",
    "size": "dim",
}


class FitView(View):
    """Parts and machines at the left, with what limits the chosen one; at the right the table."""

    name = "fit"
    reads = """\
At the left every part on every machine, with the pieces of a load and how many there is room
for. Below, each limit of the chosen one: what is needed, what there is and what is left; "ok" where
it is enough, "no" where it is not, "?" where a value is not given; then what would have to change
for one piece more. At the right the table from above, to scale, with the part on other machines
beside it where there is room."""

    def __init__(self) -> None:
        self._at: int | None = None

    def _place(self, found: Sequence[Pairing]) -> int:
        """The chosen one's place, at first what does not fit; there may be fewer than before."""
        if self._at is None:
            # What does not fit is what one comes for.
            return next((i for i, each in enumerate(found) if not each.found.fits), 0)
        return max(0, min(self._at, len(found) - 1))

    def _pairing(self, look: Look) -> Pairing | None:
        found = _pairings(look)
        return found[self._place(found)] if found else None

    @override
    def own_keys(self, look: Look) -> tuple[ViewKey, ...]:
        """What decides the fit."""
        return (
            ViewKey("up,down", "↑ ↓", "", "choose a part and a machine"),
            ViewKey("g", "g", "gap", "the gap between pieces"),
            ViewKey("b", "b", "border", "the border left free at the table's edge"),
            ViewKey("w", "w", "way up", "which way up a piece may lie"),
            ViewKey("c", "c", "count", "the count of pieces in a load"),
        )

    @override
    def question(self, look: Look) -> Question | None:
        """How the chosen part stands on the chosen machine, and on all others."""
        chosen = self._pairing(look)
        if chosen is None or look.chosen is None:
            return None
        beside = tuple(
            each.group
            for each in _pairings(look)
            if each.part == chosen.part and each.group != chosen.group
        )
        return OnTableOf(look.chosen, chosen.part, chosen.group, beside, look.result_units)

    @override
    def press(self, key: str, look: Look, host: ViewHost) -> bool:
        """Move in the list, or edit what decides the fit."""
        if key in ("up", "down"):
            self._move(1 if key == "down" else -1, look)
            return True
        if key in ("pageup", "pagedown") and (page := self._page(look, host)):
            self._move(page if key == "pagedown" else -page, look)
            return True
        pairing = self._pairing(look)
        if pairing is None or key not in _EDITED:
            return False
        host.edit_value(("part", pairing.part, _EDITED[key]))
        return True

    @override
    def wheel(self, rows: int, columns: int, look: Look, host: ViewHost) -> bool:
        """Go on in the list, where it is longer than its room."""
        if not rows or not self._page(look, host):
            return False
        self._move(rows, look)
        return True

    def _move(self, by: int, look: Look) -> None:
        found = _pairings(look)
        self._at = max(0, min(self._place(found) + by, len(found) - 1))

    def _page(self, look: Look, host: ViewHost) -> int:
        """Lines of the list that are seen at once; 0 where all of it is."""
        found = _pairings(look)
        room = self._parted(look, found, *host.room).room if found else 0
        return room if room < len(found) else 0

    @override
    def touch(self, spot: str, look: Look, host: ViewHost) -> None:
        """Choose a line of the list."""
        self._at = int(spot)

    @override
    def figure(self, look: Look) -> str:
        """How the chosen part fits the chosen machine."""
        pairing = self._pairing(look)
        return "fit" if pairing is None else f"fit.{pairing.part}.{pairing.group}"

    # -- drawing -------------------------------------------------------------------------

    @override
    def cursor(self, look: Look) -> int | None:
        """A line of the list, which stands at the top; another one wherever it moves."""
        found = _pairings(look)
        return 1 + self._place(found) % _LEAST_LIST if found else None

    @override
    def draw(self, look: Look, width: int, height: int) -> list[SpanRow]:
        """The list with what is said at the left, the drawing in all the room that is left."""
        if look.answer is None:
            return no_answer(look, width)
        found = _pairings(look)
        if not found:
            return paragraph(_NO_PAIRING, width, "dim")
        parts = self._parted(look, found, width, height)
        wide, beside = parts.wide, width - parts.wide - _BETWEEN
        if not parts.faces:
            right_side = no_answer(look, beside, 0)
        else:
            right_side = _side_by_side(look, parts.faces, found, beside, parts.height)
        rows = _beside([*self._list(found, wide, parts.room), *parts.said], wide, right_side)
        return [*rows, *([row("")] * (parts.height - len(rows))), *parts.below]

    def _parted(self, look: Look, found: Sequence[Pairing], width: int, height: int) -> _Parts:
        """How the room is shared out."""
        wide = _LIST_WIDE if width >= _WIDE else _LIST
        faces = _faces(look.result, found, width - wide - _BETWEEN)
        below: list[SpanRow] = []
        if faces and _is_on_tables_size(look, faces[0]):
            below += paragraph(table_taken_sentence(faces[0].group), width, "assumed")
        below += paragraph(HOLDS, width, "dim")
        below += caution_rows(look, (Danger.LIFTING,), width)
        height = max(3, height - len(below))
        said: list[SpanRow] = []
        if faces:
            said = _said(look, faces[0], wide, with_limits=len(faces) == 1)
        return _Parts(wide, height, faces, said, below, max(_LEAST_LIST, height - len(said) - 1))

    def _list(self, found: Sequence[Pairing], wide: int, room: int) -> list[SpanRow]:
        """As much of the list as there is room for, the chosen line in it."""
        at = self._place(found)
        name = wide - _LOAD - _ROOM
        shown = window(len(found), room, at)
        more = more_of(shown, len(found), "line", ("above", "below"))
        titles = [" part on machine"]
        if more:
            above, below = shown.start, len(found) - shown.stop
            # In little room how much of it is out of sight stands there alone.
            titles = [f" part on machine, {more}", f" {more}", f" {above} above, {below} below"]
        title = next((each for each in titles if len(each) <= name), titles[-1])
        head = f"{cut(title, name)}{'load':>{_LOAD}}{'room':>{_ROOM}}"
        lines = [row(self._listed(i, found[i], name, chosen=i == at)) for i in shown]
        return [row(Span(head, "title")), *lines]

    def _listed(self, i: int, pairing: Pairing, name: int, *, chosen: bool) -> Span:
        load, room = load_and_room(pairing.found)
        text = f" {pairing.part} on {pairing.group}"
        tone: Tone = "chosen" if chosen else "plain" if pairing.found.fits else "loss"
        return Span(f"{cut(text, name)}{load:>{_LOAD}}{room:>{_ROOM}}", tone, str(i))


@dataclass(frozen=True, slots=True)
class _Parts:
    """How the room is shared out.

    Attributes:
        wide: cells of what stands at the left.
        height: rows of left and right.
        faces: the chosen machine and others beside it; none while they are worked out.
        said: what stands below the list.
        below: what stands below all.
        room: rows of the list, its head left out.
    """

    wide: int
    height: int
    faces: Sequence[OnTable]
    said: Sequence[SpanRow]
    below: Sequence[SpanRow]
    room: int


def _faces(result: object, found: Sequence[Pairing], width: int) -> list[OnTable]:
    """The chosen machine, and as many others as there is room for."""
    if not isinstance(result, tuple):
        return []
    room = max(1, (width + _BETWEEN) // (_FACE + _BETWEEN))
    return list(result[:room])


def _said(look: Look, on_table: OnTable, wide: int, *, with_limits: bool) -> list[SpanRow]:
    """What limits the chosen one, and what one more would take."""
    units = look.result_units
    begin, *changes = changes_told(on_table, units)
    rows: list[SpanRow] = []
    if with_limits:
        rows += [
            row(""),
            *_limits(check_rows(on_table.found, units), wide, _resting(look, on_table.part)),
            *_lying(on_table, wide),
        ]
    rows += [row(""), row(Span(f" {begin}", "title"))]
    rows += [line for text in changes for line in paragraph(text, wide)]
    return rows


def _is_on_tables_size(look: Look, on_table: OnTable) -> bool:
    """Whether a pallet is taken to be as large as its table, and the part fits that."""
    if look.answer is None or not on_table.found.fits:
        return False
    return on_table.group in as_large_as_tables(look.answer.plan)


def _lying(on_table: OnTable, wide: int) -> list[SpanRow]:
    """How the pieces lie, where that is otherwise than they are entered."""
    said = lying_sentence(on_table.found)
    return paragraph(said, wide) if said else []


def _resting(look: Look, part: str) -> frozenset[str]:
    """The limits whose needs rest on what nobody has entered of the part."""
    assert look.chosen is not None
    resolved = look.checked.resolved[look.chosen]
    return frozenset(
        label
        for label, keys in _NEEDED.items()
        if any(resolved.origin("part", part, key).is_assumed for key in keys)
    )


def _limits(checks: Sequence[CheckRow], wide: int, resting: Collection[str]) -> list[SpanRow]:
    """Each limit in one line, under headings; one that is not checked says what to enter.

    ``resting``: those that need what nobody has entered, and are marked so.
    """
    head = f"{'needs':>{_NEEDS}}{'there is':>{_HAS}}{'left':>{_LEFT}}"
    rows = [row(Span(f" {'':{_SIGN + _LABEL}}{head}", "title"))]
    for check in checks:
        sign = Span(f" {check.sign:{_SIGN}}", _SIGNS[check.sign])
        if check.unchecked:
            told = paragraph(f"not checked: {check.unchecked}", wide, "dim", 1 + _SIGN + _LABEL + 1)
            rows += [row(sign, f"{check.label:{_LABEL + 1}}", *told[0][1:]), *told[1:]]
            continue
        needs = f"~{check.needs}" if check.label in resting else check.needs
        figures = f"{needs:>{_NEEDS}}{check.has:>{_HAS}}{check.left:>{_LEFT}}"
        tone: Tone = "loss" if check.sign == "no" else "plain"
        rows.append(
            row(sign, f"{check.label:{_LABEL}}", Span(figures, tone), Span(f" {check.unit}", "dim"))
        )
    return rows


def _side_by_side(
    look: Look, faces: Sequence[OnTable], found: Sequence[Pairing], width: int, height: int
) -> list[SpanRow]:
    """The part on each machine at one scale, the chosen one in bold, in the file's order."""
    units, several = look.result_units, len(faces) > 1
    wide = (width - _BETWEEN * (len(faces) - 1)) // len(faces)
    chosen, groups = faces[0], [each.group for each in found]
    faces = sorted(faces, key=lambda each: groups.index(each.group))
    below = [_below(look, each, wide, with_limits=several) for each in faces]
    heads = [_headed(look, each, wide, is_chosen=each is chosen) for each in faces]
    above = max(map(len, heads))
    high = max(_LEAST_DRAWN, height - above - max(map(len, below)))
    drawn = [from_above(each) for each in faces]
    scales = [mm_per_cell(face, wide, high, units) for face in drawn if face is not None]
    rows: list[SpanRow] = []
    for head, face, words in zip(heads, drawn, below, strict=True):
        block = [*head, *([row("")] * (above - len(head)))]
        if face is None:
            text = "Nothing to draw: enter the machine's table."
            block += paragraph(text, wide, "dim", 0)
        else:
            block += [_toned(line) for line in to_scale(face, max(scales), units)]
        block += words
        rows = _beside(rows, wide, block) if rows else block
    return rows


def _headed(look: Look, on_table: OnTable, wide: int, *, is_chosen: bool) -> list[SpanRow]:
    """Which part on which machine, and whether it fits."""
    fits = verdict(on_table.found, on_tables_size=_is_on_tables_size(look, on_table))
    tone: Tone = "loss" if not on_table.found.fits else "bold" if is_chosen else "plain"
    return paragraph(f"{on_table.part} on {on_table.group}: {fits}", wide, tone, 0)


def _below(look: Look, on_table: OnTable, wide: int, *, with_limits: bool) -> list[SpanRow]:
    """What the drawing's signs say, and its limits where several stand side by side."""
    assert look.chosen is not None
    units, resolved = look.result_units, look.checked.resolved[look.chosen]
    gap, edge = (resolved.origin("part", on_table.part, key) for key in ("gap", "edge"))
    told = legend(on_table, units, gap_assumed=gap.is_assumed, edge_assumed=edge.is_assumed)
    words = paragraph("   ".join(told), wide, "dim", 0)
    if not with_limits:
        return words
    limits = _limits(check_rows(on_table.found, units), wide, _resting(look, on_table.part))
    return [*words, *limits, *_lying(on_table, wide)]


def _toned(line: Drawn) -> SpanRow:
    return tuple(Span(text, _INKS[ink]) for text, ink in line)


def _beside(left: Sequence[SpanRow], wide: int, right: Sequence[SpanRow]) -> list[SpanRow]:
    """Rows of at most ``wide`` cells, a gap, and others at their right."""
    pairs = zip_longest(left, right, fillvalue=())
    return [
        (*here, Span(" " * (wide + _BETWEEN - sum(cell_len(span.text) for span in here))), *there)
        for here, there in pairs
    ]


def _pairings(look: Look) -> tuple[Pairing, ...]:
    return () if look.answer is None else pairings(look.answer.plan)
