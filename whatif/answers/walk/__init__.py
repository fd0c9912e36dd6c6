"""Work sampling: a walk through the shop at random moments, held against the model."""
