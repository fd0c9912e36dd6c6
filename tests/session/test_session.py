"""A session: trial edits, kept ones, undo, saving, recovery, and which answers are current."""

from __future__ import annotations

import os
import queue
import subprocess
import sys
import threading
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path

import pytest
from lengths import first_of
from small_study import CYCLE, PALLETS, STUDY

from whatif.answers.compare import compare
from whatif.session.calculate.answered import Answered
from whatif.session.calculate.calculator import Calculator
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.requests import ANY_REVISION, Material, Question, Reply, Request
from whatif.session.calculate.urgency import ANSWERING
from whatif.session.kept.left import left_behind, throw_away
from whatif.session.kept.recovery import Recovery
from whatif.session.session import Session
from whatif.study.check.check import check
from whatif.study.edits import EditError
from whatif.study.file.reading import read_file
from whatif.study.file.writing import ChangedOnDisk
from whatif.telling.sheet_cell import ATTENDED


@pytest.fixture
def session(tmp_path: Path) -> Session:
    path = tmp_path / "small.toml"
    path.write_text(STUDY, "utf-8")
    return Session(read_file(path))


def test_a_trial_shows_and_is_not_kept(session: Session) -> None:
    before, revision = session.draft, session.revision
    assert session.type("now", CYCLE, "7 min") == ""
    assert session.shown != before
    assert session.draft == before
    assert session.revision > revision
    session.drop()
    assert session.shown == before


def test_what_is_wrong_is_said_and_changes_nothing(session: Session) -> None:
    before = session.draft
    session.type("now", CYCLE, "7 min")
    wrong = session.type("now", CYCLE, "7 mm")
    assert "min" in wrong
    assert session.shown == before
    assert session.keep() == ""
    assert session.draft == before


def test_an_editor_is_told_what_may_be_typed(session: Session) -> None:
    table = ("machine", "mill", "table")
    assert session.type("now", table, "700 mm").endswith("such as 900 mm x 500 mm.")
    assert session.type("now", table, "900 mm x 500 mm") == ""
    days = ("shift", "day", "days")
    assert "mon-fri" in session.type("now", days, "funday")
    assert session.type("now", days, "mon-fri") == ""


def test_a_kept_edit_is_named_and_undone(session: Session) -> None:
    before = session.draft
    session.type("pool", PALLETS, "6")
    shown = session.revision
    assert session.keep() == "pallets each 4 -> 6 in Pool"
    assert session.revision == shown, "keeping changes nothing on the screen"
    assert session.unsaved == 1
    assert session.undo() == "pallets each 4 -> 6 in Pool"
    assert session.draft == before
    assert session.is_saved
    assert session.redo() == "pallets each 4 -> 6 in Pool"
    assert session.draft.scenario("pool").entered[PALLETS] == 6
    assert session.undo()
    assert session.undo() == ""


def test_a_trial_set_aside_can_be_taken_up(session: Session) -> None:
    session.type("pool", PALLETS, "6")
    assert session.set_aside()
    assert session.shown.scenario("pool").entered[PALLETS] == 4
    session.redo()
    assert session.draft.scenario("pool").entered[PALLETS] == 6


def test_an_edit_may_not_add_a_problem_elsewhere(session: Session) -> None:
    wrong = session.type("now", ("shift", "day", "end"), "11:15")
    assert "11:00-11:30" in wrong or "break" in wrong
    with pytest.raises(EditError):
        session.give_back("now", CYCLE)


def test_attended_hours_move_the_last_end(session: Session) -> None:
    assert session.type("pool", ATTENDED, "10 h") == ""
    session.keep()
    assert session.draft.scenario("pool").entered[("shift", "day", "end")] == "17:00"
    assert ("shift", "day", "end") in session.draft.scenario("now").entered
    assert session.draft.scenario("now").entered[("shift", "day", "end")] == "15:00"


