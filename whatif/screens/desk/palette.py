"""What the palette finds: commands by their names, then by what they say and show."""

from __future__ import annotations

from typing import Final

from textual.command import Hit, Hits
from textual.system_commands import SystemCommandsProvider
from typing_extensions import override

from whatif.screens.desk.commands import COMMANDS
from whatif.screens.widgets.paging import page_safely

page_safely()

_FINDS: Final = {command.title: command.finds for command in COMMANDS}

_BY_WORDS: Final = 0.01
"""A score below that of any name that fits."""


class Palette(SystemCommandsProvider):
    """The program's commands."""

    @override
    async def search(self, query: str) -> Hits:
        """Names that fit, then commands with words that begin as every word of the query does."""
        matcher, typed = self.matcher(query), query.lower().split()
        for name, says, run, *_ in self.app.get_system_commands(self.screen):
            score = matcher.match(name)
            words = f"{name} {says} {_FINDS.get(name, '')}".lower().replace(",", " ").split()
            if score > 0:
                yield Hit(score, matcher.highlight(name), run, help=says)
            elif typed and all(any(word.startswith(part) for word in words) for part in typed):
                yield Hit(_BY_WORDS, name, run, help=says)
