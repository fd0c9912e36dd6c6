"""Longer texts for the screen: help, what a value is, a scenario in words."""

from __future__ import annotations

from whatif.answers.compare import Answer, Comparison
from whatif.answers.per import Per
from whatif.answers.table import rows
from whatif.screens.views.view import View
from whatif.session.hours import ATTENDED
from whatif.session.sheet import Cell, Mark
from whatif.study.catalogue import key_for
from whatif.study.check import Checked
from whatif.study.raw import Path

KEYS = """\
Moving       arrows, Page up and down, Home and End; < and > change the column
Editing      type a number over the value, or Enter to edit it as it is
             while typing the gains follow; Enter keeps, Escape goes back,
             Up and Down keep and move on
Del          give the value back: the parent's holds again
Space        open or close the heading
a d x        add a scenario based on this one, duplicate it, remove it
u r          undo, and do again
w or F10     write the file
t            show or hide the tree of scenarios
/            find a row by a part of its name or its heading's; Down the next one
=            only the rows in which the columns differ, or all again
h H          hide the column, show hidden ones; they are answered all the same
k            keep the column in sight at the left, or let it go (the reference is kept)
[ ]          move the column left or right, as Shift+Left and Shift+Right
+ -          wider and narrower columns; the mouse drags the gap beside a column
p            figures per day, week, month or year
i            lengths, masses and areas as typed, metric or inch
c            copy the column as text; c again writes it into a file
paste        with your terminal's keys: a value a line goes in from here downwards
F1 F2 F3     this help, this scenario in words, problems of the file
q            leave
Ctrl+P       every command by name

After a value:  (nothing) entered here   ^ inherited   ~ assumed   ! cannot be read
                - not used here (the line below the sheet says why)
In the strip:   ~ before a gain: its grain is still being worked out;
                "no difference": the gain is smaller than its grain, that is, than what
                one second more or less of people's times would change
"""


_VIEW_KEYS = """\
left right   another scenario's column, as < and > do
up down      scroll, as PgUp and PgDn do
Tab          to the line of inputs and back; there the arrows choose the value
0 to 9       type a new value into that line, Enter edits it; the view follows
F4           why this figure: its account, number by number; Esc comes back
s            stop what is being worked out, or go on with it
F6           the other views
Esc          close the view
"""


def view_words(view: View) -> str:
    """What a view answers, how it is read, its own keys and those of every view."""
    asks = f"It answers {view.asks}."
    own = f"\nIts keys\n{view.keys}\n" if view.keys else ""
    reads = " ".join(view.reads.split())
    every = f"In every view, where it has no other use for the key\n{_VIEW_KEYS}"
    return f"{asks}\n\n{reads}\n{own}\n{every}"


def value_words(checked: Checked, scenario: str, path: Path, label: str, cell: Cell) -> str:
    """What the chosen value takes, what it is and where it is from, in one line."""
    title = scenario_title(checked, scenario)
    if path == ATTENDED:
        return f"{label}, {title}: a time; moves the end of the last shift."
    key = key_for(path)
    if key is None:
        return label
    if not cell.exists:
        return f"{label}: {title} has no {path[0]} {path[1]}."
    if cell.text == "-":
        here = (
            f"not given ({key.default_words})" if key.default_words != "not given" else "not given"
        )
    else:
        origin = "assumed, nobody entered it" if cell.mark is Mark.ASSUMED else cell.origin
        here = f"{cell.text}, {origin}"
    parts = [f"{label}, {title}: {key.kind.typed_as}.", f"Here {here}."]
    if cell.typed:
        # First, since a narrow screen cuts the end.
        parts = [f"{label}: {cell.text} is converted, typed is {cell.typed}.", *parts]
    parent = checked.resolved[scenario].raw("parent")
    if cell.mark is Mark.ENTERED and isinstance(parent, str) and parent in checked.resolved:
        given = checked.resolved[parent].values.get(path)
        if given is not None and given.raw is not None and key.inherits:
            parent_title = scenario_title(checked, parent)
            parts.append(f"{parent_title} has {key.kind.written(given.raw)}.")
    if cell.unused:
        parts.append(f"Not used: {cell.unused}.")
    return " ".join(parts)


def meaning_words(path: Path) -> str:
    """What a value is and how a shop finds it."""
    if path == ATTENDED:
        return "Hours of the busiest day that some shift covers. Look at the shift plan."
    key = key_for(path)
    if key is None:
        return ""
    meaning = key.meaning[0].upper() + key.meaning[1:]
    return f"{meaning}. To find it: {key.how_to_find}"


def key_words(path: Path) -> str:
    """A value's key in the file, its default and what is allowed."""
    key = key_for(path)
    if key is None:
        return ""
    allowed = key.kind.allowed
    return f"In the file: {key.dotted}\nDefault: {key.default_words}\nAllowed: {allowed}"


def scenario_title(checked: Checked, scenario: str) -> str:
    """What to call a scenario."""
    raw = checked.resolved[scenario].raw("title")
    return raw if isinstance(raw, str) and raw else scenario


def scenario_words(
    answer: Answer, reference: str, per: Per = Per.WEEK, units: str = "metric"
) -> str:
    """A scenario in words: what holds it back, warnings, every figure, fit, cautions.

    ``per`` is the time that hours and pieces are told for, ``units`` what areas are shown in.
    """
    said = [answer.plan.notes.strip(), ""] if answer.plan.notes else []
    if answer.limit is not None:
        said += ["What holds it back", f"  {answer.limit.text}", ""]
    if answer.warnings:
        said += ["Warnings", *(f"  {text}" for text in answer.warnings), ""]
    said += [f"Figures per {per.value}", *_figures(answer, reference, per, units), ""]
    for part, by_group in answer.plan.fits.items():
        for group, fit in by_group.items():
            verdict = f"fits, {fit.per_pallet} a load" if fit.fits else "does not fit"
            said += [f"{part} on {group}: {verdict}"]
            said += [f"  {limit.text}" for limit in fit.limits]
    if answer.plan.fits:
        said += [
            '  "Fits" is arithmetic on what was entered, no permission to load: the makers\''
            " limits decide.",
            "",
        ]
    if answer.cautions:
        said += ["Cautions", *(f"  {text}" for text in answer.cautions)]
    return "\n".join(said) if said else "There is nothing to say of it yet."


def _figures(answer: Answer, reference: str, per: Per, units: str) -> list[str]:
    """Every figure of one scenario, a line each, as the reports have them."""
    alone = Comparison("", reference, {answer.plan.scenario: answer}, units)
    return [
        f"  {row.label + (', ' + row.unit if row.unit else ''):42} {row.cells[0]}"
        for row in rows(alone, per)
    ]


def problems_words(checked: Checked) -> str:
    """All problems of a study, one a paragraph; warnings after them."""
    said = [problem.sentence for problem in checked.problems]
    said += [f"Warning: {warning.sentence}" for warning in checked.warnings]
    return "\n\n".join(said) if said else "There are no problems and no warnings."
