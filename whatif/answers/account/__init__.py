"""Every figure accounted for: formula, numbers, their origins, checks."""
