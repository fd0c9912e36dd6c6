"""Accounts of figures, told: sentences for ids, and all of an account in sections."""
