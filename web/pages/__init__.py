"""web.pages."""
