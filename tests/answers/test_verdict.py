"""Which alternative comes first, by the pencil of :mod:`alternatives`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

import pytest
from alternatives import PRICED, beside, drawing, for_nothing, judged, late, one, unmade
from answer_studies import CHILD, TODAY, sound, today

from whatif.answers.again import Again, But
from whatif.answers.answer import Answer, GapAsRead, HoursSaid
from whatif.answers.choice import AheadBy
from whatif.answers.compare import compare
from whatif.answers.gains import Gains, Likely
from whatif.answers.money import flows
from whatif.answers.money.missing import Lean, Missing
from whatif.answers.verdict import Against, Alternative, Basis, Conclusion, Verdict, verdict_of
from whatif.cell.model import StopKind
from whatif.plan.model import LoadedFewer, NobodyRepairs
from whatif.session.calculate.memory import Memory
from whatif.telling.meeting.lines import against_words


def of(found: Verdict, scenario: str) -> Alternative:
    return next(each for each in found.alternatives if each.scenario == scenario)


def ends(found: Verdict) -> tuple[Conclusion, tuple[str, ...], tuple[str, ...]]:
    return found.conclusion, found.first, found.as_good


Change = Callable[[Answer], Answer]


# -- the best, the cheaper, and those that are alike ---------------------------------------------


def test_what_is_worth_most_beyond_every_range_is_best() -> None:
    # a: 4000 to 5000, b: 2000 to 3000; that b takes nothing and is back at once is no matter.
    found = judged(b=one(4, 5, 6), a=one(10, 11, 12, takes=1000))
    assert ends(found) == (Conclusion.BEST, ("a",), ())
    assert of(found, "a").value == pytest.approx((4000, 4500, 5000))
    assert [each.scenario for each in found.alternatives] == ["a", "b"]
    assert found.basis is Basis.WORTH


def test_more_output_is_not_best_where_it_costs_more_than_it_is_worth() -> None:
    # a: 5 x 2000 - 9000 = 1000 and up to 1500; b: 5 x 500 = 2500 and more.
    found = judged(a=one(20, 20.5, 21, takes=9000), b=one(5, 6, 7))
    assert ends(found) == (Conclusion.BEST, ("b",), ())


@pytest.mark.parametrize(("high", "conclusion"), [(8.9, Conclusion.BEST), (9, Conclusion.CHOSEN)])
def test_ranges_that_touch_cannot_be_told_apart(high: float, conclusion: Conclusion) -> None:
    # a: 4000 to 5000; b: 500 x 9 - 500 = 4000 touches it, 500 x 8.9 - 500 = 3950 does not.
    found = judged(a=one(10, 11, 12, takes=1000), b=one(7, 8, high, takes=500))
    assert found.conclusion is conclusion
    # In the middle a is worth 4500 and b 3500 or less.
    assert (found.first, found.as_good) == (
        ("a",),
        ("b",) if conclusion is Conclusion.CHOSEN else (),
    )


MORE, LESS = (72.0, 74.0, 77.0), (46.0, 47.0, 50.0)


@pytest.mark.parametrize(
    ("high", "drawn", "less"),
    [
        (54.1, LESS, (26, 27, 27)),
        # It reaches far into a's, and brings less all the same.
        (70.0, LESS, (26, 27, 27)),
        # By a tenth of a point, as it reads.
        (70.0, (71.9, 73.9, 76.9), (0.1, 0.1, 0.1)),
        (70.0, (71.96, 73.9, 76.9), None),
        # In the first draw it brings more.
        (54.1, (73.0, 47.0, 50.0), None),
        # In none is it known, or not in all.
        (54.1, (), None),
        (54.1, LESS[:2], None),
        # It does not reach it.
        (53.7, LESS, None),
    ],
)
def test_where_ranges_overlap_two_are_told_apart_by_what_they_bring_in_the_same_draws(
    high: float, drawn: Sequence[float], less: tuple[float, ...] | None
) -> None:
    a = drawing(one(53.8, 74, 77, lines=()), MORE)
    found = judged(lines=(), a=a, b=drawing(one(18, 52, high, lines=()), drawn))
    alike = {"a", "b"} if less is None and high >= 53.8 else {"a"}
    assert {*found.first, *found.as_good} == alike
    assert (found.ahead, [*found.short]) == ("a", ["b"] if less else [])
    if less:
        assert found.short["b"] == pytest.approx(less)
    # A point is worth 500, over five years: 5 x 100.
    priced = judged(a=drawing(one(53.8, 74, 77), MORE), b=drawing(one(18, 52, high), drawn))
    if less:
        assert priced.short["b"] == pytest.approx([500 * each for each in less])


def test_where_money_decides_the_same_draws_tell_what_costs_more_for_the_same() -> None:
    """Nine pallets sold what six did, and their ranges of worth overlapped: "why not nine?"."""
    draws = (10.0, 11.0, 12.0)
    six = drawing(one(10, 11, 12, takes=1000), draws)
    nine = drawing(one(10, 11, 12, takes=1200), draws)
    found = judged(a=six, b=nine)
    assert ends(found) == (Conclusion.BEST, ("a",), ())
    assert found.short == {"b": (200, 200, 200)}
    # Amounts within 1 are the same.
    assert judged(a=six, b=drawing(one(10, 11, 12, takes=1000.9), draws)).short == {}
    # Priced wholly it may be worth more.
    may_be = drawing(one(10, 11, 12, takes=1200, lean="better"), draws)
    assert judged(a=six, b=may_be).short == {}


@pytest.mark.parametrize(("people", "less"), [(53.0, (1, 27, 35.3)), (54.2, None)])
def test_under_the_same_reading_of_hour_meters_it_has_to_bring_less_too(
    people: float, less: tuple[float, ...] | None
) -> None:
    def read(*found: float) -> tuple[GapAsRead, ...]:
        kinds = zip(("people", "machine"), found, strict=True)
        return tuple(GapAsRead(kind, 60, 0.0, 0.0, gain) for kind, gain in kinds)

    a = replace(drawing(one(53.8, 74, 77, lines=()), MORE), gap_read=read(54.0, 53.8))
    b = replace(drawing(one(18, 52, 54.1, lines=()), LESS), gap_read=read(people, 18.5))
    # What is told holds the differences under both.
    assert judged(lines=(), a=a, b=b).short == ({"b": pytest.approx(less)} if less else {})


def test_of_weeks_that_have_not_settled_each_half_has_to_tell_it() -> None:
    def halved(answer: Answer, *each: float) -> Answer:
        return replace(answer, settled=False, halves=tuple(Gains(saleable=gain) for gain in each))

    a = drawing(one(53.8, 74, 77, lines=()), MORE)
    b = drawing(one(18, 52, 54.1, lines=()), LESS)
    assert judged(lines=(), a=halved(a, 70, 78), b=halved(b, 54, 50)).short == {"b": (16, 27, 28)}
    assert judged(lines=(), a=halved(a, 54, 78), b=halved(b, 54, 50)).short == {}


def test_who_is_not_told_from_the_one_ahead_is_as_good_beside_one_that_is() -> None:
    found = judged(
        a=drawing(one(10, 11, 12, takes=1000), (10, 11, 12)),
        b=drawing(one(10, 11, 12, takes=1200), (9.9, 12, 12)),
        c=drawing(one(10, 11, 12, takes=1300), (10, 11, 12)),
    )
    assert ends(found) == (Conclusion.CHOSEN, ("a",), ("b",))
    assert found.short == {"c": (300, 300, 300)}


def test_of_equals_the_one_that_is_worth_most_comes_first_and_the_rest_by_worth() -> None:
    found = judged(
        a=one(10, 11, 12, takes=1000),
        b=one(9, 10, 11, takes=900),
        c=one(8, 9, 10, takes=400),
        d=one(1, 2, 3),
    )
    # c: 3600 to 4600 reaches a's 4000; d: 500 to 1500 does not.
    assert ends(found) == (Conclusion.CHOSEN, ("a",), ("b", "c"))
    assert found.choice is AheadBy.WORTH
    # By their middles, 4100 of b and c and 1000 of d; of equals the one that costs less.
    assert [each.scenario for each in found.alternatives] == ["a", "c", "b", "d"]


def test_what_is_paid_a_year_counts_as_much_as_what_is_laid_out_once() -> None:
    # Longer hours take nothing at once, and 400 a year: 5 x 1100 - 2000. Pallets take 1000 once.
    longer = one(12, 15, 16, yearly=400)
    found = judged(longer=longer, pallets=one(10, 11, 12, takes=1000))
    # 5500 against 4500 in the middle; that both reach 4000 and more, none is clearly ahead.
    assert ends(found) == (Conclusion.CHOSEN, ("longer",), ("pallets",))
    assert of(found, "longer").value == pytest.approx((4000, 5500, 6000))
    # With 600 a year it is 4500, 1000 less than without, and costs 3000 over the years.
    found = judged(longer=one(12, 14, 16, yearly=600), pallets=one(10, 11.5, 12, takes=1000))
    assert ends(found) == (Conclusion.CHOSEN, ("pallets",), ("longer",))
    takes = of(found, "longer").takes
    assert takes is not None
    assert (takes.one_off, takes.yearly, takes.over_years) == pytest.approx((0, 600, 3000))


def test_who_is_ahead_is_told_by_the_middle() -> None:
    # b's middle is the highest; c reaches b's 9 and not a's 10.
    found = judged(a=one(10, 11, 12, takes=0.0), b=one(9, 11.5, 15), c=one(8, 9, 9.5, takes=-1))
    assert ends(found) == (Conclusion.CHOSEN, ("b",), ("a", "c"))


def having_middle(answer: Answer, middle: float) -> Answer:
    """The same where the middle of its likely range is another one than as typed."""
    assert answer.likely is not None
    assert answer.likely.saleable is not None
    low, _, high = answer.likely.saleable
    return replace(answer, likely=replace(answer.likely, saleable=(low, middle, high)))


@pytest.mark.parametrize("lines", [PRICED, ()], ids=["money", "output"])
def test_of_equals_the_one_is_ahead_of_which_more_is_told(lines: tuple[str, ...]) -> None:
    # In the middle of its range b brings more; what leads wherever it is told is as typed.
    a, b = one(9, 11, 12, lines=lines), having_middle(one(9, 10, 14, lines=lines), 12)
    found = judged(lines=lines, a=a, b=b)
    assert [each.scenario for each in found.alternatives] == ["a", "b"]
    # Where as typed lies outside, the middle is told.
    outside = having_middle(replace(one(9, 10, 14, lines=lines), gains=Gains(saleable=8)), 12)
    found = judged(lines=lines, a=a, b=outside)
    assert [each.scenario for each in found.alternatives] == ["b", "a"]


@pytest.mark.parametrize(("takes", "first"), [(1000.9, ("a", "b")), (1001, ("a",))])
def test_equals_that_are_worth_and_take_as_much_are_alike(
    takes: float, first: tuple[str, ...]
) -> None:
    found = judged(b=one(10, 11, 12, takes=takes), a=one(10, 11, 13, takes=1000))
    assert sorted(found.first) == list(first)
    assert found.conclusion is (Conclusion.ALIKE if first[1:] else Conclusion.CHOSEN)


def test_equals_that_are_worth_as_much_are_told_by_what_they_cost() -> None:
    # Both 4500 in the middle.
    found = judged(a=one(10, 12, 13, takes=1500), b=one(10, 11, 12, takes=1000))
    assert (found.first, found.choice) == (("b",), AheadBy.COST)


def test_of_unpriced_equals_the_fewest_paid_hours_come_first() -> None:
    more = one(9, 10, 11, lines=(), hours=20)
    found = judged(lines=(), a=more, b=one(8, 9, 10, lines=(), hours=10), c=one(1, 2, 3, lines=()))
    assert ends(found) == (Conclusion.CHOSEN, ("b",), ("a",))
    assert (found.choice, found.for_less) == (AheadBy.HOURS, "c")


def test_what_brings_most_and_takes_most_is_not_called_best() -> None:
    most = one(20, 21, 22, lines=(), hours=20)
    found = judged(lines=(), a=most, b=one(8, 9, 10, lines=(), hours=10), c=one(1, 2, 3, lines=()))
    assert ends(found) == (Conclusion.MOST, ("a",), ())
    assert found.for_less == "b"


def test_equals_with_other_stops_are_one() -> None:
    plain = one(10, 11, 12, takes=1000)
    cell = plain.plan.cell
    assert cell is not None
    stops = (StopKind("chips", 3600, 60),)
    with_stops = replace(
        one(9, 10, 11, takes=1000), plan=replace(plain.plan, cell=replace(cell, stops=stops))
    )
    found = judged(s=with_stops, a=plain, b=one(1, 2, 3))
    assert ends(found) == (Conclusion.BEST, ("a",), ())
    assert [(it.scenario, it.same_as) for it in found.alternatives] == [
        ("a", ""), ("s", "a"), ("b", ""),
    ]  # fmt: skip


def in_cell(answer: Answer, **changed: object) -> Answer:
    cell = answer.plan.cell
    assert cell is not None
    return replace(answer, plan=replace(answer.plan, cell=replace(cell, **changed)))


@pytest.mark.parametrize(
    ("changed", "scatter", "but"),
    [
        ({}, None, ()),
        ({}, 0.1, (But.SCATTER,)),
        ({"visit_extra": 60}, None, (But.GAP,)),
        ({"stops": (StopKind("chips", 3600, 60),)}, 0.1, (But.STOPS, But.SCATTER)),
    ],
)
def test_what_is_the_first_again_is_no_second_choice(
    changed: dict[str, object], scatter: float | None, but: tuple[But, ...]
) -> None:
    # None of them is a lever of the shop, and both reach the low end of a's range, as b does.
    plain = one(10, 11, 12, takes=1000)
    twin = in_cell(one(10, 10.9, 11.5, takes=1000), **changed)
    if scatter is not None:
        twin = replace(twin, plan=replace(twin.plan, scatter=scatter))
    other = in_cell(one(8, 9, 10, takes=500), run_ahead=1)
    answers = {**beside(), "a": plain, "twin": twin, "b": other}
    found = verdict_of(answers, "now")
    assert ends(found) == (Conclusion.CHOSEN, ("a",), ("b",))
    assert of(found, "twin").again == Again("a", but)


def test_what_stops_alone_make_of_counted_fixtures_is_no_other_choice() -> None:
    plain = one(10, 11, 12, takes=1000)
    twin = in_cell(one(9, 10, 11, takes=1300), stops=(StopKind("chips", 3600, 60),))
    assert twin.money is not None
    # 300 more are counted for fixtures that are held at once, as nobody has entered how many are.
    capital = replace(
        twin.money.of_capital, fixtures=twin.money.of_capital.fixtures + Fraction(300)
    )
    held = replace(twin, money=replace(twin.money, of_capital=capital))
    assert of(judged(a=plain, s=held), "s").same_as == "a"
    assert of(judged(a=plain, s=twin), "s").same_as == ""


def test_a_range_holds_what_the_hour_meters_say() -> None:
    read = tuple(
        GapAsRead(kind, 60, 0.0, 0.0, gain) for kind, gain in (("people", 14.0), ("machine", 6.0))
    )
    found = judged(a=replace(one(10, 11, 12), gap_read=read))
    assert of(found, "a").likely == (6, 11, 14)
    assert of(found, "a").value == pytest.approx((3000, 5500, 7000))


# -- nothing that is better ----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("gain", "takes", "against"),
    [
        ((-1, 5, 9), 0, Against.NOT_CLEAR),
        ((-3, -2, -1), 0, Against.LESS),
        # What it frees is used up: it is a loan.
        ((-3, -2, -1), -9000, Against.LESS),
        ((0, 0, 0), 0, Against.NO_GAIN),
        ((0, 0, 0), 500, Against.NO_GAIN),
        # 5 x 100 - 1000 at the low end.
        ((1, 3, 4), 1000, Against.NOT_BACK),
        # 5 x 200 - 1000 is nothing.
        ((2, 3, 4), 1000, Against.NOT_BACK),
    ],
)
def test_what_is_no_clear_gain_never_comes_first(
    gain: tuple[float, float, float], takes: float, against: Against
) -> None:
    found = judged(a=one(*gain, takes=takes))
    assert ends(found) == (Conclusion.NONE, (), ())
    assert of(found, "a").against == (against,)
    assert not of(found, "a").is_better


def test_what_frees_money_and_loses_nothing_is_better() -> None:
    found = judged(a=one(0, 0, 0, takes=-500))
    assert ends(found) == (Conclusion.BEST, ("a",), ())


def test_a_gain_that_is_not_clear_does_not_blur_the_others() -> None:
    found = judged(a=one(-1, 50, 90), b=one(4, 5, 6))
    assert ends(found) == (Conclusion.BEST, ("b",), ())


# -- what cannot be done -------------------------------------------------------------------------


def warned(*warnings: object) -> Change:
    return lambda answer: replace(answer, plan=replace(answer.plan, warnings=warnings))


def without_figures(answer: Answer) -> Answer:
    return replace(answer, figures=None, money=None, likely=None, gains=Gains())


@pytest.mark.parametrize(
    ("change", "against"),
    [
        (unmade, Against.NOT_MADE),
        (warned(NobodyRepairs(("chip",))), Against.STANDS_FOR_GOOD),
        (without_figures, Against.NOTHING_RUN),
    ],
)
def test_what_cannot_be_done_never_comes_first(change: Change, against: Against) -> None:
    found = judged(a=change(one(50, 60, 70)), b=one(4, 5, 6), c=one(-1, 0, 1))
    assert ends(found) == (Conclusion.BEST, ("b",), ())
    assert of(found, "a").against[0] is against
    assert [each.is_feasible for each in found.alternatives] == [True, True, False]
    assert found.alternatives[-1].scenario == "a"
    assert judged(a=change(one(50, 60, 70))).conclusion is Conclusion.NONE


# -- what is not priced --------------------------------------------------------------------------


@pytest.mark.parametrize("lean", ["worse", "either"])
def test_what_is_not_priced_never_comes_first_by_money(lean: Lean) -> None:
    # b: 2000 to 3000. a is worth 5000 at most, c 2000 at most, d 1950.
    found = judged(
        a=one(8, 9, 10, lean=lean),
        b=one(4, 5, 6),
        c=one(2, 3, 4, lean=lean),
        d=one(2, 3, 3.9, lean=lean),
    )
    assert ends(found) == (Conclusion.BEST, ("b",), ())
    assert found.may_be == ("a", "c")
    assert of(found, "a").against == (Against.NOT_PRICED,)


def test_where_nothing_priced_is_better_what_is_not_priced_may_be() -> None:
    found = judged(a=one(8, 9, 10, lean="worse"), b=one(-1, 0, 1))
    assert (found.conclusion, found.may_be) == (Conclusion.NONE, ("a",))


def test_prices_that_the_reference_lacks_make_others_no_dearer() -> None:
    found = judged(a=one(8, 9, 10, lean="better"))
    assert (found.basis, found.first) == (Basis.WORTH, ("a",))


def test_what_takes_nothing_only_as_prices_are_missing_is_not_priced() -> None:
    answer = one(8, 9, 10, lean="better")
    assert answer.money is not None
    missing = (Missing("machines", "mill", 1.0, "Now"),)
    bare = replace(answer, money=replace(answer.money, not_priced=missing))
    found = judged(a=bare, b=one(4, 5, 6))
    assert (found.first, found.may_be) == (("b",), ("a",))


def test_where_nothing_is_priced_output_alone_decides() -> None:
    found = judged(
        a=one(8, 9, 10, lean="worse", takes=1), b=one(4, 5, 6, lean="worse"), c=unmade(one(1, 2, 3))
    )
    assert (found.basis, found.first) == (Basis.OUTPUT_NOT_PRICED, ("a",))
    assert of(found, "a").value == (8, 9, 10)
    # Equals of unknown cost are alike, whatever little of it is known.
    found = judged(a=one(8, 9, 10, lean="worse", takes=1), b=one(7, 8, 9, lean="worse"))
    assert ends(found) == (Conclusion.ALIKE, ("a", "b"), ())


def test_more_output_that_earns_less_a_year_is_not_better() -> None:
    answer = one(8, 9, 10, lean="worse")
    assert answer.money is not None
    # 900 a year less than the gain is worth: 100 x 9 - 900 - 1000.
    losing = replace(answer, money=replace(answer.money, year_gain=-1000.0))
    found = judged(a=losing)
    assert found.basis is Basis.OUTPUT_NOT_PRICED
    assert (found.conclusion, of(found, "a").against[0]) == (Conclusion.NONE, Against.LESS)


def test_without_years_output_alone_decides() -> None:
    found = judged(years=0, a=one(8, 9, 10, years=0, takes=9000), b=one(7, 8, 9, years=0))
    assert (found.basis, found.conclusion) == (Basis.OUTPUT_NO_YEARS, Conclusion.CHOSEN)
    assert found.first == ("b",)


def test_without_money_output_alone_decides() -> None:
    found = judged(lines=(), a=one(8, 9, 10, lines=()), b=one(4, 5, 6, lines=()))
    assert found.basis is Basis.OUTPUT_NO_MONEY
    # A machine that nobody has priced: it only brings most.
    assert ends(found) == (Conclusion.MOST, ("a",), ())
    found = judged(lines=(), a=one(8, 9, 10, lines=()), b=one(4, 5, 8, lines=()))
    assert ends(found) == (Conclusion.ALIKE, ("a", "b"), ())
    assert judged(lines=(), a=one(-2, 0, 1, lines=())).conclusion is Conclusion.NONE
    assert of(judged(lines=(), a=one(-3, -2, -1, lines=())), "a").against == (Against.LESS,)


# -- before all is known -------------------------------------------------------------------------


def test_nothing_is_best_before_every_range_is_there() -> None:
    early = replace(one(4, 5, 6), likely=None)
    found = judged(a=one(50, 60, 70), b=early)
    assert (found.conclusion, found.first) == (Conclusion.WAITING, ())
    assert [each.scenario for each in found.alternatives] == ["a", "b"]
    base = beside()["now"]
    found = verdict_of({"now": base, "a": one(50, 60, 70)}, "now", ("now", "a", "b"))
    assert found.conclusion is Conclusion.WAITING
    assert verdict_of({"now": base}, "now", ("now",)).conclusion is Conclusion.NOTHING_TO_COMPARE


def test_without_a_gain_in_percent_there_is_no_difference() -> None:
    """Where the reference sells nothing there is no range."""
    answer = replace(one(4, 5, 6), gains=Gains(), likely=Likely())
    assert of(judged(a=answer), "a").against == (Against.NOT_CLEAR,)


# -- what else stands in the way -----------------------------------------------------------------


def test_more_late_orders_stand_in_the_way_of_the_best() -> None:
    found = judged(a=late(one(8, 9, 10), True, False))
    assert found.first == ("a",)
    assert of(found, "a").against == (Against.ORDERS_LATE,)
    base = beside()["now"]
    found = verdict_of({"now": late(base, True), "a": late(one(8, 9, 10), True, False)}, "now")
    assert of(found, "a").against == ()


def empty(answer: Answer) -> Answer:
    return replace(answer, plan=replace(answer.plan, same_as="Now"))


def test_what_changes_nothing_is_no_choice() -> None:
    """Not even where what it is based on is better: that one is the choice."""
    found = judged(a=empty(one(10, 11, 12)), b=one(4, 5, 6))
    assert found.first == ("b",)
    assert of(found, "a").against == (Against.CHANGES_NOTHING,)
    assert not of(found, "a").is_ranked
    assert not of(found, "a").is_better
    assert found.alternatives[-1].scenario == "a"
    assert judged(a=empty(one(0, 0, 0))).conclusion is Conclusion.NONE
    # It is not set in below the one that it is based on.
    answers = {**beside(b=one(4, 5, 6)), "a": empty(one(4, 5, 6)), "c": one(4, 5, 6)}
    found = verdict_of(answers, "now")
    assert [(each.scenario, each.same_as) for each in found.alternatives] == [
        ("b", ""), ("c", "b"), ("a", ""),
    ]  # fmt: skip


ALONE = TODAY.replace("people = 2", "people = 1")
NIGHT = 'unattended.after_shift = "until done"\n'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        # Two in the shift, then one.
        (TODAY + CHILD + "shift.early.people = 1\n", "lone working 40.0 h a week more"),
        (TODAY + CHILD + "shift.early.people = 3\n", ""),
        (TODAY + CHILD + NIGHT, ""),
        # One in the shift already: nothing new, and then nights that this one sets up.
        (ALONE + CHILD + 'part.body.cycle = "9 min"\n', "lone working as before"),
        (ALONE + CHILD + NIGHT, "lone working, machines left running"),
        (ALONE + CHILD + NIGHT + "shift.early.people = 2\n", ""),
    ],
)
def test_one_person_alone_is_a_drawback_where_the_reference_has_it_not(
    text: str, said: str
) -> None:
    found = compare(sound(text), Memory()).answers
    base, answer = found["today"], found["child"]
    # Ranges take no part in it.
    likely = Likely(saleable=(8, 9, 10))
    verdict = verdict_of({"today": base, "child": replace(answer, likely=likely)}, "today")
    child = of(verdict, "child")
    assert (Against.LONE_WORK in child.against) is bool(said and "as before" not in said)
    assert (Against.STILL_ALONE in child.against) is ("as before" in said)
    assert (Against.RUNS_ALONE in child.against) is (NIGHT in text)
    words = against_words(child, answer, base)
    assert [each for each in words if each.startswith("lone")] == ([said] if said else [])
    assert child.is_feasible


@pytest.mark.parametrize(
    ("change", "against"),
    [
        (warned(LoadedFewer("body", "mill", 2)), Against.FEWER_FIT),
        (lambda answer: replace(answer, drift=3.0), Against.DRIFTS),
        (lambda answer: replace(answer, said=HoursSaid(10.0, 5.0, 2.0)), Against.SAID_DIFFERS),
    ],
)
def test_what_is_to_be_known_keeps_nobody_from_being_first(
    change: Change, against: Against
) -> None:
    found = judged(a=change(one(8, 9, 10)))
    assert (found.first, of(found, "a").against) == (("a",), (against,))


def test_a_part_that_does_not_fit_a_new_machine_is_a_drawback_though_another_makes_it() -> None:
    """The sheet said so, and the verdict and its page passed it over."""
    large = today(
        'part.body.size = ["300 mm", "300 mm", "100 mm"]',
        'machine.mill.table = ["800 mm", "400 mm"]',
    )
    small = """machine.cell.count = 1
