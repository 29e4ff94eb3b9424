"""web.charts."""