def test_attended_hours_are_refused_where_days_differ(session: Session) -> None:
    session.type("now", ("shift", "day", "days"), "mon-thu")
    session.keep()
    draft = session.draft
    second = draft.scenario("now")
    for key, raw in (("days", ("sat",)), ("start", "06:00"), ("end", "10:00")):
        second = second.having(("shift", "sat", key), raw)
    session.recover(draft.with_scenario(second), session.base)
    assert "different days" in session.type("now", ATTENDED, "9 h")
    assert session.type("now", ATTENDED, "30 h")


def test_saving_writes_what_was_kept_and_keeps_the_preamble(session: Session) -> None:
    session.type("pool", PALLETS, "6")
    session.keep()
    session.save()
    assert session.is_saved
    text = session.path.read_text("utf-8")
    assert text.startswith("# Two columns.\n")
    again = read_file(session.path)
    assert again.draft == session.draft


def test_another_writer_is_noticed(session: Session) -> None:
    session.type("pool", PALLETS, "6")
    session.keep()
    session.path.write_text(STUDY + "\n# by somebody else\n", "utf-8")
    with pytest.raises(ChangedOnDisk):
        session.save()
    assert "somebody else" in session.path.read_text("utf-8")
    assert not session.is_saved
    session.save(force=True)
    assert session.is_saved


def test_an_untouched_column_keeps_its_answer(session: Session) -> None:
    answered = Answered()
    answered.take(compare(session.checked, Memory()), session.checked)
    assert set(answered.current(session.checked)) == {"now", "pool", "other"}
    session.type("pool", PALLETS, "6")
    assert set(answered.current(session.checked)) == {"now", "other"}
    session.type("pool", ("title",), "Big pool")
    assert set(answered.current(session.checked)) == {"now", "pool", "other"}
    session.type("now", CYCLE, "8 min")
    assert answered.current(session.checked) == {}, "the reference has changed"


# -- recovery ------------------------------------------------------------------------------


def test_what_a_killed_session_left_is_found(session: Session, tmp_path: Path) -> None:
    folder = tmp_path / "state"
    program = (
        "import os, sys\n"
        "from pathlib import Path\n"
        "from whatif.session.kept.recovery import Recovery\n"
        "from whatif.study.file.reading import read_file\n"
        "study = Path(sys.argv[1])\n"
        "draft = read_file(study).draft\n"
        "now = draft.scenario('pool').having(('machine', 'mill', 'pallets'), 9)\n"
        "recovery = Recovery(study, 'base', Path(sys.argv[2]))\n"
        "recovery.note(draft.with_scenario(now))\n"
        "recovery.flush()\n"
        "os._exit(129)\n"
    )
    process = subprocess.Popen([sys.executable, "-c", program, session.path, folder])
    # Ended, but its parent has not taken notice: its number still answers.
    os.waitid(os.P_PID, process.pid, os.WEXITED | os.WNOWAIT)
    left = left_behind(session.path, folder)
    process.wait()
    assert len(left) == 1
    assert left[0].draft.scenario("pool").entered[PALLETS] == 9
    assert left[0].base == "base"
    throw_away(left[0])
    assert left_behind(session.path, folder) == []


def test_a_process_number_given_out_again_is_not_the_old_session(
    session: Session, tmp_path: Path
) -> None:
    recovery = Recovery(session.path, session.base, tmp_path)
    recovery.note(session.draft)
    recovery.flush()
    # As if this very number had been another process's before: it started at another time.
    stem, pid, _ = recovery.path.name.rsplit("-", 2)
    (tmp_path / f"{stem}-{pid}-1.unsaved.toml").write_bytes(recovery.path.read_bytes())
    assert len(left_behind(session.path, tmp_path)) == 1
    recovery.note(None)
    recovery.close()
    assert len(left_behind(session.path, tmp_path)) == 1


