"""Where a scenario could hurt somebody, and what is said of it (rule `cautions.stand`)."""

from __future__ import annotations

import pytest
from answer_studies import CHILD, TODAY, sound, today

from whatif.answers.answer import Comparison
from whatif.answers.cautions import Caution, Danger, Heavy
from whatif.answers.compare import compare
from whatif.reports.comparison import comparison_report
from whatif.reports.document import WRITERS
from whatif.session.calculate.memory import Memory
from whatif.telling.cautions import (
    BEGUN_ALONE,
    FINISHED_ALONE,
    FIRE,
    LONE_WORK,
    MACHINES,
    PALLETS,
    caution_in_a_line,
    caution_text,
)

ALONE = (Danger.FIRE, Danger.BEGUN_ALONE)


def answered(text: str) -> Comparison:
    return compare(sound(text), Memory())


def called(text: str, scenario: str = "today") -> tuple[Danger, ...]:
    return tuple(caution.of for caution in answered(text).answers[scenario].cautions)


def lifting(*lines: str) -> Caution | None:
    cautions = answered(today(*lines)).answers["today"].cautions
    return next((caution for caution in cautions if caution.of is Danger.LIFTING), None)


def test_no_caution_without_cause() -> None:
    assert called(TODAY) == ()
    assert called(TODAY + CHILD, "child") == ()


# -- with nobody there -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lines", "dangers"),
    [
        # Whoever comes back to them is alone.
        (('unattended.after_shift = "1 h"',), (*ALONE, Danger.LONE_WORK)),
        (('unattended.after_shift = "until done"',), (*ALONE, Danger.LONE_WORK)),
        # The last piece ends with nobody there.
        (('unattended.at_limit = "finish_piece"',), (Danger.FINISHED_ALONE,)),
        (('said.with_people.cutting = "50 %"', 'said.with_nobody.hours = "2 h"'), ALONE),
        (('said.with_people.cutting = "50 %"',), ()),
    ],
)
def test_running_with_nobody_there(lines: tuple[str, ...], dangers: tuple[Danger, ...]) -> None:
    assert called(today(*lines)) == dangers


@pytest.mark.parametrize(
    "line",
    ["part.body.unattended = false", "machine.mill.unattended = false", "unattended.nights = []"],
)
def test_hours_in_which_nothing_may_be_begun_after_all_begin_nothing(line: str) -> None:
    assert not set(ALONE) & set(called(today('unattended.after_shift = "1 h"', line)))


def test_what_the_words_for_nobody_there_speak_of() -> None:
    for word in ("Neat oil", "Magnesium", "ISO 19353", "DGUV 209-026", "NFPA 660", "insurer"):
        assert word in FIRE
    for word in ("tool", "clamp", "chips", "coolant level", "mist", "insurer", "1910.147"):
        assert word in BEGUN_ALONE
    for word in ("neat oil", "magnesium", "tool", "clamp", "insurer", "ISO 19353"):
        assert word in FINISHED_ALONE
    assert len(FINISHED_ALONE) < len(FIRE)


# -- pallets, machines, people -----------------------------------------------------------


def test_what_moves_pallets_is_cautioned_and_what_is_added_too() -> None:
    text = f"{TODAY}{CHILD}machine.mill.pallets = 4\n"
    assert called(text, "child") == (Danger.PALLETS, Danger.MACHINES)
    assert called(today("machine.mill.pallets = 4")) == (Danger.PALLETS,)
    for word in ("crush", "interlocks", "power", "clamping pressure", "ISO 16090-1"):
        assert word in PALLETS


@pytest.mark.parametrize(
    ("lines", "adds"),
    [
        ("machine.mill.count = 2", True),
        ("machine.lathe.count = 1", True),
        ("machine.mill.pallets = 4", True),
        # Another machine in its place wants its floor and its electrics too.
        ("machine.mill.count = 0\nmachine.lathe.count = 1", True),
        ("part.body.weekly = 90", False),
    ],
)
def test_added_machines_are_cautioned(lines: str, adds: bool) -> None:
    text = f"{TODAY}{CHILD}{lines}\n"
    assert (Danger.MACHINES in called(text, "child")) is adds
    assert called(text, "today") == ()
    for word in ("floor load", "IEC 60204-1", "NFPA 79", "ISO 12100", "changed machine"):
        assert word in MACHINES


def test_machines_are_added_to_those_of_today_whatever_the_reference_is() -> None:
    text = f"{TODAY}{CHILD}machine.mill.count = 2\n".replace(
        'title = "Two ways"', 'title = "Two ways"\nreference = "child"\ntoday = "today"'
    )
    assert called(text, "child") == (Danger.MACHINES,)


def test_more_machines_said_than_today_are_cautioned() -> None:
    text = today('said.with_people.cutting = "50 %"') + CHILD
    assert called(text + "said.machines = 2\n", "child") == (Danger.MACHINES,)
    assert called(text + "said.machines = 1\n", "child") == ()


LATE = """\
[scenario.today.shift.late]
days = ["fri"]
start = "12:00"
end = "{end}"
people = {people}
"""


