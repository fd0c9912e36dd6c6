"""What the desk's widgets are given to draw, and what its lines say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len

from whatif.records import dataclass
from whatif.screens.desk.state import REFUSED, DeskState, Typing
from whatif.screens.views.all import BY_NAME
from whatif.screens.widgets.drawing import cut, whole_words, wrap, wrapped
from whatif.screens.widgets.sheet import SheetState
from whatif.screens.widgets.strip import NO_ANSWER, WAITING, Room, StripState, room_for
from whatif.screens.widgets.tabs import TabsState
from whatif.screens.widgets.titled_rule import RuleState
from whatif.screens.widgets.tree import TreeState
from whatif.session.hours import shift_text
from whatif.session.sheet import AS_TYPED, Heading
from whatif.study.typed import is_begun
from whatif.telling.next_step import next_step, standing
from whatif.telling.sheet_cell import (
    LEGEND,
    about_value,
    asked_for,
    meaning_words,
    or_typed,
    takes_words,
)

if TYPE_CHECKING:
    from whatif.answers.answer import Answer
    from whatif.screens.desk.calculation import Calculation
    from whatif.study.raw import Path

NO_SCENARIO = "No scenario yet: press a to add one."
NO_ROW = "Nothing differs between these columns; = shows all rows again."
"""What is said where there is nothing to stand on."""

SIDE_BY_SIDE = 110
"""Columns from which the tree stands beside the sheet without being asked for."""


def strip_room(height: int) -> Room:
    """How much of the strip there is room for on so many lines."""
    return room_for(height)


def strip_state(state: DeskState, calculation: Calculation, height: int) -> StripState:
    """What the strip of results draws."""
    return StripState(
        columns=state.columns,
        ids=state.ids,
        titles=state.titles,
        reference=state.shown.reference_id,
        cursor=state.column,
        answers=calculation.current(),
        room=strip_room(height),
        blank=_blank(state),
        per=state.arrangement.per,
        hidden=len(state.arrangement.out_of_sight(state.shown.ids)),
        against=_hidden_reference(state),
    )


def _hidden_reference(state: DeskState) -> str:
    """The reference's title where its column, which says so, is hidden; "" where it is not."""
    draft, reference = state.shown, state.shown.reference_id
    is_hidden = reference is not None and draft.has(reference) and reference not in state.ids
    return draft.scenario(reference).title if reference is not None and is_hidden else ""


def tree_state(state: DeskState, calculation: Calculation) -> TreeState:
    """What the tree of scenarios draws."""
    draft = state.shown
    answers = calculation.current()
    return TreeState(state.branches, state.chosen, draft.reference_id, answers, _blank(state))


def tabs_state(state: DeskState, calculation: Calculation) -> TabsState:
    """What is drawn of the scenarios above a view."""
    return TabsState(
        columns=state.columns,
        on_grid=state.view is not None and state.view.in_columns,
        ids=state.ids,
        titles=state.titles,
        chosen=state.looked_at,
        reference=state.shown.reference_id,
        answers=calculation.current(),
        blank=_blank(state),
    )


def _blank(state: DeskState) -> str:
    """What stands in the place of figures that are not there."""
    return WAITING if state.session.checked.is_sound else NO_ANSWER


def sheet_state(state: DeskState) -> SheetState:
    """What the sheet of inputs draws."""

    def heading_note(heading: Heading) -> str:
        if heading.place not in state.spot.folded:
            return _shift_note(state, heading.place[1]) if heading.place[0] == "shift" else ""
        count = sum(line.place == heading.place for line in state.differing())
        return f"{count} differ" if count else ""

    return SheetState(
        columns=state.columns,
        ids=state.ids,
        rows=state.rows,
        folded=state.spot.folded,
        row=state.row,
        column=state.column,
        cell=state.cell,
        heading_note=heading_note,
        empty=f"  {NO_ROW}",
    )


def _shift_note(state: DeskState, shift: str) -> str:
    """When a shift runs, in the columns in sight."""
    resolved = state.session.checked.resolved
    ids = (state.ids[column] for column in state.columns.visible)
    return shift_text([resolved[id_] for id_ in ids if id_ in resolved], shift)


