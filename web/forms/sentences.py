"""What is wrong, beside the field it means: the sentences of the design model in the words of the form."""

import re
from collections.abc import Sequence

from sizing.foundation import Problem
from web.forms.fields import name_of
from web.forms.grids import ALL_POINTS, ALL_POWER_POINTS, CELLS, FITTINGS, KINDS, MONTHLY_AIR, MONTHLY_SUN, OBSTACLES, SKYLINE
from web.forms.measured_texts import NAMES as CARRIED_ALONG
from web.forms.panel_and_pump import PANELS, PUMPS, SERIES
from web.forms.part_prices import ADDED_PRICES, BUDGET, KEYS, PRICE_FIELDS, SHARED
from web.forms.part_prices import PARTS as PRICES
from web.forms.questions import CHECKS, CHOICES, FIELDS
from web.forms.reading import PRICED, Reading, label_of, which_of
from web.forms.several import count
from web.forms.typed_sky import chosen_unit, in_unit, unit_error

PARTS = {
    **{group.key: f"{group.key}.vmp_v" for group in PANELS.groups},
    **{group.key: f"{group.key}.known" for group in PUMPS.groups},
    **{base: f"{base}.amount" for base in PRICED},
    **{base: f"{base}.0.flow_l_per_min" for base in ALL_POINTS},
    **{base: f"{base}.0.head_m" for base in ALL_POWER_POINTS},
    "place": "place.latitude_deg",
    "sky": "sky.kind",
    "sky.path": "sky.kind",
    "chosen": "panels.0.vmp_v",
    "connection": "connection.kind",
    "cable": "cable.length_m",
    "pipe": "pipe.length_m",
    "outlet": "outlet.kind",
    "mounting": "mounting.tilt_deg",
    "goal": "goal.jet_height_m",
    "basin": "basin.diameter_m",
    BUDGET: f"{BUDGET}.contingency_pct",
    **{f"{BUDGET}.{name}": f"{BUDGET}.{name}.amount" for name in ADDED_PRICES},
    **{f"{PRICES}.{key}": f"{PRICES}.{key}.amount" for key in KEYS},
    OBSTACLES: f"{OBSTACLES}.0.direction",
    SKYLINE: f"{SKYLINE}.0.azimuth_deg",
    FITTINGS: f"{FITTINGS}.entrance.count",
    "sky.ghi_kwh_per_m2_day": "sky.ghi_kwh_per_m2_day.0",
    "sky.air_temperature_c": "sky.air_temperature_c.0",
}
"""The field at which a sentence stands that means a whole part of the design."""
FILE_WORDS = {
    "or as compass_deg from a compass": "or what a compass shows there",
    "both height_m and distance_m": "both height and distance",
    "or flow_l_per_min in its place": "or the flow in its place",
    "; or give length_m and width_m in its place": ", or length and width in its place",
    "write it without a currency sign": "write the number alone",
    "choose tracks_power if its electronics hold": "choose electronics that track, if they hold",
    "or choose dc_motor and a controller as the connection": "or choose a DC motor here and a controller between panel and pump",
    "give points (flow, head, current) in place of power points": "choose points of its curve in place of flow against power",
}
"""Names of a file's fields, and the words of the form for them."""
OF_PRICE = re.compile(r"^(price( source| date)?|currency)( \(part \d+\))?", re.IGNORECASE)
"""How a sentence about a price begins; its box says more of it."""
NO_CURRENCY = "must be given; write three letters, such as EUR"
MANY_MONTHS = 3
"""So many wrong months are no slip of the pen: the unit may be another one."""
NO_POINTS = "The table{} has no points; give at least two points of the pump's curve, or choose “Only what its box says”"
NO_POWER_POINTS = "The table of flow against power{} has no points; give at least two, or choose another way to describe the pump"
BOX_LACKS = "{}{{}} is empty; a pump known by its box needs all three numbers; write it, or give points of its curve instead"


def beside_fields(problems: Sequence[Problem], reading: Reading) -> dict[str, str]:
    """A sentence for each wrong field; what is unclear in itself comes before what the model says of it."""
    found = {"title" if name in CARRIED_ALONG else name: said for name, said in reading.unclear.items()}
    for problem in problems:
        name = field_of(problem.pointer, reading)
        if any(name.startswith(f"{base}.") for base in reading.blank):
            continue
        found.setdefault(name, sentence(problem, name, reading))
    if sum(name.startswith(MONTHLY_SUN) for name in found) >= MANY_MONTHS:
        found |= unit_error(reading.texts, reading.data["sky"].get("ghi_kwh_per_m2_day", ()))
    return {name: said[0].upper() + said[1:] for name, said in found.items()}


