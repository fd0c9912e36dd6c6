"""Hour meters held against the model."""
