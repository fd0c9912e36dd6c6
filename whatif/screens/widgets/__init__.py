"""What the main screen is put together from."""
