"""What matters most: three pages."""
