"""One study being changed: trial edits, kept edits, undo, saving. Knows nothing of a screen."""

from __future__ import annotations

from collections.abc import Hashable, Iterator
from dataclasses import replace
from enum import Enum
from itertools import chain
from operator import is_not
from pathlib import Path as FilePath
from typing import TYPE_CHECKING

from whatif.records import dataclass
from whatif.session.history import History, Step
from whatif.session.hours import attended_edit, attended_text
from whatif.session.sheet import AS_TYPED, editable_text, result_units
from whatif.study.check.check import Checked, check
from whatif.study.file.reading import FileRead, StudyError, fingerprint, read_bytes, read_file
from whatif.study.resolve import GIVEN_BACK, resolve
from whatif.study.schema.catalogue import key_for
from whatif.study.schema.kinds import KindError, Time
from whatif.study.typed import (
    alike,
    all_alike,
    is_nothing_there,
    share_typed_over,
    taken,
    takes_all,
    typed_for_all,
)
from whatif.telling.sheet_cell import ATTENDED
from whatif.units import Dimension, share_of, share_typed

if TYPE_CHECKING:
    from whatif.study.draft import Draft
    from whatif.study.edits import Edit, SetValue
    from whatif.study.file.writing import Written
    from whatif.study.problem import Problem
    from whatif.study.raw import Path, Raw

NO_FILE = ""
"""In the place of a fingerprint: no file holds the study yet."""

_CHECKS_KEPT = 4
"""What has been kept, what is being typed, and one step back from each."""


class OnDisk(Enum):
    """What has become of the file of a study while it was worked on."""

    SAME = "same"
    CHANGED = "changed"
    GONE = "gone"


@dataclass(frozen=True, slots=True)
class TypedTrial:
    """An edit that is being typed and would be valid, but has not been kept."""

    edit: Edit
    draft: Draft


