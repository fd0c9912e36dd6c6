"""Answers that a first study is made of."""

from __future__ import annotations

ALL = {
    "shift": "6:30-15:00",
    "days": "mon-fri",
    "breaks": "45",
    "people": "1",
    "setters": "",
    "machines": "2",
    "pallets": "1",
    "cycle": "11",
    "pieces": "4",
    "door": "6",
    "numbers": "30",
    "order": "40",
    "each": "1.5",
    "wait": "30",
    "switched_on": "400",
    "in_cut": "180",
    "weeks": "6",
    "wanted": "401",
}
