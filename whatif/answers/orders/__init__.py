"""Real orders against their due dates, and rush orders."""
