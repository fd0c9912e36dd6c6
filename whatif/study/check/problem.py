"""What is wrong, or odd, in a study: one place, one value, what is allowed."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One error or warning, in parts and as a sentence.

    `scenario` is None for a root key; `key` is dotted; `value` is shown as the
    file has it, "" where the point is that there is none; `nearest` is the known
    key or id that was most likely meant.
    """

    scenario: str | None
    key: str
    value: str
    message: str
    allowed: str = ""
    nearest: str | None = None

    @property
    def sentence(self) -> str:
        """All parts in plain English, as it stands in a list of problems."""
        place = ", ".join(
            part
            for part in (f"scenario {self.scenario}" if self.scenario else "", self.key)
            if part
        )
        text = (
            f"{place} = {self.value}: {self.message}."
            if self.value
            else (f"{place}: {self.message}.")
        )
        if self.allowed:
            text += f" Allowed: {self.allowed}."
        if self.nearest:
            text += f" Did you mean {self.nearest}?"
        return text[0].upper() + text[1:] if self.scenario else text
