"""From a file to a draft and back: reading, writing whole or not at all."""
