"""From what a study says to what the cell runs, with worth and money kept beside the physics."""
