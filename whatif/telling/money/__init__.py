"""Money side by side, in sentences and over the years."""
