"""The desk's hands on columns of text: copied out of the sheet, pasted into it."""

from __future__ import annotations

from pathlib import Path as FilePath

from whatif.screens.desk.change_hands import ChangeHands
from whatif.screens.desk.command import Command
from whatif.screens.dialogs.dialogs import Ask, Name, Reading
from whatif.screens.widgets.editor import Editor
from whatif.screens.widgets.finder import Finder
from whatif.session.column_text import Pasting, column_text, is_column, pasting, write_new
from whatif.session.sheet import Line
from whatif.study.file.reading import StudyError

COMMANDS = (
    Command("copy", "Copy the column as text", "twice: into a file", "c"),
    Command("write_column", "Write the column into a file", "as text"),
    Command("paste", "Paste what was copied", "one value a row, downwards", "ctrl+v", "Ctrl+V"),
)

_TOLD = 8
"""Changes that are told before pasting; of more only their number."""


class CopyHands(ChangeHands):
    """What goes out of the sheet as text and comes in as text."""

    _copied = ""
    """What was copied last, for copying once more to ask for a file."""

    def action_copy(self) -> None:
        """Copy the chosen column as text; once more writes it into a file."""
        self.close_editor(keep=True)
        scenario, text = self.chosen, self._column_text()
        if scenario is None:
            return
        if text == self._copied:
            self.action_write_column()
            return
        self._copied = text
        self.app.copy_to_clipboard(text)
        count = sum(isinstance(row, Line) for row in self._rows)
        # Whether the terminal takes it cannot be known; short enough for 80 columns.
        self.notice = f"Copied {count} rows as typed. Not in your clipboard? c again writes a file."
        self.repaint()

    def _column_text(self) -> str:
        scenario = self.chosen
        if scenario is None:
            return ""
        title = self.session.shown.scenario(scenario).title
        return column_text(self.session.checked, scenario, title, self._rows)

    def action_write_column(self) -> None:
        """Write the chosen column into a file of its own."""
        self.close_editor(keep=True)
        scenario, text = self.chosen, self._column_text()
        if scenario is None:
            return
        path = self.session.path
        name = str(path.with_name(f"{path.stem}-{scenario}.txt"))
        self.app.push_screen(
            Name("Write the column as text into which file?", name),
            lambda answer: self._write(answer, text),
        )

    def _write(self, name: str | None, text: str) -> None:
        if not name:
            return
        try:
            write_new(FilePath(name), text)
        except StudyError as fault:
            self.notice = str(fault)
        else:
            self.notice = f"Written into {name}."
        self.repaint()

    def action_paste(self) -> None:
        """Paste what was copied in this program."""
        text = self.app.clipboard
        if not text:
            self.notice = "Nothing has been copied here; paste with your terminal's own keys."
            self.repaint()
            return
        self.paste(text)

    def paste(self, text: str) -> None:
        """Take what was pasted: one value over the chosen one, more of them downwards."""
        editor, finder = self.query_one(Editor), self.query_one(Finder)
        line = (text.strip().splitlines() or [""])[0].strip()
        if editor.is_open:
            editor.insert_text_at_cursor(line)
        elif finder.is_open:
            finder.insert(line)
        elif is_column(text):
            self._paste_column(text)
        elif line:
            self.type_over(line)

    def _paste_column(self, text: str) -> None:
        scenario = self.chosen
        rows = [row for row in self._rows[self._row :] if isinstance(row, Line)]
        if scenario is None:
            return
        self.notice = ""
        found = pasting(self.session, scenario, rows, text)
        title = self.session.shown.scenario(scenario).title
        if found.wrong:
            self.app.push_screen(
                Reading(f"Nothing is pasted into {title}", "\n\n".join(_wrong_words(found)))
            )
        elif found.edit is None:
            self.notice = f"Nothing to paste into {title}: {_same_words(found)}."
            self.repaint()
        else:
            edit = found.edit
            self.app.push_screen(
                Ask(_question(found, title), {"y": "yes, all of them"}, safe="n"),
                lambda answer: self.do(edit) if answer == "y" else None,
            )


def _values(count: int) -> str:
    return f"{count} value{'' if count == 1 else 's'}"


def _same_words(found: Pasting) -> str:
    return f"{_values(found.same)} there already" if found.same else "there is no value in it"


def _question(found: Pasting, title: str) -> str:
    count = len(found.changes)
    said = [f"Change {_values(count)} in {title}?"]
    said += [f"  {one}" for one in found.changes[:_TOLD]]
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
