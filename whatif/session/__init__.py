"""A what-if session without its screen: undo, saving, recovery, and answers that keep up."""
