"""Kinds without a unit: counts, numbers, texts, words to choose from, ids."""

import re
from collections import Counter
from decimal import Decimal
from fractions import Fraction
from typing import ClassVar, Final

from typing_extensions import override

from whatif.records import dataclass
from whatif.study.raw import Raw, kind_of, shown
from whatif.study.schema.kinds.kind import NONE_TYPED, Kind, KindError, T

# Far above anything in a shop; a slip of the finger must not fill the memory.
HIGHEST: Final = 10**12
MOST_WHOLE: Final = 12  # digits before the point of the highest, less one
# Programs write their numbers with up to 17 digits that count, and zeros before them.
MOST_DECIMALS: Final = 30

MOST_LETTERS: Final = 100_000
"""Characters of notes: some fifty pages, which can still be written in."""

MOST_IN_A_LINE: Final = 1_000
"""Characters of a title."""

_TOO_LARGE: Final = "it is larger than a million millions, the most that is read"
_NUMBER: Final = re.compile(r"[+-]?(?:\d+(?:\.\d+)?|\.\d+)", re.ASCII)
_ID: Final = re.compile(r"[A-Za-z0-9_-]+")
_CURRENCY: Final = re.compile(r"[A-Z]{3}")
_YES: Final = ("true", "yes", "y", "on")
_ENDS: Final = dict.fromkeys(map(ord, "\n\r\t"))
_NO: Final = ("false", "no", "n", "off")


def number_typed(text: str) -> Raw:
    """6 for "6", 1.50 for "1.50", and any other text as it is."""
    text = text.strip()
    if len(text) > MOST_WHOLE + MOST_DECIMALS or not _NUMBER.fullmatch(text):
        return text
    return Decimal(text) if "." in text else int(text)


def number_written(raw: Raw) -> str | None:
    """The digits of a number, or None where `raw` is none."""
    if isinstance(raw, bool) or not isinstance(raw, int | Decimal):
        return None
    return format(raw, "f") if isinstance(raw, Decimal) else str(raw)


@dataclass(frozen=True)
class _Bare(Kind[T]):
    """What is written as a number without a unit."""

    low: int = 0
    numeric: ClassVar[bool] = True

    @override
    def typed(self, text: str) -> Raw:
        return number_typed(text)

    @override
    def written(self, raw: Raw) -> str:
        return number_written(raw) or super().written(raw)


@dataclass(frozen=True)
class Count(_Bare[int]):
    """A whole number, in pieces or pallets or people; written bare."""

    high: int | None = None

    @property
    @override
    def allowed(self) -> str:
        if self.low == self.high:
            return f"{self.low}"
        if self.high is None:
            return f"a whole number, {self.low} or more"
        return f"a whole number from {self.low} to {self.high}"

    @override
    def _read(self, raw: Raw) -> int:
        if isinstance(raw, str) and isinstance(number_typed(raw), int):
            raise self.refuse("it is a text; a count stands without quotation marks")
        if isinstance(raw, Decimal):
            raise self.refuse("it is no whole number")
        if isinstance(raw, bool) or not isinstance(raw, int):
            raise self.refuse(f"it is {kind_of(raw)}, and a count is wanted")
        if raw < self.low:
            raise self.refuse("it is too small")
        if self.high is not None and raw > self.high:
            raise self.refuse("it is too large")
        if raw > HIGHEST:
            raise self.refuse(_TOO_LARGE)
        return raw


@dataclass(frozen=True)
class CountOr(Kind[int | str]):
    """A whole number, or a word in its place."""

    word: str
    low: int = 0
    high: int | None = None

    numeric: ClassVar[bool] = True

    @property
    def _count(self) -> Count:
        return Count(self.low, self.high)

    @property
    @override
    def allowed(self) -> str:
        return f'"{self.word}" or {self._count.allowed}'

    @override
    def _read(self, raw: Raw) -> int | str:
        if raw == self.word:
            return self.word
        if isinstance(raw, str) and isinstance(number_typed(raw), str):
            raise self.refuse("it is another text")
        try:
            return self._count.read(raw)
        except KindError as fault:
            raise self.refuse(fault.why) from None

    @override
    def typed(self, text: str) -> Raw:
        word = text.strip().lower()
        return self.word if word == self.word else number_typed(text)

    @override
    def written(self, raw: Raw) -> str:
        return number_written(raw) or super().written(raw)


