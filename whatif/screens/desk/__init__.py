"""The main screen: what is drawn where, and what its keys do."""
