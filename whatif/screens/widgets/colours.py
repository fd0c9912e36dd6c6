"""Two sets of colours, dark and light.

Every text stands out from what is behind it by 4.5 to 1 or more (WCAG 2.2, success criterion
1.4.3, level AA), with 256 colours too, where each keeps the name that the help has for it;
``tests/screens/test_colours.py`` computes both.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from rich.color import Color as RichColor
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter
from textual.theme import Theme
from typing_extensions import override

_ROLES: Final = {
    "primary": ("#0B5CA8", "#00528F"),
    "secondary": ("#00528F", "#00528F"),
    "accent": ("#87C3F0", "#00437A"),
    "warning": ("#FFC473", "#754600"),
    "error": ("#D17E92", "#8C1D2F"),
    "success": ("#8AD4A1", "#11612B"),
    "foreground": ("#E0E0E0", "#1A1A1A"),
    "background": ("#121212", "#FAFAFA"),
    "surface": ("#1E1E1E", "#F0F0F0"),
    "panel": ("#262626", "#E4E4E4"),
}
"""Each role's colour, dark and light."""

_DERIVED: Final = {
    "boost": ("#303030", "#E4E4E4"),
    "text-muted": ("#B2B2B2", "#4E4E4E"),
    "text-disabled": ("#A8A8A8", "#585858"),
    "text-primary": ("#87C3F0", "#00437A"),
    "text-success": ("#9BDCB0", "#0E5526"),
    "text-error": ("#F2A3B3", "#8C1D2F"),
    "text-accent": ("#87C3F0", "#00437A"),
    "text-warning": ("#FFC473", "#754600"),
    "success-muted": ("#1F3D28", "#C5F3C9"),
    "primary-muted": ("#0C2E48", "#C1DDF4"),
    "warning-muted": ("#443010", "#F7E3C3"),
    "text-faint": ("#7F93A8", "#5B6B7B"),
    # Seen by 3 to 1 on the screen (criterion 1.4.11): of what waits few cells are more than ground.
    "text-waiting": ("#FBF5FF", "#12001A"),
    "waiting-muted": ("#7A5A9E", "#A070CC"),
    # Behind the chosen scenario, and nothing else.
    "scenario": ("#1A2E5A", "#BFDDF5"),
    # Lines of a plot, which no other colour is mistaken for.
    "line-1": ("#87C3F0", "#00437A"),
    "line-2": ("#F0A6CF", "#8A1F5C"),
    "line-3": ("#7FD6D6", "#005A5A"),
    "line-4": ("#C9BFA8", "#5C5138"),
    "footer-key-foreground": ("#87C3F0", "#00437A"),
    # What scrolls, by 3 to 1 from what it moves on (criterion 1.4.11, what is no text).
    "scrollbar": ("#7F93A8", "#5B6B7B"),
    "scrollbar-hover": ("#87C3F0", "#00437A"),
    "scrollbar-active": ("#87C3F0", "#00437A"),
    "scrollbar-background": ("#262626", "#E4E4E4"),
}
"""What Textual would mix from the roles, with too little contrast."""


def _theme(name: str, place: int) -> Theme:
    roles: dict[str, Any] = {role: pair[place] for role, pair in _ROLES.items()}
    derived = {role: pair[place] for role, pair in _DERIVED.items()}
    return Theme(name=name, dark=name == "dark", variables=derived, **roles)


DARK, LIGHT = _theme("dark", 0), _theme("light", 1)


_LOOKS: Final[Mapping[str, tuple[str, str, str]]] = {
    "lead": ("", "", "bold"),
    "bold": ("", "", "bold"),
    "faint": ("text-faint", "", ""),
    "key": ("text-primary", "", "bold"),
    "title": ("text-primary", "", "bold"),
    "dim": ("text-muted", "", ""),
    "gain": ("text-success", "", "bold"),
    "loss": ("text-error", "", "bold"),
    "unsure": ("text-muted", "", ""),
    # White on blue, as every list marks its line; where there is no colour it is turned round.
    "chosen": ("#FFFFFF", "primary", "bold"),
    # Quieter than the cursor; underlined where there is no colour.
    "scenario": ("text-primary", "scenario", "bold"),
    "caution": ("text-warning", "", "bold"),
    "line-1": ("line-1", "", ""),
    "line-2": ("line-2", "", ""),
    "line-3": ("line-3", "", ""),
    "line-4": ("line-4", "", ""),
    "assumed": ("text-muted", "", "italic"),
    "unused": ("text-disabled", "", "italic"),
    "piece": ("text-primary", "", ""),
    "turned": ("text-muted", "", ""),
    "cutting": ("text-success", "success-muted", ""),
    "high": ("text-success", "", ""),
    "serving": ("text-primary", "primary-muted", ""),
    "waiting": ("text-waiting", "waiting-muted", ""),
    "on-cutting": ("success-muted", "text-success", ""),
    "on-serving": ("primary-muted", "text-primary", ""),
    "resting": ("text-muted", "surface", ""),
}
"""What each tone looks like on a widget: its letters, what is behind them, bold or slanted.

"" leaves that as the widget has it.
"""


def look_of(tone: str, colours: Mapping[str, str]) -> Style:
    """What a tone changes of the look around it, with the colours of a theme by their names."""
    letters, behind, weight = _LOOKS[tone]
    return Style(
        color=colours.get(letters, letters) or None,
        bgcolor=colours.get(behind, behind) or None,
        bold=weight == "bold" or None,
        italic=weight == "italic" or None,
    )


class Uncoloured(LineFilter):
    """Sends no colour at all, greys neither; what is marked by a colour behind it is turned round.

    Letters stay bold, slanted or underlined.
    """

    @override
    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [
            Segment(text, style and _uncoloured(style), control)
            for text, style, control in segments
        ]


_MARKED: Final = frozenset(
    RichColor.parse(colour).triplet for role in ("primary", "foreground") for colour in _ROLES[role]
)
"""What lies behind the cursor of a list, and behind that of a field, where one types.

Not what lies behind words on a bar: turned round these would be as solid as hours in cut.
"""


_UNDERLINED: Final = frozenset(RichColor.parse(colour).triplet for colour in _DERIVED["scenario"])
"""What lies behind the chosen scenario, which is not mistaken for the cursor so."""


def _uncoloured(style: Style) -> Style:
    behind = None if style.bgcolor is None else style.bgcolor.triplet
    marked = behind in _MARKED
    return Style(
        bold=style.bold,
        italic=style.italic,
        underline=bool(style.underline) or behind in _UNDERLINED,
        reverse=bool(style.reverse) or marked,
    )