@pytest.mark.parametrize(
    ("text", "alone"),
    [
        (TODAY, False),
        (TODAY.replace("people = 2", "people = 1"), True),
        # From 14:00 to 16:00 on Fridays; or for no hour, since two more are there.
        (TODAY + LATE.format(end="16:00", people=1), True),
        (TODAY + LATE.format(end="14:00", people=1), False),
        (TODAY + LATE.format(end="16:00", people=2), False),
    ],
)
def test_one_person_alone_with_running_machines(text: str, alone: bool) -> None:
    assert (Danger.LONE_WORK in called(text)) is alone
    assert "alone" in LONE_WORK


# -- lifting -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "heavy"),
    [
        ('part.body.mass = "15 kg"', None),
        ('part.body.mass = "15.1 kg"', "piece"),
        ('part.body.mass = "33 lb"', None),  # 14.97 kg
        ('part.body.mass = "34 lb"', "piece"),
        ('part.body.fixture_mass = "15 kg"', None),
        ('part.body.fixture_mass = "16 kg"', "fixture"),
    ],
)
def test_more_than_fifteen_kilograms_are_cautioned(line: str, heavy: str | None) -> None:
    found = lifting(line)
    assert (found is not None) is (heavy is not None)
    if found is not None:
        assert [each.what for each in found.heavy] == [heavy]
        assert f"more than 15 kg weighs a {heavy} of body; see ISO 11228-1" in caution_text(found)


def test_masses_of_lifting_are_told_in_pounds_in_an_inch_study() -> None:
    """15 kg / 0.4536 kg/lb = 33.07 lb; the equation's constant is 51 lb in its inch edition."""
    found = lifting('part.body.mass = "40 lb"')
    assert found is not None
    text = caution_text(found, "inch")
    assert "more than 33 lb weighs a piece of body; " in text
    assert "(51 lb under ideal conditions)" in text
    assert "kg" not in text


@pytest.mark.outside("NIOSH: lifts a minute that count as rare, 0.2")
@pytest.mark.parametrize(
    ("mass", "cycle", "often"),
    [
        # A piece in 6 to 7 min of loading and cutting is about 9 an hour for 2 people: 9 lifts of
        # each, on and off. One in 1 + 3 min is 15 an hour, and 15 lifts of each.
        ("3 kg", "3 min", False),
        ("3 kg", "30 s", True),
        ("2.9 kg", "30 s", False),
        ("14 kg", "30 s", True),
    ],
)
def test_frequent_lifting_is_cautioned(mass: str, cycle: str, often: bool) -> None:
    """Beyond 0.2 lifts a minute (the least that the NIOSH equation tells apart, from memory)."""
    found = lifting(
        f'part.body.mass = "{mass}"',
        f'part.body.cycle = "{cycle}"',
        "part.body.weekly = 5000",
        'part.body.load = "2 min"',
        'handling.walk = "0 min"',
    )
    assert (found is not None) is often
    if found is not None:
        assert found.often == ("body",)
        assert "pieces of body are put on or taken off more than 12 times in an hour" in (
            caution_text(found)
        )


# -- what today calls for already ----------------------------------------------------------

NIGHTS = today('unattended.after_shift = "1 h"') + CHILD


def test_what_today_calls_for_stands_already() -> None:
    found = answered(NIGHTS + "machine.mill.count = 2\n").answers
    stand = {caution.of: caution.stands for caution in found["child"].cautions}
    assert stand == {
        Danger.FIRE: True,
        Danger.BEGUN_ALONE: True,
        Danger.LONE_WORK: True,
        Danger.MACHINES: False,
    }
    assert all(caution.stands for caution in found["today"].cautions)


def test_something_else_that_is_heavy_does_not_stand_already() -> None:
    text = today('part.body.mass = "20 kg"') + CHILD
    (same,) = answered(text + "part.body.weekly = 90\n").answers["child"].cautions
    (more,) = answered(text + 'part.body.fixture_mass = "30 kg"\n').answers["child"].cautions
    assert same == Caution(Danger.LIFTING, (Heavy("piece", "body"),), stands=True)
    assert (more.stands, len(more.heavy)) == (False, 2)


@pytest.mark.parametrize("form", WRITERS)
def test_every_form_tells_what_today_calls_for_once_and_apart(form: str) -> None:
    text = WRITERS[form](comparison_report(answered(NIGHTS + "machine.mill.count = 2\n")))
    assert FIRE[:40] in text
    assert MACHINES[:40] in text
    if form in ("text", "markdown"):
        assert text.count(FIRE[:40]) == 1
        assert text.index(MACHINES[:40]) < text.index("as it stands today")
        assert text.index("as it stands today") < text.index(FIRE[:40])


@pytest.mark.parametrize("danger", Danger)
def test_a_line_fits_a_screen_and_names_a_document(danger: Danger) -> None:
    line = caution_in_a_line(Caution(danger))
    assert len(line) <= 76
    assert "ISO" in line or "IEC" in line or "CFR" in line
