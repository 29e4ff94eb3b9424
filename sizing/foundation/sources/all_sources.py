"""Every book, standard and paper that a number or formula rests on, by key; subject by subject, as sun and water travel."""

from sizing.foundation.sources import basin as basin_sources
from sizing.foundation.sources import cables as wire_sources
from sizing.foundation.sources import measuring as measuring_sources
from sizing.foundation.sources import panel as panel_sources
from sizing.foundation.sources import sky as sky_sources
from sizing.foundation.sources import water as water_sources
from sizing.foundation.sources.publication import Source

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
