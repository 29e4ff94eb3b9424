"""The page that says what the fountain will do: verdict, pictures, months, likely ranges, what-ifs.

In comes a finished report with the answers it came from; out comes the content of ``results.html``. Nothing is computed anew.

Read: ``results_page`` (gathers it all), ``pictures``, ``sure`` (ranges and causes), ``what_if``, ``obstacles``.

2026-11-25, what-ifs are pressed, not linked. Seven links with the whole design each would add 17 KB to a page of 145 KB. A
    button sends the answers with the change's name, and the page leads on to an address of its own, which also works for
    designs too long for an address. They cost 2.5 ms each (15 to 20 ms a page).
"""

from web.pages.results.what_if import ages_told, signed

__all__ = ["ages_told", "signed"]
