"""The states that a machine can be in, one row each: what is said, drawn or added up of it.

What a state is and when a machine is in it says the cell (:mod:`whatif.cell.states`). Everything
else that differs from state to state stands here, so that a new state is one row more.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, Literal, get_args

from whatif.answers.families import StateFamily
from whatif.cell.states import STATES
from whatif.records import dataclass

IsoTime = Literal["production", "setup", "delay", "not busy"]
"""The time of ISO 22400-2 that a state counts as: APT, AUST, ADET, or none within AUBT."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StateRow:
    """One state of a machine.

    Attributes:
        name: in JSON, and in the ids of figures.
        label: in words, as they follow a machine or a number of hours.
        in_bar: the same beside a bar of states; the label where no other is given.
        in_lane: the same in as few words as a stretch of a week's lane has room for.
        letter: in a week's lane; no two states have the same.
        letter_means: what a legend says of the letter; what it does now where no other is given.
        family: what it has in common with others, and the colour role.
        iso: the time of ISO 22400-2 that it counts as.
        in_iso: what that time is said to hold; the label where no other is given.
        down: whether loading losses count it as lost whole.
        turning: whether the spindle goes on in it without people, and the machine is powered.
        jobs: what people work at while a machine is in it.
        holds_back: what holds a scenario back, in the few cells that a narrow column has.
        now: what a machine does now, as a verb with what follows it.
        meaning: what a machine does in it, in a sentence.
        eased_by: what makes it less, in a sentence; "" for time in cycle.
    """

    name: str
    label: str
    in_bar: str = ""
    in_lane: str = ""
    letter: str
    letter_means: str = ""
    family: StateFamily
    iso: IsoTime
    in_iso: str = ""
    down: bool = False
    turning: bool = False
    jobs: tuple[str, ...] = ()
    holds_back: str = ""
    now: str
    meaning: str
    eased_by: str = ""

    def __post_init__(self) -> None:
        alike = {
            "in_bar": self.label,
            "in_lane": self.label,
            "letter_means": self.now,
            "in_iso": self.label,
        }
        for field, words in alike.items():
            if not getattr(self, field):
                object.__setattr__(self, field, words)


