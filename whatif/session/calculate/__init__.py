"""Questions to the calculating process, and which of its answers still hold."""
