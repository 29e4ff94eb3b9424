"""web.pages.report."""

from web.pages.report.report_page import report_file

__all__ = ["report_file"]
