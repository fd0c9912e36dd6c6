"""The best next step: levers tried alone and together, and what of them is not beaten."""
