"""A page an alternative: large figures, and a few sentences below them."""

from __future__ import annotations

from itertools import takewhile
from typing import TYPE_CHECKING, Final

from whatif.answers.cautions import Danger
from whatif.answers.takes import buys_of
from whatif.screens.views.large import figure_rows, has_names_in_dots
from whatif.screens.views.view import Look, caution_rows, no_answer
from whatif.screens.widgets.drawing import EDGE, Span, SpanRow, paragraph, row
from whatif.telling.meeting.lines import drawbacks_of
from whatif.telling.meeting.page import headline
from whatif.telling.meeting.to_do import to_do_words
from whatif.telling.said import MARK

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from whatif.answers.answer import Answer
    from whatif.telling.meeting.lines import AlternativeLine
    from whatif.telling.meeting.page import Headline

LONGEST: Final = 76
"""Cells of a line of sentences: longer ones are not read from afar."""

PAGES_TRIED: Final = 30
"""Pages of which it is tried whether all have room for names in dots."""


def has_room_for_dots(
    look: Look, lines: Sequence[AlternativeLine], width: int, height: int
) -> bool:
    """Whether a page is seen whole with the names of its figures in dots."""
    if look.answer is None or look.base is None:
        return True
    said, texts = _page_told(look, look.answer, look.base, lines)
    if not has_names_in_dots(said.figures, width, height):
        return False
    figures = figure_rows(said.figures, width, height, in_dots=True)
    below = [*_paragraphs(texts, min(width, LONGEST)), caution_rows(look, tuple(Danger), width)]
    return 1 + len(figures) + sum(map(len, below)) <= height


def _page_told(
    look: Look, answer: Answer, base: Answer, lines: Sequence[AlternativeLine]
) -> tuple[Headline, list[str]]:
    """What is said on a page, and its sentences, all its drawbacks the last of them."""
    said = headline(answer, base, _to_do(look))
    return said, [*said.sentences, *filter(None, [drawbacks_of(lines, look.chosen)])]


def page_rows(
    look: Look,
    lines: Sequence[AlternativeLine],
    width: int,
    height: int,
    *,
    in_dots: bool = False,
) -> list[SpanRow]:
    """The chosen scenario in large figures and a few sentences, all its drawbacks among them.

    Args:
        lines: of the verdict.
        in_dots: whether what its figures are is drawn in dots too.
    """
    answer, reference = look.answer, look.base
    if answer is None or reference is None or look.reference is None:
        return no_answer(look, width)
    said, texts = _page_told(look, answer, reference, lines)
    drawbacks = drawbacks_of(lines, look.chosen)
    long = min(width, LONGEST)
    is_reference = look.chosen == look.reference
    beside = "the reference" if is_reference else f"against {look.title_of(look.reference)}"
    head = row(" " * EDGE, Span(look.title, "lead"), Span(f"   {beside}", "dim"))
    figures = figure_rows(said.figures, width, height, in_dots=in_dots)
    sentences = _paragraphs(texts, long)
    cautions = caution_rows(look, tuple(Danger), width)
    used = 1 + len(figures) + sum(map(len, sentences)) + len(cautions)
    for room in (height, _THREE_HIGH):
        if used > height:
            # Rather smaller names, and then smaller figures, than a page that scrolls.
            smaller = figure_rows(said.figures, width, min(height, room))
            used, figures = used - len(figures) + len(smaller), smaller
    rest = used - sum(map(len, sentences))
    for many in range(2, min(_JOINED, len(texts)) + 1) if used > height else ():
        # And rather sentences in one paragraph, where that is enough.
        joined = _paragraphs([*texts[:-many], " ".join(texts[-many:])], long)
        if any(map(_is_marked, texts[-many:])):
            break
        if rest + sum(map(len, joined)) <= height:
            sentences, used = joined, rest + sum(map(len, joined))
            break
    if used > height and drawbacks:
        # Where it scrolls all the same, what speaks against it is read before what it is about.
        marked = len(list(takewhile(_is_marked, texts)))
        texts = [*texts[:marked], drawbacks, *texts[marked:-1]]
        sentences = _paragraphs(texts, long)
    # As much air as there is room for: nobody scrolls in front of others.
    above = [row("")] if used + 2 <= height else []
    between = [row("")] if used + 2 + len(sentences) <= height else []
    rows = [head, *above, *figures, *(above and [row("")])]
    for sentence in sentences:
        rows += [*sentence, *between]
    return [*rows, *cautions]


def _is_marked(text: str) -> bool:
    """Whether it is a caution, or what the gain rests on that is not so yet."""
    return text.startswith(MARK)


_THREE_HIGH: Final = 20
"""Rows for which a figure is drawn three rows high."""

_JOINED: Final = 4
"""Sentences that may stand in one paragraph."""


def _paragraphs(texts: Iterable[str], width: int) -> list[list[SpanRow]]:
    """A paragraph each; of cautions in their colour."""
    return [paragraph(text, width, "caution" if _is_marked(text) else "plain") for text in texts]


def _to_do(look: Look) -> str:
    """What has to be bought and changed for the chosen scenario against what stands today."""
    today, resolved = look.answers.get(look.draft.today_id or ""), look.checked.resolved
    here, there = resolved.get(look.chosen or ""), resolved.get(look.draft.today_id or "")
    if look.answer is None or today is None or here is None or there is None or look.is_today:
        return ""
    return to_do_words(buys_of(look.answer, today), here, there)
