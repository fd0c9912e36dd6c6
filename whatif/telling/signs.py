"""What every sign and colour of a screen says: the list in the help, made from what is drawn.

A screen has so many of them that a list of all would not be read: told are those that are there.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

from whatif.records import dataclass
from whatif.telling.blocks import HEIGHTS, QUARTERS

DESK: Final = ""
"""The screen of strip and sheet among views, which have names."""


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign, or a short word that stands for more.

    Attributes:
        shown: as the list shows it.
        says: what it says.
        drawn: where it stands in what is drawn.
        only: names of the views in which it says that; none for everywhere.
    """

    shown: str
    says: str
    drawn: re.Pattern[str]
    only: tuple[str, ...] = ()


def _sign(shown: str, says: str, drawn: str = "", *only: str) -> Sign:
    any_of = f"[{re.escape(shown.replace(' ', ''))}]"
    return Sign(shown, says, re.compile(drawn or any_of, re.MULTILINE), only)


_BEHIND = r"(?=\s*$|\s{2}|\s*│)"
"""Behind a value comes the next column, or nothing."""

_STATES = ("hours", "week", "night")

_WITH_TABS = ("week", "fit", "night", "moves", "account", "search", "hours", "money", "orders",
              "meters")  # fmt: skip
"""Views above which the scenarios stand with their gains."""

_LIMIT = r" +(?:length|width|height|load|face|edge|reach)\b"
_OK, _NO, _UNKNOWN = (rf"(?:^ ?|  ){sign}{_LIMIT}" for sign in ("ok", "no", r"\?"))
"""Before a limit of the fit, at the left or below a drawing."""

