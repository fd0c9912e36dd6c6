"""Study files as nobody means them, from seeds: by turns of every sort there is, random within it.

Some are of bytes alone; most begin as a demo study or a small one, and are bent in one place or a
few, so that reading gets far before it stumbles. What comes of a seed never changes.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from small_study import STUDY

from whatif.study.schema.catalogue import HEAD_KEYS, KEYS

DEMOS: Final = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))

ABSURD: Final = (
    *("0", "-1", "1e308", "-1e-308", "nan", "inf", "9" * 30, "9223372036854775807", "1_000_000"),
    *("0x7fffffff", "0.1e-400", "1e999999999", "4.9e-324", "0o17", "1979-05-27", "999999999999"),
    *('"1e30 h"', '"99999999 weeks"', '"0.000000001 s"', '"-5 min"', '"1/0 in"', '"1e9 %"'),
    *('"24:00"', '"99:99"', '"week 99999 mon 06:00"', "[]", "{}", "true", '""', '" "'),
)
BEYOND: Final = (
    *(("weekly = 300", f"weekly = {many}") for many in (999_999_999_999, 10**12, 1)),
    *(("count = 2", f"count = {many}") for many in (1, 200, 201)),
    *(("pallets = 4", f"pallets = {many}") for many in (200, 999_999_999)),
    *(('"9 min"', f'"{cycle}"') for cycle in ("1 s", "0.6 s", "999 weeks", "1e3 h", "0.4 s")),
    *(("weeks = 1", f"weeks = {many}") for many in (52, 10_000)),
    *(("runs = 3", f"runs = {many}") for many in (1, 200, 10**6)),
    ('end = "15:00"', 'end = "07:00"'),
    ('end = "15:00"', 'end = "15:00"\npeople = 200'),
    ("weekly = 300", "weekly = 300\nper_pallet = 999999999999"),
    ("weekly = 300", "weekly = 300\nbatch = 999999999999"),
    ("weekly = 300", 'weekly = 300\nscrap = "99.999999999 %"'),
    ("weekly = 300", 'weekly = 300\nsetup = "99999 h"\nnumbers = 1000'),
    ("warm_up = 0", "warm_up = 999"),
)
"""What stands in the smallest study, and what to put there."""

HOSTILE: Final = (
    "\\u001b]0;owned\\u0007",
    "\\u001b[2J\\u001b[31mred",
    "\\u202egnp.exe\\u202c",
    "\\u2066left\\u2069 \\u200b\\u200f\\ufeff",
    "a\\u0000b\\u0008\\u007f\\u009b2J",
    "\\u2028\\u2029\\u0085",
    "=1+1",
    '=HYPERLINK(\\"http://x\\")',
    "+cmd|' /C calc'!A0",
    "@SUM(A1)",
    "-2+3",
    "\\t=1",
    "![](http://x/y.png) [a](http://x) <b>x</b> | a | b |",
    "x" * 5_000,
    "e\\u0301" * 500 + "\\U0001F468\\u200d\\U0001F469\\u200d\\U0001F467",
)
"""As a TOML text has them."""

_VALUE: Final = re.compile(r"(?m)^([\w.-]+ = )(.+)$")

Bends = Callable[[random.Random], bytes]


def _study(luck: random.Random) -> str:
    return luck.choice([STUDY, STUDY, *(demo.read_text("utf-8") for demo in DEMOS)])


def _any_bytes(luck: random.Random) -> bytes:
    return luck.randbytes(luck.choice([0, 1, 3, 100, 10_000, 200_000]))


def _bent(luck: random.Random) -> bytes:
    """Some spans left out, doubled, turned or put elsewhere."""
    text = _study(luck)
    for _ in range(luck.randrange(1, 6)):
        begin = luck.randrange(len(text))
        end = min(len(text), begin + luck.choice([1, 1, 2, 10, 200]))
        span = text[begin:end]
        other = luck.choice(["", span * 2, span[::-1], luck.choice("\"=[]{},.#\\\n\t'é\0")])
        text = text[:begin] + other + text[end:]
    return text.encode()


def _cut(luck: random.Random) -> bytes:
    content = _study(luck).encode()
    return content[: luck.randrange(len(content))]


def _encoded(luck: random.Random) -> bytes:
    text = _study(luck).replace('title = "', 'title = "Größe, 5 µm ', 1)
    kind = luck.choice(["latin-1", "utf-16", "utf-16-be", "utf-32", "cp1252", "cut", "over"])
    if kind == "cut":
        return text.encode().replace("ö".encode(), b"\xc3", 1)
    if kind == "over":
        return text.encode().replace("ö".encode(), b"\xc0\xaf\xed\xa0\x80", 1)
    return text.encode(kind)


def _ends_of_lines(luck: random.Random) -> bytes:
    """A mark of the order of bytes, and ends of lines of other systems: sound, or nearly."""
    text = _study(luck)
    end = luck.choice(["\r\n", "\r\n", "\r", "\n\r"])
    return (
        luck.choice([b"", b"\xef\xbb\xbf", b"\xef\xbb\xbf" * 2]) + text.replace("\n", end).encode()
    )


def _doubled(luck: random.Random) -> bytes:
    lines = _study(luck).splitlines()
    for _ in range(luck.randrange(1, 4)):
        line = luck.choice([line for line in lines if line and line[0] != "#"])
        lines.insert(luck.randrange(len(lines)), line)
    return "\n".join(lines).encode()


def _values(luck: random.Random, others: Callable[[], str]) -> bytes:
    """Some values put in the place of others, and some keys given that were not."""
    text = _study(luck)
    places = list(_VALUE.finditer(text))
    for found in sorted(luck.sample(places, luck.randrange(1, 4)), key=lambda one: -one.start()):
        text = text[: found.start()] + found[1] + others() + text[found.end() :]
    ids = ["mill", "day", "body", "p1", "today", "now", "x"]
    more = ""
    for key in luck.sample(KEYS, luck.randrange(0, 4)):
        path = ".".join(luck.choice(ids) if part == "*" else part for part in key.pattern)
        more += f"{path} = {others()}\n"
    if luck.random() < 0.2:
        text = f"{luck.choice(list(HEAD_KEYS))} = {others()}\n{text}"
    return f'{text}\n[scenario.bent]\nparent = "now"\n{more}'.encode()


def _absurd(luck: random.Random) -> bytes:
    if luck.random() < 0.5:
        return _values(luck, lambda: luck.choice(ABSURD))
    # One value alone, of the right kind and beyond all measure: it may be read.
    old, new = luck.choice(BEYOND)
    return STUDY.replace(old, new).encode()


def _of_other_kinds(luck: random.Random) -> bytes:
    some = ("5", "1.5", '"five"', "true", "[1, 2]", '["mon", 3]', "{ a = 1 }", "06:00:00", '"mill"')
    return _values(luck, lambda: luck.choice(some))


def _hostile(luck: random.Random) -> bytes:
    """What would do something to a terminal, a spreadsheet or a reader of Markdown."""
    one, other = (luck.choice(HOSTILE) for _ in range(2))
    text = _study(luck)
    text = re.sub(
        r'(?m)^title = ".*"', lambda _: f'title = "{one}"', text, count=luck.choice([1, 9])
    )
    if luck.random() < 0.5:
        text += f'\n[scenario."{other}"]\nparent = "now"\nnotes = "{one}"\n'
    if luck.random() < 0.5:
        text += f'\n[scenario.evil]\nparent = "now"\npart."{other}".cycle = "{one}"\n"{one}" = 1\n'
    return text.encode()


def _loops(luck: random.Random) -> bytes:
    """Parents and parts that come after each other in a circle, or after what is not there."""
    many = luck.choice([1, 2, 3, 50])
    text = "".join(
        f'[scenario.c{i}]\nparent = "c{(i + 1) % many}"\n'
        f'part.q{i}.cycle = "3 min"\npart.q{i}.after = "q{(i + luck.choice([0, 1, 7])) % many}"\n'
        for i in range(many)
    )
    return f"{STUDY}\n{text}".encode()


def _chain(luck: random.Random) -> bytes:
    many = luck.choice([30, 100, 1_000])
    text = "".join(
        f'[scenario.c{i}]\nparent = "{f"c{i - 1}" if i else "now"}"\n'
        f"machine.mill.pallets = {1 + i % 9}\n"
        for i in range(many)
    )
    return f"{STUDY}\n{text}".encode()


def _nobody(luck: random.Random) -> bytes:
    """A week in which nobody is there, nothing is made, or nothing can be."""
    text = STUDY
    for before, after in luck.sample(
        [
            ("count = 2", "count = 0"),
            ('cycle = "9 min"', 'cycle = "0 min"'),
            ("weekly = 300", "weekly = 0"),
            ("days = ", 'days = ["sun"] # '),
            ('end = "15:00"', 'end = "15:00"\npeople = 0'),
            ('end = "15:00"', 'end = "15:00"\ndoes = []'),
            ("[scenario.now.shift.day]", "[scenario.other.shift.day]"),
            ("[scenario.now.machine.mill]", "[scenario.other.machine.mill]"),
            ("[scenario.now.part.plate]", "[scenario.other.part.plate]"),
        ],
        luck.randrange(1, 4),
    ):
        text = text.replace(before, after)
    return text.encode()


def _very_many(luck: random.Random) -> bytes:
    """More than any study has of something."""
    many = luck.choice([300, 3_000, 10_000])
    kinds: list[Callable[[int], str]] = [
        lambda i: f'[scenario.s{i}]\nparent = "now"\n',
        lambda i: f"[scenario.u{i}]\nk{i} = {i}\n",
        lambda i: f'[scenario.now.part.p{i}]\ncycle = "5 min"\nweekly = 1\n',
        lambda i: f"[scenario.now.machine.m{i}]\ncount = 1\n",
        lambda i: f'[scenario.now.rush.r{i}]\npart = "plate"\npieces = 2\n',
        lambda i: (
            f'[scenario.now.order.o{i}]\npart = "plate"\npieces = 2\ndue = "week 2 mon 06:00"\n'
        ),
        lambda i: f'[scenario.now.stop.t{i}]\nevery = "40 h"\nrepair = "5 min"\n',
        lambda i: f'[scenario.now.shift.f{i}]\ndays = ["mon"]\nstart = "06:00"\nend = "07:00"\n',
        lambda i: f"[[x]]\na.b.c.d{i} = {i}\n",
    ]
    kind = luck.choice(kinds)
    return (STUDY + "\n" + "".join(map(kind, range(many)))).encode()


def _deep(luck: random.Random) -> bytes:
    many = luck.choice([70, 400, 5_000])
    kind = luck.choice(["[", "{a=", "key", "header"])
    if kind == "key":
        return f"{'.'.join(['a'] * many)} = 1\n".encode()
    if kind == "header":
        return f"[{'.'.join(['scenario'] * many)}]\nx = 1\n".encode()
    closed = "]" if kind == "[" else "}"
    inner = "" if kind == "[" else "1"
    return f"{STUDY}\nx = {kind * many}{inner}{closed * many}\n".encode()


_LINE: Final = "a line\n"


def _long(luck: random.Random) -> bytes:
    """One text, key, list, comment or blank of very many characters."""
    many = luck.choice([10_000, 300_000, 3_000_000])
    return luck.choice(
        [
            f'{STUDY}\n[scenario.long]\nparent = "now"\nnotes = "{"word " * (many // 5)}"\n',
            f'{STUDY}\n[scenario.long]\nparent = "now"\nnotes = """{_LINE * (many // 7)}"""\n',
            f'{STUDY}\n[scenario.long]\nparent = "now"\ntitle = "{"x" * many}"\n',
            f'{STUDY}\n[scenario.{"y" * many}]\nparent = "now"\n',
            f'{STUDY}\n[scenario.long]\nparent = "now"\n{"k" * many} = 1\n',
            f'{STUDY}\n[scenario.long]\nparent = "now"\npart.plate.cycle = "{" " * many}9 min"\n',
            f'{STUDY}\n[scenario.long]\nparent = "now"\npart.plate.cycle = "{"9" * many} min"\n',
            f"{STUDY}\n#{' words' * (many // 6)}",
            f"{STUDY}\n{' ' * many}x",
            f'{STUDY}\n[scenario.long]\nshift.day.days = "{"mon " * (many // 4)}"\n',
        ]
    ).encode()


SORTS: Final[tuple[Bends, ...]] = (
    *(_any_bytes, _bent, _bent, _cut, _encoded, _ends_of_lines, _doubled, _absurd, _absurd),
    *(_of_other_kinds, _of_other_kinds, _hostile, _hostile, _loops, _chain, _nobody, _nobody),
    *(_very_many, _deep, _long),
)


def bad_file(seed: int) -> tuple[str, bytes]:
    """The sort of file of a seed, and what it holds."""
    sort = SORTS[seed % len(SORTS)]
    return sort.__name__.strip("_"), sort(random.Random(seed))


def bad_files(count: int) -> Iterator[tuple[int, str, bytes]]:
    """The first so many, each with its seed and sort."""
    for seed in range(count):
        yield seed, *bad_file(seed)
