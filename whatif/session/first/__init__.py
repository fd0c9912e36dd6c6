"""A first study from ten answers."""