SIGNS: Final = (
    _sign("N weeks", "simulated; with weeks \"settled\" they are doubled until gains hold, so an "
          "edit may change how many", r"per (?:day|week|month|year)\b.*, \d+ weeks?\b"),
    # The rows above the sheet.
    _sign("gain in saleable output", "how much more the pieces sold are worth than the "
          "reference's; in brackets its likely range",
          "saleable output, %"),
    _sign("spindle h", "hours in cycle: attended, with somebody on duty; unattended or other, on "
          "breaks and after hours", "spindle h[ ,]", DESK),
    _sign("of it after hours", "from the end of a shift to the start of the next",
          "of it after hours", DESK),
    _sign("for unsold pieces", "spindle hours for good pieces that nobody buys",
          "for unsold pieces", DESK),
    _sign("demand met", "how much of what is wanted is made of the part furthest behind",
          "demand met", DESK),
    _sign("paid / busy", "hours of all people: those paid for, and those at work, other duties too",
          "paid / busy", DESK),
    _sign("limit, limited by", "what takes most of the attended machine hours, cutting aside, and "
          "its share of them",
          r"limit(ed by)?, %", DESK),
    _sign("nobody free", "machines wait for a person, that share of the time", "nobody free", DESK),
    _sign("people, busy", "at work, that share of their time on duty", r"busy \d", DESK),
    _sign("parts", "whether all of them fit the machines; F2 says which do not, Fit what is not "
          "entered and so not checked", "^.*parts  ", DESK),
    _sign("meeting: h a day", "hours in cycle a day that somebody promises in the meeting, and "
          "what they would gain; not simulated",
          "said in the meeting, gain|meeting: h a day", DESK),
    # Behind a value of the sheet, and before anything.
    _sign("↑", "from above: the scenario that this one is based on has it", rf"\S ↑{_BEHIND}"),
    _sign("~", "assumed, nobody has entered it; entering it says that you know it", r"~(?!/)"),
    _sign("×", "not used: it changes nothing here, the line below the sheet says why",
          rf"\S ×{_BEHIND}", DESK),
    _sign("×", "times: one figure is multiplied by the other", "×", "account"),
    _sign("!", "beware: it rests on what is not so yet, is a caution, or a value that is wrong; "
          "F2 says why"),
    _sign("caution, warning", "a caution: what can hurt somebody; a warning: what was entered, or "
          "how far a figure holds; F2", r"\b(caution|warning)s?\b", DESK),
    # Gains.
    _sign("so far", "its likely range is still being worked out; until then it is as typed, with "
          "no colour or weight", "so far"),
    _sign("...", "being worked out: a figure, or the likely range of the gain before it",
          r"\.\.\."),
    _sign("not clear", "0 lies within its likely range: better or worse cannot be told",
          "not clear"),
    _sign("+18 % (12 to 24)", "+18 % as typed; eight times in ten it lies from 12 to 24 %",
          r"[+-][\d.]+( %)? \([+-]?[\d.]+ to"),
    _sign("+12 to +24 %", "eight times in ten it lies between them; alone where the gain as typed "
          "lies outside: F2", r"[+-][\d.]+ to [+-]?[\d.]+"),
    _sign("; 1 more", "one drawback more; Enter tells all of them",
          r"; \d+ more( drawbacks?)? *$", "meeting"),
    _sign("+2 %", "a gain alone, without a range: there is no room for its likely range here, or "
          "it has none; F4 tells it", r"[+-][\d.]+ %(?! \(|\w)", DESK),
    _sign("1.0 +2 %", "alone beside others with a range: its range rounds to the same, or has no "
          "room here",
          r"^.{7}\S.*\d to [+-]?\d.*  \d+\.\d(?=  )"
          r"|^.{7}\S[^+\n]*(?<!to) [+-][\d.]+ %(?= +[\dno≥])", "meeting"),
    _sign("NAME +39 %", "above a view: a scenario and its gain in saleable output, without its "
          "likely range", r"^  \S.*[^ ](?<! to) [+-][\d.]+ %(?: {4}\S| {3}\d+ more|$)",
          *_WITH_TABS),
    _sign("as typed", "reckoned with the values as they stand, without a likely range",
          "as typed"),
    _sign("reference", "the scenario that all others are measured against", "reference"),
    _sign("⢕", "likely range: eight times in ten the figure lies in it"),
    _sign("│█▋⢕", "from │, 0: solid to the gain (or a stroke); dots: its range, if half a cell "
          "wide, the gain unmarked",
          r"│[█▏▎▍▌▋▊▉⢕]|[█▕▐⢕]│", DESK, "meeting"),
    _sign("scale 0..60 %", "the gains at the left and the right end of the room for bars; no "
          "scenario has to gain that", r"\bscale -?\d", DESK, "meeting"),
    _sign("–", "no figure: there is none, or it does not apply"),
    _sign("<1", "more than nothing, and less than 1", "<1"),
    _sign("said", "what somebody has said or promised, not what is simulated",
          r"\bsaid\b", DESK),
    _sign("once", "one-off cost: what it takes at once", r" once +(takes|costs) ", "meeting"),
    _sign("back", "payback: years until it has brought what it costs", r" back +drawbacks",
          "meeting"),
    _sign("people away", "the hours by which meters and model differ, read as people who come "
          "later: every visit takes longer", r"people\s+away", "meeting"),
    _sign("machines tied up", "the same hours read as machines that are held: every load takes "
          "longer", r"machines\s+tied\s+up", "meeting"),
    _sign("draws", "trials with all times and demands moved at random, as far as they may be off: "
          "for likely ranges", r"\bdraws\b"),
    _sign("as it stands", "over the reference with what it has now: which value is best goes by it",
          r"(?<!\()\bas\s+it\s+stands\b(?!\s+now)", "moves"),
    _sign("same value", "the gain if the reference had that value too; it is smaller where that "
          "helps both", r"\bsame\s+value\b", "moves"),
    _sign("moved in both", "the value is tried in the scenario and in the reference; alone: in the "
          "scenario only", r"[Mm]oved\s+(?:in\s+(?!the)|alone)|changed\s+in\s+both", "moves"),
    _sign("prove-out", "a person at the machine, its spindle standing, before the first cut after "
          "a setup", "[Pp]rove-out|proved? out", "hours", "week", "night",
          "moves", "meeting", "search", "account"),
    # Where things are.
    _sign("├ ╰", "a scenario that is based on the one further left above it", "[├╰] ?[^─├╰]", DESK),
    _sign("▾", "an open heading: Space closes it"),
    _sign("▸", "a closed heading: Space opens it"),
    _sign("‹ ›", "more scenarios on that side"),
    _sign("…", "the text goes on", "…(?! F1)"),
    _sign("… F1", "there are more keys than that line has room for: all stand below", "… F1"),
    _sign("⏎", "the Enter key"),
    _sign("•", "one of several"),
    # What machines and people do.
    _sign("█", "a spindle cuts", "", *_STATES),
    _sign("▚", "a spindle cuts pieces that are not sold", "", *_STATES),
    _sign("▒", "loaded, set up, proved out, changed or warmed up; of a person: at work", "",
          *_STATES),
    _sign("░", "stands, and waits for somebody or something", "", *_STATES),
    _sign("○", "is there and free: nothing is to be done", "", "week"),
    _sign("·", "nobody there, or nothing allowed", "", "hours"),
    _sign("╌", "the machine stands, and pieces might still be begun", "", "night"),
    _sign(":", "loaded, and not cut now: it waits for the spindle, or nothing may be begun",
          r"::", "week"),
    _sign("each character", "a stretch of time as long as the title says: it shows what took most "
          "of it", r"each character", "week"),
    _sign("more", "hours a week more (+) or less (-) than in the reference", r"% +more\b", "hours"),
    _sign("=", "people are still there", "==", "night"),
    _sign("by the clock", "how long after people come: sooner where several share it, later where "
          "they have other work", "by the clock", "night"),
    _sign("h worked", "beside people: how long they are at work in what is seen; beside a machine: "
          "how long it cuts", r"h worked", "week"),
    _sign("0 1 2", "how many people are at work, on average; 0: all who are there are free; "
          "* is more than 9", "people at work", "week"),
    _sign("1 2 3", "how many pallets are loaded; blank is none, * is more than 9",
          "loaded pallets", "week"),
    _sign("┊", "here a day begins", "", "week", "night"),
    _sign("▼", "the moment that the line above tells of"),
    _sign("▁▄█", "cuts: full in all of the nights, half as high in half of them",
          f"[{HEIGHTS}]", "night"),
    _sign("blank", "nothing may be begun there", "blank: may not", "night"),
    _sign("blank", "nobody is there, also on a break, or nothing goes on; a pallet: empty, and "
          "nothing to put on it", "blank nobody", "week"),
    _sign("word", "within a long stretch of a line: what goes on there, its own sign between words",
          "word what goes on", "week"),
    # Hours that machines have told.
    _sign("in cycle", "a program runs on a piece; cut and cuts mean the same, and spindle h, hours "
          "and gains go by it", r"\bin cycle|spindle h[ ,]|\bh cut\b|\bin cut\b"),
    _sign("in cut", "what hour meters count: hours in cycle times the part's share in cut; the gap "
          "goes by it", r"\bin cut\b"),
    _sign("█", "in cut", "", "meters"),
    _sign("░", "switched on, and not in cut", "", "meters"),
    _sign("·", "switched off", "", "meters"),
    # Pieces on a table.
    _sign("█", "a piece, to scale, also in parts of a cell; with its number where there is room",
          f"[{QUARTERS.strip()}]", "fit"),
    _sign("1 2 3", "a piece, by its number", r"█ ?\d|\d ?█|\d ↻", "fit"),
    _sign("↻", "a piece that lies turned by a quarter"),
    _sign("╱", "left free: the edge of the table, or out of reach; blank within it: gaps, and "
          "room that is not used"),
    _sign("ok no ?", "room enough, not enough, not known", f"{_OK}|{_NO}|{_UNKNOWN}",
          "fit"),
    _sign("├ ┤ ┬ ┴", "a length of the table", "[┬┴]", "fit"),
    _sign("room", "how many pieces there is room for", r"\broom\b", "fit"),
    # Inputs that matter, curves, grids, plots.
    _sign("less more", "what that changes; the middle of its likely range where the change as "
          "typed lies outside it",
          r" less +more ", "moves"),
    _sign("█", "a bar, as long as the larger change of the two, up or down; one █ is any change",
          r" {2}█+ *$", "moves"),
    _sign("output: less -6", "what it makes itself, in points more or less: the gain does not show "
          "it, as the reference changes too",
          r"output: (less|more) ", "moves"),
    _sign("below", "what it makes itself, which the gain does not show: told below with the cursor "
          "there", "  below *$", "moves"),
    _sign("you decide", "a rule of your shop: it is neither measured nor bought",
          " you decide ", "moves"),
    _sign("without the hour meters", "hours that meters and model differ by are not in this likely "
          "range; they are in the sheet's", "without the hour meters", "moves"),
    _sign("to 15 min", "nobody has said what it is, so that is tried", r"~ +to \d", "moves"),
    _sign("lowest highest", "the input cannot go that way: it stands at its end, or 0 would take "
          "the thing out", r" (low|high)est( |$)(?!\s*part)", "moves"),
    _sign("not tried", "nobody has said this input, so it is tried at one value alone",
          "not tried", "moves"),
    _sign("least most", "the smallest and the largest gain of those drawn", "least █ most",
          "moves"),
    _sign("now", "the value as it stands", r"\bnow\b", "moves"),
    _sign("●", "a value that was worked out, all else as typed, in the row nearest to its figure; "
          "the line is finer"),
    _sign("▁▄█", "the fuller, the more it gains", f"[{HEIGHTS}]", "moves"),
    _sign("best", "the pair that the sentence above tells of", r"\bbest\b", "moves"),
    _sign("⠁⠁ ⢄⢄", "dots above or below a line: its likely range; where they are missing it is as "
          "narrow as the line", r"[⠁-⣿]{2} likely range", "moves"),
    _sign("▲", "points at the value above it; a stroke │ above it is at the same value"),
    _sign("A B C", "at a line: its scenario in the list; letters of lines that end in one row "
          "stand side by side", r"Cumulated cash", "money"),
    _sign("solid line", "the chosen scenario's; all others are dotted but the reference's",
          r"Cumulated cash", "money"),
    _sign("─ at 0", "the reference's line: where another crosses it its money is back",
          r"Cumulated cash", "money"),
    _sign("127k 1.59M", "127 thousand, 1.59 million", r"\d(k|M)\b"),
    _sign("1 2 3", "a line of the list below: where it lies in gain and money",
          r"\d: (the )?lines? below", "search"),
    _sign("1 to 3 of 11 lines", "lanes that are in sight; Up and Down go on to the others",
          r"\d+ to \d+ of \d+ lines", "week"),
    _sign("1 to 3 of 11, ↑↓", "lines of the list that are in sight, by the number before each; the "
          "arrow keys go to the others", r"\d+ to \d+ of \d+", "search"),
    _sign("from 800 once", "not all of it is priced: so much is known", r"\bfrom \d", "search"),
    _sign("800, 50 a year", "800 once and 50 a year", r"\d, \d[\d\u00a0]* a year", "search"),
    _sign("3 behind 4", "line 3 would stand where line 4 does in the plot, or touch it",
          r"\d behind \d", "search"),
    _sign("+2 %", "a gain without a range: there is no room for it here; a scenario made of the "
          "line tells it", r"^ +\d+[ \u2713] \S.*  [+-][\d.]+ %(?!  *\(| so)", "search"),
    _sign("·", "was tried, and a line of the list beats it, or it shows no clear gain over one "
          "that takes less", "", "search"),
    _sign("✓", "does what is asked for", "", "search"),
    _sign("a_b in c", "name of the figure in files and commands, and its scenario",
          r"[a-z]_[a-z_.]+ in \w", "account"),
    # Arithmetic.
    _sign("÷", "divided by", "÷"),
    _sign("≈", "about"),
    _sign("≤ ≥", "at most, at least"),
    _sign("²", "square: an area", "[²³]"),
    _sign("±", "more or less by so much"),
    _sign("°", "degrees"),
)  # fmt: skip
"""All that a screen may ask its reader to know."""


