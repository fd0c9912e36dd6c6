"""The families that the states of machines belong to."""

from typing import Literal

StateFamily = Literal["cutting", "serving", "waiting", "resting"]
"""What a state has in common with others: a machine cuts, is served (by people or by itself), waits
for something, or rests since nobody is there or nothing is allowed. The colour role is named alike.
"""
