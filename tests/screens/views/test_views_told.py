"""How views tell figures, and what stands where there is no answer."""

from __future__ import annotations

import re
import threading
from dataclasses import dataclass
from multiprocessing import Pipe
from pathlib import Path

import pytest
from answer_studies import CHILD, TODAY, sound, today
from screen import SCENARIOS, AtOnce, on_screen

from whatif.answers.compare import compare_wholly
from whatif.answers.gains import is_difference
from whatif.answers.moves.inputs import Unanswerable
from whatif.screens.desk.desk import Desk
from whatif.session.calculate.memory import Memory
from whatif.session.calculate.requests import ANY_REVISION, Material, Question, Reply, Request
from whatif.session.calculate.serving import Server
from whatif.study.file.reading import read_text
from whatif.telling.gain_texts import gain_text, percent_text
from whatif.telling.meeting.page import headline
from whatif.telling.refusals import refusal_words


@pytest.mark.parametrize("gain", [-0.04, 0.04, -0.0499, -0.004, 0.0006, -0.0006, -1e-12, -0.0, 3])
def test_a_gain_never_reads_minus_nothing(gain: float) -> None:
    for text in (gain_text(gain, None), percent_text(gain)):
        assert not re.search(r"[+-]0\.?0* %", text), text


def test_a_small_gain_has_the_digits_that_it_takes() -> None:
    assert gain_text(-0.04, None) == "-0.04 %"
    assert gain_text(0.004, None) == "+0.004 %"
    assert gain_text(-2.34, None) == "-2.3 %"
    assert percent_text(-12.34) == "-12 %"


def test_the_rounding_of_floats_is_no_difference() -> None:
    assert gain_text(1e-13, None) == "no difference"
    assert not is_difference(-1e-13, None)


def test_money_in_a_headline_has_no_comma() -> None:
    study = today(
        "part.body.contribution = 1000",
        'money.currency = "EUR"',
        "part.body.weekly = 3000",
        "machine.mill.price = 460100",
    )
    memory = Memory()
    found = compare_wholly(sound(study + CHILD + "machine.mill.count = 2\n"), memory, memory.pause)
    for one in ("today", "child"):
        said = " ".join(headline(found.answers[one], found.answers["today"]).sentences)
        amounts = re.findall(r"EUR\u00a0([\d\u00a0,.]*\d)", said)
        assert amounts
        for amount in amounts:
            assert re.fullmatch(r"\d{1,3}(\u00a0\d{3})+", amount), said


# -- where there is no answer ------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Refused(Question):
    def work_out(self, material: Material) -> object:
        raise Unanswerable("no parts", "Now")


@dataclass(frozen=True, slots=True)
class _Broken(Question):
    def work_out(self, material: Material) -> object:
        raise KeyError("gone")


def _faults(*questions: Question) -> list[str]:
    """What the calculating side says of questions; it ends when nobody asks any more."""
    asking, answering = Pipe()
    said: list[str] = []

    def ask() -> None:
        for number, question in enumerate(questions):
            asking.send(Request(number, read_text(TODAY), question))
            while not (reply := asking.recv()).final:
                assert isinstance(reply, Reply)
                if isinstance(reply.result, Unanswerable):
                    said.append(refusal_words(reply.result))
                elif reply.question is not None:
                    said.append(reply.fault)
        asking.close()

    other = threading.Thread(target=ask)
    other.start()
    Server(answering).serve()
    other.join()
    return said


def test_a_question_without_an_answer_says_why_in_plain_words() -> None:
    refused, broken = _faults(_Refused(), _Broken())
    assert refused == "Now has no parts, so there is nothing to simulate."
    # A fault of the program's own names itself, so that it can be told to who can mend it.
    assert broken.startswith("KeyError: 'gone'")


async def test_what_ends_the_calculation_ends_the_waiting_of_a_view(tmp_path: Path) -> None:
    async with on_screen(SCENARIOS / "one-person.toml", state=tmp_path) as screen:
        calculator = screen.app.study.calculator
        assert isinstance(calculator, AtOnce)
        calculator.held = []
        screen.app.desk.controllers.views.open("week")
        await screen.drawn()
        assert "Being worked out" in screen.text
        ended = Reply(ANY_REVISION, final=True, fault="it has stopped")
        screen.app.desk.post_message(Desk.Replied(ended))
        await screen.drawn()
        assert "There is no answer: it has stopped" in screen.text
        assert not screen.app.is_waiting
