"""Ways of looking at the answers, each for one question."""
