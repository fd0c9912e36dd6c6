"""How long the spindles go on when everybody has gone, and what ends it."""
