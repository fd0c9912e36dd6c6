"""What a machine shop does: a deterministic event engine in whole seconds.

Imports nothing of ours outside this folder, and no file, no clock, no quantity library: plain
frozen dataclasses go in (:mod:`whatif.cell.model`), tallies come out (:mod:`whatif.cell.tally`).
"""
