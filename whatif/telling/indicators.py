"""Indicators of ISO 22400-2 in sentences: with a scenario's numbers, and what each time is."""

from __future__ import annotations

from whatif.answers.indicators import Indicator

STATES_IN_WORDS = (
    "Indicators have the names and formulas of ISO 22400-2. Production is time in cycle; setup is "
    "changing the work holding, prove-out, tool change and warm-up; delay is loading at the "
    "spindle, pallet change, stops, waiting for a person or a first piece; busy is all of "
    "these. Planned are the attended hours, breaks in which pieces may be begun, and what "
    "machines are busy beyond. Loading losses (Nakajima's) take the cycle entered as ideal."
)
"""For readers of a table: which time is which."""

SIGNS_IN_WORDS = (
    "APT production, AUST setup, ADET delay, AUBT busy, PBT planned; APWT people at work, APAT on "
    "duty; GQ good pieces, PQ all."
)
"""What the signs in the formulas stand for."""


_HOURS = "machine hours"

_IS: dict[str, tuple[str, str]] = {
    "availability": ("in cycle", f"planned {_HOURS}"),
    "utilization_efficiency": ("in cycle", f"busy {_HOURS}"),
    "allocation_efficiency": ("busy", f"planned {_HOURS}"),
    "setup_ratio": ("setup", f"{_HOURS} in cycle or setup"),
    "technical_efficiency": ("in cycle", f"{_HOURS} in cycle or delayed"),
    "worker_efficiency": ("at work", "hours of people on duty"),
    "quality_ratio": ("good", "pieces made"),
}
"""What each is a share of what."""


def indicator_words(indicator: Indicator) -> str:
    """The formula with the scenario's numbers, or why there is none, in sentences."""
    if indicator.key not in _IS:
        return _losses_words(indicator)
    count_is, base_is = _IS[indicator.key]
    if indicator.percent is None:
        return f"There are no {base_is}, so there is no {indicator.name}."
    share = f"{indicator.name} {indicator.percent:.1f} %"
    return (
        f"Of {indicator.base:.1f} {base_is} a week {indicator.count:.1f} are {count_is}: {share}."
    )


def _losses_words(indicator: Indicator) -> str:
    losses = indicator.losses
    if losses is None:
        return f"No piece is made in planned time, so there is no {indicator.name}."
    return (
        f"Of {losses.loading:.1f} planned machine hours a week {losses.down:.1f} are lost to "
        f"setups and stops: uptime {100 * losses.uptime:.1f} %. Pieces made at the cycle entered "
        f"take {losses.ideal:.1f} of the others: speed {100 * losses.speed:.1f} %. Good are "
        f"{100 * losses.quality:.1f} % of them. Product {100 * losses.product:.1f} %."
    )
