"""Two pages that an owner hands to a partner or a bank, and further pages on demand.

Every figure, range and verdict is told in the same words as on the screen.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from whatif.answers.answer import Answer
from whatif.answers.cautions import to_be_read
from whatif.answers.money.missing import Missing
from whatif.answers.night.night import Nights, NightsAfter
from whatif.answers.night.of_study import StudyNights
from whatif.answers.shares import Scope, seen, shares
from whatif.reports.comparison import comparison_report
from whatif.reports.document import (
    Block,
    Code,
    Column,
    Document,
    Either,
    NewPage,
    Picture,
    Strong,
    Text,
    TextHeading,
    TextTable,
    lines_of,
    paragraph_of,
)
from whatif.reports.moves import ranking_report, told_in
from whatif.reports.nights import nights_report
from whatif.reports.paper.drawings import (
    NightTold,
    cash_drawing,
    hours_drawing,
    night_drawing,
)
from whatif.reports.paper.facts import PaperFacts
from whatif.reports.paper.inputs import all_inputs_table, inputs_table, inputs_told
from whatif.telling.amounts import NOTHING, result_told
from whatif.telling.cautions import WHO_DECIDES, caution_in_a_line
from whatif.telling.limits import limit_text
from whatif.telling.meeting.decision import decision_in, decision_on_paper
from whatif.telling.meeting.doubts import tried_words
from whatif.telling.meeting.lines import AlternativeLine
from whatif.telling.meeting.verdict import VerdictTold, verdict_told
from whatif.telling.money.curve import cash_lines
from whatif.telling.money.ranges import year_gain_texts
from whatif.telling.money.rests import not_priced_words, rests_parts
from whatif.telling.moves.in_units import ranking_in
from whatif.telling.moves.ranking import now_in_short, ranking_how, ranking_sentences, side_text
from whatif.telling.moves.tried import moved_in_short
from whatif.telling.night import like_it
from whatif.telling.paper import (
    ALL_REST_ON,
    CASH,
    HOURS_DRAWN,
    NO_NIGHT,
    NO_RANKING,
    NOT_ASKED,
    PICTURE_OF_NIGHT,
    but_words,
    cut_short_words,
    fewest_words,
    inputs_words,
    made_words,
    night_words,
    question_words,
    repeat_words,
    worked_out_words,
)
from whatif.telling.shares import ALL_HOURS, duties_sentence, share_said, shares_total

_ALTERNATIVES = 12
"""That have a line of the table and a bar on the two pages."""

_MOVING = 6
"""Inputs that matter, on the two pages."""

_PER_CELL, _THINGS = 20, 15
"""Inputs of a sort that are named of a thing, and things, on the two pages."""

_CASH_LINES = 4


def paper_report(facts: PaperFacts, *, is_full: bool = False) -> Document:
    """The two pages, and where asked for all that they cut short."""
    told = _verdict(facts)
    shown = told.lines[:_ALTERNATIVES]
    blocks: list[Block | Either] = [
        TextHeading(facts.found.title or facts.made.file or facts.titles[facts.found.reference]),
        paragraph_of(made_words(facts.made.version, facts.made.day, facts.made.file)),
        *_question(facts),
        *_verdict_blocks(facts, told),
        *_alternatives(facts, told, shown),
        *_hours(facts, [line.scenario for line in shown]),
        *_night(facts),
        *_changes(facts),
        *_inputs(facts),
        *_cautions(facts),
        *_repeat(facts),
    ]
    return Document(blocks + (_further(facts) if is_full else []), {}, width=80)


def _section(title: str) -> TextHeading:
    return TextHeading(title, 2)


# -- the question and the verdict --------------------------------------------------------------


def _verdict(facts: PaperFacts) -> VerdictTold:
    held = facts.checked.resolved[facts.found.reference]
    assumed = [key for key in ("rate", "years") if held.origin("money", key).is_assumed]
    found = facts.found
    return verdict_told(facts.verdict, found.answers, facts.titles, assumed, found.units)


def _question(facts: PaperFacts) -> list[Block]:
    others = [each.scenario for each in facts.verdict.alternatives]
    asked = facts.question or question_words(
        facts.titles[facts.found.reference],
        [facts.titles[id_] for id_ in facts.titles if id_ in others],
        in_money=facts.base.money is not None,
    )
    return [_section("The question"), paragraph_of(asked)]


def _verdict_blocks(facts: PaperFacts, told: VerdictTold) -> list[Block]:
    said: list[Block] = [_section("The verdict"), paragraph_of((Strong(told.lead), "."))]
    if told.why:
        said.append(paragraph_of(told.why))
    reference = facts.titles[facts.found.reference]
    decided = decision_on_paper(decision_in(facts.checked.draft), told, reference)
    if decided:
        what, *more = decided
        said.append(paragraph_of((Strong(what), "".join(f" {each}" for each in more))))
    tried = tried_words(facts.tried, facts.verdict, facts.titles)
    rests = (*told.amounts, *told.rests_with(tried))
    return [*said, *([lines_of(rests)] if rests else [])]


# -- the alternatives --------------------------------------------------------------------------


def _alternatives(
    facts: PaperFacts, told: VerdictTold, shown: Sequence[AlternativeLine]
) -> list[Block]:
    if not shown:
        return []
    answers = facts.found.answers
    shared = _shared({line.title: _rests_on(answers[line.scenario]) for line in shown})
    money = told.is_money
    columns = [
        Column("", at_left=True),
        Column("alternative", at_left=True),
        Column("gain", "saleable output"),
        Column("investment", told.currency),
        Column("takes more", "a week")
        if told.is_by_hours
        else Column("costs more", f"{told.currency} a year"),
        *([Column("yearly gain", told.currency), Column("payback", "years")] if money else []),
        Column("drawbacks, what it rests on, not priced", at_left=True),
    ]
    rows = []
    for line in shown:
        answer = answers[line.scenario]
        rests = [each for each in _rests_on(answer) if each not in shared]
        against = [] if line.against.text == NOTHING else [line.against.text]
        if answer.money is None and (open_ := not_priced_words(_unpriced(facts, line))):
            rests.append(open_)
        title: Text = Strong(line.title) if line.is_first else line.title
        in_money = (_year_gain(answer), line.payback.text) if money else ()
        if line.is_again:
            title = f"{_SET_IN}{line.title}"
        figures = (line.gain.text, line.one_off.text, line.more.text, *in_money)
        said = "; ".join([*against, *rests]) or NOTHING
        rows.append((line.mark(told.word), title, *figures, said))
    blocks: list[Block] = [_section("The alternatives"), TextTable(columns, rows, kept=(), names=2)]
    below = [f"{ALL_REST_ON} {'; '.join(shared.values())}."] if shared else []
    if left := len(told.lines) - len(shown):
        below.append(cut_short_words("alternatives", left))
    return blocks + [paragraph_of(text) for text in below]


_SET_IN = "\u00a0\u00a0"
"""Before what is the alternative above it again, so that it is not read as the next one."""


def _unpriced(facts: PaperFacts, line: AlternativeLine) -> list[Missing]:
    """What would have to be bought for it and has no price, where nothing is sold for money."""
    takes = next(
        (each.takes for each in facts.verdict.alternatives if each.scenario == line.scenario), None
    )
    missing = () if takes is None else takes.missing
    return [each for each in missing if each.what != "wage" and not each.reference]


def _year_gain(answer: Answer) -> str:
    if answer.money is None or not answer.money.is_compared:
        return NOTHING
    return year_gain_texts(answer.money, answer.likely_money)[0]


def _rests_on(answer: Answer) -> tuple[str, ...]:
    """What its payback rests on, and what has no price; without money what is not so yet."""
    money = answer.money
    if money is None:
        return tuple(caveat.value for caveat in answer.caveats)
    open_ = not_priced_words(money.not_priced)
    parts = rests_parts(money)
    return (*parts[:-1], open_) if open_ else parts


def _shared(of_each: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """What holds for all of several, or all but a few, and how it is told once for them."""
    if len(of_each) <= _FEW:
        return {}
    parts = dict.fromkeys(part for each in of_each.values() for part in each)
    found: dict[str, str] = {}
    for part in parts:
        without = [title for title, each in of_each.items() if part not in each]
        if len(without) <= _FEW:
            found[part] = but_words(part, without)
    return found


_FEW = 2
"""Alternatives that may be named beside what holds for all the others."""


# -- where the hours go ------------------------------------------------------------------------


def _hours(facts: PaperFacts, ids: Iterable[str]) -> list[Block]:
    answers = facts.found.answers
    order = dict.fromkeys((facts.found.reference, *ids))
    drawn = [answers[id_] for id_ in order if answers[id_].figures is not None]
    if not drawn:
        return []
    said = [
        f"{facts.titles[id_]}: {limit_text(held, answers[id_].could_make)}"
        for id_ in dict.fromkeys((facts.found.reference, facts.focus))
        if (held := answers[id_].held_back) is not None
    ]
    said += [
        f"{facts.titles[id_]}: {sentence}"
        for id_ in dict.fromkeys((facts.found.reference, facts.focus))
        if (sentence := duties_sentence(answers[id_]))
    ]
    return [
        _section("Where the hours go"),
        Picture(hours_drawing(drawn), [_shares_table(drawn)], HOURS_DRAWN),
        *([lines_of(said)] if said else []),
    ]


def _shares_table(answers: Sequence[Answer]) -> TextTable:
    """What the picture shows, a row a state and a column a scenario."""
    of = [shares(answer.figures, None, Scope.WEEK) for answer in answers if answer.figures]
    columns = [Column("hours a week", at_left=True), *(Column(a.plan.title) for a in answers)]
    rows = []
    for state in seen(of):
        by_name = [{share.state.name: share for share in each} for each in of]
        cells = [
            share_said(each[state.name])[0].text if state.name in each else NOTHING
            for each in by_name
        ]
        rows.append((state.in_bar, *cells))
    totals = [shares_total(each)[0].text for each in of]
    rows.append((ALL_HOURS, *totals))
    return TextTable(columns, rows, kept=(1,))


# -- the night ---------------------------------------------------------------------------------


def _night(facts: PaperFacts) -> list[Block]:
    told = list(_nights_told(facts))
    if not told:
        return [_section("The night"), paragraph_of(NO_NIGHT)]
    said = [night_words(title, night, nights) for title, nights, night in told]
    said += [fewest_words(each) for each in facts.nights[facts.focus].fewest[:1]]
    return [
        _section("The night"),
        Picture(night_drawing(told), below=PICTURE_OF_NIGHT),
        lines_of(said),
    ]


def _nights_told(facts: PaperFacts) -> Iterator[NightTold]:
    """The first like nights of the reference, and those of the focus that are held against it."""
    chosen: NightsAfter | None = None
    for id_ in dict.fromkeys((facts.found.reference, facts.focus)):
        nights: Nights | None = facts.nights[id_].nights
        if nights is None or not nights.alike:
            continue
        night = nights.alike[0] if chosen is None else like_it(nights, chosen)
        if night is not None and night.groups:
            chosen = chosen or night
            yield facts.titles[id_], nights, night


# -- what would change the answer --------------------------------------------------------------


def _changes(facts: PaperFacts) -> list[Block]:
    head = _section("What would change the answer")
    if facts.ranking is None:
        return [head, paragraph_of(NOT_ASKED if facts.is_quick else NO_RANKING)]
    found = ranking_in(facts.ranking, told_in(facts.checked.draft))
    columns = [
        Column("input", at_left=True),
        *(Column(each) for each in ("less", "brings", "now", "more", "brings")),
        Column("moved", at_left=True),
        Column("", at_left=True),
    ]
    rows = []
    for effect in found.moving[:_MOVING]:
        less, more = (
            (NOTHING if side is None else side.value.text, side_text(side, "not allowed"))
            for side in (effect.down, effect.up)
        )
        assumed = "assumed" if effect.input.origin.is_assumed else ""
        row = (effect.input.label, *less, now_in_short(effect), *more)
        rows.append((*row, moved_in_short(effect.input), assumed))
    _, measure, *_ = ranking_sentences(found)
    left = len(found.moving) - len(rows)
    others = cut_short_words("inputs that make a difference", left) if left > 0 else ""
    below = [" ".join(filter(None, (measure, others))), ranking_how(found) if rows else ""]
    return [
        head,
        TextTable(columns, rows, kept=()),
        *(paragraph_of(text) for text in below if text),
    ]


# -- money over the years ----------------------------------------------------------------------


def _cash(facts: PaperFacts) -> list[Block]:
    """A line for the focus and the next ones in the verdict's order; text has the table above."""
    ids = dict.fromkeys((facts.focus, *(each.scenario for each in facts.verdict.alternatives)))
    answers = facts.found.answers
    found, _ = cash_lines({id_: answers[id_] for id_ in ids})
    lines = [line for line in found if not line.is_reference][:_CASH_LINES]
    money = facts.base.money
    if not lines or money is None or not money.terms.years:
        return []
    titles = [facts.titles[line.scenario] for line in lines]
    years = float(money.terms.years)
    columns = [Column(f"{money.currency}, after years", at_left=True), *map(Column, titles)]
    rows = [
        (f"{year}", *(result_told(line.at(year)) for line in lines))
        for year in range(int(years) + 1)
    ]
    svg = cash_drawing(lines, titles, years, money.currency)
    return [_section(CASH), Picture(svg, [TextTable(columns, rows, kept=())])]