ROWS: Final = (
    StateRow(
        name="in_cycle",
        label="in cycle",
        letter="#",
        letter_means="cuts nine tenths or more",
        family="cutting",
        iso="production",
        turning=True,
        now="cuts",
        meaning="The spindle cuts pieces, or what belongs to their cycle.",
    ),
    StateRow(
        name="load",
        label="loading at the spindle",
        in_bar="loading and unloading",
        in_lane="loading",
        letter="l",
        family="serving",
        iso="delay",
        jobs=("visit",),
        holds_back="loading",
        now="stands while it is loaded",
        meaning="Pieces are put on and off while the spindle has nothing ready to cut.",
        eased_by="Quicker loading, or a second pallet loaded meanwhile, lessens it.",
    ),
    StateRow(
        name="setup",
        label="changing the work holding",
        in_bar="changing work holding",
        in_lane="setup",
        letter="s",
        letter_means="work holding is changed",
        family="serving",
        iso="setup",
        down=True,
        jobs=("visit",),
        holds_back="setups",
        now="stands while its work holding is changed",
        meaning="The work holding is changed while the spindle has nothing ready to cut.",
        eased_by="Fewer or shorter changes, larger orders, or pallets that keep theirs lessen it.",
    ),
    StateRow(
        name="person_at_machine",
        label="prove-out and tool change",
        in_bar="prove-out, tool change",
        in_lane="prove-out",
        letter="p",
        letter_means="prove-out, tool change",
        family="serving",
        iso="setup",
        in_iso="prove-out, tool change",
        down=True,
        jobs=("prove_out", "tool_change"),
        holds_back="prove-outs",
        now="stands, a person at it (prove-out or tool change)",
        meaning="A person proves out or renews tools, the spindle standing.",
        eased_by="Fewer setups, shorter prove-outs and longer tool life lessen it.",
    ),
    StateRow(
        name="pallet_change",
        label="changing pallets",
        in_lane="pallet change",
        letter="c",
        family="serving",
        iso="delay",
        in_iso="pallet change",
        turning=True,
        holds_back="pallet change",
        now="changes pallets",
        meaning="Pallets change places in the spindle; this needs nobody.",
        eased_by="More pieces per load, or a quicker change, lessen it.",
    ),
    StateRow(
        name="warm_up",
        label="warming up",
        in_lane="warm-up",
        letter="u",
        family="serving",
        iso="setup",
        in_iso="warm-up",
        down=True,
        turning=True,
        holds_back="warm-up",
        now="warms up",
        meaning="The spindle warms up before the first cut after more than four hours of standing.",
        eased_by="Fewer pauses of more than four hours lessen it.",
    ),
    StateRow(
        name="waiting_for_person",
        label="waiting for a person",
        in_lane="nobody free",
        letter="w",
        family="waiting",
        iso="delay",
        holds_back="nobody free",
        now="waits for a person",
        meaning="A person is asked for, and all on duty are busy, paused or may not do it.",
        eased_by="More people, shorter walks and less work a piece lessen it; or letting those who "
        "are there do more of it, such as setups (may do of a shift), once they can.",
    ),
    StateRow(
        name="first_piece",
        label="waiting for the inspector's release",
        in_bar="first-piece release",
        in_lane="awaits release",
        letter="f",
        letter_means="first piece awaits release",
        family="waiting",
        iso="delay",
        in_iso="a first piece",
        holds_back="inspector",
        now="stands until a first piece is released",
        meaning="A first piece waits for its release, somebody who loads being on duty.",
        eased_by="Quicker release, more hours in which first pieces can be released (may do of a "
        "shift), or fewer setups lessen it.",
    ),
    StateRow(
        name="stopped",
        label="standing stopped",
        in_bar="stopped",
        in_lane="stopped",
        letter="!",
        letter_means="stopped",
        family="waiting",
        iso="delay",
        in_iso="stops",
        down=True,
        holds_back="stops",
        now="stands stopped",
        meaning="A stop has not been put right yet, or hour meters' hours are laid to machines.",
        eased_by="Fewer or shorter stops lessen it, and somebody there to see to them.",
    ),
    StateRow(
        name="no_fixture",
        label="lacking a fixture",
        in_lane="no fixture",
        letter="x",
        letter_means="no fixture free",
        family="waiting",
        iso="not busy",
        holds_back="fixtures",
        now="stands for want of a fixture",
        meaning="A pallet could take work, but all fixtures for it are on other pallets.",
        eased_by="More fixtures of the part that is wanted lessen it.",
    ),
    StateRow(
        name="no_stock",
        label="lacking pieces of the operation before",
        in_bar="no pieces to work on",
        in_lane="no pieces",
        letter="n",
        letter_means="no pieces to work on",
        family="waiting",
        iso="not busy",
        holds_back="stock",
        now="stands for want of pieces of the operation before",
        meaning="There is work, but the operation before has not made the pieces for it yet.",
        eased_by="More of the operation before, or more stock of it at the start, lessens it.",
    ),
    StateRow(
        name="nothing_due",
        label="having nothing due",
        in_bar="nothing due",
        in_lane="nothing due",
        letter="_",
        letter_means="nothing is due",
        family="waiting",
        iso="not busy",
        holds_back="no orders",
        now="stands, nothing being due",
        meaning="The machine stands: there is no order that may be begun yet.",
        eased_by="Only more orders lessen it.",
    ),
    StateRow(
        name="outside_running_hours",
        label="standing loaded while nothing may be begun",
        in_bar="loaded, may not begin",
        in_lane="may not begin",
        letter="-",
        letter_means="nothing may be begun",
        family="resting",
        iso="not busy",
        holds_back="hour limits",
        now="stands, since nothing may be begun now",
        meaning="A load is ready, but nothing may be begun at this hour.",
        eased_by="Longer hours after the shift lessen it.",
    ),
    StateRow(
        name="nobody_on_duty",
        label="needing a person, nobody on duty",
        in_bar="nobody on duty",
        letter=".",
        letter_means="nobody on duty",
        family="resting",
        iso="not busy",
        holds_back="nobody there",
        now="stands, nobody being on duty",
        meaning="A person or a release is needed, and nobody is there to give it.",
        eased_by="Work that needs nobody until the next shift, or somebody who comes, lessens it.",
    ),
)
"""Every state, in the order in which they stand beside a bar."""