machine.cell.table = ["200 mm", "200 mm"]
"""
    found = compare(sound(large + CHILD + small), Memory()).answers
    base, answer = found["today"], found["child"]
    likely = Likely(saleable=(8, 9, 10))
    verdict = verdict_of({"today": base, "child": replace(answer, likely=likely)}, "today")
    child = of(verdict, "child")
    assert Against.MISFITS in child.against
    assert child.is_feasible
    assert "body does not fit cell" in against_words(child, answer, base)
    # Where the reference has it as well it is nothing that this one brings.
    alike = {"today": answer, "child": replace(answer, likely=likely)}
    assert Against.MISFITS not in of(verdict_of(alike, "today"), "child").against


def test_a_rate_of_return_is_not_halved_beyond_what_a_number_can_tell(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of a thousand alternatives it was most of what the meeting took."""
    tried: list[float] = []

    def noting(of: object, rate: float) -> float:
        tried.append(rate)
        return worth(of, rate)  # type: ignore[arg-type]  # handed on as it comes

    worth = flows.net_present_value
    found = flows.rate_of_return(flows.investment(1000, 300, 0, 7))
    monkeypatch.setattr(flows, "net_present_value", noting)
    assert flows.rate_of_return(flows.investment(1000, 300, 0, 7)) == found
    assert len(tried) < 100


