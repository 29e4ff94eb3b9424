"""The four logs of a class read cell by cell: bench test, directions and tilts, panel check, filled sheet.

In comes a table as text, in the words and units that people write; out come arrays in SI, and a sentence with row and column
for every cell that has no single reading, while the other rows count.

Read: ``cells`` (numbers, times, days), ``headings`` (which column is which), ``columns`` (the names that we know), ``rows``
(all cells as arrays), ``logs`` (the four logs), ``instruments`` (one standard uncertainty of each).

2026-11-25, logs of a class are read cell by cell. Chosen: our own reader over the standard library's ``csv``: any of four
    marks between cells; headings below a title, in usual words and units or with a row of units below; decimal commas (and
    whether days stand before months) decided for the whole log; a time or a day only where it has one reading. Refused:
    ``pandas.read_csv``, which guesses per column, turns a column with one bad cell into text, and cannot say which reading of
    1,250 it took. Figures: 5,000 rows of six columns take 30 ms, of nine columns 55 ms; more than 10,000 rows are refused
    unread.
"""

from sizing.measured.logs.columns import blanks
from sizing.measured.logs.instruments import Instruments
from sizing.measured.logs.logs import read_panel, read_sheet, read_turns
from sizing.measured.logs.rows import LARGEST

__all__ = ["LARGEST", "Instruments", "blanks", "read_panel", "read_sheet", "read_turns"]
