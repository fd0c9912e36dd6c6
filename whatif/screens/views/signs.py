"""The signs of answers as they are drawn: cutting as a block, and every sign with its tone."""

from __future__ import annotations

from typing import get_args

from whatif.answers.states import IN_CYCLE, STATE_ROWS, StateFamily
from whatif.screens.views.ink import Tone
from whatif.telling.week.lanes import Of
from whatif.telling.week.signs import CUTS, CUTS_MOST

_BLOCKS = {CUTS: "█", CUTS_MOST: "▒"}
"""What stands out on a screen in place of a sign that is drawn as text elsewhere."""

_FAMILIES: tuple[StateFamily, ...] = get_args(StateFamily)

_TONES: dict[Of, dict[Tone, str]] = {
    Of.PEOPLE: {"serving": "0123456789*", "resting": "b>."},
    Of.PERSON: {"serving": "lap!", "waiting": "_", "resting": "b."},
    Of.MACHINE: {
        family: "".join(row.letter for row in STATE_ROWS.values() if row.family == family)
        + (CUTS_MOST if family == STATE_ROWS[IN_CYCLE].family else "")
        for family in _FAMILIES
    },
    Of.LOADED: {"cutting": "123456789*", "resting": "."},
    Of.PALLET: {"cutting": "#", "serving": "lcir", "waiting": "fhwe_", "resting": "b."},
}


def block(sign: str) -> str:
    """The sign as a screen draws it."""
    return _BLOCKS.get(sign, sign)


def tone_of(of: Of, sign: str) -> Tone:
    """The tone of a sign in a lane of that sort."""
    return next(tone for tone, signs in _TONES[of].items() if sign in signs)
