"""api.http."""
