"""Whether a part fits on a machine, and how many pieces stand on a face."""