def field_of(pointer: str, reading: Reading) -> str:
    """The field that a pointer means; where it means a part of the design, the one that stands for it."""
    name = name_of(pointer)
    if name.startswith("pipe.fittings"):
        index, _, key = name.removeprefix("pipe.fittings").removeprefix(".").partition(".")
        name = f"{FITTINGS}.{entry(reading.kinds, index)}.{key or 'count'}"
    if name.startswith(f"{PRICES}."):
        index, _, key = name.removeprefix(f"{PRICES}.").partition(".")
        name = f"{PRICES}.{entry(reading.priced, index)}.{key or 'amount'}"
    for base, rows in reading.rows.items():
        if name.startswith(f"{base}."):
            index, _, key = name.removeprefix(f"{base}.").partition(".")
            name = f"{base}.{entry(rows, index)}.{key}"
    if name.startswith("chosen."):
        series = next((each for each in SERIES if each.chosen == name), PANELS)
        return name if count(reading.texts, series.key) > 1 else PARTS[f"{series.key}.0"]
    while not any(name in names for names in (FIELDS, CHOICES, CHECKS, CELLS, PRICE_FIELDS)):
        if name in PARTS:
            return PARTS[name]
        name = name.rpartition(".")[0]
        if not name:
            return "title"
    of_price = name.rpartition(".")[2]
    if name in PRICE_FIELDS and of_price in SHARED and not reading.texts.get(name, "").strip():
        return SHARED[of_price]
    return name


def entry(rows: Sequence[int | str], index: str) -> str:
    """The row of the form that became an entry of a list; nothing where there is no such entry."""
    return str(rows[int(index)]) if index.isdigit() and int(index) < len(rows) else ""


def sentence(problem: Problem, name: str, reading: Reading) -> str:
    """A problem in the words of the form: its own rows, no names of a file's fields, nothing in quotes that is not there."""
    if problem.code == "pump_undescribed":
        known = reading.texts.get(".".join([*name.split(".")[:2], "known"]))
        return (NO_POINTS if known != "box" else BOX_LACKS.format(label_of(name))).format(which_of(name, reading.texts))
    base = next((base for base in reading.rows if name.startswith(base + ".")), "")
    if problem.code == "wrong_count" and base in ALL_POINTS:
        return problem.detail if reading.rows[base] else NO_POINTS.format(which_of(name, reading.texts))
    if problem.code == "wrong_count" and base in ALL_POWER_POINTS:
        return problem.detail if reading.rows[base] else NO_POWER_POINTS.format(which_of(name, reading.texts))
    if problem.code == "wrong_count" and name in CHECKS:
        return f"{CHECKS[name].question}: none is ticked; tick at least one, or leave all of the goal empty"
    said = problem.detail.replace('is "", not a number', "is empty").replace(" or name a weather file", "")
    if name.startswith(MONTHLY_AIR) and said != problem.detail:
        said += "; give all twelve or none"
    if name.startswith(MONTHLY_SUN):
        said = in_unit(said, reading.texts.get(name, ""), chosen_unit(reading.texts))
    for of_file, of_form in FILE_WORDS.items():
        said = said.replace(of_file, of_form)
    for series in SERIES:
        if count(reading.texts, series.key) == 1:
            said = re.sub(rf"(?<=\(){series.word} 1, | \({series.word} 1\)", "", said)
    if name in PRICE_FIELDS:
        said = OF_PRICE.sub(PRICE_FIELDS[name].label, said, count=1).replace("must be given; add it", NO_CURRENCY)
    if base:
        said = re.sub(r"\b(point|obstacle) (\d+)\b", lambda match: f"{match[1]} {row_name(reading.rows[base], match[2])}", said)
    said = re.sub(r" \(further window (\d+)\)", "", said)
    return re.sub(r"\bfitting (\d+)\b", lambda match: fitting_name(reading.kinds, match[1]), said)


def row_name(rows: Sequence[int], number: str) -> str:
    """Number of the table's row that became the entry of that number."""
    index = int(number) - 1
    return str(rows[index] + 1) if 0 <= index < len(rows) else number


def fitting_name(kinds: Sequence[str], number: str) -> str:
    """The fitting that became the entry of that number, in words."""
    index = int(number) - 1
    return KINDS[kinds[index]].lower() if 0 <= index < len(kinds) else f"fitting {number}"
