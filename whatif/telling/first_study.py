"""What is told of a study at its beginning: what it still needs, and how the answers became one.

The notes of a first study stand as long as nobody rewrites them, so that only what stays true after
edits is said: what is assumed is left to the sentence that follows edits (`whatif.study.guesses`).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import TYPE_CHECKING, Final

from whatif.records import dataclass
from whatif.study.line_notes import part_line
from whatif.study.schema.catalogue import ANY
from whatif.telling.amounts import rounded
from whatif.units import Dimension, show

if TYPE_CHECKING:
    from whatif.study.first.questions import Answers, FirstQuestion
    from whatif.study.first.shop import Fault, FaultSort, Shop

_QUICKER: Final = (
    "What half the time at a set-up would bring; how, and for what money, is not said: tools and "
    "fixtures prepared beside the machine, work holding that is changed quickly. Enter what you "
    "would reach, and what that costs once."
)

ON_AFTER_HOURS: Final = "Until every loaded pallet is cut. First read the cautions (F2)."
"""The note of a scenario that goes on after hours."""

SAME_BREAKS: Final = (
    "The second shift was given the breaks of the first one, paid or unpaid as answered: change "
    "them here too where they change there."
)
"""The note of a scenario with a second shift."""

# -- an answer -----------------------------------------------------------------------------

_FAULTS: Final[dict[FaultSort, str]] = {
    "not read": (
        '"{0}" cannot be taken: {1}. Write {allowed}, or leave it empty where you don\'t know.'
    ),
    "no whole minutes": "Breaks have whole minutes: write 45, or 45 min, not 45.5.",
    "nothing left of a shift": "The breaks leave nothing of a shift of {0}.",
    "more than the people": "There {0} on a shift, as answered above.",
    "more than the changeover": ("It is more than the whole changeover, {0}, that it is part of."),
    "more than switched on": "It is more than the hours switched on, {0}.",
    "more than the weeks have": (
        "{0} in {1} can be switched on for {2} at most, day and night. Look again at the "
        "hours, the weeks, and how many machines there are."
    ),
    "nothing sells": "With 0 nothing sells. {may_be}",
}

_PLAINLY = {
    "it is a text, and a count is wanted": "that is no whole number",
    "it is a text, and a number is wanted": "that is no number",
    "it is no whole number": "that is no whole number",
    "it begins with no number": "it does not begin with a number",
}
"""Why a value is refused, for who answers a question and writes no file."""


def fault_sentence(fault: Fault) -> str:
    """Why an answer cannot be taken, and what is allowed."""
    details = fault.details
    if fault.sort == "not read":
        details = details[0], _PLAINLY.get(details[1], details[1])
    if fault.sort == "more than the weeks have":
        machines, weeks, most = details
        details = _counted(machines, "machine"), _counted(weeks, "week"), most
    if fault.sort == "more than the people":
        details = ("is 1 person" if details[0] == "1" else f"are {details[0]} people",)
    question = fault.question
    return _FAULTS[fault.sort].format(*details, allowed=question.allowed, may_be=may_be(question))


def may_be(question: FirstQuestion) -> str:
    """What may be typed."""
    return f"Allowed: {question.allowed}; empty where you don't know."


_HELD: Final = 23
"""Cells beside an answer for what it means."""


def means(answers: Answers, wrong: Collection[str] = ()) -> Mapping[str, str]:
    """What an answer comes to, where that is not the answer itself; nothing of the wrong ones."""
    from whatif.study.first.questions import BY_ID
    from whatif.study.first.shop import metered_text, time_text

    shop = _right(answers, wrong)
    said: dict[str, str] = {}
    if shop.raw("shift") is not None:
        said["shift"] = f"{time_text(sum(shift.length for shift in shop.shifts))} a day"
    if shop.loaders:
        said["setters"] = f"{shop.loaders} only load{'s' if shop.loaders == 1 else ''}"
    off = shop.seconds("breaks")
    if off:
        unpaid = "" if shop.are_breaks_paid else ", unpaid"
        said["breaks"] = f"{shop.shifts[0].middle(off)}{unpaid}"
    if answers.get("pallets", "").strip() != "1" and shop.raw("pallets") == 1:
        said["pallets"] = "1, its own table"
    if shop.handling is not None:
        said["door"] = f"{time_text(sum(shop.handling))} a piece"
    if shop.setup is not None and shop.changes_over:
        said["each"] = f"person {time_text(shop.setup)}"
    if shop.raw("order") is not None and shop.wanted:
        orders = rounded(float(shop.wanted / shop.order), 1).removesuffix(".0")
        said["order"] = f"{orders} orders a week"
    has_on, has_cut = shop.raw("switched_on") is not None, shop.raw("in_cut") is not None
    if shop.measured is not None:
        said["in_cut"] = f"{show(shop.measured, Dimension.PERCENT, 'metric')} of that"
    elif has_on != has_cut and not {"switched_on", "in_cut"} & set(wrong):
        said["switched_on" if has_on else "in_cut"] = "needs the other one"
    on, weeks = shop.seconds("switched_on"), shop.weeks
    if on is not None and weeks and shop.machines > 1 and "switched_on" not in wrong:
        # Meters of one machine alone, typed for several, are seen by that.
        said["switched_on"] = f"{metered_text(round(on / weeks / shop.machines))} a week each"
    if shop.most_switched_on is not None:
        has_any = has_on or has_cut or "switched_on" in wrong
        said["weeks"] = (
            f"{metered_text(shop.most_switched_on)} at most" if has_any else "needs hours"
        )
    for id_ in ("cycle", "each", "wait"):
        # How a bare number is read, which may be hours where minutes were meant.
        seconds = None if id_ in wrong else shop.seconds(id_)
        if seconds and BY_ID[id_].is_bare(answers.get(id_, "")):
            read, more = time_text(seconds), said.get(id_)
            both = read if more in (None, f"person {read}") else f"{read}, {more}"
            said[id_] = both if len(both) <= _HELD else read
    return said


def spelled_out(answers: Answers, wrong: Collection[str] = ()) -> Mapping[str, str]:
    """What is made of an answer in a sentence, where a few words beside it do not tell it."""
    from whatif.study.first.shop import time_text

    handling = _right(answers, wrong).handling
    if handling is None:
        return {}
    load, unload = map(time_text, handling)
    each = f"{load} to load and {unload} to unload each piece"
    return {"door": f"Taken as {each}; the walk is in it."}


def doubts(answers: Answers, wrong: Collection[str] = ()) -> Mapping[str, str]:
    """What is most likely not meant in an answer, as a warning of the study's check has it."""
    from whatif.study.first.shop import time_text
    from whatif.study.problem import ProblemKind
    from whatif.study.shifts import busiest_day
    from whatif.telling.problems import kind_words

    shop = _right(answers, wrong)
    day = busiest_day(span for shift in shop.shifts for span in shift.on(shop.days))
    told = {}
    for id_ in ("cycle", "each"):
        seconds = shop.seconds(id_)
        if seconds is not None and seconds > day:
            why = kind_words(ProblemKind.LONGER_THAN_A_DAY, time_text(day))
            told[id_] = f"{time_text(seconds)}: {why}"
    return told