@dataclass(frozen=True, slots=True)
class Colour:
    """A colour, by the names of the tones that have it, and what it says.

    ``uncoloured`` is how the same looks where no colours are sent; "" as all else. ``drawn`` is
    where it stands in what is drawn, where the same tone stands elsewhere too; "" anywhere.
    """

    tones: tuple[str, ...]
    shown: str
    says: str
    only: tuple[str, ...] = ()
    uncoloured: str = ""
    drawn: str = ""


_BUT_SEARCH = (DESK, "summary", "meeting", *(name for name in _WITH_TABS if name != "search"))
"""Where gains of lists have their colours."""

COLOURS: Final = (
    Colour(("gain",), "green figure", "better than the reference, and clearly so",
           _BUT_SEARCH, "bold gain figure"),
    Colour(("gain",), "green figure above", "a scenario better than the reference, and clearly so; "
           "gains in the list are not marked so", ("search",), "bold figure above"),
    Colour(("loss",), "red", "worse than the reference, and clearly so; late; or it cannot be",
           uncoloured="bold loss, word"),
    Colour(("gain",), "green ok", "there is room enough", ("fit",), "bold ok", _OK),
    Colour(("loss",), "red no, red line", "not enough; the line or heading of a part that does not "
           "fit", ("fit",), "bold no, line", _NO),
    Colour(("unsure",), "grey figure", "no clear difference; in words, not priced"),
    Colour(("caution",), "amber or brown",
           "beware: it begins with ! itself, or is drawn of a gain that does",
           uncoloured="bold behind !"),
    Colour(("chosen",), "strong blue ground",
           "where the cursor is; of pages named above: the one that is shown",
           uncoloured="reversed"),
    Colour(("scenario",), "soft blue ground", "the scenario that is chosen",
           uncoloured="underlined"),
    Colour(("key",), "bold blue letter", "a key to press", uncoloured="bold letter"),
    Colour(("assumed",), "grey, slanted", "assumed: nobody has entered it",
           uncoloured="slanted"),
    Colour(("unused",), "grey, slanted, ×", "not used here", uncoloured="slanted, ×"),
    Colour(("high",), "green block", "a spindle cuts, the higher in the more of the nights"),
    Colour(("cutting", "on-cutting"), "green block", "a spindle cuts", ("hours", "week")),
    Colour(("serving", "on-serving"), "blue block", "loaded, set up, warmed up; somebody at work",
           _STATES),
    Colour(("waiting",), "violet block",
           "waits; with ▚ it cuts unsold pieces; in the night: stands, and may begin",
           _STATES),
    Colour(("resting",), "grey block",
           "nobody there, somebody free, or a load that is not cut now", _STATES),
    Colour(("piece",), "blue piece", "lies as it was entered"),
    Colour(("turned",), "grey piece", "lies turned by a quarter"),
    Colour(("line-1", "line-2", "line-3", "line-4"), "line in a colour",
           "one of several; its name or letter stands at it"),
    Colour(("title",), "blue", "a title"),
    Colour(("lead", "bold", "title"), "bold", "titles and names, first sentences, the row of the "
           "cursor, what is chosen", uncoloured="bold"),
    Colour(("dim", "faint"), "grey", "labels, strokes, words in the place of a figure, and what "
           "comes second"),
)  # fmt: skip
"""All colours that say something."""