def test_signs_of_a_pattern_in_a_files_name_mean_themselves(tmp_path: Path) -> None:
    study = tmp_path / "cell [new]*.toml"
    study.write_text(STUDY, "utf-8")
    session = Session(read_file(study))
    recovery = Recovery(study, session.base, tmp_path)
    recovery.note(session.draft)
    recovery.flush()
    stem, _, _ = recovery.path.name.rsplit("-", 2)
    recovery.path.rename(tmp_path / f"{stem}-999999999-1.unsaved.toml")
    assert len(left_behind(study, tmp_path)) == 1


def test_edits_taken_up_do_not_write_over_a_file_changed_since(session: Session) -> None:
    old = session.base
    changed = session.draft.scenario("pool").having(PALLETS, 9)
    session.path.write_text(STUDY.replace("weekly = 300", "weekly = 310"), "utf-8")
    later = Session(read_file(session.path))
    later.recover(session.draft.with_scenario(changed), old)
    with pytest.raises(ChangedOnDisk):
        later.save()


def test_what_is_taken_up_is_a_step_a_change_and_gives_the_file_back(session: Session) -> None:
    saved = session.draft
    changed = saved.with_scenario(saved.scenario("pool").having(PALLETS, 9))
    session.recover(changed, session.base)
    assert [step.says for step in session.history.done] == ["pallets each 4 -> 9 in Pool"]
    assert session.unsaved == 1
    assert session.undo()
    assert (session.draft, session.unsaved, session.is_saved) == (saved, 0, True)
    session.redo()
    assert session.draft == changed


def test_a_study_that_no_file_holds_is_a_change_beside_its_edits(session: Session) -> None:
    begun = Session.begun(session.draft, session.path, needs_name=True, is_work=True)
    assert begun.unsaved == 1
    _keep(begun, "6")
    assert begun.unsaved == 2, "that it was begun, and the edit"
    _keep(begun, "7")
    assert begun.unsaved == 3
    begun.save(force=True)
    _keep(begun, "8")
    assert begun.unsaved == 1


def test_changes_undone_since_saving_are_not_saved_either(session: Session) -> None:
    for text in ("6", "7", "8"):
        _keep(session, text)
    assert session.unsaved == 3
    session.save()
    session.undo()
    session.undo()
    assert session.unsaved == 2, "the file has two more than there are"
    _keep(session, "9")
    assert session.unsaved == 3, "those two, and the one done in their place"
    _keep(session, "8")
    assert session.unsaved == 0, "the same as in the file, on another way"
    _keep(session, "5")
    assert session.unsaved == 1


def _keep(session: Session, pallets: str) -> None:
    assert not session.type("pool", PALLETS, pallets)
    assert session.keep()


def test_nothing_is_left_once_the_file_has_everything(session: Session, tmp_path: Path) -> None:
    folder = tmp_path / "state"
    recovery = Recovery(session.path, session.base, folder)
    recovery.note(session.draft)
    recovery.flush()
    assert recovery.path.exists()
    recovery.note(None)
    recovery.close()
    assert not recovery.path.exists()


