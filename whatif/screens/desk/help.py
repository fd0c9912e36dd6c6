"""What is laid out to be read: the keys, the value and the view here, the scenario in words."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from whatif.screens.dialogs.reading import ReadText
from whatif.screens.views.all import BY_NAME
from whatif.screens.widgets.drawing import Seen, wrap
from whatif.telling.in_words import scenario_words
from whatif.telling.sheet_cell import help_words
from whatif.telling.signs import DESK, signs_told

if TYPE_CHECKING:
    from whatif.screens.desk.calculation import Calculation
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState
    from whatif.screens.views.view import Look, View

_KEYS_WRAPPED = """\
Moving     arrows, Page up and down, Home, End; < > change the column;
           the bar at the right edge tells how far down one is
Editing    type a number over the value, or Enter edits it as it is;
           the gains follow while typing. Enter keeps and goes down,
           Tab goes right, Escape goes back. Enter twice confirms
           what is only assumed. A bare number has the unit that
           stands there. Days, breaks, sizes and machines open a
           form, words a list to choose from
-20 % +10 %  over a number or a time takes a share of what stands
           there off or puts it on, and enters what that comes to; over
           a percentage +5 % is 5 %, as ever
* before it  does the same to that row of all parts (machines, shifts,
           stops, orders) of the column at once: * 45 min, * -20 %;
           what a part does not use stays
Del        give the value back: the parent's holds again
Space      open or close the heading
a d x      add a scenario based on this one, duplicate it, remove it
n          machines, shifts, parts, stops, rush and real orders: add
           one; or copy, rename, remove, restore the one here
e          this scenario: rename, base on another, notes
m          measure the gains against this scenario
y          the study as a whole: weeks, runs, how well times are known
u r l      undo, do again, the list of all changes to go back to
w F10      write the file; "safe" behind the number of changes that are
           not saved: they are kept on the disk, no crash loses them
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
{ }        narrower, wider columns; the mouse drags the gap beside one
p          figures per day, week, month or year
i          lengths, masses and areas as typed, metric or inch
c          copy the column as text; c again writes it into a file
paste      with your terminal's keys: a value a line, downwards
F1 F2 F3   this help, summary of this scenario, problems of the file
F6         the list of views; F4, F5, F7 to F9 open one at once
Esc        from a view back to the sheet
s          stop what a view works out, or go on with it
q          leave
Ctrl+P     every command by name, also "Save under another name"
"""

KEYS = re.sub(r"\n {2,}", " ", _KEYS_WRAPPED)
"""All keys of the desk, a line each, however long."""


_VIEW_KEYS = """\
left right   another scenario, as < and > do
up down      scroll, as PgUp and PgDn do
PgUp PgDn    scroll in any case where lines are out of sight
Home End     to its first and its last line there
F4           why this figure: its account, number by number; Esc comes back
s            stop what is being worked out, or go on with it
F6           the other views
Esc          close the view
"""


def sign_words(seen: Seen, view: str = DESK) -> str:
    """The signs and colours that are on the screen, a line each or some."""
    lines = ["Signs and colours on this screen" if seen.coloured else "Signs on this screen"]
    for shown, says in signs_told(seen.text, seen.tones, view, coloured=seen.coloured):
        lines += entry_lines(shown, says)
    return "\n".join([*lines, ""])


def entry_lines(shown: str, says: str) -> list[str]:
    """What a sign says, behind it; where it is longer than most it takes of its first line."""
    gap = "  " if len(shown) > _SIGN else " "
    first, *more = wrap(f"{shown:<{_SIGN}}{gap}{says}", _ROOM)
    rest = wrap(" ".join(more), _ROOM - len(_UNDER)) if more else []
    return [first, *(_UNDER + line for line in rest)]


_ROOM, _SIGN = 70, 18
"""Cells of a line of the help, and those of a sign before what it says."""

_UNDER = " " * (_SIGN + 1)


def view_words(view: View, look: Look, seen: Seen) -> str:
    """What a view answers, what is on it, how it is read, its own keys and those of every view.

    What is on it comes first: that is what somebody looks up who has begun to read.
    """
    told = [f"{each.shown:<12} {each.does}" for each in view.own_keys(look)]
    keys = "\n".join([*told, *view.keys.splitlines()])
    own = f"\nIts keys\n{keys}\n" if keys else ""
    signs = sign_words(seen, view.name)
    reads = " ".join(view.how_read(seen.text).split())
    every = f"In every view, where it has no other use for the key\n{_VIEW_KEYS}"
    names = view.named(look, seen.text)
    lines = [line for name, says in names for line in entry_lines(name, says)]
    named = "\n".join(["", "Inputs named on this screen", *lines, ""]) if lines else ""
    return f"{BY_NAME[view.name].answers}\n\n{signs}{named}\n{reads}\n{own}\n{every}"


def summary_help(said: str, *, coloured: bool) -> str:
    """The signs and words of a scenario in words, and how it is read: none of the desk below it."""
    signs = sign_words(Seen(said, frozenset({"title"}), coloured), "summary")
    return f"{signs}\n{_SUMMARY_KEYS}"


_SUMMARY_KEYS = """\
up down, PgUp PgDn   scroll; Home and End go to its ends
F3                   problems of the file
Esc                  back
"""


class Help:
    """What is read and changes nothing."""

    def __init__(self, state: DeskState, host: DeskHost, calculation: Calculation) -> None:
        self._state = state
        self._host = host
        self._calculation = calculation

    def read(self) -> None:
        """What the open view says; what the value under the cursor is; the keys."""
        line, view = self._state.line, self._state.view
        if view is not None:
            said = view_words(view, self._calculation.look(), self._host.drawn)
            self._host.lay_over(ReadText("Help", f"{said}\n{KEYS}"))
            return
        about = ""
        if line is not None:
            about = "\n".join(filter(None, (line.label, help_words(line.path)))) + "\n\n"
        self._host.lay_over(ReadText("Help", f"{about}{sign_words(self._host.drawn)}\n{KEYS}"))

    def read_scenario(self) -> None:
        """The chosen scenario in words."""
        state = self._state
        answers = self._calculation.current()
        answer = answers.get(state.chosen or "")
        if answer is None:
            self._host.say("Its answer is being worked out.")
            return
        reference = state.shown.reference_id or ""
        said = scenario_words(
            answer,
            reference,
            state.arrangement.per,
            state.result_units,
            state.title(reference) if reference else "the reference",
            answers.get(reference),
        )
        told = summary_help(said, coloured=self._host.drawn.coloured)
        self._host.lay_over(ReadText(answer.plan.title, said, under_headings=True, told=told))
