"""A second, slow and plain reading of the rules, to hold the project's engine against."""
