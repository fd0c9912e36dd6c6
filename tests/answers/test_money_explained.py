"""Every figure of money is accounted for, with ramp, wages of shifts, and another reference."""

from __future__ import annotations

import pytest
from answer_studies import CHILD, sound, today
from explain_studies import evaluated

from whatif.answers.account.account import Account
from whatif.answers.account.explain import explain
from whatif.answers.compare import compare
from whatif.session.calculate.memory import Memory
from whatif.telling.account.sentences import note_sentence

FIGURES = (
    "year", "year_gain", "capital", "payback_years", "net_present_value", "rate_of_return_percent",
)  # fmt: skip

SHOP = today(
    "part.body.contribution = 10",
    "part.body.weekly = 3000",
    "part.body.scrap = '5 %'",
    "part.body.material = 3",
    "part.body.fixture_price = 40",
    "part.body.numbers = 2",
    "machine.mill.price = 5000",
    "machine.mill.resale = 700",
    "machine.mill.yearly = 30",
    "money.wage = 2",
    "money.spindle_hour = 1",
    "money.yearly = 100",
)
LATE = "wage = 1\n[scenario.today.shift.late]\ndays = ['mon']\nstart = '14:00'\nend = '22:00'\n"
MORE = "machine.mill.count = 3\nmoney.one_off = 90000\n"


def accounts(more: str, head: str = "") -> list[Account]:
    text = SHOP.replace("[scenario.today]", f"{head}[scenario.today]", 1) + LATE
    keys = {line.split(" = ")[0]: line for line in (MORE + more).splitlines()}
    child = "\n".join(keys.values())
    checked = sound(f"{text}{CHILD}{child}\n[scenario.other]\nparent = 'today'\n")
    found = compare(checked, Memory())
    return [
        explain(found, checked, scenario, f"money.{key}")
        for scenario in found.answers
        for key in FIGURES
    ]


@pytest.mark.parametrize(
    ("more", "head"),
    [
        ("", ""),
        ("money.years = 0.5", ""),
        ("money.years = 0", ""),
        ("money.one_off = 5\nmoney.years = 0.5", ""),
        ("money.one_off = 1\nmoney.years = 2.5\nmachine.mill.owned = 3", ""),
        ("money.ramp = '26 weeks'", ""),
        ("money.ramp = '80 weeks'\nmoney.years = 3.5", ""),
        ("money.ramp = '300 weeks'", ""),
        ("money.one_off = 0\nmachine.mill.owned = 3\nmoney.ramp = '300 weeks'", ""),
        ("machine.mill.count = 0\nmachine.mill.resale = 1", ""),
        ("machine.mill.price = ''", ""),
        ("", 'reference = "other"\ntoday = "child"\n'),
        ("", 'reference = "child"\n'),
    ],
)
def test_lines_give_the_figures_and_checks_come_out(more: str, head: str) -> None:
    for account in accounts(more, head):
        where = (account.scenario, account.figure.id)
        worked, value = account.worked, account.figure.value
        if value is None:
            assert worked.notes, where
            continue
        assert worked.lines[-1].result == pytest.approx(value, rel=1e-9, abs=1e-6), where
        for line in worked.lines:
            found = evaluated(line.expr.numbers())
            assert found == pytest.approx(line.result, rel=5e-4, abs=0.6), where
        assert not [check.id for check in worked.checks if not check.holds], where


def test_a_payback_is_accounted_for_with_what_it_rests_on() -> None:
    (account,) = (
        each
        for each in accounts("money.ramp = '26 weeks'\nmachine.mill.price = ''")
        if (each.scenario, each.figure.key) == ("child", "payback_years")
    )
    said = " ".join(map(note_sentence, account.worked.notes))
    assert "the full gain after 26 weeks; fixtures are not entered, so as many" in said
    assert said.endswith("not priced yet: machines of mill (2).")
