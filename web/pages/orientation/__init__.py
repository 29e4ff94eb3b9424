"""web.pages.orientation."""
