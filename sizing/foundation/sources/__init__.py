"""Every book, standard and paper that a number or a formula rests on, by its key.

A formula, a constant or a published row names a key; ``SOURCES`` gives title, publisher, year, where in it to look, and how we
know the figure: read there, quoted by a later text, written from memory, or common practice without a source.

Read: ``publication`` (what a source is), ``sky``, ``panel``, ``cables``, ``water``, ``basin``, ``measuring``, ``all_sources``
(all of them together).

A source stands under one subject. A test fails for a key that nobody uses and for a key that nobody defined.
"""

from sizing.foundation.sources.all_sources import SOURCES

__all__ = ["SOURCES"]
