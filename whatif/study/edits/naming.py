"""Ids made from names that people type."""

from __future__ import annotations

import re
import unicodedata

from whatif.study.draft import Draft

LONGEST = 40


def fresh_id(draft: Draft, name: str) -> str:
    """An id for a scenario of this name that no scenario has yet: "Six pallets" six_pallets."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "_", plain).strip("_")[:LONGEST] or "scenario"
    taken = set(draft.ids)
    if stem not in taken:
        return stem
    number = 2
    while f"{stem}_{number}" in taken:
        number += 1
    return f"{stem}_{number}"
