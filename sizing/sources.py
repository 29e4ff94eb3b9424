"""Every book, standard and paper that a number or formula rests on, by key; subject by subject, as sun and water travel."""

from sizing import basin_sources, measuring_sources, panel_sources, sky_sources, water_sources, wire_sources
from sizing.publication import Source

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
