"""What the meeting says of all alternatives together; figures by the pencil of `alternatives`."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from alternatives import PRICED, apart, beside, drawing, for_nothing, judged, late, one, unmade

from whatif.answers.answer import Answer, GapAsRead, HoursSaid
from whatif.answers.doubts import Doubt, Lead, Tried
from whatif.answers.gains import Likely
from whatif.answers.limits import HeldBack, ShiftPeople
from whatif.answers.money.missing import Missing
from whatif.answers.money.unlike import CountedBy, Unlike
from whatif.answers.verdict import Conclusion, verdict_of
from whatif.plan.model import Meters, RushPlan
from whatif.telling.cautions import LONE_WORK
from whatif.telling.in_words import scenario_words
from whatif.telling.meeting.decision import (
    decided_words,
    decision_on_paper,
    decision_text,
    latest_decision,
    notes_in_a_row,
    why_decided,
)
from whatif.telling.meeting.doubts import being_tried_words, tried_words
from whatif.telling.meeting.page import headline
from whatif.telling.meeting.sold import sold_words
from whatif.telling.meeting.verdict import VerdictTold, verdict_told
from whatif.telling.strip import held_sentence, leading_gain_text

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
    assert found.lead == "Best of these: Anvil"
    assert why(found) == (
        "It is likely to be worth USD 4 000 to 5 000 today (5 years at 0 % a year), more than any "
        "other: no other likely range reaches it. It takes USD 1 000 one-off."
    )
    found = told(a=one(10, 11, 12, takes=1000, yearly=60), b=one(-1, 5, 6))
    assert why(found).endswith(
        "and no other is clearly better than Now. It takes USD 1 000 one-off and USD 60 more a "
        "year."
    )


def test_of_ranges_that_overlap_it_says_why_they_are_told_apart_and_by_how_much() -> None:
    a, b = (
        drawing(one(*gain, lines=()), drawn)
        for gain, drawn in (((53.8, 74, 77), (72, 74, 77)), ((18, 52, 54.1), (46, 47, 50)))
    )
    answers = beside(lines=(), a=a, b=b)
    found = verdict_told(verdict_of(answers, "now"), answers, TITLES)
    assert found.lead == "Brings most of these: Anvil"
    assert (
        "more than any other: in the same draws Bench brings 26 to 27 points less, though its "
        "likely range overlaps."
    ) in why(found)
    assert "reaches it" not in why(found)
    six, nine = (
        drawing(one(10, 11, 12, takes=takes), drawn)
        for takes, drawn in ((1000, (10, 11, 12)), (1200, (9.9, 11, 12)))
    )
    assert why(told(a=six, b=nine)).endswith(
        "more than any other: in the same draws Bench is worth USD 200 to 250 less, though its "
        "likely range overlaps. It takes USD 1 000 one-off."
    )


def test_beside_equals_it_says_who_is_less_though_its_range_overlaps() -> None:
    drawn, other = (10.0, 11.0, 12.0), (9.9, 12.0, 12.0)
    first = drawing(one(10, 11, 12, takes=1000), drawn)
    equal = drawing(one(10, 11, 12, takes=1200), other)
    less = drawing(one(10, 11, 12, takes=1300), drawn)
    found = told(a=first, b=equal, c=less)
    assert found.lead == "Best of these by a little: Anvil"
    assert "cannot be told from Bench. " in why(found)
    assert why(found).endswith(
        " In the same draws Crane is worth USD 300 less, though its likely range overlaps."
    )
    # The first of equals need not be the one of which most is told.
    a, b, c = (
        drawing(one(9, middle, 12, lines=(), hours=hours), drawn)
        for middle, hours, drawn in (
            (11, 20, (10, 11, 12)),
            (10.8, 10, (9.9, 12, 12)),
            (10, 30, (8, 9, 10)),
        )
    )
    by_hours = told(lines=(), a=a, b=b, c=c)
    assert by_hours.lead == "Best of these by a little: Bench"
    assert why(by_hours).endswith(
        " In the same draws Crane brings 2.0 points less than Anvil, though its likely range "
        "overlaps."
    )
    # Of several each is told, and the ranges are.
    both = told(a=first, b=drawing(one(10, 11, 12, takes=1200), drawn), c=less)
    assert (
        "in the same draws Bench is worth USD 200 less and Crane is worth USD 300 less, though "
        "likely ranges overlap."
    ) in why(both)


def test_the_best_of_equals_and_what_it_is_chosen_by() -> None:
    found = told(a=one(10, 11, 12, takes=1000), b=one(8, 9, 10, takes=500))
    assert (found.lead, found.word) == ("Best of these by a little: Anvil", "best")
    assert why(found) == (
        "By what each is worth today it cannot be told from Bench. It is likely to be worth "
        "USD 4 000 to 5 000 today (5 years at 0 % a year), as typed USD 500 more than "
        "Bench. It takes USD 1 000 one-off."
    )
    # As whoever subtracts the amounts told finds it: 4 501 less 4 000, of 4 500.6 and 4 000.4.
    found = told(a=one(10, 11, 12, takes=999.4), b=one(8, 9, 10, takes=499.6))
    assert "as typed USD 501 more than Bench" in why(found)
    # Both 4500 in the middle.
    found = told(a=one(10, 12, 13, takes=1500), b=one(10, 11, 12, takes=1000))
    assert why(found).endswith(
        "from Anvil. It costs least, one-off and over the years together: it takes USD 1 000 "
        "one-off."
    )
    found = told(
        lines=(), a=one(9, 10, 11, lines=(), hours=20), b=one(8, 9, 10, lines=(), hours=10)
    )
    # Hours that have no wage, and a machine that has no price.
    assert why(found).startswith(
        "By the output of each it cannot be told from Anvil. It has the fewest paid hours and "
        "people: it takes "
    )


def test_the_second_choice_is_never_the_first_one_again() -> None:
    plain = one(10, 11, 12, takes=1000)
    twin = replace(one(10, 10.9, 11.5, takes=1000), plan=replace(plain.plan, scatter=0.1))
    answers = {**beside(a=plain, c=one(8, 9, 10, takes=500)), "b": twin}
    found = verdict_told(verdict_of(answers, "now"), answers, TITLES)
    assert why(found).startswith("By what each is worth today it cannot be told from Crane. ")
    assert "USD 500 more than Crane. It takes" in why(found)
    assert [line.against.text for line in found.lines] == ["–", "the same with other scatter", "–"]
    assert found.lines[1].against.shorter == ("with other scatter",)
    assert "The same with other scatter: likely USD 4 000 to 4 750." in rests(found)
    alone = {**beside(a=plain), "b": twin}
    # It is no other that it leaves behind either.
    assert "and no other is clearly better than Now" in why(
        verdict_told(verdict_of(alone, "now"), alone, TITLES)
    )
    # One that differs in nothing is told as that, and not twice.
    answers = {**beside(a=plain), "b": plain}
    found = verdict_told(verdict_of(answers, "now"), answers, TITLES)
    assert (found.lead, found.lines[1].against.text) == ("Best of these: Anvil", "the same")
    assert "The same" not in rests(found)


def test_where_all_of_them_meet_the_demand_that_is_said() -> None:
    met = replace(one(10, 11, 12), held_back=HeldBack(is_demand_met=True))
    found = told(a=met, b=replace(one(9, 10, 11, takes=500), held_back=met.held_back))
    assert ": both meet the demand, and they differ in what they take. It is " in why(found)
    found = told(a=met, b=met, c=met)
    assert why(found).startswith("All of these meet the demand. Their likely worth today overlaps ")
    assert why(found).endswith(", and each takes nothing more: none can be told apart.")


def test_what_leaves_a_part_short_does_not_meet_the_demand() -> None:
    """One order short of it holds nothing back; its page says 95.9 %, and the verdict agrees."""
    met = replace(one(10, 11, 12), held_back=HeldBack(is_demand_met=True))
    assert met.figures is not None
    (part,) = met.plan.parts
    for made, meets in ((95.9, False), (99.7, False), (99.96, True)):
        figures = replace(met.figures, demand_met={part.id: made})
        short = replace(one(9, 10, 11, takes=500), held_back=met.held_back, figures=figures)
        found = told(a=met, b=short)
        assert ("both meet the demand" in why(found)) is meets
        assert (
            "from Bench: of the two only Anvil meets the demand. It is" in why(found)
        ) is not meets


def making(answer: Answer, percent: float) -> Answer:
    """It, with so much made of the part furthest behind."""
    assert answer.figures is not None
    (part,) = answer.plan.parts
    figures = replace(answer.figures, demand_met={part.id: percent})
    is_met = percent >= 95
    return replace(answer, figures=figures, held_back=HeldBack(is_demand_met=is_met))


def test_who_of_equals_meets_the_demand_is_said_of_any_number_and_that_the_first_does_not() -> None:
    def said(first: float, *others: float) -> str:
        behind = {id_: making(one(9, 10, 11, takes=500), made)
                  for id_, made in zip("bcd", others, strict=False)}  # fmt: skip
        found = told(a=making(one(10, 11, 12), first), **behind)
        assert found.lead == "Best of these by a little: Anvil"
        begins, text, _ = why(found).partition(" It is likely to be worth ")
        assert text
        return begins.partition("cannot be told from ")[2]

    assert said(66, 100, 100) == (
        "Bench and Crane: both meet the demand; Anvil makes 66 % of the part furthest behind."
    )
    assert said(66, 100, 80) == (
        "Bench and Crane: of these only Bench meets the demand; Anvil makes 66 % of the part "
        "furthest behind."
    )
    assert said(66, 100) == (
        "Bench: of the two only Bench meets the demand; Anvil makes 66 % of the part furthest "
        "behind."
    )
    assert said(100, 100, 80) == "Bench and Crane: of these Anvil and Bench meet the demand."
    assert said(98, 99) == "Bench: neither meets all of the demand."
    assert said(66, 98.4, 99.4) == (
        "Bench and Crane: none of these meets all of the demand; of the part furthest behind Anvil "
        "makes 66 %, the others 98 to 99 %."
    )
    assert said(66, 98.4, 98) == (
        "Bench and Crane: none of these meets all of the demand; of the part furthest behind Anvil "
        "makes 66 %, the others 98 %."
    )
    assert said(66, 98.4).endswith(
        "neither meets all of the demand; of the part furthest behind Anvil makes 66 %, Bench 98 %."
    )


def test_of_those_that_are_alike_it_is_said_who_meets_the_demand() -> None:
    each = {id_: making(one(9, 10, 11), made) for id_, made in zip("ab", (98, 90), strict=True)}
    assert why(told(**each)).startswith("Neither meets all of the demand. Their likely worth ")
    each["b"] = making(one(9, 10, 11), 100)
    assert why(told(**each)).startswith("Of the two only Bench meets the demand. Their likely ")
    # Of those that take more nothing is said here.
    dearer = making(one(9, 11, 12, takes=500), 80)
    each["a"] = making(one(9, 10, 11), 100)
    assert why(told(**each, c=dearer)).startswith("Both meet the demand. Their likely worth ")


def test_what_speaks_against_the_best_of_equals_alone_is_said_with_it() -> None:
    first = late(one(10, 11, 12), True)
    found = told(a=first, b=one(9, 10, 11, takes=500))
    assert why(found).endswith(
        " It takes nothing more. What speaks against it alone: 1 order late."
    )
    # What speaks against its equals as well does not set it apart.
    found = told(a=first, b=late(one(9, 10, 11, takes=500), True))
    assert why(found).endswith(" It takes nothing more.")


def test_what_is_assumed_of_years_and_rate_is_said() -> None:
    answers = beside(a=one(10, 11, 12))
    found = verdict_of(answers, "now")
    for assumed, text in (
        (("rate", "years"), "(5 years at 0 % a year, both assumed)"),
        (("rate",), "(5 years at 0 % a year, 0 % assumed)"),
        ((), "(5 years at 0 % a year)"),
    ):
        assert text in why(verdict_told(found, answers, TITLES, assumed))


def test_what_brings_most_and_takes_most_is_told_with_what_takes_less() -> None:
    priced = ("money.wage = 30", "machine.mill.price = 0", "part.body.fixture_price = 0")
    found = told(
        lines=priced,
        a=one(20, 21, 22, lines=priced, hours=20),
        b=one(8, 9, 10, lines=priced),
    )
    assert (found.lead, found.word) == ("Brings most of these: Anvil", "most")
    found = told(
        lines=(), a=one(20, 21, 22, lines=(), hours=20), b=one(8, 9, 10, lines=(), hours=10)
    )
    assert "it brings most and takes most. Bench brings +8 to +10 % and takes " in why(found)


def test_those_that_are_alike_are_not_crowned() -> None:
    found = told(a=one(10, 11, 12, takes=1000), b=one(9, 10, 11, takes=1000), c=one(8, 9, 10))
    # c is worth 4000 to 5000 and takes nothing.
    assert found.lead == "Best of these by a little: Crane"
    assert "costs least, one-off and over the years together: it takes nothing more." in why(found)
    equals = {id_: one(10, 11, 12, takes=1000) for id_ in "abcde"}
    found = told(**equals)
    assert found.lead == "No single best: Anvil, Bench, Crane and 2 more"
    assert why(found).startswith("Their likely worth today overlaps (5 years at 0 % a year; USD ")
    assert why(found).endswith("), and each takes USD 1 000 one-off: none can be told apart.")
    found = told(
        a=one(10, 11, 12, takes=1000),
        b=one(10, 11, 12, takes=1000),
        c=one(11, 11.5, 13, takes=1250),
    )
    assert "As good, and taking more: Crane." in found.rests


def test_where_nothing_beats_the_reference_that_is_said_plainly() -> None:
    found = told(
        a=one(-3, -2, -1), b=one(-1, 5, 9), c=unmade(one(50, 60, 70)), d=one(1, 3, 4, takes=1000)
    )
    assert found.lead == "None of these: no alternative is clearly better"
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
    assert found.lead == "Best of these: Bench"
    assert "Anvil may be better still, or not: not priced yet: machines of mill (1)." in rests(
        found
    )


def test_where_output_alone_decides_that_is_said() -> None:
    found = told(lines=(), a=one(8, 9, 10, lines=()), b=one(-2, 0, 2, lines=()))
    assert why(found) == (
        "Its saleable output is likely +8 to +10 % against Now, and no other is clearly better "
        "than Now. It takes machines of mill (1) and fixtures of body (1), not priced yet."
    )
    assert found.rests[0].startswith("No part has a contribution: output alone decides, ")
    assert (found.is_money, found.lines[0].one_off.text) == (False, "not priced")
    found = told(a=one(8, 9, 10, lean="worse"), b=one(-1, 0, 1, lean="worse"))
    assert found.rests[0].startswith("No alternative is priced wholly: output alone decides, ")
    found = told(years=0, a=one(8, 9, 10, years=0))
    assert found.rests[0] == "No years are counted to come back in: output alone decides."
    overlap = told(lines=(), a=one(8, 9, 10, lines=()), b=one(7, 8, 9, lines=()))
    assert why(overlap) == (
        "Their likely ranges overlap (+8 to +10 % and +7.0 to +9.0 %), and each takes machines "
        "of mill (1) and fixtures of body (1), not priced yet: none can be told apart."
    )


def test_what_it_rests_on_stands_below() -> None:
    found = told(a=one(10, 11, 12))
    assert "It rests on " in rests(found)
    assert " pieces a week sold, 100 wanted in today" in rests(found)
    assert "No stops are entered" in rests(told(lines=(), a=one(8, 9, 10, lines=())))
    said = replace(one(10, 11, 12), said=HoursSaid(20.0, 55.0, 8.0))
    found = told(a=said)
    assert "Anvil: 20.0 spindle hours a day are said; the model finds 8.0 h a day, " in rests(found)
    assert "Drawbacks of Anvil: +55 % was entered." in rests(found)
    found = told(a=replace(said, said=HoursSaid(20.0, 0.0, 8.0)))
    assert "Drawbacks of Anvil: hours said differ." in rests(found)


def test_rush_jobs_are_said_not_to_be_weighed() -> None:
    quick = one(10, 11, 12, takes=1000)
    waiting = RushPlan("hot", 0, 1, None, Fraction(0))
    said = "How soon rush jobs are off is not weighed here"
    assert said not in rests(told(a=quick))
    assert said in rests(told(a=replace(quick, plan=replace(quick.plan, rush=(waiting,)))))


def test_that_the_people_of_the_first_have_no_minute_left_is_said() -> None:
    """Demand was nearly met, and nothing told that any other duty would cost output."""
    spare, none = (
        replace(
            one(10, 11, 12, takes=1000),
            held_back=HeldBack(is_demand_met=True, people=(ShiftPeople("day", busy, ("load",)),)),
        )
        for busy in (0.9, 0.995)
    )
    said = "The people of day are busy 100 % of their time on duty: whatever else is asked of them"
    assert said not in rests(told(a=spare))
    assert said in rests(told(a=none))


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
    assert anvil.mark("best") == "best"
    # 1000 at 1000 to 1200 a year: 0.8 to 1 year, and 0.9 in the middle.
    texts = (anvil.gain, anvil.one_off, anvil.more, anvil.worth, anvil.payback, anvil.against)
    assert [plainly(said.text) for said in texts] == [
        "+11 % (10 to 12)", "1 000", "nothing", "+4 500 (4 000 to 5 000)",
        "0.9 (0.8 to 1.0)", "–",
    ]  # fmt: skip
    assert [plainly(said.within(15)) for said in texts[:1]] == ["+11 (10 to 12)"]
    assert [plainly(said.within(13)) for said in texts[:1]] == ["+11 %"]
    bench = lines["Bench"]
    assert bench.gain.text == "not clear, -1 to +9"
    # A range alone would read as a gain.
    assert bench.gain.within(15) == "not clear"
    assert (bench.gain.sense, bench.worth.text, bench.payback.text) == ("unsure",) + (
        "not clear",
    ) * 2
    assert bench.against.text == "gain not clear; 1 order late"
    assert bench.against.shorter == (
        "gain not clear; 1 more", "not clear; 1 more", "gain not clear", "not clear",
    )  # fmt: skip
    crane = lines["Crane"]
    assert crane.mark("best") == "no-go"
    assert (crane.is_feasible, crane.against.text, crane.against.sense) == (
        False, "body not made", "bad",
    )  # fmt: skip
    assert crane.gain.text.startswith("! ")
    assert lines["Dock"].gain.text == "no difference"
    assert found.lines[-1].title == "Crane"


def test_hours_and_pieces_are_said_to_be_as_typed_where_another_gain_leads() -> None:
    """An owner divided the pieces told, 465 by 433, and found 7 % below a gain of 21 to 24."""
    typed = one(20, 20, 20, takes=1000)
    answer = replace(typed, likely=Likely(saleable=(30, 31, 32)))
    said = (
        "As typed, every time and demand exact, it is +20 %, outside the likely range; hours and "
        "pieces here are as typed."
    )
    answers = beside(a=answer)
    page = " ".join(headline(answers["a"], answers["now"]).sentences)
    for text in (held_sentence(answer), page, scenario_words(answer, "now")):
        assert said in " ".join(text.split())
        assert said not in " ".join(held_sentence(typed).split())
    (sold, *_) = verdict_told(verdict_of(answers, "now"), answers, TITLES).amounts
    assert re.search(r"\d as typed in Anvil", sold)
    assert "as typed" not in told(a=typed).amounts[0]


def test_money_whose_range_leads_has_no_figure_that_stands_among_no_sums() -> None:
    """As typed 2 000 a year, and likely 1 000 to 1 200: the middle stands nowhere else."""
    typed = one(20, 20, 20, takes=1000)
    (line,) = told(a=replace(typed, likely=Likely(saleable=(10, 11, 12)))).lines
    assert plainly(line.worth.text) == "likely +4 000 to +5 000"
    assert plainly(line.worth.within(16)) == "+4 000 to +5 000"
    assert plainly(line.worth.within(14)) == "+4 500"
    assert plainly(line.worth.within(8)) == "+4 500"
    assert line.payback.text == "likely 0.8 to 1.0"
    assert line.payback.within(9) == "0.9"


def test_a_gain_that_waits_for_its_range_is_never_cut() -> None:
    (line,) = told(a=replace(unmade(one(54, 54, 54)), likely=None)).lines
    assert line.gain.within(16) == "! +54 % as typed"
    assert line.gain.within(15) == "! +54 %"


def test_while_a_range_is_missing_nothing_is_said() -> None:
    found = told(a=replace(one(10, 11, 12), likely=None), b=one(4, 5, 6))
    assert found.lead == "No verdict so far: figures are still being worked out ..."
    assert found.lines[0].gain.text == "+11 % as typed"
    assert not any(line.is_first for line in found.lines)
    # What hour meters leave a gain comes after its range, and may widen it.
    metered = one(50, 51, 52)
    meters = Meters(
        "now",
        own=True,
        measured=Fraction(1, 2),
        gap="show",
        switched_on=Fraction(100),
        in_cut=Fraction(50),
        weeks=None,
    )
    metered = replace(metered, plan=replace(metered.plan, meters=meters))
    found = told(a=metered, b=one(4, 5, 6))
    assert found.lead == "No verdict so far: figures are still being worked out ..."
    assert not any(line.is_first for line in found.lines)
    read = tuple(GapAsRead(kind, 60, 0.0, 0.0, 51.0) for kind in ("people", "machine"))
    assert told(a=replace(metered, gap_read=read), b=one(4, 5, 6)).lead == "Best of these: Anvil"
    assert told().lead == "There is no alternative yet"
    assert told().rests == ()


def test_whose_money_is_counted_by_other_rates_is_named() -> None:
    other = one(8, 9, 10, takes=500)
    assert other.money is not None
    rate = Unlike(CountedBy.RATE, "", Fraction(1, 10), Fraction(0))
    other = replace(other, money=replace(other.money, unlike=(rate,)))
    found = told(a=one(20, 21, 22), b=other)
    assert "Bench is counted by other rates than Now" in rests(found)
    assert "counted by other rates" not in rests(told(a=one(20, 21, 22), b=one(8, 9, 10)))


def test_which_of_two_figures_is_not_clear_is_said() -> None:
    # Clearly more is sold, and what it costs a year leaves its money at nothing clear.
    found = told(a=one(10, 11, 12, yearly=1100), b=one(-1, 5, 9))
    against = {line.title: line.against.text for line in found.lines}
    assert against == {"Anvil": "money not clear", "Bench": "gain not clear"}
    # Whole, if shorter, where there is little room: it was cut in its middle.
    assert {line.against.shorter[-1] for line in found.lines} == {"not clear"}


def test_that_somebody_comes_is_told_beside_amounts() -> None:
    more = one(10, 11, 12, takes=1000)
    cell = more.plan.cell
    assert cell is not None
    shifts = tuple(replace(shift, people=shift.people + 1) for shift in cell.shifts[:1])
    cell = replace(cell, shifts=(*shifts, *cell.shifts[1:]))
    more = replace(more, plan=replace(more.plan, cell=cell))
    assert "Against Now: 1 person more in Anvil." in rests(told(a=more, b=one(4, 5, 6)))
    assert "Against Now" not in rests(told(a=one(10, 11, 12), b=one(4, 5, 6)))


def test_what_is_counted_by_other_rates_is_not_ranked() -> None:
    other = one(20, 21, 22, takes=500)
    assert other.money is not None
    rate = Unlike(CountedBy.RATE, "", Fraction(1, 10), Fraction(0))
    other = replace(other, money=replace(other.money, unlike=(rate,)))
    found = told(a=one(8, 9, 10), b=other, c=unmade(one(30, 31, 32)))
    assert found.lead == "Best of these: Anvil"
    assert [(line.title, line.is_ranked) for line in found.lines] == [
        ("Anvil", True),
        ("Crane", True),
        ("Bench", False),
    ]
    assert found.lines[-1].against.text == "counted by other rates"
    assert found.apart == "not ranked: counted by other rates than Now"
    assert told(b=other).lead == "No ranking: each alternative is counted by other rates"


def test_it_is_told_what_would_turn_it() -> None:
    found = told(a=one(10, 11, 12, takes=1000), b=one(4, 5, 6))
    turn = next(each for each in found.rests if each.startswith("What would turn it"))
    assert turn.replace("\u00a0", " ") == (
        "What would turn it: that it alone costs about USD 1 000 more at once, or brings 200 less "
        "a year; then Bench may be as good."
    )
    alone = rests(told(a=one(10, 11, 12)))
    assert "; then the low end of its likely range does not come back in the years counted" in alone
    # Where they overlap it is ahead by what is told of both.
    close = rests(told(a=one(10, 11, 12), b=one(9, 10, 11)))
    assert " is worth more today." in close
    assert "What would turn it" not in rests(told(a=one(-2, 1, 4)))


def test_how_it_ends_under_doubts_is_told_in_a_sentence() -> None:
    found = judged(a=one(10, 11, 12, takes=1000), b=one(4, 5, 6))
    less, longer, slower = Doubt

    def words(*ends: tuple[Doubt, Conclusion, tuple[str, ...]]) -> str:
        return tried_words([Tried(*end) for end in ends], found, TITLES)

    best, none = Conclusion.BEST, Conclusion.NONE
    assert words((less, best, ("b",)), (longer, best, ("a",)), (slower, none, ())) == (
        "Tried: demand a fifth less: Bench is ahead; cycles a tenth longer: it stays; loading and "
        "setup a fifth longer: no alternative is clearly better."
    )
    assert words((less, best, ("a",)), (longer, best, ("a",))) == (
        "Tried: demand a fifth less or cycles a tenth longer: it stays."
    )
    alike, most = Conclusion.ALIKE, Conclusion.MOST
    assert words((less, alike, ("a", "b")), (longer, most, ("b",))) == (
        "Tried: demand a fifth less: Anvil and Bench cannot be told apart; cycles a tenth longer: "
        "Bench brings most."
    )
    assert words() == ""
    # Who gets ahead is told with by how much.
    money = Lead("a", (1234.4, 2000.0, 5000.0), "USD")
    assert plainly(tried_words([Tried(less, best, ("b",), money)], found, TITLES)) == (
        "Tried: demand a fifth less: Bench is ahead, worth USD 1 234 to 5 000 more than Anvil."
    )
    points = Lead("a", (1.0, 2.0, 3.0))
    assert tried_words([Tried(less, most, ("b",), points)], found, TITLES) == (
        "Tried: demand a fifth less: Bench brings most, 1.0 to 3.0 points more than Anvil."
    )
    assert being_tried_words(words((less, best, ("a",))), "12 of 30.") == (
        "Tried: demand a fifth less: it stays. 12 of 30."
    )
    # It stands behind what would turn it.
    beside = told(a=one(10, 11, 12, takes=1000), b=one(4, 5, 6))
    turn = next(at for at, each in enumerate(beside.rests) if each.startswith("What would turn"))
    assert beside.rests_with("Tried.")[turn + 1] == "Tried."
    assert beside.rests_with("") == beside.rests


def test_who_goes_or_comes_is_told_with_what_it_costs_a_year() -> None:
    fewer = one(10, 11, 12, yearly=-74960)
    cell = fewer.plan.cell
    assert cell is not None
    shifts = tuple(replace(shift, people=shift.people - 1) for shift in cell.shifts)
    fewer = replace(fewer, plan=replace(fewer.plan, cell=replace(cell, shifts=shifts)))
    (line,) = told(a=fewer).lines
    assert plainly(line.more.text) == "-74 960 (1 person fewer)"
    assert plainly(line.more.within(10)) == "-74 960"
    then = decision_text(told(a=fewer), "a", "Anvil", "Now", "2026-11-27", "")
    assert "; costs -74 960 a year; " in then
    (line,) = told(a=one(10, 11, 12, yearly=60)).lines
    assert line.more.text == "+60"


def test_older_notes_that_say_once_are_no_other_figures() -> None:
    found = told(a=one(10, 11, 12, takes=1000))
    text = decision_text(found, "a", "Anvil", "Now", "2026-11-27", "")
    assert "USD 1 000 one-off; " in text
    older = latest_decision([text.replace(" one-off; ", " once; ")])
    assert decision_on_paper(older, found, "Now")[-1].endswith("So it is now.")


def test_the_latest_decision_is_found_in_notes() -> None:
    found = told(a=one(20, 21, 22), b=one(8, 9, 10))
    texts = [decision_text(found, "a", "Anvil", "Now", when, "cheap") for when in DAYS_OF_DECISION]
    latest = latest_decision(("Timed in May.", f"Old.\n\n{texts[1]}\n{texts[0]}"))
    said = "Decided on 2026-11-27: Anvil, against Now. Why: cheap."
    assert decided_words(latest, found, "Now") == said
    assert latest_decision(("2026-11-27: we decided nothing.", "")) is None
    # Who decides for the reference keeps things as they are.
    kept = decision_text(found, "now", "Now", "Now", DAYS_OF_DECISION[0], "no room")
    day = DAYS_OF_DECISION[0]
    assert kept.startswith(f"{day}: decided to keep things as they are, Now.\nWhy: no room\n")
    assert decided_words(latest_decision([kept]), found, "Now") == (
        f"Decided on {day}: keep things as they are, Now. Why: no room."
    )
    best = told(a=one(10, 11, 12), b=one(4, 5, 6))
    assert why_decided(best, "Anvil", "Now").startswith("Decide for Anvil. Why")
    # A meeting typed on below another one's large figures.
    leads = "(Best of these: Anvil)"
    assert why_decided(best, "Bench", "Now").startswith(f"Decide for Bench {leads}. Why")
    assert why_decided(best, "Now", "Now").startswith(f"Keep things as they are, Now {leads}. Why")
    assert decided_words(None, found, "Now") == ""


def test_a_reason_ends_with_a_full_stop_where_notes_stand_in_a_row() -> None:
    text = decision_text(told(), "a", "Anvil", "Now", "2026-11-27", "insurer to be asked first")
    both = notes_in_a_row(f"Times of a quarter,\nfrom cards\n\n{text}")
    assert both.startswith(
        "Times of a quarter, from cards. 2026-11-27: decided for Anvil, against Now. Why: insurer "
        "to be asked first. The verdict then: "
    )
    # No second one behind what ends with one, or asks.
    assert "first? The verdict" in notes_in_a_row(text.replace("first\n", "first?\n"))
    assert notes_in_a_row("Two lines\nof one sentence") == "Two lines of one sentence"
    assert notes_in_a_row("") == ""


def test_a_decision_whose_figures_are_others_by_now_says_so() -> None:
    then, now = told(a=one(20, 21, 22)), told(a=one(8, 9, 10))
    text = decision_text(then, "a", "Anvil", "Now", "2026-11-27", "")
    was, is_ = (each.lines[0].gain.text.replace("\u00a0", " ") for each in (then, now))
    assert was != is_
    since = f" Predicted then: saleable output {was}; now {is_}: look at it again."
    said = "Decided on 2026-11-27: Anvil, against Now."
    assert decided_words(latest_decision([text]), then, "Now") == said
    assert decided_words(latest_decision([text]), now, "Now") == said + since
    # Older notes have another word for it; who is measured against another one has other figures.
    older = text.replace("Predicted:", "Foretold:")
    assert decided_words(latest_decision([older]), now, "Now") == said + since
    against = " All is held against Then now."
    assert decided_words(latest_decision([text]), now, "Then") == said + against


def test_on_paper_all_that_was_predicted_is_told_with_what_is_now() -> None:
    then, now = told(a=one(20, 21, 22)), told(a=one(8, 9, 10))
    text = decision_text(then, "a", "Anvil", "Now", "2026-11-27", "cheap")
    found = latest_decision([text])
    was, is_ = (
        decision_text(each, "a", "Anvil", "Now", "2026-11-27", "")
        .splitlines()[1]
        .removeprefix("Predicted: ")
        for each in (then, now)
    )
    said = ("Decided on 2026-11-27: Anvil, against Now.", "Why: cheap.")
    assert decision_on_paper(found, then, "Now") == (*said, f"Predicted then: {was} So it is now.")
    then_and_now = f"Predicted then: {was} Now it is other: {is_}"
    assert decision_on_paper(found, now, "Now") == (*said, then_and_now)
    assert "payback in years" in was
    gone = told(b=one(8, 9, 10))
    assert decision_on_paper(found, gone, "Now")[-1].endswith(" No alternative has that name now.")
    assert decision_on_paper(found, now, "Then")[-1].endswith(" All is held against Then now.")
    kept = latest_decision([decision_text(then, "now", "Now", "Now", "2026-11-27", "")])
    assert decision_on_paper(kept, now, "Now") == (
        "Decided on 2026-11-27: keep things as they are, Now.",
    )
    assert decision_on_paper(None, now, "Now") == ()


DAYS_OF_DECISION = "2026-03-01", "2026-11-27"


def test_what_has_other_demand_is_not_ranked() -> None:
    more = one(80, 81, 82)
    (part,) = more.plan.parts
    more = replace(more, plan=replace(more.plan, parts=(replace(part, weekly=Fraction(180)),)))
    found = told(a=one(8, 9, 10), b=more)
    assert (found.lead, found.apart) == (
        "Best of these: Anvil",
        "not ranked: its demand is not that of Now",
    )
    assert found.lines[-1].against.text == "other demand"
    assert "Bench: demand is not that of Now, so that more may be sold " in rests(found)
    assert told(b=more).lead == "No ranking: no alternative has the demand of Now"


def test_a_shorter_cycle_without_its_cost_is_told_as_not_priced() -> None:
    quick = one(20, 21, 22)
    (part,) = quick.plan.parts
    parts = (replace(part, cycle=part.cycle - 60),)
    quick = for_nothing(replace(quick, plan=replace(quick.plan, parts=parts)), "cycle")
    found = told(a=quick, b=one(4, 5, 6))
    assert found.lead == "Best of these: Bench"
    assert "Anvil may be better still, or not: not priced yet: shorter cycle of body." in (
        rests(found)
    )
    assert why(told(a=quick)) == "Anvil is not priced yet."
    # What nobody has priced is never told to cost nothing.
    line = next(each for each in found.lines if each.scenario == "a")
    assert line.one_off.text == "not priced"


def test_two_that_were_not_tried_together_are_named_and_no_gain_of_both_is_told() -> None:
    answers = beside(a=one(20, 21, 22), b=one(8, 9, 10))
    found = verdict_of(answers, "now")
    alone = verdict_told(found, answers, TITLES).untried
    assert alone.startswith("Only what stands here was compared: F6, ")
    # With no verdict there is nothing to be careful about.
    assert verdict_told(verdict_of(beside(), "now"), beside(), TITLES).untried == ""
    text = verdict_told(found, answers, TITLES, apart=("a", "b")).untried
    assert text.startswith("Not tried together: Anvil and Bench, which change different things; ")
    assert "what both bring is not known" in text
    assert "a on one makes a scenario based on it" in text
    assert "F6, what would do it?" in text
    assert "%" not in text


def test_the_heading_tells_of_an_order_that_figures_do_not_show() -> None:
    assert told(a=one(20, 21, 22), b=one(4, 5, 6)).order == "most worth first"
    # What cannot be done stands last, whatever it is worth.
    found = told(a=one(4, 5, 6), b=unmade(one(20, 21, 22)))
    assert [line.title for line in found.lines] == ["Anvil", "Bench"]
    assert found.order == "most worth, no-go last"
    found = told(lines=(), a=one(4, 5, 6, lines=()), b=unmade(one(20, 21, 22, lines=())))
    assert found.order == "most output, no-go last"
    # By hours: what brings less stands first.
    found = told(
        lines=(), a=one(9, 10, 11, lines=(), hours=20), b=one(8, 9, 10, lines=(), hours=10)
    )
    assert [line.title for line in found.lines] == ["Bench", "Anvil"]
    assert found.order == "ranked by the verdict"


def test_no_range_lies_beyond_what_it_is_at_most() -> None:
    found = told(a=one(4, 5, 6, lean="worse"), b=one(1, 2, 3))
    worth = next(line.worth for line in found.lines if line.title == "Anvil")
    assert plainly(worth.text) == "+2 500 (2 000 to at most 3 000)"
    assert plainly(worth.within(20)) == "at most +2 500"


def test_who_leaves_one_person_alone_is_named_with_who_decides() -> None:
    def people(answer: Answer, many: int) -> Answer:
        cell = answer.plan.cell
        assert cell is not None
        shifts = tuple(replace(shift, people=many) for shift in cell.shifts)
        return replace(answer, plan=replace(answer.plan, cell=replace(cell, shifts=shifts)))

    answers = {id_: people(answer, 2) for id_, answer in beside(a=one(10, 11, 12)).items()}
    assert verdict_told(verdict_of(answers, "now"), answers, TITLES).alone == ""
    answers |= {"a": people(answers["a"], 1)}
    found = verdict_told(verdict_of(answers, "now"), answers, TITLES)
    assert found.alone == "Lone working (Anvil): local codes, qualified people decide."
    assert "common practice, no source" in LONE_WORK
    (line,) = found.lines
    assert line.against.text.startswith("lone working 40.0 h a week more")
    assert line.against.shorter[-1] == "lone working"
    # One who is alone in the reference too is told as that, and so is what runs with nobody there.
    answers = {id_: people(answer, 1) for id_, answer in beside(a=one(10, 11, 12)).items()}
    found = verdict_told(verdict_of(answers, "now"), answers, TITLES)
    assert found.lines[0].against.text == "lone working as before"
    assert found.lines[0].against.shorter == ("alone as before", "still alone")
    who = ": local codes, qualified people decide."
    assert found.alone == f"Lone working (as before in Anvil){who}"
    answers |= {"b": people(running_alone(one(4, 5, 6)), 2)}
    found = verdict_told(verdict_of(answers, "now"), answers, TITLES)
    assert found.alone == (f"Lone working (as before in Anvil), unattended running (Bench){who}")
    assert found.lines[1].against.text == "unattended running"
    # Of many only how many they are, and of what.
    many = {id_: people(running_alone(one(4, 5, 6)), 2) for id_ in "bcdef"}
    answers = dict(apart(answers | many))
    titles = {**TITLES, **{id_: id_ for id_ in answers if id_ not in TITLES}}
    found = verdict_told(verdict_of(answers, "now"), answers, titles)
    assert "unattended running (5 of the 6 alternatives)" in found.alone


def running_alone(answer: Answer) -> Answer:
    """The same where pieces are begun all night."""
    cell = answer.plan.cell
    assert cell is not None
    cell = replace(cell, run_ahead=cell.run_ahead + 1)
    return replace(answer, plan=replace(answer.plan, after_shift=True, cell=cell))


def test_what_changes_nothing_any_more_says_so_and_what_to_do() -> None:
    def empty(answer: Answer) -> Answer:
        return replace(answer, plan=replace(answer.plan, same_as="Now"))

    found = told(a=empty(one(0, 0, 0)), b=one(4, 5, 6))
    assert found.lines[-1].against.text == "same as Now"
    assert found.lines[-1].gain.text == "changes nothing"
    why_apart = "changes nothing yet, or any more: remove it, or enter its change"
    assert found.apart == f"not ranked: {why_apart}"
    alone = told(a=empty(one(0, 0, 0)))
    assert alone.lead == "None of these: no alternative changes anything"
    assert why(alone) == "Anvil changes nothing."
    # In its column, in the sentence below the columns and in the summary.
    answer = empty(one(0, 0, 0))
    assert leading_gain_text(answer) == "changes nothing"
    said = "Same as Now: it changes nothing yet, or any more. Enter its change, or remove it (x)."
    assert held_sentence(answer).startswith(said)
    assert said in scenario_words(answer, "now")
    assert "reference: changes nothing" in scenario_words(answer, "now")
    page = headline(answer, beside()["now"])
    assert page.sentences[0] == said
    assert "changes nothing" in page.figures[0].caption
    assert leading_gain_text(one(0, 0, 0)) == "no difference"
    # What it is based on may bring something.
    assert leading_gain_text(empty(one(4, 5, 6))) == "+5.0 %"
    assert held_sentence(empty(one(4, 5, 6))).startswith(said)


def test_pieces_that_are_sold_and_the_floor_are_told_beside_the_reference() -> None:
    answers = dict(beside(a=one(10, 11, 12), b=one(4, 5, 6), c=one(1, 2, 3), d=one(1, 2, 3)))
    sold = "Pieces sold a week: 40 in Now, 40 in Anvil, 80 in Bench, 40 in Crane; 100 wanted."
    for at, (id_, answer) in enumerate(answers.items()):
        assert answer.figures is not None
        counted = replace(answer.figures.counted, saleable={"body": 80.0 if at == 2 else 40.0})
        groups = (replace(answer.plan.groups[0], floor=Fraction(12), count=1 + (id_ == "b")),)
        answers[id_] = replace(
            answer,
            plan=replace(answer.plan, groups=groups),
            figures=replace(answer.figures, counted=counted),
        )
    found = verdict_told(verdict_of(answers, "now", tuple(answers)), answers, TITLES)
    assert found.amounts == (sold, "Floor: 12 m² in Now and all others; 24 m² in Bench.")
    # Of other demand no one figure of what is wanted holds for all.
    (part,) = answers["c"].plan.parts
    more = replace(answers["c"].plan, parts=(replace(part, weekly=Fraction(180)),))
    answers["a"] = replace(answers["a"], plan=more)
    assert "wanted" not in sold_words("now", ["a", "b"], answers, TITLES)
    same = {id_: answer for id_, answer in answers.items() if id_ != "b"}
    found = verdict_told(verdict_of(same, "now", tuple(same)), same, TITLES, units="inch")
    assert "Floor: 129.2 ft², as in Now, in all of them." in found.amounts
    pallets_alone = {
        id_: replace(
            answer,
            plan=replace(
                answer.plan,
                groups=(replace(answer.plan.groups[0], floor=None, pallet_floor=Fraction(2)),),
            ),
        )
        for id_, answer in same.items()
    }
    found = verdict_told(verdict_of(pallets_alone, "now"), pallets_alone, TITLES)
    assert found.amounts[1:] == ("Floor is told once that of mill is entered.",)
