"""The columns of a class's logs: their names in our own tables, the headings and units that people write, their limits."""

from dataclasses import replace

from sizing.foundation.units import FOOT, IMPERIAL_GALLON, INCH, LITRE_PER_MINUTE, US_GALLON
from sizing.measured.logs.headings import Column, blank_table, in_units

VOLTS = in_units({"v": 1, "volt": 1, "volts": 1, "mv": 1e-3})
AMPERES = in_units({"a": 1, "amp": 1, "amps": 1, "ampere": 1, "amperes": 1, "ma": 1e-3, "ua": 1e-6})
METRES = in_units({"m": 1, "cm": 1e-2, "mm": 1e-3, "metre": 1, "metres": 1, "meter": 1, "meters": 1})
METRES = {**METRES, **in_units(dict.fromkeys(("ft", "foot", "feet"), FOOT) | dict.fromkeys(("in", "inch", "inches"), INCH))}
VOLUMES = in_units(
    {"l": 1e-3, "ml": 1e-6, "cl": 1e-5, "dl": 1e-4, "m3": 1, "litre": 1e-3, "litres": 1e-3, "liter": 1e-3, "liters": 1e-3}
    | {"cm3": 1e-6, "cc": 1e-6, "dm3": 1e-3}
    | dict.fromkeys(("gal", "gallon", "gallons", "usgal"), US_GALLON)
    | dict.fromkeys(("ukgal", "impgal"), IMPERIAL_GALLON)
)
SECONDS = in_units({"s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1, "min": 60, "minute": 60, "minutes": 60, "ms": 1e-3})
SECONDS |= in_units(dict.fromkeys(("h", "hour", "hours"), 3600))
FLOWS = in_units({"l/min": LITRE_PER_MINUTE, "lpm": LITRE_PER_MINUTE, "lph": 1e-3 / 3600})
FLOWS |= in_units({"gpm": US_GALLON / 60, "gph": US_GALLON / 3600})
FLOWS = {
    f"{volume}/{time}": (size / seconds, 0.0)
    for volume, (size, _) in VOLUMES.items()
    for time, seconds in (
        ("min", 60),
        ("minute", 60),
        ("s", 1),
        ("sec", 1),
        ("second", 1),
        ("h", 3600),
        ("hr", 3600),
        ("hour", 3600),
    )
} | FLOWS
DEGREES = in_units({"deg": 1, "°": 1, "degree": 1, "degrees": 1})
TEMPERATURES = {"c": (1.0, 0.0), "°c": (1.0, 0.0), "celsius": (1.0, 0.0)}
TEMPERATURES |= dict.fromkeys(("f", "°f", "fahrenheit"), (5 / 9, -160 / 9))


def words(text: str) -> frozenset[str]:
    """Headings that mean a column."""
    return frozenset(text.split())


VOLTAGE = Column(
    "voltage_v", "voltage", words("voltage volts volt v u"), units=VOLTS, usual="v", most=150, limits="0 to 150 V", needed=True
)
CURRENT = Column(
    "current_a",
    "current",
    words("current amps amp amperes ampere a i"),
    units=AMPERES,
    usual="a",
    most=60,
    limits="0 to 60 A",
    needed=True,
)
VOLUME = Column(
    "volume_l", "volume", words("volume vol bucket"), units=VOLUMES, usual="l", most=2, limits="0 to 2000 L", needed=True
)
FILL_TIME = Column(
    "fill_time_s",
    "fill time",
    words("fill filling time duration stopwatch t secs seconds"),
    "seconds",
    SECONDS,
    "s",
    most=7200,
    limits="0 to 7200 s",
    needed=True,
)
HEAD = Column("head_m", "head", words("head height lift h"), units=METRES, usual="m", most=60, limits="0 to 60 m", needed=True)
TEAM = Column("team", "team", words("team group no"), "text", one_of=words("team group"))
SKY = Column("sky", "sky", words("sky remark remarks weather clouds cloud condition conditions"), "text")
DAY = Column("day", "day", words("day date"), "day", needed=True)
TIME = Column(
    "time",
    "time of day",
    words("time hour clock local day hh mm ss h"),
    "clock",
    needed=True,
    one_of=words("time hour clock"),
)
BENCH = (VOLTAGE, CURRENT, HEAD, VOLUME, FILL_TIME, TEAM)
FLOW = Column(
    "flow_l_per_min",
    "flow",
    words("flow q rate"),
    units=FLOWS,
    usual="l/min",
    most=1 / 60,
    limits="0 to 1000 L/min",
    one_of=words("flow q"),
)
AIR = Column(
    "air_temperature_c",
    "air temperature",
    words("air temperature temp"),
    units=TEMPERATURES,
    usual="c",
    least=-50,
    most=55,
    limits="-50 to 55 °C",
)
SUN_HEIGHT = Column(
    "sun_height_deg",
    "height of the sun",
    words("sun solar height altitude elevation"),
    units=DEGREES,
    usual="deg",
    most=90,
    limits="0 to 90°",
)
TURNS = (
    DAY,
    TIME,
    Column(
        "direction_deg",
        "direction",
        words("direction azimuth true facing"),
        "direction",
        DEGREES,
        "deg",
        0,
        360,
        "0 to 360°",
    ),
    Column(
        "compass_deg",
        "compass reading",
        words("compass magnetic direction bearing heading"),
        "direction",
        DEGREES,
        "deg",
        most=360,
        limits="0 to 360°",
    ),
    Column(
        "tilt_deg",
        "tilt",
        words("tilt slope angle inclination"),
        units=DEGREES,
        usual="deg",
        most=90,
        limits="0 to 90°",
        needed=True,
    ),
    replace(VOLTAGE, needed=False),
    replace(CURRENT, needed=False),
    FLOW,
    replace(VOLUME, needed=False),
    replace(FILL_TIME, words=words("fill filling duration stopwatch secs seconds time"), needed=False),
    SKY,
    TEAM,
    SUN_HEIGHT,
    Column(
        "stick_cm",
        "stick",
        words("stick height"),
        units=METRES,
        usual="cm",
        least=0.01,
        most=10,
        limits="1 cm to 10 m",
        one_of=words("stick"),
    ),
    Column("shadow_cm", "shadow", words("shadow"), units=METRES, usual="cm", most=200, limits="0 to 200 m"),
)
PANEL = (DAY, TIME, VOLTAGE, CURRENT, SKY, AIR, TEAM)
SHEET = (
    DAY,
    TIME,
    replace(SUN_HEIGHT, key="measured_sun_height_deg"),
    replace(VOLTAGE, key="measured_panel_voltage_v", needed=False),
    replace(CURRENT, key="measured_panel_current_a", needed=False),
    replace(FLOW, key="measured_flow_l_per_min"),
    replace(VOLUME, needed=False),
    replace(FILL_TIME, needed=False),
    Column("measured_jet_height_cm", "jet height", words("jet height"), units=METRES, usual="cm", most=20, limits="0 to 20 m"),
    AIR,
    SKY,
    TEAM,
)
"""What is read of a sheet that was filled in; its predictions are computed anew."""


def blanks() -> dict[str, str]:
    """The tables to fill in, by name.

    Examples
    --------
    >>> blanks()["bench"]
    'voltage_v,current_a,head_m,volume_l,fill_time_s,team\\r\\n'
    """
    return {name: blank_table(columns) for name, columns in (("bench", BENCH), ("directions", TURNS), ("panel", PANEL))}