def assumes(answers: Answers, wrong: Collection[str] = ()) -> Mapping[str, str]:
    """What is assumed of questions where it depends on other answers."""
    from whatif.study.first.shop import time_text

    return {"door": f"{time_text(_right(answers, wrong).door_assumed)} a load"}


def _right(answers: Answers, wrong: Collection[str]) -> Shop:
    from whatif.study.first.shop import Shop

    return Shop({id_: text for id_, text in answers.items() if id_ not in wrong})


# -- help ----------------------------------------------------------------------------------


def asked_words(question: FirstQuestion) -> str:
    """Which question it is: its number, which a further line of one has from the line above."""
    from whatif.study.first.questions import QUESTIONS

    asked = QUESTIONS[: QUESTIONS.index(question) + 1]
    number = next(each.number for each in reversed(asked) if each.number)
    return f"Question {number}{': ' if question.number else ', '}{question.label}"


def asked_told(
    question: FirstQuestion, answers: Answers, wrong: Mapping[str, Fault]
) -> tuple[tuple[str, str], ...]:
    """All that is known of one question, each with its name; one without goes on with the last.

    What its keys mean, and what they are called in the sheet, is told by the catalogue of keys.
    """
    from whatif.study.first.questions import is_known
    from whatif.study.schema.catalogue import key_for

    id_, text = question.id, answers.get(question.id, "")
    assumed = assumes(answers, wrong).get(id_, question.assumed)
    told = [
        ("To find it", question.find),
        ("Why", question.why),
        ("Allowed", f"{question.allowed[0].upper()}{question.allowed[1:]}."),
        ("Left empty", f"Taken as {assumed} (~). Type it in the sheet once you know it."),
    ]
    if id_ in wrong:
        told.append(("Your answer", f"! {fault_sentence(wrong[id_])}"))
    elif is_known(text):
        said = question.with_unit(text)
        meant, spelled = (of(answers, wrong).get(id_, said) for of in (means, spelled_out))
        if spelled != said:
            said = f"{said}. {spelled}"
        elif meant != said:
            said = f"{said}: {meant}"
        told.append(("Your answer", said))
    name = "In the sheet"
    for pattern in question.patterns:
        key = key_for(tuple(part if part != ANY else question.id for part in pattern))
        assert key is not None  # a test holds it
        group = key.group.replace("_", " ")
        told.append((name, f"{key.label} ({group}): {key.says.meaning}."))
        name = ""
    return tuple(told)


