"""The page to print and sign, and the page of parts and prices.

In come a design with its report, building and comparison; out come a page that has nothing to press, the same page as one
file, and the parts list with its boxes for prices.

Read: ``report_page`` with ``job`` (the fountain in sentences), ``installing`` (cable, fuse, notes) and ``keeping`` (basin,
care); ``budget`` (parts and money in words), ``parts_page``.

2026-11-25, the report has no clock. The day beside a signature is written by hand, so a page is a function of its design and
    version alone: the same address prints the same page. The file of ``solar-fountain report`` is the same template in a frame
    without links, with the stylesheet inside.
2026-11-25, prices on ``/parts``. What is wrong in a box that is asked once for all prices is said once. Only what cannot be
    read is left out: a wrong day loses the day; a price without an amount or a currency loses the price. With several pairs
    the page compares them all each time (72 pairs: 0.6 s).
"""

from web.pages.report.report_page import report_file

__all__ = ["report_file"]
