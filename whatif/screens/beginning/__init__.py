"""What is shown before a study is open."""
