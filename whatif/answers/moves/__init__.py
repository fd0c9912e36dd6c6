"""What moves a scenario: inputs ranked, curves, tables of two, break-evens."""