# -- what went in ------------------------------------------------------------------------------


def _units(facts: PaperFacts) -> str:
    return facts.found.units


def _inputs(facts: PaperFacts) -> list[Block]:
    told, unused = inputs_told(facts.checked, facts.focus, _units(facts))
    table, left = inputs_table(told, _PER_CELL, _THINGS)
    more = [paragraph_of(cut_short_words("things", left))] if left else []
    words = inputs_words(facts.titles[facts.focus], unused)
    return [_section("What went in"), paragraph_of(words), table, *more]


# -- cautions, and how to repeat it ------------------------------------------------------------


def _cautions(facts: PaperFacts) -> list[Block]:
    called_for = to_be_read(facts.answer.cautions, facts.answer.plan)
    if not called_for:
        return []
    title = f"Cautions that apply to {facts.titles[facts.focus]}"
    lines = [caution_in_a_line(each) for each in called_for]
    return [_section(title), lines_of(lines), paragraph_of(WHO_DECIDES)]


def _repeat(facts: PaperFacts) -> list[Block]:
    made = facts.made
    words = repeat_words(made.version, made.digest, is_saved=bool(made.file))
    return [
        _section("How to repeat it"),
        paragraph_of((words, " ", Code(made.command))),
        paragraph_of(worked_out_words(facts.answer.plan)),
    ]


# -- further pages -----------------------------------------------------------------------------


def _further(facts: PaperFacts) -> list[Block | Either]:
    """All figures, nights, inputs that were moved, values, and cautions in full."""
    nights = StudyNights(facts.found.title, facts.nights)
    told, _ = inputs_told(facts.checked, facts.focus, _units(facts))
    blocks: list[Block | Either] = [NewPage(), *_cash(facts)]
    for title, report in (
        ("Every figure", comparison_report(facts.found)),
        ("The nights in full", nights_report(nights)),
        (
            "Every input that was moved",
            None
            if facts.ranking is None
            else ranking_report(facts.ranking, told_in(facts.checked.draft)),
        ),
    ):
        if report is not None:
            blocks += [_section(title), *_below(report)]
    title = f"Every value of {facts.titles[facts.focus]}"
    return [*blocks, _section(title), all_inputs_table(told)]


def _below(report: Document) -> Iterator[Block | Either]:
    """A report's blocks below a heading of its own, its title left out."""
    for each in report.blocks:
        if isinstance(each, TextHeading):
            if each.depth > 1:
                yield replace(each, depth=each.depth + 1)
        else:
            yield each
