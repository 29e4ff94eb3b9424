"""web.charts.drawing."""