UNCOLOURED: Final = frozenset({"plain"})
"""Tones that say nothing."""

SAID_BY_ITSELF: Final = frozenset("─│╭╮╰╯├┤┬┴┌┐└┘█▀▄▌▐▖▗▘▙▚▛▜▝▞▟▏▎▍▋▊▉▕←→▁▂▃▅▆▇")
"""Frames, axes, keys with arrows on them, and lengths and shapes made from parts of cells."""


def signs_told(
    text: str, tones: Collection[str], view: str, *, coloured: bool = True
) -> list[tuple[str, str]]:
    """The signs and colours of what is drawn, each with what it says.

    Args:
        text: all lines that are drawn.
        tones: names of the tones in which they are.
        view: name of the view, or :data:`DESK`.
        coloured: whether colours are sent; else what is told without them.
    """
    told = [
        (each.shown, each.says)
        for each in SIGNS
        if (not each.only or view in each.only) and each.drawn.search(text)
    ]
    # Signs are looked up most; a word says something by itself.
    told.sort(key=lambda each: each[0][0].isalpha())
    told += [
        (each.shown if coloured else each.uncoloured, each.says)
        for each in COLOURS
        if (not each.only or view in each.only) and any(tone in tones for tone in each.tones)
        if re.search(each.drawn, text, re.MULTILINE)
        if coloured or each.uncoloured
    ]
    return told