def rule_state(answer: Answer | None) -> RuleState:
    """The rule below the strip: how many cautions and warnings the chosen scenario calls for."""
    beware = in_short = ""
    if answer is not None:
        from whatif.telling.warnings import warnings_of

        of = ((answer.cautions, "caution"), (warnings_of(answer), "warning"))
        counts = [
            f"{len(texts)} {word}{'s' if len(texts) > 1 else ''}" for texts, word in of if texts
        ]
        beware = f"! {', '.join(counts)}: F2" if counts else ""
        in_short = "! see F2" if counts else ""
    return RuleState("inputs", beware, LEGEND, in_short)


@dataclass(frozen=True, slots=True)
class HeadMarks:
    """What the first line tells beside the study.

    ``status`` is how far the answers are, ``kept`` whether what is not saved is safe, ``file``
    what has become of the study's file; each "" where there is nothing to tell.
    """

    status: str = ""
    kept: str = ""
    file: str = ""


def head_line(state: DeskState, marks: HeadMarks, width: int, weeks: int | None) -> str:
    """The first line: the study, what is not saved, against what and for what time is told.

    ``weeks`` are those measured, which settle only while they are; None where there are none.
    """
    session, draft = state.session, state.shown
    title = str(draft.head.get("title") or session.path.name)
    count = session.unsaved
    changes = f"{count} change{'s' if count > 1 else ''} not saved"
    unsaved = (f"  {changes}{marks.kept}" if count else "") + marks.file
    reference = draft.reference_id
    against = draft.scenario(reference).title if reference and draft.has(reference) else "?"
    otherwise = _otherwise(state)
    # What is marked must be seen, and so must what study it is: the reference's name gives way.
    # Without room for all of it, it is left out: the reference's own column says what it is. Where
    # that is hidden the study's name gives way first.
    least = " " * min(4 if _hidden_reference(state) else 16, cell_len(title))
    right_side, room = "", 0
    # How many weeks are simulated gives way before it.
    for each in (weeks, None):
        per = state.arrangement.per_words(
            each, roomy=width >= SIDE_BY_SIDE, in_view=state.view is not None
        )
        right_side = f"{_status_words(state, marks.status)}{per} "
        room = width - cell_len(f" {least}{unsaved}   against:   {otherwise}{right_side}")
        if room >= cell_len(against):
            break
    told = f"   against: {against}" if room >= cell_len(against) else ""
    behind = f"{unsaved}{told}  {otherwise}"
    room = width - cell_len(behind) - len(right_side) - 1
    name = cut(title, max(4, min(cell_len(title), room)))
    return cut(f" {name}{behind}", max(0, width - len(right_side))) + right_side


def _otherwise(state: DeskState) -> str:
    """What of the study is shown otherwise than it stands there."""
    arrangement = state.arrangement
    said = "only differences  " if arrangement.only_differing else ""
    return said + (f"in {arrangement.units}  " if arrangement.units != AS_TYPED else "")


def _status_words(state: DeskState, status: str) -> str:
    count = len(state.session.checked.problems)
    if count:
        return f"{count} problem{'s' if count > 1 else ''}: F3   "
    return f"{status}   " if status else ""


def info_lines(
    state: DeskState, width: int, *, high: bool, below: int = 0, answer: Answer | None = None
) -> str:
    """The lines at the bottom: what is wrong, or what was done last and what the value is.

    What is wrong or refused begins with :data:`REFUSED`, behind the cell at the edge.

    Args:
        below: rows of the open view that stand below those that are seen.
        answer: of the chosen scenario, None while it is worked out.
    """
    if state.view is not None:
        return _beside_view(state, width, below)
    wrong = "" if state.typing is None else _wrong(state.typing)
    refused = f"{REFUSED}{wrong}" if wrong else state.notice
    is_refused = refused.startswith(REFUSED)
    room = max(10, width - 2)
    lines = [refused] if is_refused else _info_of(state, room, 2 if high else 1, answer)
    if len(lines) > 1 and not high and cell_len(lines[0]) > room:
        lines = lines[:1]  # It is told whole; what the value means stands in the help too.
    each = 2 if high or len(lines) == 1 else 1
    lines = [_with_room_for_keys(text, room, each) for text in lines]
    told = (part for text in lines for part in whole_words([text], room, each, _MORE))
    return "\n".join(f" {cut(part, room)}" for part in told)


_MORE = " More: F1"
"""Behind as much of a value as there is room for: the help has all of it."""


