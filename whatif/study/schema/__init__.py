"""What may stand in a study file: kinds of values, typed models, one catalogue of keys."""
