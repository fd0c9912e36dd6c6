"""The study file: what may stand in it, what stands in it, what is wrong with it."""