def _with_room_for_keys(notice: str, room: int, lines: int) -> str:
    """A notice with the keys in brackets behind it, or only the first of them, or none.

    So much as is read whole: what they do stands in the line of keys too.
    """
    said, hint, keys = notice.rpartition("  (")
    if not hint or not keys.endswith(")"):
        return notice
    first = keys.removesuffix(")").partition("; ")[0]
    texts = (notice, f"{said}{hint}{first})", said)
    return next((text for text in texts if len(wrap(text, room)) <= lines), said)


def _wrong(typing: Typing) -> str:
    """What is wrong with what is typed; nothing while it may still become a share."""
    return "" if is_begun(typing.tried) else typing.wrong


def asked_in_view(state: DeskState) -> str:
    """What stands before a value that is typed over below a view: its name, and whose it is."""
    typing, line = state.typing, state.line
    if typing is None or line is None:
        return ""
    # In a view there is no heading that says of which part or machine it is.
    of = f" of {line.path[1]}" if len(line.path) > 2 else ""
    return f" {line.label}{of}, {state.title(typing.scenario)}: "


def more_below(below: int) -> str:
    """That a view goes on below what is seen of it, and how to get there; "" where it does not."""
    if not below:
        return ""
    return f"{below} more line{'s' if below > 1 else ''} below: PgDn scrolls."


def _beside_view(state: DeskState, width: int, below: int) -> str:
    """The lines below a view: what is typed over and what it takes, or what was done last.

    Where nothing was it is how much of the view is not seen, and the question that it answers.
    """
    typing, line, view = state.typing, state.line, state.view
    assert view is not None
    room = max(10, width - 2)
    if typing is None or line is None:
        more, asks = more_below(below), BY_NAME[view.name].answers
        both = f"{more}  {asks}".strip()
        said = state.notice or (both if not more or cell_len(both) <= room else more)
        # A notice is read whole, if on two lines.
        said = _with_room_for_keys(said, room, 2)
        return "\n".join(f" {cut(line, room)}" for line in wrapped(said, room, 2) if line)
    wrong = _wrong(typing)
    told = f"{REFUSED}{wrong}" if wrong else state.notice
    # Whole sentences: what ends in the midst of one leaves open what it meant.
    (said,) = whole_words([told or takes_words(line.path)], room, 1, "" if told else _MORE)
    return f"{asked_in_view(state)}\n {cut(said, room)}"


def _fewer(answer: Answer, path: Path) -> str:
    """What stands before a value that enters more pieces than fit; "" before others."""
    if path[-1] != "per_pallet":
        return ""
    from whatif.telling.fit import fewer_sentence  # no other value needs it

    said = fewer_sentence(answer, path)
    return f"{said} " if said else ""


def _info_of(state: DeskState, width: int, lines: int, answer: Answer | None) -> list[str]:
    """What was done last or what the chosen value takes; then what the value means.

    What is too long for so many lines is told in brief; the help has the whole of it.
    """
    room = lines * width
    line, scenario = state.line, state.chosen
    if scenario is None:
        return [state.notice or NO_SCENARIO]
    checked = state.session.checked
    resolved = checked.resolved[scenario]
    step = next_step(state.shown, resolved)
    if line is None:
        return [state.notice or step or "Space opens or closes the heading.", ""]
    about = standing(state.shown, resolved, line.path) or meaning_words(line.path)
    if cell_len(about) > room and about == meaning_words(line.path):
        about = meaning_words(line.path, brief=True)
    if not step or state.typing is not None:
        cell = state.cell(scenario, line.path)
        asked = (checked, scenario, line.path, line.label, cell)
        before = "" if answer is None or state.typing else _fewer(answer, line.path)
        step = before + about_value(*asked)
        if cell_len(step) > room:
            step = before + about_value(*asked, brief=True)
        if len(wrap(step, width)) > 2:
            step = before + about_value(*asked, brief=True, terse=True)
        if state.typing is not None:
            # What the value means stays in sight below it.
            # What else may be typed stands before it where there is room for both, and where
            # a sign has been typed that begins it.
            also, takes = or_typed(line.path), asked_for(line.path, line.label)
            both = f"{also} {step}".lstrip()
            first = (both, also) if is_begun(state.typing.tried) else (both,)
            texts = (each for each in (*first, step, *takes) if each and cell_len(each) <= room)
            step = next(texts, None) or cut(step, room)
    return [state.notice or step, about]