_BY_NAME = {row.name: row for row in ROWS}

STATE_ROWS: Final[Mapping[str, StateRow]] = {name: _BY_NAME[name] for name in STATES}
"""Every state by its name, in the order in which the first that holds is the machine's."""

IN_CYCLE: Final = "in_cycle"
"""The state that everybody is after; all others are losses."""

LOSSES: Final = tuple(row for row in STATE_ROWS.values() if row.name != IN_CYCLE)
"""The states other than in cycle, in the same order."""

RESTING: Final = tuple(row.name for row in ROWS if row.family == "resting")
"""The states that :data:`NIGHT` takes together, the one that stands for them last."""

NIGHT: Final = StateRow(
    name="night",
    label="nobody on duty, or nothing may be begun",
    in_bar="nobody or not allowed",
    letter=STATE_ROWS["nobody_on_duty"].letter,
    letter_means="nobody on duty, or nothing may be begun",
    family="resting",
    iso="not busy",
    now="stands, nobody being on duty or nothing allowed",
    meaning="Nobody is there, or nothing may be begun at this hour.",
)
"""All resting states together.

Which of them an hour of the night counts as depends only on whether a loaded pallet happens to
stand there, which is no difference that a shop could act on; in attended hours they stay apart.
"""

UNSOLD: Final = StateRow(
    name="unsold",
    label="in cycle for unsold pieces",
    in_bar="cuts unsold pieces",
    letter=STATE_ROWS[IN_CYCLE].letter,
    family="waiting",
    iso="production",
    now="cuts unsold pieces",
    meaning="The spindle cuts good pieces beyond those wanted, which count as not sold.",
)
"""Hours in cycle that bring nothing (rule `results.saleable`), in a bar apart from the others."""


def states_of(time: IsoTime) -> tuple[StateRow, ...]:
    """The states that count as a time of ISO 22400-2, in the order in which it is told and added.

    Machines that are served come before those that wait, and of these those down before others.
    """
    families = get_args(StateFamily)
    rows = (row for row in ROWS if row.iso == time)
    return tuple(sorted(rows, key=lambda row: (families.index(row.family), not row.down)))


TURNING: Final = tuple(
    row.name for time in get_args(IsoTime) for row in states_of(time) if row.turning
)
"""The states in which a spindle goes on without people."""


LONGER_WITH_PEOPLE_AWAY: Final = (
    "load",
    "setup",
    "person_at_machine",
    "first_piece",
    "waiting_for_person",
)
LONGER_WITH_MACHINES_TIED_UP: Final = ("stopped", "warm_up", "pallet_change")
"""States that last longer where people are away, and where machines are tied up."""

EASED_BY_HANDS: Final = frozenset({"waiting_for_person", "load", "person_at_machine"})
EASED_BY_SET_UPS: Final = frozenset({"setup", "waiting_for_person", "person_at_machine"})
EASED_BY_PALLETS: Final = frozenset({"load", "setup", "first_piece", "no_fixture", "pallet_change"})
EASED_BY_HOURS: Final = frozenset({"nobody_on_duty", "outside_running_hours"})
"""States that hands more, less to set up, pallets and hours make less of."""
