"""What a scenario costs and brings in, and what misleads in it."""