def test_a_folder_that_cannot_be_written_ends_nothing(session: Session, tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    recovery = Recovery(session.path, session.base, blocked / "below")
    recovery.note(session.draft)
    recovery.flush()
    recovery.close()
    assert blocked.read_text() == "in the way"


def test_a_living_session_keeps_its_own(session: Session, tmp_path: Path) -> None:
    recovery = Recovery(session.path, session.base, tmp_path / "state")
    recovery.note(session.draft)
    recovery.flush()
    assert str(os.getpid()) in recovery.path.name
    assert left_behind(session.path, tmp_path / "state") == []
    recovery.note(None)
    recovery.close()


# -- the calculating process ---------------------------------------------------------------


@pytest.mark.long
def test_the_process_answers_the_newest_and_gives_up_the_rest(session: Session) -> None:
    draft = session.draft
    slow = draft.with_head("weeks", 104)
    replies: list[Reply] = []
    finished = threading.Event()

    def deliver(reply: Reply) -> None:
        replies.append(reply)
        if reply.final and reply.revision == 3:
            finished.set()

    calculator = Calculator(deliver)
    calculator.start()
    try:
        calculator.ask(Request(1, slow))
        calculator.ask(Request(2, slow))
        calculator.ask(Request(3, draft))
        assert finished.wait(120)
    finally:
        calculator.close()
    last = replies[-1]
    assert last.revision == 3
    assert last.fault == ""
    expected = compare(check(draft), Memory())
    assert last.found is not None
    assert {id_: one.gains for id_, one in last.found.answers.items()} == {
        id_: one.gains for id_, one in expected.answers.items()
    }
    assert all(one.likely is not None for one in last.found.answers.values())
    assert not [reply for reply in replies if reply.final and reply.revision < 3]


@pytest.mark.long
def test_gains_as_typed_come_first_and_their_ranges_scenario_by_scenario(session: Session) -> None:
    """So a look at the strip never waits for draws."""
    replies: list[Reply] = []
    finished = threading.Event()

    def deliver(reply: Reply) -> None:
        replies.append(reply)
        if reply.final:
            finished.set()

    calculator = Calculator(deliver)
    calculator.start()
    try:
        calculator.ask(Request(1, session.draft))
        assert finished.wait(120)
    finally:
        calculator.close()
    known = [
        {id_: answer.likely is not None for id_, answer in reply.found.answers.items()}
        for reply in replies
        if reply.found is not None
    ]
    every = session.draft.ids
    of_all = dict.fromkeys(every, True)
    assert known == [dict.fromkeys(every, False), *({id_: True} for id_ in every), of_all]


@pytest.mark.long
def test_a_draft_with_problems_is_answered_with_nothing(session: Session) -> None:
    replies: list[Reply] = []
    finished = threading.Event()

    def deliver(reply: Reply) -> None:
        replies.append(reply)
        finished.set()

    calculator = Calculator(deliver)
    calculator.start()
    try:
        bad = session.draft.scenario("now").having(CYCLE, "nine")
        calculator.ask(Request(1, session.draft.with_scenario(bad)))
        assert finished.wait(60)
    finally:
        calculator.close()
    assert replies[0] == Reply(1, final=True)


@dataclass(frozen=True, slots=True)
class Counting(Question):
    """A question of so many items; ``fails`` makes the last of them go wrong."""

    items: int
    fails: bool = False

    def work_out(self, material: Material) -> object:
        for done in range(self.items + 1):
            material.told(done, self.items)
        if self.fails:
            raise ValueError("the last one went wrong")
        return (self.items, tuple(material.found.answers))


@pytest.mark.long
@pytest.mark.parametrize("fails", first_of([True, False]))
def test_a_question_is_answered_beside_the_comparison(session: Session, fails: bool) -> None:
    replies: list[Reply] = []
    finished = threading.Event()

    def deliver(reply: Reply) -> None:
        replies.append(reply)
        if reply.final:
            finished.set()

    calculator = Calculator(deliver)
    calculator.start()
    asked = Counting(3, fails)
    try:
        calculator.ask(Request(1, session.draft, asked))
        assert finished.wait(60)
        said = [reply for reply in replies if reply.question == asked]
        told = [reply.progress for reply in said if reply.progress is not None]
        # What lies between is told where it takes its time.
        assert [(one.done, one.of) for one in (told[0], told[-1])] == [(0, 3), (3, 3)]
        assert told[0].left is None
        assert told[-1].left is not None
        if fails:
            why = "ValueError: the last one went wrong. Any edit has it tried again."
            assert said[-1].fault == why
        else:
            assert said[-1].result == (3, tuple(one.id for one in session.draft))
        assert replies[-1].found is not None
        # The same draft again: only the question is worked out, the comparison is remembered.
        finished.clear()
        del replies[:]
        calculator.ask(Request(1, session.draft, Counting(1)))
        assert finished.wait(60)
        assert [reply.result for reply in replies if reply.result is not None] == [
            (1, tuple(one.id for one in session.draft))
        ]
        assert sum(reply.found is not None for reply in replies) == 1
    finally:
        calculator.close()


def _refuse(fault: type[Exception]) -> None:
    raise fault("half of it is missing")


class Unreadable:
    """A result that cannot be put together again on the asking side."""

    def __init__(self, fault: type[Exception]) -> None:
        self._fault = fault

    def __reduce__(self) -> tuple[object, tuple[object, ...]]:
        return _refuse, (self._fault,)


@dataclass(frozen=True, slots=True)
class Unreadably(Question):
    """A question whose answer arrives and cannot be read."""

    fault: type[Exception]

    def work_out(self, material: Material) -> object:
        return Unreadable(self.fault)


@pytest.mark.long
@pytest.mark.parametrize("fault", first_of([AttributeError, ValueError]))
def test_a_reply_that_cannot_be_read_is_told_and_the_next_edit_starts_again(
    session: Session, fault: type[Exception]
) -> None:
    replies: queue.Queue[Reply] = queue.Queue()
    calculator = Calculator(replies.put)
    calculator.start()

    def last() -> Reply:
        while not (reply := replies.get(timeout=60)).final:
            pass
        return reply

    try:
        calculator.ask(Request(1, session.draft, Unreadably(fault)))
        told = last()
        assert told.revision == ANY_REVISION
        assert f"{fault.__name__}('half of it is missing')" in told.fault
        calculator.ask(Request(2, session.draft))
        again = last()
        assert (again.revision, again.fault) == (2, "")
        assert again.found is not None
    finally:
        calculator.close()


@pytest.mark.long
def test_a_request_that_cannot_be_sent_is_told_and_the_next_one_is(session: Session) -> None:
    replies: queue.Queue[Reply] = queue.Queue()
    calculator = Calculator(replies.put)
    calculator.start()

    @dataclass(frozen=True)
    class Local(Question):
        """Not to be found by the other process."""

        def work_out(self, material: Material) -> object:
            return None

    try:
        calculator.ask(Request(1, session.draft, Local()))
        told = replies.get(timeout=60)
        assert (told.revision, told.final) == (1, True)
        assert "Local" in told.fault
        calculator.ask(Request(2, session.draft))
        while not (reply := replies.get(timeout=60)).final:
            pass
        assert (reply.revision, reply.fault) == (2, "")
    finally:
        calculator.close()


def test_a_line_is_not_closed_while_a_thread_still_reads_from_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Its number would go to the next process, whose replies that thread would take."""
    reading: set[int] = set()
    closed: list[tuple[int, bool]] = []
    begun, hung_up = threading.Event(), threading.Event()
    lines: set[int] = set()
    recv, close = Connection.recv_bytes, Connection.close

    def reads(line: Connection) -> bytes:
        reading.add(id(line))
        begun.set()
        try:
            return recv(line)
        finally:
            reading.discard(id(line))

    def closes(line: Connection) -> None:
        closed.append((id(line), id(line) in reading))
        close(line)
        if id(line) in lines:
            hung_up.set()

    monkeypatch.setattr(Connection, "recv_bytes", reads)
    monkeypatch.setattr(Connection, "close", closes)
    calculator = Calculator(lambda _reply: None)
    calculator.start()
    assert begun.wait(60)
    lines.update(reading)
    calculator.close()
    assert hung_up.wait(60)
    assert [busy for line, busy in closed if line in lines] == [False]


@pytest.mark.skipif(not hasattr(os, "getpriority"), reason="nobody can ask for it there")
def test_the_process_that_calculates_gives_way_to_the_screen(session: Session) -> None:
    replies: queue.Queue[Reply] = queue.Queue()
    calculator = Calculator(replies.put)
    calculator.start()
    try:
        calculator.ask(Request(1, session.draft))
        assert replies.get(timeout=60).revision == 1
        assert calculator._worker is not None
        assert calculator._worker._process.pid is not None
        urgency = os.getpriority(os.PRIO_PROCESS, calculator._worker._process.pid)
    finally:
        calculator.close()
    assert urgency == min(19, os.getpriority(os.PRIO_PROCESS, 0) + ANSWERING)
