"""web.pages.compare."""
