"""``whatif search``: what would do it."""

from __future__ import annotations

from argparse import Namespace

from whatif.answers.progress import Stage
from whatif.answers.search.goal import read_goal
from whatif.answers.search.search import Wish, search
from whatif.command.simulating import simulating
from whatif.command.studies import scenario, sound_draft
from whatif.command.terminal import ProgressLine
from whatif.reports.document import Document
from whatif.reports.search import search_report


def find_next_step(asked: Namespace, progress: ProgressLine) -> Document:
    """Levers tried alone and together, from a scenario on; from today where none is named."""
    draft = sound_draft(asked.study)
    id_ = draft.today_id or "" if asked.scenario is None else scenario(draft, asked.scenario)
    wish = Wish(None if asked.goal is None else read_goal(asked.goal), asked.seed, asked.most)
    progress.begin(Stage.AS_TYPED, 0)
    told = progress.steps(lambda far: f"{far.done} of at most {far.of} tried")
    with simulating(progress.week) as memory:
        return search_report(search(draft, id_, memory, told, wish))