def test_what_is_out_of_sight_is_not_judged() -> None:
    answers = beside(a=one(50, 60, 70), b=one(4, 5, 6))
    found = verdict_of(answers, "now", ("now", "b"))
    assert [each.scenario for each in found.alternatives] == ["b"]
    # A reference that is out of sight is held against all the same.
    assert verdict_of(answers, "now", ("b",)) == found


# -- what nothing is done for --------------------------------------------------------------------


def wanting(answer: Answer, weekly: int) -> Answer:
    (part,) = answer.plan.parts
    return replace(
        answer, plan=replace(answer.plan, parts=(replace(part, weekly=Fraction(weekly)),))
    )


def quicker(answer: Answer) -> Answer:
    (part,) = answer.plan.parts
    parts = (replace(part, cycle=part.cycle * 4 // 5),)
    return for_nothing(replace(answer, plan=replace(answer.plan, parts=parts)), "cycle")


def test_what_other_amounts_are_wanted_of_is_not_ranked() -> None:
    found = judged(a=wanting(one(80, 81, 82), 180), b=one(4, 5, 6))
    assert ends(found) == (Conclusion.BEST, ("b",), ())
    assert of(found, "a").against == (Against.OTHER_DEMAND,)
    assert not of(found, "a").is_ranked
    assert found.alternatives[-1].scenario == "a"
    # By output alone neither.
    found = judged(lines=(), a=wanting(one(80, 81, 82, lines=()), 180), b=one(4, 5, 6, lines=()))
    assert found.first == ("b",)
    assert judged(a=wanting(one(80, 81, 82), 180)).conclusion is Conclusion.NONE


def test_a_part_more_is_other_demand_and_what_less_scrap_needs_is_none() -> None:
    (part,) = one(4, 5, 6).plan.parts

    def making(answer: Answer, *, more: str, weekly: int, after: dict[str, str]) -> Answer:
        other = replace(part, id=more, weekly=Fraction(weekly))
        return replace(
            answer, plan=replace(answer.plan, parts=(*answer.plan.parts, other), after=after)
        )

    found = judged(a=making(one(80, 81, 82), more="cap", weekly=9, after={}))
    assert of(found, "a").against == (Against.OTHER_DEMAND,)
    # Of the first side as much is wanted as the second, of which it is made, needs with its scrap.
    answers = {
        id_: making(
            answer, more="first_side", weekly=105 - 5 * (id_ == "a"), after={part.id: "first_side"}
        )
        for id_, answer in beside(a=one(4, 5, 6)).items()
    }
    assert of(verdict_of(answers, "now", ("now", "a")), "a").is_ranked


@pytest.mark.parametrize("lines", [PRICED, ()])
def test_a_shorter_cycle_that_nothing_is_laid_out_for_is_not_priced(lines: tuple[str, ...]) -> None:
    quick = quicker(one(20, 21, 22, lines=lines))
    found = judged(lines=lines, a=quick, b=one(4, 5, 6, lines=lines))
    assert (found.first, found.may_be) == (("b",), ("a",))
    assert of(found, "a").against == (Against.CYCLE_NOT_PRICED,)
    found = judged(lines=lines, a=quick)
    assert (found.conclusion, found.may_be) == (Conclusion.NONE, ("a",))


def with_setup(answer: Answer, seconds: int) -> Answer:
    cell = answer.plan.cell
    assert cell is not None
    parts = tuple(
        replace(part, making=tuple(each and replace(each, setup=seconds) for each in part.making))
        for part in cell.parts
    )
    return replace(answer, plan=replace(answer.plan, cell=replace(cell, parts=parts)))


@pytest.mark.parametrize(("lines", "first"), [(PRICED, "b"), ((), "a")])
def test_a_shorter_setup_that_nothing_is_laid_out_for_leads_by_output_and_never_by_money(
    lines: tuple[str, ...], first: str
) -> None:
    answers = {
        id_: with_setup(answer, 600 if id_ in ("a", "paid") else 1200)
        for id_, answer in beside(
            lines=lines,
            a=for_nothing(one(20, 21, 22, lines=lines), "set-up"),
            b=one(4, 5, 6, lines=lines),
            **({"paid": one(1, 2, 3, takes=100)} if lines else {}),
        ).items()
    }
    found = verdict_of(answers, "now", tuple(answers))
    assert found.first == (first,)
    against = {each.scenario: each.against for each in found.alternatives if each.against}
    assert against == {"a": (Against.WORK_NOT_PRICED,)}
    # Without what is bought that one alone would read as all that is open.
    said = "shorter set-up" if lines else "machines, fixtures and shorter set-up"
    said += " not priced"
    assert against_words(of(found, "a"), answers["a"], answers["now"]) == [said]


def test_paid_hours_without_a_wage_are_told_where_drawbacks_stand() -> None:
    """A helper of 20 h a week was the only alternative with nothing against it."""
    answers = beside(lines=(), a=one(10, 11, 12, lines=(), hours=20), b=one(4, 5, 6, lines=()))
    found = verdict_of(answers, "now")
    words = {id_: against_words(of(found, id_), answers[id_], answers["now"]) for id_ in ("a", "b")}
    assert words == {"a": ["wages not entered"], "b": []}
    assert of(found, "a").against == ()


def test_a_shorter_cycle_that_is_paid_for_is_ranked() -> None:
    found = judged(a=quicker(one(20, 21, 22, takes=1000)), b=one(4, 5, 6))
    assert ends(found) == (Conclusion.BEST, ("a",), ())
