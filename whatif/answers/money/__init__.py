"""A year, what has to be laid out for it, when it comes back, and what that rests on."""
