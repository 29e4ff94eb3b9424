"""api.edge."""
