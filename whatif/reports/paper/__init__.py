"""A study on two pages of paper, to be handed on; further pages on demand."""
