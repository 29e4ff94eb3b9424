"""web.pages.measured."""
