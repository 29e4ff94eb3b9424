"""web.pages.garden."""
