"""What the page of the sky prints, gathered from its report and the answers it came from."""

from collections.abc import Mapping
from typing import Any

from sizing.design import Site
from sizing.foundation import MONTHS, SPACE, Note, clock, compass, figures, percent, quantity
from sizing.light import DAY_OF_21ST, SkylineMonth
from sizing.report import SkyReport
from sizing.sky import TRUE_SOLAR_TIME, clock_shift
from web.charts.kit.shapes import Table
from web.charts.sky.day_courses import day_courses_chart
from web.charts.sky.sky_by_month import beside_table, fixed, sky_by_month
from web.charts.sky.sun_paths import sun_over_garden
from web.forms.places import coordinates
from web.forms.sending import href
from web.forms.typed_sky import unit_note
from web.pages.frame.leads import leads


def sky_content(found: SkyReport, site: Site, texts: Mapping[str, str]) -> dict[str, Any]:
    """Everything that the page of the sky prints."""
    beside, doubt = None, unit_note(site.sky, found.place, texts)
    if found.built_in is not None and found.comparison is not None:
        beside = beside_table(found.year, found.built_in, found.comparison.month_ratio)
    return {
        "found": found,
        "leads": leads(texts, "/sky"),
        "skyline_questions": href("/", texts, "place-questions"),
        "year_sentence": year_sentence(found),
        "cold_sentence": cold_sentence(found),
        "typed_origin": getattr(site.sky, "origin", ""),
        "months": sky_by_month(found.year, found.built_in),
        "days": day_courses_chart(found.days, clock_words(found)),
        "beside": beside,
        "suns": sun_over_garden(found.paths, found.place.skyline, clock_ahead(found, site.place.time_zone)),
        "skyline": skyline_table(found),
        "obstacles": obstacle_table(found),
        "hidden": hidden_table(found),
        "hidden_sentence": hidden_sentence(found),
        "notes": said(found.notes, "info"),
        "warnings": said((*([] if doubt is None else [doubt]), *found.notes), "warning"),
    }


def year_sentence(found: SkyReport) -> str:
    """The sun of the year, how sure it is, and what of it comes straight from the sun."""
    year, place = found.year, found.place
    return (
        f"{coordinates(round(place.latitude, 4), round(place.longitude, 4))}, {figures(place.elevation)}{SPACE}m above the sea: "
        f"{figures(year.sun)}{SPACE}kWh on each level square metre in a year, good to about {percent(year.band)}. "
        f"{percent(year.beam_share)} of it comes straight from the sun and throws a shadow, the rest from the whole sky. "
        f"The air has {quantity(round(year.air_temperature, 1), 'Cel')} in the mean of the year."
    )


def cold_sentence(found: SkyReport) -> str:
    """The coldest air, by which cold voltages and frost are judged."""
    cold = found.cold
    usual, lowest = (quantity(round(air), "Cel") for air in (cold.usual, cold.lowest))
    if cold.basis == "typed":
        return f"Coldest air of many years, as you typed it: {lowest}."
    return (
        f"Coldest night of ten years: about {usual}, estimated; cold voltages and frost are judged at {lowest}. Type the lowest "
        "temperature of your weather service in the form if you know it."
    )


def clock_words(found: SkyReport) -> str:
    """Whose hours the picture of the days has."""
    return "hours by the sun" if found.sky.hour_basis == TRUE_SOLAR_TIME else "hours by the clock"


def said(notes: tuple[Note, ...], severity: str) -> list[str]:
    """Notes of one kind as sentences with a capital letter."""
    return [note.detail[0].upper() + note.detail[1:] for note in notes if note.severity == severity]


def clock_ahead(found: SkyReport, time_zone: str | None) -> list[float] | None:
    """How far the clock is ahead of the sun on the 21st of each month [h]; None where no clock is known."""
    if not time_zone:
        return None
    shift = clock_shift(TRUE_SOLAR_TIME, found.place.longitude, time_zone)
    return [float(shift[day - 1]) for day in DAY_OF_21ST]


def skyline_table(found: SkyReport) -> Table | None:
    """The skyline as it was read, from true north; None for an open horizon."""
    points = found.place.surveyed
    if not points:
        return None
    columns = (
        tuple(f"{azimuth:.1f}".removesuffix(".0") for azimuth, _ in points),
        tuple(compass(azimuth) for azimuth, _ in points),
        fixed([altitude for _, altitude in points], 1),
    )
    head = ("Direction from true north, °", "Towards", "Height above level, °")
    return Table(
        "The skyline in the order of its directions, straight between its points", head, tuple(zip(*columns, strict=True))
    )


def obstacle_table(found: SkyReport) -> Table | None:
    """Obstacles one by one and what each hides alone; None where there are none."""
    if not found.obstacles:
        return None
    ones = [each.obstacle for each in found.obstacles]
    columns = (
        tuple(one.name or f"obstacle {index}" for index, one in enumerate(ones, 1)),
        tuple(f"{figures(one.azimuth, 4)}, {compass(one.azimuth)}" for one in ones),
        *(tuple(figures(getattr(one, name)) for one in ones) for name in ("height", "distance", "width")),
        fixed([each.hours for each in found.obstacles], 0),
        fixed([each.beam for each in found.obstacles], 1),
    )
    plane = "on the panel" if found.mounting is not None else "on level ground"
    head = ("Obstacle", "Direction, °", "Above the panel, m", "Distance, m", "Width, m", "Hides alone, h a year", "Beam, kWh/m²")
    return Table(f"What each obstacle hides and nothing else does, beam {plane}", head, tuple(zip(*columns, strict=True)))


def hidden_sentence(found: SkyReport) -> str:
    """How much the skyline takes in the year."""
    loss = found.skyline
    beam = sum(month.beam for month in loss.months)
    if loss.hours_hidden <= 0 or beam <= 0:
        return ""
    plane = "on the panel" if found.mounting is not None else "on level ground"
    hours = sum(month.hours_up for month in loss.months)
    return (
        f"In the year it hides the sun for {figures(loss.hours_hidden)} of {figures(hours)} hours "
        f"and takes {percent(loss.beam_lost / beam)} of the beam {plane}."
    )


def hidden_table(found: SkyReport) -> Table | None:
    """What the skyline takes in each month; None where it takes nothing."""
    months = found.skyline.months
    if found.skyline.hours_hidden <= 0:
        return None
    columns = (
        MONTHS,
        fixed([month.hours_up for month in months], 0),
        fixed([month.hours_hidden for month in months], 0),
        tuple(runs(month) for month in months),
        fixed([month.beam_lost for month in months], 1),
        fixed([100 * month.beam_lost / month.beam if month.beam > 0 else 0.0 for month in months], 0),
    )
    head = ("Month", "Sun up, h", "Hidden, h", "Hidden on most days", "Beam lost, kWh/m²", "of the beam, %")
    plane = "on the panel" if found.mounting is not None else "on level ground"
    caption = f"What the skyline takes, beam {plane}; {found.skyline.hour_basis}"
    return Table(caption, head, tuple(zip(*columns, strict=True)))


def runs(month: SkylineMonth) -> str:
    """From when to when the sun is hidden on most days of a month."""
    return ", ".join(f"{clock(start)}–{clock(end)}" for start, end in month.runs) or "–"
