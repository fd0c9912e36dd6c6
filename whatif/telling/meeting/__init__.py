"""The meeting: what a comparison comes to, and a page an alternative."""
