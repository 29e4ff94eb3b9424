"""web.pages.results."""

from web.pages.results.what_if import signed

__all__ = ["signed"]
