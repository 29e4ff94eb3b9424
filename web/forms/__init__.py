"""web.forms."""
