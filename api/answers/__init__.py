"""api.answers."""
