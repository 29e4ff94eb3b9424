"""A panel or pump of several in one line: its name and the numbers that tell it from the others."""

from collections.abc import Iterable, Mapping

from sizing.foundation import SPACE, figures
from web.forms.panel_and_pump import PANELS
from web.forms.reading import Reading


def key_numbers(texts: Mapping[str, str], base: str) -> str:
    """The numbers of a panel or pump by which people know it; what is not filled in or no number is left out.

    Examples
    --------
    >>> key_numbers({"panels.1.vmp_v": "17,6", "panels.1.imp_a": "1.14 A"}, "panels.1").replace("\N{NO-BREAK SPACE}", " ")
    '20.1 W, 17.6 V'
    """
    reading = Reading(texts)
    said = of_panel(reading, base) if base.startswith(PANELS.key) else of_pump(reading, base)
    amount, currency = value(reading, f"{base}.price.amount"), reading.value(f"{base}.price.currency")
    if amount is not None and currency:
        said.append(f"{amount:.2f}{SPACE}{currency}")
    return ", ".join(said)


def of_panel(reading: Reading, base: str) -> list[str]:
    """Watts and volts of one panel at its maximum power, and how many there are."""
    volts, amperes = value(reading, f"{base}.vmp_v"), value(reading, f"{base}.imp_a")
    found = []
    if volts is not None and amperes is not None:
        found.append(f"{figures(volts * amperes, 3)}{SPACE}W")
    if volts is not None:
        found.append(f"{figures(volts, 3)}{SPACE}V")
    for key, words in (("in_series", "in series"), ("in_parallel", "side by side")):
        number = value(reading, f"{base}.{key}")
        if number is not None and number > 1:
            found.append(f"{number:g} {words}")
    return found


def of_pump(reading: Reading, base: str) -> list[str]:
    """Volts, greatest head and largest flow of a pump."""
    known = reading.texts.get(f"{base}.known")
    if known == "box":
        head, flow = value(reading, f"{base}.max_head_m"), value(reading, f"{base}.max_flow_l_per_min")
    else:
        table = f"{base}.power_points" if known == "power" else f"{base}.points"
        head, flow = largest(reading, table, "head_m"), largest(reading, table, "flow_l_per_min")
    shown = ((value(reading, f"{base}.rated_voltage_v"), "", "V"), (head, "up to ", "m"), (flow, "up to ", "L/min"))
    return [f"{before}{figures(number, 3)}{SPACE}{unit}" for number, before, unit in shown if number is not None]


def largest(reading: Reading, base: str, key: str) -> float | None:
    """Largest number of a column of a table."""
    names = [name for name in reading.texts if name.startswith(f"{base}.") and name.endswith(f".{key}")]
    numbers: Iterable[float | None] = (value(reading, name) for name in names)
    return max((number for number in numbers if number is not None), default=None)


def value(reading: Reading, name: str) -> float | None:
    """What a box says, where that is a number that can be."""
    found = reading.value(name)
    return float(found) if isinstance(found, int | float) and 0 <= found < 1e6 else None
