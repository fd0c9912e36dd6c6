"""From facts to sentences and drawings, once, in the units asked for."""
