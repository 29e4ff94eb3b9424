"""The front door for people who compute: a design goes in, results come out that print, show and plot themselves.

In come a design file's name, its JSON text, plain data or a ``Design``; out come results with the typed answer and pandas
DataFrames whose columns carry their units. The door itself is ``sizing``: ``from sizing import read_design, size``.

Read: ``designs`` (what may be given as a design), ``results`` (``size``, ``compare``, ``orient`` and what they give back),
``frames`` (answers and steps as DataFrames), ``shown`` (the small tables that a notebook shows).

Decided: results wrap the records of the rooms and compute nothing. What is not known is ``<NA>`` in a DataFrame, never NaN.
"""

from sizing.notebook.designs import read_design
from sizing.notebook.results import Compared, Oriented, Sized, compare, orient, size

__all__ = ["Compared", "Oriented", "Sized", "compare", "orient", "read_design", "size"]
