"""Answers to a shop's questions: figures, gains, limits and cautions from tallies and plans."""
