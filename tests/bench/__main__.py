"""How fast, how far it grows and how much it holds: one table of ratios measured in one run.

    .venv/bin/python tests/bench [PART ...] [--before CHECKOUT] [--quick]

An earlier checkout, this one with the plain cell and this one with the
compiled cell are measured by turns, by the processor's time wherever that tells the same: other
programs may run meanwhile. By hand, never in a timed test.
"""

from __future__ import annotations

import sys
import tempfile
from argparse import ArgumentParser, RawDescriptionHelpFormatter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

from parts import NEEDS, PARTS, Bench
from table import Table
from variants import compiled_copy, variants


def main() -> None:
    """Measure what is asked for."""
    parser = ArgumentParser(
        prog="tests/bench", description=__doc__, formatter_class=RawDescriptionHelpFormatter
    )
    parser.add_argument("parts", nargs="*", metavar="PART", help=", ".join(PARTS))
    parser.add_argument(
        "--before",
        type=Path,
        help="an earlier checkout, run by its own .venv if any",
    )
    parser.add_argument("--compiled", help='a folder with a compiled whatif; "no" leaves it out')
    parser.add_argument("--quick", action="store_true", help="less of everything, once or twice")
    asked = parser.parse_args()
    unknown = [name for name in asked.parts if name not in PARTS]
    if unknown:
        parser.error(f"there is no part {unknown[0]}; there are {', '.join(PARTS)}")
    with tempfile.TemporaryDirectory() as folder:
        compiled = None if asked.compiled == "no" else Path(asked.compiled or folder)
        if compiled is not None and asked.compiled is None:
            compiled = compiled_copy(compiled)
        bench = Bench(variants(asked.before, compiled), asked.quick)
        table = Table()
        table.head()
        try:
            for name in asked.parts or PARTS:
                lacking = [need.what for need in NEEDS.get(name, ()) if not need.is_met()]
                if lacking:
                    print(f"{name:9}not measured here: it needs {' and '.join(lacking)}")
                    continue
                table.add(PARTS[name](bench))
        finally:
            for variant in bench.variants:
                variant.end()
    missed = [row for row in table.rows if row.met == "NO"]
    print(f"{len(table.rows)} lines, {len(missed)} aims missed")


if __name__ == "__main__":
    main()
