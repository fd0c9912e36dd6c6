"""One setter, two mills, and a prove-out of five minutes. Minutes from Monday 06:00."""

from __future__ import annotations

import pytest

from .pencil import MONDAY, Sheet, sheet

TWO_MILLS = (
    MONDAY % "10:30"
    + """\
machine.mill.count = 2
machine.mill.pallets = 2
machine.mill.pallet_change = "1 min"
part.body.cycle = "%s"
part.body.setup = "60 min"
part.body.prove_out = "5 min"
part.body.load = "0 min"
part.body.unload = "0 min"
part.body.batch = 1
part.body.numbers = 9
part.body.weekly = 100
sequence.make = "flat_out"
handling.walk = "0 min"
"""
)
"""Mills A and B, pallets A1, A2, B1 and B2. Every load is one piece of another part number, so that
it is set up anew. All four pallets ask from the start of the week; of those the mill that has fewer
loaded ones comes first, then the file's order. The shift ends at 270."""


def cut(cycle: str, stays: str) -> Sheet:
    """The shop with pieces of so many minutes, the setter staying or not."""
    return sheet(TWO_MILLS % cycle + f"handling.setter_stays = {stays}\n")


def test_a_setter_who_goes_on_lets_both_mills_wait_for_five_minutes() -> None:
    """He takes what was asked for first, and the four setups were.

        setter   A1 0-60, B1 60-120, A2 120-180, B2 180-240, proves A 240-245 and B 245-250
        mill A   change 60-61, asks from 61 on, in cycle 245-275
        mill B   change 120-121, asks from 121 on, in cycle 250-280

    Both other pallets stand ready and await their own prove-outs, which go in while attended.
    """
    found = cut("30 min", "false")
    assert found.cycle == [25 + 20, 0, 5 + 10]
    assert found.pieces == {"body": 2}
    assert found.states["pallet_change"] == 1 + 1
    assert found.states["person_at_machine"] == 5 + 5
    assert found.people["busy"] == 4 * 60 + 2 * 5


def test_a_setter_who_stays_proves_what_he_has_set_up() -> None:
    """He stands by for the minute of the change, and the next setup is begun five minutes later.

        setter   A1 0-60, stands by, proves 61-66, B1 66-126, stands by, proves 127-132,
                 A2 132-192, stands by, proves 193-198, B2 198-258, stands by, proves 259-264,
                 A1 again from 264 to the shift's end
        mill A   change 60-61, in cycle 66-96, change 192-193, in cycle 198-228
        mill B   change 126-127, in cycle 132-162, change 258-259, in cycle 264-294

    At 132 pallets A2 and B2 still ask from the start of the week, A1 since 96. Standing by is free
    time on duty.
    """
    found = cut("30 min", "true")
    assert found.cycle == [30 + 30 + 30 + 6, 0, 24]
    assert found.pieces == {"body": 4}
    assert found.states["pallet_change"] == 4 * 1
    assert found.states["person_at_machine"] == 4 * 5
    assert found.people["busy"] == 4 * 60 + 4 * 5 + 6
    assert found.people["on_duty"] - found.people["busy"] == 4 * 1


@pytest.mark.parametrize(("stays", "second"), [("false", 0), ("true", 13)])
def test_where_the_load_cannot_go_in_he_goes_on(stays: str, second: int) -> None:
    """With pieces of 150 min the other pallet of A is set up while the mill cuts.

        setter   A1 0-60, proves 61-66, B1 66-126, proves 127-132, A2 132-192, and as A2 cannot go
                 in, B2 192-252; then proves A2 252-257
        mill A   in cycle 66-216, change 216-217, asks from 217 on, in cycle 257-407
        mill B   in cycle 132-282

    The prove-out of A2 asks at 217, after pallet A1, which asks for its visit from 216 on: it is
    served ahead of visits all the same.

    Where he does not stay the four setups come first: proves A 240-245 and B 245-250, so in cycle
    245-395 and 250-400.
    """
    found = cut("150 min", stays)
    by_day = [25 + 20, 0, 125 + 130] if stays == "false" else [150 + 138 + second, 0, 12 + 137]
    assert found.cycle == by_day


def test_on_a_table_he_proves_after_the_bench_work_of_his_visit() -> None:
    """Tables, cycle 10 min, bench 7 min, unload 0. Both tables ask from the start of the week.

        setter   A 0-60, proves 60-65, B 65-125, proves 125-130, A (asks since 75) 130-190, bench
                 190-197, proves 197-202, B (asks since 140) 202-262, bench 262-269, proves 269-270
        mill A   in cycle 65-75, asks for its prove-out from 190 on, in cycle 202-212
        mill B   in cycle 130-140, asks for its prove-out from 262 on

    At 197 table B has asked since 140, and A since 190.
    """
    tables = TWO_MILLS.replace("machine.mill.pallets = 2\n", "") % "10 min"
    tables += 'part.body.bench = "7 min"\n'
    found = sheet(tables + "handling.setter_stays = true\n")
    assert found.cycle == [10 + 10 + 10, 0, 0]
    assert found.states["person_at_machine"] == 5 + 5 + 5 + 1
    assert found.people["busy"] == 270
    # Else he sets up B 60-120, proves 120-125 and 125-130: of the prove-out that asks at 190 and
    # the visit that asks since 140 the visit comes first, 197-257, its bench 257-264.
    other = sheet(tables)
    assert other.cycle == [10 + 10, 0, 0]


def test_who_may_not_prove_out_does_not_stand_by() -> None:
    """He sets up as in the first timeline, and somebody of another shift proves at once.

    setter   A1 0-60, B1 60-120, A2 120-180, B2 180-240, A1 again 240-
    other    proves A1 61-66, B1 121-126, A2 181-186, B2 241-246
    mill A   in cycle 66-96, 186-216
    mill B   in cycle 126-156, 246-276
    """
    hours = 'start = "06:00", end = "10:30"'
    text = TWO_MILLS % "30 min" + "handling.setter_stays = true\n"
    text = text.replace(hours, hours + ', does = ["load", "setup"]')
    found = sheet(text + f'shift.other = {{ days = ["mon"], {hours}, does = ["prove_out"] }}\n')
    assert found.cycle == [30 + 30 + 30 + 24, 0, 6]
    assert found.people["busy"] == 4 * 60 + 30 + 4 * 5
