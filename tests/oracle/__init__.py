"""A second, slow and plain reading of the cell model, to hold the project's engine against."""