class Session:
    """A study, its file, and everything that was done to it since it was opened.

    Attributes:
        path: the study's file; where it needs a name, the name that is proposed for it.
        needs_name: whether saving has to ask for a name: of a new study, and of a demo's copy.
        draft: what has been kept.
        revision: changes whenever :attr:`shown` does; answers are matched by it.
        base: the fingerprint of the file that the changes are changes of; NO_FILE where none is.
    """

    def __init__(self, read: FileRead) -> None:
        self.path: FilePath = read.path
        self.needs_name = False
        self.draft = read.draft
        self.history = History()
        self.revision = 1
        self.base = read.fingerprint
        self._saved: Draft | None = read.draft
        self._saved_after: tuple[Step, ...] = ()
        """What had been done by then."""
        self._unsaved: tuple[tuple[Draft, History, Draft | None], int] | None = None
        self._trial: TypedTrial | None = None
        self._checks: list[tuple[Draft, Checked]] = []

    @classmethod
    def begun(
        cls, draft: Draft, path: FilePath, *, needs_name: bool, is_work: bool = False
    ) -> Session:
        """A study that no file holds yet.

        ``is_work`` tells that the draft itself would be a loss, were it not saved.
        """
        session = cls(FileRead(path, draft, NO_FILE))
        session.needs_name = needs_name
        if is_work:
            session._saved = None
        return session

    # -- what is there -----------------------------------------------------------------

    @property
    def shown(self) -> Draft:
        """The draft on the screen: the trial's while something valid is being typed."""
        return self.draft if self._trial is None else self._trial.draft

    @property
    def checked(self) -> Checked:
        """The check of what is shown."""
        return self.check_of(self.shown)

    def check_of(self, draft: Draft) -> Checked:
        """The check of a draft, made once for each of the latest few.

        What has been kept and what is being typed are asked for again and again, by the session
        itself and by all that is drawn after a key.
        """
        if self._checks and self._checks[0][0] is draft:
            return self._checks[0][1]
        kept = next((pair for pair in self._checks if pair[0] == draft), None)
        if kept is not None:
            self._checks.remove(kept)
        latest = kept or (draft, check(draft))
        self._checks = [latest, *self._checks[: _CHECKS_KEPT - 1]]
        return latest[1]

    @property
    def is_saved(self) -> bool:
        """Whether the file holds what has been kept."""
        return self.draft == self._saved

    @property
    def is_in_file(self) -> bool:
        """Whether the study has a file of its own, as it is or as it was."""
        return self.base != NO_FILE and not self.needs_name

    @property
    def is_unwritten(self) -> bool:
        """Whether no file has ever held this study, and it would be a loss."""
        return self._saved is None

    @property
    def unsaved(self) -> int:
        """How many kept changes the file does not have; 0 where it holds the same.

        What was undone since it was saved counts too. Where no file holds the study yet, that it
        was begun is a change itself.
        """
        of, known = (self.draft, self.history, self._saved), self._unsaved
        if known is None or any(map(is_not, known[0], of)):
            known = self._unsaved = of, self._changes_unsaved()
        return known[1]

    def _changes_unsaved(self) -> int:
        if self.is_saved:
            return 0
        here = len(self.history.done)
        if self._saved is None:
            return here + 1
        drafts = [*(step.before for step in self.history.steps[:1])]
        drafts += [step.after for step in self.history.steps]
        ways = [abs(here - place) for place, each in enumerate(drafts) if each == self._saved]
        if ways:
            return min(ways)
        # Changes undone and then done otherwise have taken the saved state out of the history.
        return _apart(self.history.done, self._saved_after)

    # -- typing ------------------------------------------------------------------------

    def type(self, scenario: str, path: Path, text: str, over: str = "") -> str:
        """Try what is being typed into a value; nothing is kept yet.

        ``over`` is what stands there on the screen, where that may be in other units than typed.
        Returns what is wrong with it, in words. While it is wrong the last state holds.
        """
        from whatif.study.edits import EditError
        from whatif.telling.problems import problem_in_short
        from whatif.telling.refusals import refusal_words

        try:
            edit = self.edit_for(scenario, path, text, over=over)
            draft = edit.apply(self.draft)
        except EditError as fault:
            self.drop()
            return refusal_words(fault)
        added = self.new_problems(draft)
        if added:
            self.drop()
            return problem_in_short(added[0])
        self._show(TypedTrial(edit, draft))
        return ""

    def keep(self) -> str:
        """Keep the trial as a change that can be undone; its name, "" where nothing changed."""
        trial, self._trial = self._trial, None
        if trial is None or trial.draft == self.draft:
            return ""
        self.revision -= 1  # what is kept is on the screen already
        return self._done(trial.edit, trial.draft)

    def drop(self) -> None:
        """Go back from the trial to what has been kept."""
        if self._trial is not None:
            changed = self._trial.draft != self.draft
            self._trial = None
            self.revision += changed

    def set_aside(self) -> bool:
        """Go back as with :meth:`drop`, but so that :meth:`redo` takes the trial up again.

        Over a slow line an arrow key may arrive as an Escape; what was typed is not lost by it.
        """
        trial = self._trial
        self.drop()
        if trial is None or trial.draft == self.draft or self.history.undone:
            return False
        step = Step(trial.edit.says(self.draft), self.draft, trial.draft)
        self.history = replace(self.history, undone=(step,))
        return True

    def edit_for(
        self, scenario: str, path: Path, text: str, draft: Draft | None = None, over: str = ""
    ) -> Edit:
        """The edit of what has been kept, or of ``draft``, that a typed text means.

        A bare number takes the unit of what stands there (``over``, or as it was typed), else of
        the other scenarios' values, else the usual one. "-20 %" is a fifth less of what stands
        there, and "*" before or behind it does the same to all things of the sort.
        Raises :class:`EditError`.
        """
        from whatif.study.edits import EditError, SetValue
        from whatif.study.refused import no_key

        draft = self.draft if draft is None else draft
        if path == ATTENDED:
            return attended_edit(draft, scenario, self._hours_typed(draft, scenario, text, over))
        key = key_for(path)
        if key is None:
            raise EditError(no_key(path))
        own = typed_for_all(text) if takes_all(key) else None
        if own is None:
            return SetValue(scenario, path, self._raw_typed(draft, scenario, path, text, over))
        resolved, unused = resolve(draft, scenario), self.check_of(draft).unused
        edits: list[SetValue] = []
        nothing_there: list[EditError] = []
        for each in alike(resolved, path, key):
            if each != path:
                # What a thing has no use for stays.
                if unused.why(scenario, each):
                    continue
                over = ""
            try:
                raw = self._raw_typed(draft, scenario, each, own, over)
            except EditError as fault:
                if not is_nothing_there(fault):
                    raise
                # So does what a share finds nothing of, be it the row in which it is typed.
                nothing_there.append(fault)
            else:
                edits.append(SetValue(scenario, each, raw))
        if not edits:
            raise nothing_there[0]
        many = len(edits) + len(nothing_there)
        return all_alike(edits, many, own, draft.scenario(scenario).title)

    def _hours_typed(self, draft: Draft, scenario: str, text: str, over: str) -> str:
        """Attended hours as they were typed, or so much of what they are."""
        standing = attended_text(resolve(draft, scenario))
        left = share_typed(text)
        found = None if left is None else share_of(standing, Dimension.TIME, left)
        if found is not None:
            return found
        units = result_units(AS_TYPED, self.shown)
        return str(Time().typed_over(text, (over, standing, "8 h"), units))

    def _raw_typed(self, draft: Draft, scenario: str, path: Path, text: str, over: str) -> Raw:
        """What a typed text, or a share of what stands there, is in the file."""
        key = key_for(path)
        assert key is not None
        left = share_typed_over(key, text)
        if left is not None:
            raw = resolve(draft, scenario).raw(*path)
            standing = "" if raw in (None, GIVEN_BACK) else key.kind.written(raw)
            return taken(key, standing, left, text)
        raw = key.kind.typed(text)
        try:
            key.kind.read(raw)
        except KindError:
            others = chain((over,), self._standing(scenario, path))
            raw = key.kind.typed_over(text, others, result_units(AS_TYPED, self.shown))
        return raw

    def _standing(self, scenario: str, path: Path) -> Iterator[str]:
        """What stands in a row before it is typed over: in the scenario itself, then in others."""
        checked = self.check_of(self.draft)
        ids = (scenario, *(other for other in self.draft.ids if other != scenario))
        return (editable_text(checked, id_, path) for id_ in ids if id_ in checked.resolved)

    # -- changing ----------------------------------------------------------------------

    def do(self, edit: Edit, *, mends: bool = False) -> str:
        """Make a change and keep it; returns its name. Raises :class:`EditError`.

        ``mends`` tells that the change puts something right that hid other problems, which may
        then be seen.
        """
        from whatif.study.edits import EditError

        self.drop()
        draft = edit.apply(self.draft)
        added = [] if mends else self.new_problems(draft)
        if added:
            raise EditError(added[0])
        return self._done(edit, draft)

    def give_back(self, scenario: str, path: Path) -> str:
        """Take an entered value out, so that the parent's holds again; returns the name."""
        from whatif.study.edits import ClearValue

        return self.do(ClearValue(scenario, path))

    def undo(self) -> str:
        """Undo the last change; its name, "" where there is none."""
        last = self.history.done[-1].says if self.history.done else ""
        self.go_to(len(self.history.done) - 1)
        return last

    def redo(self) -> str:
        """Do the change undone last again; its name, "" where there is none."""
        self.drop()
        return self.go_to(len(self.history.done) + 1) if self.history.undone else ""

    def go_to(self, done: int) -> str:
        """Undo or do again, at once, until so many of all changes are done.

        Returns the name of the last one that is done then, "" where that is none.
        """
        self.drop()
        steps = self.history.steps
        done = max(0, min(done, len(steps)))
        if done != len(self.history.done):
            self.draft = steps[done - 1].after if done else steps[0].before
            self.history = self.history.at(done)
            self.revision += 1
        return steps[done - 1].says if done else ""

    # -- saving ------------------------------------------------------------------------

    def save(self, *, force: bool = False) -> Written:
        """Write the file; returns what is to be told of it.

        Raises :class:`whatif.study.file.reading.StudyError`, and then file and session are as
        they were.
        """
        return self._write(self.path, self.base or None, force=force)

    def save_as(self, path: FilePath, *, force: bool = False) -> Written:
        """Write another file, and go on with that; raises as :meth:`save` does.

        Where something stands at the path already it is written over only by ``force``.
        """
        written = self._write(path, None, force=force)
        self.path = path
        self.needs_name = False
        return written

    def _write(self, path: FilePath, expected: str | None, *, force: bool) -> Written:
        from whatif.study.file.writing import write_file

        written = write_file(self.draft, path, expected, force=force)
        self.base = written.fingerprint
        self._saved, self._saved_after = self.draft, self.history.done
        return written

    def read_again(self) -> str:
        """Take the file as it is now, as a change that can be undone; its name.

        Raises :class:`whatif.study.file.reading.StudyError`, and then the session is as it was.
        """
        from whatif.study.edits import TakeFile

        self.drop()
        read = read_file(self.path)
        self.base = read.fingerprint
        says = self._done(TakeFile(read.draft, self.path.name), read.draft)
        self._saved, self._saved_after = self.draft, self.history.done
        return says

    def on_disk(self) -> OnDisk:
        """What has become of the file since it was read or written last."""
        if self.base == NO_FILE:
            return OnDisk.SAME
        if not self.path.exists():
            return OnDisk.GONE
        try:
            now = fingerprint(read_bytes(self.path))
        except StudyError:
            # It cannot be told now; saving will say why.
            return OnDisk.SAME
        return OnDisk.SAME if now == self.base else OnDisk.CHANGED

    def recover(self, draft: Draft, base: str) -> None:
        """Take up edits of an earlier session that ended before it could save them.

        ``base`` is what the file was to that session: if it has been changed since, saving asks.
        Each change is a step with its own name: all undone, they give back what the file holds.
        """
        from whatif.study.edits import between

        self.drop()
        self.base = base
        steps = []
        before = self.draft
        for change in between(before, draft):
            steps.append(Step(change.says, before, change.draft))
            before = change.draft
        self.history = History(tuple(steps))
        self.draft = draft
        self.revision += 1

    # -- inside ------------------------------------------------------------------------

    def _show(self, trial: TypedTrial) -> None:
        if trial.draft != self.shown:
            self.revision += 1
        self._trial = trial

    def _done(self, edit: Edit, draft: Draft) -> str:
        if draft == self.draft:
            return ""
        says = edit.says(self.draft)
        self.history = self.history.having(Step(says, self.draft, draft))
        self.draft = draft
        self.revision += 1
        return says

    def new_problems(self, draft: Draft) -> list[Problem]:
        """The problems that a draft has and what has been kept has not.

        A file that is being mended may be changed step by step: what is wrong already may be
        wrong in the same way with another value. But a text of the right kind is not replaced by
        one of the wrong kind.
        """
        found = self.check_of(draft).problems
        if not found:
            return []
        before = set(self.check_of(self.draft).problems)
        places = set(map(_wrong, before))
        return [
            problem
            for problem in found
            if problem not in before and (problem.allowed or _wrong(problem) not in places)
        ]


def _apart(done: tuple[Step, ...], saved: tuple[Step, ...]) -> int:
    """How many changes two histories do not have in common."""
    both = {id(step) for step in done} & {id(step) for step in saved}
    return len(done) + len(saved) - 2 * len(both)


def _wrong(problem: Problem) -> Hashable:
    """Where a place is wrong, and in what way, but for its value."""
    return problem.scenario, problem.path, problem.kind, problem.details