@dataclass(frozen=True)
class Number(_Bare[Fraction]):
    """A number with or without decimals, such as a price; written bare and kept exact."""

    above_low: bool = False

    @property
    @override
    def allowed(self) -> str:
        return f"a number above {self.low}" if self.above_low else f"a number, {self.low} or more"

    @override
    def _read(self, raw: Raw) -> Fraction:
        if isinstance(raw, str) and not isinstance(number_typed(raw), str):
            raise self.refuse("it is a text; a number stands without quotation marks")
        if isinstance(raw, bool) or not isinstance(raw, int | Decimal):
            raise self.refuse(f"it is {kind_of(raw)}, and a number is wanted")
        if isinstance(raw, Decimal):
            self._check_digits(raw)
        if raw < self.low or (self.above_low and raw == self.low):
            raise self.refuse("it is too small")
        if raw > HIGHEST:
            raise self.refuse(_TOO_LARGE)
        return Fraction(raw)

    def _check_digits(self, raw: Decimal) -> None:
        if not raw.is_finite():
            raise self.refuse("it is not a number")
        exponent = raw.as_tuple().exponent
        # Before it becomes a fraction: 1e-999999999 would have as many digits.
        if raw and (isinstance(exponent, int) and exponent < -MOST_DECIMALS):
            raise self.refuse(f"it has more than {MOST_DECIMALS} decimals")
        if raw and raw.adjusted() > MOST_WHOLE:
            raise self.refuse(_TOO_LARGE)


@dataclass(frozen=True)
class Text(Kind[str]):
    """Free text: a title of one line, or notes of several."""

    lines: bool = False

    @property
    @override
    def allowed(self) -> str:
        return "a text" if self.lines else "a text of one line"

    @override
    def _read(self, raw: Raw) -> str:
        text = self.must_be(str, raw, "a text")
        most = MOST_LETTERS if self.lines else MOST_IN_A_LINE
        if len(text) > most:
            raise self.refuse(f"it is longer than {most:,} characters")
        if (text.translate(_ENDS) if self.lines else text).isprintable():
            return text
        # Control characters could take over the terminal that shows the text.
        for character in text:
            if not character.isprintable() and not (self.lines and character in "\n\r\t"):
                if character in "\n\r":
                    raise self.refuse("it goes over more than one line")
                if not character.isspace():
                    raise self.refuse(f"it has a hidden character in it (U+{ord(character):04X})")
        return text

    @override
    def typed(self, text: str) -> Raw:
        """The text as it is, spaces and all."""
        return text


@dataclass(frozen=True)
class Choice(Kind[str]):
    """One of a few words; `words` has each with what it says, "" where that is plain."""

    words: tuple[tuple[str, str], ...]

    def __init__(self, **words: str) -> None:
        object.__setattr__(self, "words", tuple(words.items()))

    @property
    @override
    def allowed(self) -> str:
        quoted = [f'"{word}"' for word, _ in self.words]
        return f"{', '.join(quoted[:-1])} or {quoted[-1]}"

    @property
    @override
    def choices(self) -> tuple[tuple[Raw, str], ...]:
        return self.words

    @override
    def _read(self, raw: Raw) -> str:
        word = self.must_be(str, raw, "one of a few words")
        if word not in dict(self.words):
            raise self.refuse("it is none of the words known here")
        return word

    @override
    def typed(self, text: str) -> Raw:
        """Capitals, spaces and dashes do not count."""
        word = re.sub(r"[ -]+", "_", text.strip().lower())
        return word if word in dict(self.words) else text.strip()

    @override
    def written(self, raw: Raw) -> str:
        """In words of its own: "finish piece", which a file has as "finish_piece"."""
        text = super().written(raw)
        return text.replace("_", " ") if text in dict(self.words) else text


@dataclass(frozen=True)
class Several(Kind[tuple[str, ...]]):
    """Any of a few words, each once, in the order of `words` when read; `words` as of `Choice`."""

    words: tuple[tuple[str, str], ...]

    def __init__(self, **words: str) -> None:
        object.__setattr__(self, "words", tuple(words.items()))

    @property
    def _known(self) -> tuple[str, ...]:
        return tuple(word for word, _ in self.words)

    @property
    @override
    def allowed(self) -> str:
        return f"a list of any of {', '.join(self._quoted)}, each once"

    @property
    @override
    def typed_as(self) -> str:
        return f"any of {', '.join(map(_dashed, self._known))}, each once; all; or none"

    @property
    def _quoted(self) -> list[str]:
        return [f'"{word}"' for word in self._known]

    @override
    def _read(self, raw: Raw) -> tuple[str, ...]:
        words = self.must_be(tuple, raw, "a list")
        for word in words:
            if word not in self._known:
                raise self.refuse(f"{shown(word)} is none of the words known here")
            if words.count(word) > 1:
                raise self.refuse(f"{word} stands in it twice")
        return tuple(word for word in self._known if word in words)

    @override
    def typed(self, text: str) -> Raw:
        """ "load, prove-out" is a list of two words; "all" is all of them."""
        typed = text.strip().lower()
        if typed in ("all", "none", "[]"):
            return self._known if typed == "all" else ()
        words = [re.sub(r"-", "_", word) for word in re.split(r"[,;\s]+", typed) if word]
        return tuple(words) if words else ""

    @override
    def written(self, raw: Raw) -> str:
        """In words of its own: "prove-out", which a file has as "prove_out"."""
        if raw == ():
            return "none"
        if raw == self._known:
            return "all"
        text = self.listed(raw, ", ")
        return ", ".join(
            _dashed(word) if word in self._known else word for word in text.split(", ")
        )


