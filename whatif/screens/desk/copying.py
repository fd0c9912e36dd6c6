"""Columns of text: copied out of the sheet, pasted into it."""

from __future__ import annotations

from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from whatif.screens.dialogs.ask import AskLine
from whatif.screens.dialogs.reading import ReadText
from whatif.screens.widgets.drawing import cut
from whatif.session.column_text import Pasting, column_text, is_column, pasting, write_new
from whatif.session.sheet import Line
from whatif.study.file.reading import StudyError
from whatif.telling.refusals import refusal_words

if TYPE_CHECKING:
    from whatif.screens.desk.changes import Changes
    from whatif.screens.desk.entering import Entering
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState

_SAID = 16
"""Cells of a text that is told as being no value."""

_TOLD = 8
"""Changes that are told before pasting; of more only their number."""


class Copying:
    """What goes out of the sheet as text and comes in as text."""

    def __init__(
        self, state: DeskState, host: DeskHost, changes: Changes, entering: Entering
    ) -> None:
        self._state = state
        self._host = host
        self._changes = changes
        self._entering = entering
        self._copied = ""
        """What was copied last, for copying once more to ask for a file."""

    def copy(self) -> None:
        """Copy the chosen column as text; once more writes it into a file."""
        self._host.settle()
        scenario = self._state.chosen
        if scenario is None:
            return
        text = self._column_text(scenario)
        if text == self._copied:
            self.write_column()
            return
        self._copied = text
        self._host.program.copy_to_clipboard(text)
        count = sum(isinstance(row, Line) for row in self._state.rows)
        # Whether the terminal takes it cannot be known; short enough for 80 columns.
        self._host.say(
            f"Copied {count} rows as typed. Not in your clipboard? c again writes a file."
        )

    def _column_text(self, scenario: str) -> str:
        state = self._state
        return column_text(state.session.checked, scenario, state.title(scenario), state.rows)

    def write_column(self) -> None:
        """Write the chosen column into a file of its own."""
        self._host.settle()
        scenario = self._state.chosen
        if scenario is None:
            return
        text, path = self._column_text(scenario), self._state.session.path
        name = str(path.with_name(f"{path.stem}-{scenario}.txt"))
        self._host.lay_over(
            AskLine("Write the column as text into which file?", name),
            lambda answer: self._write(answer, text),
        )

    def _write(self, name: str, text: str) -> None:
        try:
            write_new(FilePath(name), text)
        except StudyError as fault:
            self._host.refuse(refusal_words(fault))
        else:
            self._host.say(f"Written into {name}.")

    def paste_copied(self) -> None:
        """Paste what was copied in this program."""
        text = self._host.program.clipboard
        if text:
            self.paste(text)
        else:
            self._host.say("Nothing has been copied here; paste with your terminal's own keys.")

    def paste(self, text: str) -> None:
        """Take what was pasted: one value over the chosen one, more of them downwards."""
        line = (text.strip().splitlines() or [""])[0].strip()
        if self._host.insert(line):
            return
        if is_column(text):
            self._paste_column(text)
        elif line:
            self._entering.type_over(line)

    def paste_unmarked(self, text: str) -> None:
        """The same of lines that came as keys: what is no column of values changes nothing."""
        if self._state.view is None:
            self._paste_column(text)
            return
        said = cut(" ".join(text.split()), _SAID).rstrip()
        self._host.refuse(f'Not taken: "{said}" came all at once; values are pasted in the sheet.')

    def _paste_column(self, text: str) -> None:
        state, scenario = self._state, self._state.chosen
        if scenario is None:
            return
        state.notice = ""
        lines = [row for row in state.rows[state.row :] if isinstance(row, Line)]
        found = pasting(state.session, scenario, lines, text)
        title = state.title(scenario)
        if found.wrong:
            said = "\n\n".join(_wrong_words(found))
            self._host.lay_over(ReadText(f"Nothing is pasted into {title}", said))
        elif found.edit is None:
            self._host.say(f"Nothing to paste into {title}: {_same_words(found)}.")
        else:
            self._changes.do_if_yes(_question(found, title), "yes, all of them", found.edit)


def _values(count: int) -> str:
    return f"{count} value{'' if count == 1 else 's'}"


def _same_words(found: Pasting) -> str:
    return f"{_values(found.same)} there already" if found.same else "there is no value in it"


def _question(found: Pasting, title: str) -> str:
    count = len(found.changes)
    said = [f"Change {_values(count)} in {title}?"]
    said += [f"  {change}" for change in found.changes[:_TOLD]]
    if count > _TOLD:
        said.append(f"  and {count - _TOLD} more")
    if found.same:
        said.append(f"{_values(found.same)} there already.")
    if found.beyond:
        said.append(f"Below the last row, and left out: {_values(found.beyond)}.")
    if found.odd:
        more = f", and {len(found.odd) - 1} more such" if len(found.odd) > 1 else ""
        said.append(f"Mind the rows: {found.odd[0]}{more}.")
    return "\n".join(said)


def _wrong_words(found: Pasting) -> list[str]:
    return [
        f"Of {_values(found.values)} these are wrong. Mend them where they come from and paste "
        "again: all go in together or none.",
        *found.wrong,
    ]
