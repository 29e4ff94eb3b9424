"""web.charts.kit."""