def _dashed(word: str) -> str:
    return word.replace("_", "-")


@dataclass(frozen=True)
class Flag(Kind[bool]):
    """True or false, with what each says; yes or no in an editor."""

    yes: str = ""
    no: str = ""
    allowed = "yes or no, in the file true or false"
    typed_as = "yes or no"

    @property
    @override
    def choices(self) -> tuple[tuple[Raw, str], ...]:
        return (True, self.yes), (False, self.no)

    @override
    def _read(self, raw: Raw) -> bool:
        if isinstance(raw, str) and raw.strip().lower() in _YES + _NO:
            raise self.refuse("it is a text; true and false stand without quotation marks")
        return self.must_be(bool, raw, "true or false")

    @override
    def typed(self, text: str) -> Raw:
        word = text.strip().lower()
        if word in _YES:
            return True
        return False if word in _NO else text.strip()

    @override
    def written(self, raw: Raw) -> str:
        if isinstance(raw, bool):
            return "yes" if raw else "no"
        return super().written(raw)


class Id(Kind[str]):
    """The name of a scenario, machine, part, shift, stop or order."""

    allowed = "an id of letters, digits, - and _"

    @override
    def _read(self, raw: Raw) -> str:
        id_ = self.must_be(str, raw, "an id")
        if len(id_) > MOST_IN_A_LINE:
            raise self.refuse(f"it is longer than {MOST_IN_A_LINE:,} characters")
        if not _ID.fullmatch(id_):
            raise self.refuse("it is no id" if id_ else "an id has at least one letter")
        return id_


class Ids(Kind[tuple[str, ...]]):
    """A list of ids, each once."""

    allowed = 'a list of ids, each once, such as ["mill", "lathe"]'

    @override
    def _read(self, raw: Raw) -> tuple[str, ...]:
        ids = self.must_be(tuple, raw, "a list")
        if not ids:
            raise self.refuse("the list is empty")
        for id_ in ids:
            if not isinstance(id_, str) or not _ID.fullmatch(id_):
                raise self.refuse("something in it is no id")
        if len(set(ids)) < len(ids):
            twice = next(id_ for id_, times in Counter(ids).items() if times > 1)
            raise self.refuse(f"{twice} stands in it twice")
        return ids

    @override
    def typed(self, text: str) -> Raw:
        """ "mill lathe" and "mill, lathe" are the same list."""
        return tuple(re.split(r"[,;\s]+", text.strip(" ,;\t\n"))) if text.strip() else ""

    @override
    def written(self, raw: Raw) -> str:
        return self.listed(raw, ", ")


class Texts(Kind[tuple[str, ...]]):
    """A list of short texts, maybe empty."""

    allowed = 'a list of texts, such as ["2", "4"]'

    @override
    def _read(self, raw: Raw) -> tuple[str, ...]:
        texts = self.must_be(tuple, raw, "a list")
        for text in texts:
            if not isinstance(text, str):
                raise self.refuse(f"{shown(text)} in it is no text; write it in quotation marks")
            if not text.strip() or not text.isprintable():
                raise self.refuse("a text in it is empty, or has a hidden character")
        return tuple(map(str, texts))

    @override
    def typed(self, text: str) -> Raw:
        """ "2; 4" is a list of two; "none" is the empty one."""
        if text.strip().lower() in NONE_TYPED:
            return ()
        return tuple(each.strip() for each in text.split(";") if each.strip())

    @override
    def written(self, raw: Raw) -> str:
        return "none" if raw == () else self.listed(raw, "; ")


class Currency(Kind[str]):
    """A currency code in the form of ISO 4217: three capital letters."""

    allowed = 'a code of three capital letters (ISO 4217), such as "USD"'

    @override
    def _read(self, raw: Raw) -> str:
        code = self.must_be(str, raw, "a code of three letters")
        if not _CURRENCY.fullmatch(code):
            raise self.refuse("it is no currency code")
        return code

    @override
    def typed(self, text: str) -> Raw:
        return text.strip().upper()
