"""What the meeting says of all alternatives together; figures by the pencil of `alternatives`."""

from __future__ import annotations

from dataclasses import replace

from alternatives import PRICED, beside, late, one, unmade

from whatif.answers.answer import Answer, HoursSaid
from whatif.answers.money.missing import Missing
from whatif.answers.verdict import verdict_of
from whatif.telling.meeting.verdict import VerdictTold, verdict_told

TITLES = {"now": "Now", "a": "Anvil", "b": "Bench", "c": "Crane", "d": "Dock", "e": "Elm"}


def told(lines: tuple[str, ...] = PRICED, years: float = 5, **others: Answer) -> VerdictTold:
    answers = beside(lines=lines, years=years, **others)
    return verdict_told(verdict_of(answers, "now"), answers, TITLES)


def plainly(text: str) -> str:
    return text.replace("\u00a0", " ")


def why(of: VerdictTold) -> str:
    return plainly(of.why)


def rests(of: VerdictTold) -> str:
    return plainly(" ".join(of.rests))


def test_the_best_and_why() -> None:
    found = told(a=one(10, 11, 12, takes=1000), b=one(4, 5, 6))
    assert (found.lead, found.sense) == ("Best: Anvil", "good")
    assert why(found) == (
        "Over the 5 years counted, at 0 % a year, it is likely to be worth USD 4 000 to 5 000 "
        "today, more than any other: no other likely range reaches it."
    )
    found = told(a=one(10, 11, 12, takes=1000), b=one(-1, 5, 6))
    assert why(found).endswith("today, and no other is clearly better than Now.")


def test_the_cheaper_of_equals() -> None:
    found = told(a=one(10, 11, 12, takes=1000), b=one(8, 9, 10, takes=500))
    assert (found.lead, found.sense) == ("First: Bench, the cheapest of equals", "good")
    # b: 5 x 100 x 8 - 500.
    assert why(found).endswith(
        "it is likely to be worth USD 3 500 to 4 500 today, which cannot be told from Anvil; "
        "it takes the least, USD 500."
    )


def test_those_that_are_alike_are_not_crowned() -> None:
    found = told(a=one(10, 11, 12, takes=1000), b=one(9, 10, 11, takes=1000), c=one(8, 9, 10))
    # c is worth 4000 to 5000 and takes nothing.
    assert found.lead == "First: Crane, the cheapest of equals"
    assert "it takes the least, nothing." in why(found)
    equals = {id_: one(10, 11, 12, takes=1000) for id_ in "abcde"}
    found = told(**equals)
    assert (found.lead, found.sense) == ("No single best: Anvil, Bench, Crane and 2 more", "plain")
    assert why(found).startswith("Over the 5 years counted their likely worth today overlaps (USD ")
    assert why(found).endswith("), and each takes USD 1 000.")
    found = told(
        a=one(10, 11, 12, takes=1000),
        b=one(10, 11, 12, takes=1000),
        c=one(11, 12, 13, takes=1400),
    )
    assert "As good, and dearer: Crane." in found.rests


def test_where_nothing_beats_the_reference_that_is_said_plainly() -> None:
    found = told(
        a=one(-3, -2, -1), b=one(-1, 5, 9), c=unmade(one(50, 60, 70)), d=one(1, 3, 4, takes=1000)
    )
    assert (found.lead, found.sense) == ("Not that: no alternative is clearly better", "plain")
    assert why(found) == (
        "Anvil brings less; Bench is not clearly better; Dock does not come back in the years "
        "counted; Crane cannot be done as entered."
    )
    assert why(told(a=unmade(one(5, 6, 7)), b=unmade(one(5, 6, 7)))) == (
        "Anvil and Bench cannot be done as entered."
    )


def test_what_is_not_priced_is_named() -> None:
    priced = one(4, 5, 6)
    open_ = one(8, 9, 10, lean="worse")
    assert open_.money is not None
    missing = (Missing("machines", "mill", 1.0),)
    open_ = replace(open_, money=replace(open_.money, not_priced=missing))
    found = told(a=open_, b=priced)
    assert found.lead == "Best: Bench"
    assert "Anvil may be better still, or not: not priced yet: machines of mill (1)." in rests(
        found
    )


