"""What all pages share: templates, the line of links, the answers read back, and sums that unfold.

In come content for a template, the texts of a design, or worked numbers; out come responses and texts for the page.

Read: ``site`` (environment, ``page``, ``download``, the error page), ``leads`` (the links over a design's pages), ``answers``
(questions with their answers), ``sums`` (a formula written for readers), ``unfolded`` (the working of a report, number by
number).
"""

from web.pages.frame.site import error_page

__all__ = ["error_page"]
