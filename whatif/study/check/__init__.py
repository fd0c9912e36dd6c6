"""What is wrong, odd or unused in a draft, and the typed study where nothing is wrong."""
