"""Longer texts for the screen: help, what a value is, a scenario in words."""

from __future__ import annotations

from whatif.answers.cautions import to_be_read
from whatif.answers.compare import Answer, Comparison
from whatif.answers.meters.gain_range import gain_by_meters
from whatif.answers.per import Per
from whatif.screens.views.view import View
from whatif.session.hours import ATTENDED
from whatif.session.sheet import Cell, Mark
from whatif.study.check.check import Checked
from whatif.study.check.entries import known_instead, stands_for_table
from whatif.study.guesses import in_words
from whatif.study.raw import Path
from whatif.study.resolve import ASSUMED, GUESSED
from whatif.study.schema.catalogue import THINGS, dotted, key_for
from whatif.telling.table import percent_text, rows

KEYS = """\
Moving     arrows, Page up and down, Home, End; < > change the column
Editing    type a number over the value, or Enter edits it as it is;
           the gains follow while typing. Enter keeps, Escape goes
           back, Up and Down keep and move on. Days, breaks, sizes
           and machines open a form, words a list to choose from
Del        give the value back: the parent's holds again
Space      open or close the heading
n          add or take out machines, shifts, parts, stops, orders
a d x      add a scenario based on this one, duplicate it, remove it
n          machines, shifts, parts, stops, rush and real orders: add
           one; or copy, rename, take out, bring back the one here
e          this scenario: rename, base on another, notes
m          measure the gains against this scenario
u r l      undo, do again, the list of all changes to go back to
w F10      write the file
f          read the file again, as it is on disk now
o          open another study, or begin one
t          show or hide the tree of scenarios
/          find a row by a part of its name or its heading's;
           Down goes on to the next one
=          only rows in which the columns differ, or all again
h H        hide the column, show hidden ones; they are answered too
k          keep the column in sight at the left, or let it go (the
           reference is kept)
[ ]        move the column left or right, as Shift+Left, Shift+Right
+ -        wider, narrower columns; the mouse drags the gap beside one
p          figures per day, week, month or year
i          lengths, masses and areas as typed, metric or inch
c          copy the column as text; c again writes it into a file
paste      with your terminal's keys: a value a line, downwards
F1 F2 F3   this help, this scenario in words, problems of the file
F6         the list of views; F4, F5, F7 to F9 open one at once
Esc Tab    from a view back to the sheet; to its line of inputs
s          stop what a view works out, or go on with it
q          leave
Ctrl+P     every command by name, also "Save under another name"

After a value:  (nothing) entered here   ^ inherited   ~ assumed, or
                only entered as a start: entering it, the same value
                too, says that you know it   ! cannot be read
                - not used here (the line below the sheet says why)
In the strip:   ~ before a gain: its grain is still being worked out;
                "no difference": the gain is smaller than its grain,
                that is, than what one second more or less of
                people's times would change
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
        return stray_words(label, path, cell)
    if path[0] in THINGS:
        # Its heading may have scrolled away.
        label = f"{path[1]}: {label}"
    if not cell.exists:
        return f"{label}: {title} has no {path[0]} {path[1]}."
    if cell.text == "-":
        here = (
            f"not given ({key.default_words})" if key.default_words != "not given" else "not given"
        )
    else:
        is_default = cell.origin == ASSUMED.words
        origin = "assumed, nobody entered it" if is_default else cell.origin
        here = f"{cell.text}, {origin}"
    parts = [f"{label}, {title}: {key.kind.typed_as}.", f"Here {here}."]
    if cell.typed:
        # First, since a narrow screen cuts the end.
        parts = [f"{label}: {cell.text} is converted, typed is {cell.typed}.", *parts]
    if GUESSED in cell.origin:
        parts = [f"{label}: {cell.text}, {cell.origin}.", parts[0]]
    parent = checked.resolved[scenario].raw("parent")
    if cell.mark is Mark.ENTERED and isinstance(parent, str) and parent in checked.resolved:
        given = checked.resolved[parent].values.get(path)
        if given is not None and given.raw is not None and key.inherits:
            parent_title = scenario_title(checked, parent)
            parts.append(f"{parent_title} has {key.kind.written(given.raw)}.")
    if cell.unused:
        parts.append(f"Not used: {cell.unused}.")
    return " ".join(parts)


def stray_words(label: str, path: Path, cell: Cell) -> str:
    """What to do about a key that is not known."""
    if not cell.exists:
        return f"{label}: there is no such key, and nothing is entered here."
    meant = known_instead(path)
    hint = f" Did you mean {dotted(meant)}? Enter renames it." if meant is not None else ""
    return f"{label}: {stray_fault(path)}.{hint} Del takes it out."


def stray_fault(path: Path) -> str:
    """What is wrong with a key that is not known."""
    is_table = stands_for_table(path)
    return "it is one value, and a table is wanted" if is_table else "there is no such key"


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
    said = [in_words(answer.plan.notes.strip()), ""] if answer.plan.notes else []
    by_meters = gain_by_meters(answer, "the gain in saleable output", percent_text)
    if by_meters and answer.plan.scenario != reference:
        said += ["Hour meters", f"  {by_meters}", ""]
    if answer.limit is not None:
        said += ["What holds it back", f"  {answer.limit.text}", ""]
    if answer.warnings:
        said += ["Warnings", *(f"  {text}" for text in answer.warnings), ""]
    heeded = to_be_read(answer.cautions, answer.plan)
    if heeded:
        said += ["Cautions", *(f"  {text}" for text in heeded), ""]
    said += [f"Figures per {per.value}", *_figures(answer, reference, per, units), ""]
    for part, by_group in answer.plan.fits.items():
        for group, fit in by_group.items():
            is_checked = any(limit.state != "unchecked" for limit in fit.limits)
            fits = "fits" if is_checked else "not checked"
            verdict = f"{fits}, {fit.per_pallet} a load" if fit.fits else "does not fit"
            said += [f"{part} on {group}: {verdict}"]
            said += [f"  {limit.text}" for limit in fit.limits]
    if answer.plan.fits:
        said += [
            '  "Fits" is arithmetic on what was entered, no permission to load: the makers\''
            " limits decide.",
        ]
    return "\n".join(said) if said else "There is nothing to say of it yet."


def _figures(answer: Answer, reference: str, per: Per, units: str) -> list[str]:
    """Every figure of one scenario, a line each, as the reports have them."""
    alone = Comparison("", reference, {answer.plan.scenario: answer}, units)
    return [
        f"  {row.label + (', ' + row.unit if row.unit else ''):42} {row.cells[0]}"
        for row in rows(alone, per)
    ]
