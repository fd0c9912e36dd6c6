"""Finding a row of the sheet while its name is typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from whatif.session.sheet import Line, find_rows

if TYPE_CHECKING:
    from whatif.screens.desk.host import DeskHost
    from whatif.screens.desk.state import DeskState, Spot
    from whatif.study.raw import Path


class RowSearch:
    """A search: the cursor goes along with it, and back where it is given up."""

    def __init__(self, state: DeskState, host: DeskHost) -> None:
        self._state = state
        self._host = host
        self._from: Spot | None = None
        """Where the search began, as long as it lasts."""
        self._missed = ""
        """What no row is called, where that was looked for last."""

    def begin(self) -> None:
        """Begin to look for a row by its name."""
        self._host.settle()
        self._state.notice = ""
        self._from = self._state.spot
        self._host.open_finder()
        self._host.repaint()

    def find(self, typed: str, steps: int, again: bool) -> str:
        """Go to a row of that name, so many further; says how many there are.

        The first one is the likeliest; from there they follow each other down the sheet, and from
        its top again, and are counted from its top. ``again`` tells that the row under the cursor
        was found by the same search before.
        """
        state = self._state
        start_spot = state.spot if self._from is None else self._from
        rows = state.all_rows(frozenset())
        here = [
            (row.place, row.path if isinstance(row, Line) else None)
            == (start_spot.place, start_spot.path)
            for row in rows
        ]
        start = here.index(True) if True in here else 0
        # Rows are told apart by where they stand: comparing all that they say takes long.
        place = {id(row): number for number, row in enumerate(rows)}
        hits = [place[id(row)] for row in find_rows(rows, typed, start)]
        state.spot = start_spot
        said = ""
        if hits:
            down = sorted(hits)
            if again and start in hits:
                # The row where the cursor is has been found before.
                first = start
            else:
                first, steps = hits[0], steps - again
            at = (down.index(first) + steps) % len(down)
            hit = rows[down[at]]
            path = hit.path if isinstance(hit, Line) else None
            state.put_on(hit.place, path, opening=path is not None)
            said = f"{at + 1} of {len(down)}{self._not_here(path)}"
        elif typed.strip():
            left_out = ", of those that differ (= shows all)"
            said = "no such row" + (left_out if state.arrangement.only_differing else "")
        self._missed = typed.strip() if not hits else ""
        self._host.repaint()
        return said

    def _not_here(self, path: Path | None) -> str:
        """That the chosen scenario has no such value, where only others have it."""
        state, scenario = self._state, self._state.chosen
        if path is None or scenario is None or state.cell(scenario, path).exists:
            return ""
        return f", not in {state.title(scenario)}"

    def end(self, stay: bool) -> None:
        """End the search, on the row that it has got to or back where it began."""
        if self._from is None:
            return
        before, self._from = self._from, None
        missed, self._missed = self._missed, ""
        self._host.close_finder()
        if not stay:
            self._state.spot = before
        elif missed:
            # Who looks at the sheet would take the row where the cursor was for the one found.
            self._host.refuse(f'No row is called "{missed}"; the cursor stays where it was.')
            return
        self._host.repaint()
