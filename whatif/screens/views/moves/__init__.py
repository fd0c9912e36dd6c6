"""What moves it: three pages."""
