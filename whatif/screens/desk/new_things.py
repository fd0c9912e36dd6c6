"""What can be added to a scenario."""

NEW = {
    "machine": ("m", "a machine", "equal machines, with their table and pallets"),
    "shift": ("s", "a shift", "when people are there, and how many"),
    "part": ("p", "a part", "what is made: cycle, pieces a week, setup"),
    "stop": ("t", "a stop", "what halts machines now and then"),
    "rush": ("r", "a rush order", "what it costs to slip one in"),
    "order": ("o", "an order", "a real one: so many pieces, due at a moment"),
}
"""Letter, name and a few words for each sort of thing that can be added."""

FROM_TABLE = {
    "part": ("f", "parts from a table", "of a spreadsheet, many at once"),
    "order": ("w", "orders from a table", "work orders with their due dates"),
}
"""The same for what is added by a table."""
