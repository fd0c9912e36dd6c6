"""What is kept beside the user's other state: files opened lately, unsaved edits."""
