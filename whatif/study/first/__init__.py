"""What the answers say of a shop: the questions, and the shop that they describe."""
