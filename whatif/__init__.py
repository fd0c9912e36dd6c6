"""What-if sessions for a machining cell: machines, pallets, people and unattended hours."""
