"""What machines and hour meters have told, read from documents of others: no study, no model."""
