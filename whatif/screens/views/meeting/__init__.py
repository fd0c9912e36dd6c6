"""The meeting: a verdict over all alternatives, and a page an alternative."""
