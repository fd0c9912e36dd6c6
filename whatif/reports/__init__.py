"""Answers for reading outside the screen: text, Markdown, CSV, JSON."""
