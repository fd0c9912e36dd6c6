"""A study answered wholly, as a command before has left it, or anew."""

from __future__ import annotations

import json
from contextlib import suppress

from whatif.answers.answer import Comparison
from whatif.answers.progress import Progress
from whatif.command.read_once import read_already
from whatif.command.terminal import ProgressLine
from whatif.session.kept.answers import KeptAnswer
from whatif.session.kept.plain import NotPlain, of_plain, plain_of
from whatif.study.check.check import Checked

_WORDS = "answered wholly"


class WholeAnswers:
    """What a study comes to, all its scenarios or one of them, and what is known of that before.

    To be made before the file is read, so that nothing is kept of one that is written meanwhile.
    """

    def __init__(self, file: str) -> None:
        self._of_all = KeptAnswer(file, _WORDS, content=read_already(file))

    def known(self, scenario: str | None = None) -> Comparison | None:
        """What was found by an earlier command; None where nothing was."""
        found = _read(self._of_all)
        if found is None and scenario is not None:
            found = _read(self._of_one(scenario))
        return found

    def find(
        self, checked: Checked, progress: ProgressLine, scenario: str | None = None
    ) -> Comparison:
        """What the study comes to, of one scenario where that is all that is wanted."""
        # Only now: whoever knows it needs nothing that works it out.
        from whatif.answers.compare import compare_wholly
        from whatif.command.simulating import simulating

        only = None if scenario is None else {scenario}
        with simulating(progress.week) as memory:
            told = progress.steps(_rush_words)
            found = compare_wholly(checked, memory, memory.pause, progress.begin, only, told)
        kept = self._of_all if scenario is None else self._of_one(scenario)
        with suppress(NotPlain):
            kept.keep(json.dumps(plain_of(found), separators=(",", ":")))
        return found

    def _of_one(self, scenario: str) -> KeptAnswer:
        return self._of_all.beside((_WORDS, scenario))


def _rush_words(far: Progress) -> str:
    from whatif.telling.in_words import progress_words

    return f"rush orders tried: {progress_words(far)}"


def _read(kept: KeptAnswer) -> Comparison | None:
    told = kept.told()
    if told is None:
        return None
    try:
        found = of_plain(json.loads(told))
    except (NotPlain, ValueError, TypeError):
        return None
    return found if isinstance(found, Comparison) else None
