"""Every book, standard and paper that a number or a formula rests on, by its key.

A formula, a constant or a published row names a key; ``SOURCES`` gives title, publisher, year, where in it to look, and how we
know the figure: read there, quoted by a later text, written from memory, or common practice without a source.

Read: ``publication`` (what a source is), ``sky``, ``panel``, ``cables``, ``water``, ``basin``, ``measuring``.

A source stands under one subject. A test fails for a key that nobody uses and for a key that nobody defined.
"""

from sizing.foundation.sources import basin as basin_sources
from sizing.foundation.sources import cables as wire_sources
from sizing.foundation.sources import measuring as measuring_sources
from sizing.foundation.sources import panel as panel_sources
from sizing.foundation.sources import sky as sky_sources
from sizing.foundation.sources import water as water_sources
from sizing.foundation.sources.publication import Source

__all__ = ["SOURCES"]

SOURCES: dict[str, Source] = {
    "iso_80000_3": Source("ISO 80000-3 Quantities and units: space and time", "ISO", 2019, "standard gravity", "memory"),
    "si_brochure": Source("The International System of Units, 9th edition", "BIPM", 2019, "Table 8: the hour", "memory"),
    **sky_sources.SOURCES,
    **panel_sources.SOURCES,
    **wire_sources.SOURCES,
    **water_sources.SOURCES,
    **basin_sources.SOURCES,
    **measuring_sources.SOURCES,
    "common_practice": Source("Common practice, no source", "the trade", 2026, "", "practice"),
}