def test_where_output_alone_decides_that_is_said() -> None:
    found = told(lines=(), a=one(8, 9, 10, lines=()), b=one(-2, 0, 2, lines=()))
    assert why(found) == (
        "Its saleable output is likely +8.0 to +10.0 % against Now, and no other is clearly better "
        "than Now."
    )
    assert found.rests[0].startswith("Nothing is priced, as no part has a contribution: output ")
    assert (found.currency, found.lines[0].takes.text) == ("", "–")
    found = told(a=one(8, 9, 10, lean="worse"), b=one(-1, 0, 1, lean="worse"))
    assert found.rests[0].startswith("Nothing that has to be bought is priced: output alone ")
    found = told(years=0, a=one(8, 9, 10, years=0))
    assert found.rests[0] == "No years are counted to come back in: output alone decides."
    overlap = told(lines=(), a=one(8, 9, 10, lines=()), b=one(7, 8, 9, lines=()))
    assert why(overlap) == (
        "Their likely ranges overlap (+8.0 to +10.0 % and +7.0 to +9.0 %), and what they take is "
        "not known."
    )


def test_what_it_rests_on_stands_below() -> None:
    found = told(a=one(10, 11, 12))
    assert "It rests on " in rests(found)
    assert " pieces a week sold, 100 wanted in today" in rests(found)
    assert "No stops are entered" in rests(told(lines=(), a=one(8, 9, 10, lines=())))
    said = replace(one(10, 11, 12), said=HoursSaid(20.0, 55.0, 8.0))
    found = told(a=said)
    assert "Anvil: 20.0 spindle hours a day are said; the model finds 8.0 h a day, " in rests(found)
    assert "In its way: +55 % was said." in rests(found)


def test_a_line_an_alternative() -> None:
    found = told(
        a=one(10, 11, 12, takes=1000),
        b=late(one(-1, 5, 9), True, False),
        c=unmade(one(50, 60, 70, takes=300)),
        d=one(0, 0, 0, takes=-400),
    )
    lines = {line.title: line for line in found.lines}
    anvil = lines["Anvil"]
    assert (anvil.is_first, anvil.is_feasible, anvil.gain.sense) == (True, True, "good")
    # 1000 at 1000 to 1200 a year: 0.8 to 1 year, and 0.9 in the middle.
    texts = (anvil.gain, anvil.takes, anvil.worth, anvil.payback, anvil.against)
    assert [plainly(said.text) for said in texts] == [
        "+11.0 % (+10.0 to +12.0 %)", "1 000", "+4 500 (+4 000 to +5 000)", "0.9 (0.8 to 1.0)", "–",
    ]  # fmt: skip
    assert [plainly(said.within(15)) for said in texts[:1]] == ["+10 to +12 %"]
    bench = lines["Bench"]
    assert bench.gain.text == "no clear difference (-1 to +9 %)"
    assert (bench.gain.sense, bench.worth.text, bench.payback.text) == ("none",) + (
        "not clear",
    ) * 2
    assert bench.against.text == "gain not clear; 1 order late"
    assert bench.against.shorter == ("gain not clear; 1 more", "gain not clear")
    crane = lines["Crane"]
    assert (crane.is_feasible, crane.against.text, crane.against.sense) == (
        False, "body not made", "bad",
    )  # fmt: skip
    assert crane.gain.text.startswith("! ")
    assert lines["Dock"].gain.text == "no difference"
    assert found.lines[-1].title == "Crane"


def test_while_a_range_is_missing_nothing_is_said() -> None:
    found = told(a=replace(one(10, 11, 12), likely=None), b=one(4, 5, 6))
    assert found.lead == "The verdict is being worked out ..."
    assert found.lines[0].gain.text == "+11 % as typed"
    assert not any(line.is_first for line in found.lines)
    assert told().lead == "There is no alternative yet"
    assert told().rests == ()
