"""One week of a scenario as lanes of signs, and in words."""
