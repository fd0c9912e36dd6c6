"""Why this figure."""
