"""Two sets of colours, dark and light.

Every text stands out from what is behind it by 4.5 to 1 or more (WCAG 2.2, success criterion
1.4.3, level AA), with 256 colours too; ``tests/test_colours.py`` computes it.
"""

from __future__ import annotations

from typing import Final

from textual.theme import Theme

DARK: Final = Theme(
    name="dark",
    primary="#0B5CA8",
    secondary="#00528F",
    accent="#FFC473",
    warning="#FFC473",
    error="#D17E92",
    success="#8AD4A1",
    foreground="#E0E0E0",
    background="#121212",
    surface="#1E1E1E",
    panel="#262626",
    boost="#303030",
    dark=True,
    variables={
        "text-muted": "#B2B2B2",
        "text-disabled": "#A8A8A8",
        "text-primary": "#87C3F0",
        "text-success": "#9BDCB0",
        "text-error": "#F2A3B3",
        "text-accent": "#FFC473",
        "text-warning": "#FFC473",
        "success-muted": "#1F3D28",
        "primary-muted": "#0C2E48",
        "warning-muted": "#443010",
        "footer-key-foreground": "#FFC473",
    },
)

LIGHT: Final = Theme(
    name="light",
    primary="#00528F",
    secondary="#00528F",
    accent="#7A4A00",
    warning="#7A4A00",
    error="#8C1D2F",
    success="#11612B",
    foreground="#1A1A1A",
    background="#FAFAFA",
    surface="#F0F0F0",
    panel="#E4E4E4",
    boost="#E4E4E4",
    dark=False,
    variables={
        "text-muted": "#4E4E4E",
        "text-disabled": "#585858",
        "text-primary": "#00437A",
        "text-success": "#0E5526",
        "text-error": "#8C1D2F",
        "text-accent": "#6B4100",
        "text-warning": "#6B4100",
        "success-muted": "#CDEBD5",
        "primary-muted": "#CFE2F2",
        "warning-muted": "#F7E3C3",
        "footer-key-foreground": "#6B4100",
    },
)
