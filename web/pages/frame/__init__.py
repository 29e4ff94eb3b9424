"""web.pages.frame."""

from web.pages.frame.site import error_page

__all__ = ["error_page"]
