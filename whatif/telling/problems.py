"""What is wrong, odd or not used in a study, in sentences."""

from __future__ import annotations

from collections.abc import Mapping

from whatif.study.check.unused import WhyUnused
from whatif.study.schema.catalogue import key_for
from whatif.study.schema.says import NoMachineHas, UnusedWhen

_UNUSED: Mapping[UnusedWhen, str] = {
    UnusedWhen.TAKEN_OUT: "{0} is taken out here ({1} is 0)",
    UnusedWhen.PART_TAKEN_OUT: "{0} is taken out here (weekly is 0), and no order asks for it",
    UnusedWhen.NOT_MADE_THERE: "{0} is not to be made on {1}",
    UnusedWhen.ONE_PALLET: "there is only the machine's own table (pallets each is 1)",
    UnusedWhen.ONE_PART: "only one part is made, so there is nothing to choose",
    UnusedWhen.NO_MONEY: "no part of any scenario has a contribution, so nothing is told in money",
    UnusedWhen.OF_REFERENCE: "the reference is measured against itself, so it lays out nothing",
    UnusedWhen.TOLD_BY_REFERENCE: "the reference's currency is shown",
    UnusedWhen.REFERENCE_RESALE: (
        "what a machine brings that is given up is told by the reference"
    ),
    UnusedWhen.NO_SIZED_PART: "no part that may run here has a size",
    UnusedWhen.NOTHING_LAID_OUT: (
        "how many pieces a face holds is not known (size, or table and travel)"
    ),
    UnusedWhen.NO_TOOL_PLACES: "no part that may run here has its tool places given",
    UnusedWhen.NO_SIZE: "the size of the part is not given",
    UnusedWhen.NO_TOOL_LIFE: "no tool life is given",
    UnusedWhen.NO_FIRST_PIECE: "there is no wait for a first piece",
    UnusedWhen.NOTHING_WAITS: "no part waits for the release of a first piece",
    UnusedWhen.SHIFT_WITHOUT_BREAKS: "the shift has no breaks",
    UnusedWhen.NO_BREAKS: "no shift has breaks",
    UnusedWhen.NEVER_AFTER_HOURS: "the shifts cover the whole week, so it is never after hours",
    UnusedWhen.NO_LIMIT: "somebody is there all week, so there is no limit",
    UnusedWhen.NOTHING_CLAIMED: "nothing is claimed until an attended utilization is entered",
    UnusedWhen.NO_HOURS_CLAIMED: "no unattended hours are claimed",
    UnusedWhen.NO_METERS: "no hour meters are entered here; the gap is told where they are",
    UnusedWhen.NO_HOURS_IN_CUT: "the hours in cut are missing",
    UnusedWhen.NO_HOURS_ON: "the hours switched on are missing",
}


def unused_words(why: WhyUnused | None) -> str:
    """Why a value changes no answer; "" where it may."""
    if why is None:
        return ""
    if isinstance(why.when, NoMachineHas):
        keys = [key_for(("machine", "machine", name)) for name in why.when.keys]
        labels = " or ".join(key.label for key in keys if key is not None)
        return f"no machine that it may run on has its {labels} given"
    if why.when in (UnusedWhen.HOLDS_THERE, UnusedWhen.HOLDS_THERE_IN_MONEY):
        return f"what is entered for {', '.join(why.names)} holds there"
    return _UNUSED[why.when].format(*why.names)
