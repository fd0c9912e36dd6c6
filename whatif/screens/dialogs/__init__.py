"""Small screens laid over another: questions, lists, forms."""
