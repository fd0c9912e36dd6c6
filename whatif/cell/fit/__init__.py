"""Whether a part fits on a machine, and how many pieces stand on a face."""

from whatif.cell import compiled_first

compiled_first(__path__, "fit")
