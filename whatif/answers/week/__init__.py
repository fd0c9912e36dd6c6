"""One week of a scenario, second by second."""