# -- the answers ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class FirstFacts:
    """What the answers came to.

    Attributes:
        answered: label and text of each answer that was given.
        assumed: how many answers are assumed.
        has_breaks: whether breaks were said.
        has_door: whether the time that the door is open was said.
        most: pieces a week that today could make, whatever is wanted.
        wanted: pieces a week; None where that is not known.
        numbers: part numbers a year.
        loaders: people on a shift who only load.
    """

    answered: tuple[tuple[str, str], ...]
    assumed: int
    has_breaks: bool
    has_door: bool
    most: float
    wanted: float | None
    numbers: int
    loaders: int = 0

    @property
    def makes_more(self) -> bool:
        """Whether today as answered could make more than is wanted, by a piece and more."""
        return self.wanted is not None and self.most >= self.wanted + 1

    @property
    def makes_less(self) -> bool:
        """Whether today as answered could make fewer than are wanted, by a piece and more."""
        return self.wanted is not None and self.most <= self.wanted - 1


def notes(first: FirstFacts, part: str) -> str:
    """The notes of today; ``part`` is the id of the one that stands for all."""
    of_part = (part_line(part, said) for said in _part_sentences(first))
    return "\n".join((*_note_lines(first), *of_part))


def quicker(part: str) -> str:
    """The note of a scenario with shorter set-ups."""
    return part_line(part, _QUICKER)


def notice(first: FirstFacts) -> str:
    """What stands below the sheet when the study opens; two lines of 80 columns at most."""
    text = "Your first study, not saved yet."
    if first.assumed:
        are = "s are" if first.assumed > 1 else " is"
        text += f" {first.assumed} answer{are} assumed: F2 says which."
    if first.wanted is None:
        text += " Nothing beyond today's output sells until you enter the pieces wanted."
    elif first.makes_more:
        text += (
            f" Today could make {rounded(first.most, 0)} a week; if in fact fewer, something is "
            "missing."
        )
    elif first.makes_less:
        text += (
            f" Today could make only {rounded(first.most, 0)} a week; if in fact more, a time is "
            "too long."
        )
    return text


def more_pallets(part: str, numbers: int, tables: int) -> str:
    """The note of a scenario with more pallets than today."""
    return (
        "Pallets are seldom as large as a table: count again how many pieces one of them takes.\n"
        f"{part_line(part, _fixtures(numbers, tables))}"
    )


def one_machine_more(part: str, numbers: int, tables: int) -> str:
    """The note of a scenario with a machine more than today."""
    return part_line(part, _fixtures(numbers, tables))


def _fixtures(numbers: int, tables: int) -> str:
    each = f" for each of {numbers} part numbers, {tables * numbers} in all," if numbers > 1 else ""
    return (
        f"{tables} fixtures{each} are taken to be there, one for each pallet or table, so that "
        "none waits for one; to be bought are as many as are held at once beyond today's, which "
        "may be fewer."
    )


def _note_lines(first: FirstFacts) -> Iterator[str]:
    yield "Made from a few questions."
    if first.answered:
        answers = "; ".join(f"{label.lower()} {text}" for label, text in first.answered)
        yield f"As answered at the beginning: {answers}."
    if first.has_breaks:
        yield "The breaks were put together in the middle of the shift."
    if first.loaders:
        yield (
            "Those on a shift who only load stand as a shift of their own, of the same hours: what "
            'they may do says "may do".'
        )
    yield (
        'An order lies on as many pallets or tables at a time as "pallets per order" says, one '
        "where nothing else is entered."
    )
    yield (
        "A machine with more fixture faces is not looked at: that takes the sizes of parts and "
        "table. Enter them, then add a scenario with faces."
    )


def _part_sentences(first: FirstFacts) -> Iterator[str]:
    """What is true of the one part, as long as it stands for all."""
    if first.wanted is None:
        yield (
            "Pieces wanted a week were not known at the beginning: as many were taken as today "
            "could make then, so that every scenario that makes more had nobody to sell it to."
        )
    elif first.makes_more:
        yield (
            f"Today as answered at the beginning could make about {rounded(first.most, 0)} "
            f"pieces a week, more than the {first.wanted:g} wanted, and no more is made than is "
            "wanted: if your shop in fact could make fewer, something that takes its time is "
            "missing from the answers."
        )
    elif first.makes_less:
        yield (
            f"Today as answered at the beginning could make only about {rounded(first.most, 0)} of "
            f"the {first.wanted:g} pieces wanted a week: if your shop in fact makes more, a time "
            "in the answers is too long, or hours or people are missing."
        )
    if first.has_door:
        yield (
            "Of the time the door is open two thirds were taken for loading, one third for "
            "unloading; walking to the machine is part of it, so that no walk was added to it."
        )
    if first.numbers > 1:
        yield (
            "One part stands for all part numbers, alike in their times: pieces wanted a week are "
            "those of all together, and each order is of the next number and set up anew."
        )


def _counted(number: str, noun: str) -> str:
    return f"{number} {noun}" if number == "1" else f"{number} {noun}s"
