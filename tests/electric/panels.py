"""Invented panels with something wrong, judged by a circuit of parts that is solved on a fine grid, and meters that are off."""

import numpy as np

from sizing.electric.panel import fit_label
from sizing.electric.single_diode import at_conditions
from sizing.measured.logs.instruments import USUAL, Instruments
from sizing.measured.panel_check.points import Readings, readings_of
from sizing.measured.panel_check.shapes import BYPASS_DROP, Labelled

DIODE = fit_label(17.6, 0.86, 21.7, 0.92, 0.0005, -0.0033)
LABEL = Labelled(DIODE, 1, 1, 36, 21.7, 0.92, -0.0033)
LOADS = (0.01, 5.0, 12.0, 18.0, 21.0, 25.0, 40.0, 80.0, np.inf)
"""[ohm] Joined leads, six loads, nothing connected."""
SUN, CELLS, RISE = 850.0, 45.0, 25.0


def circuit(parts=1, light=1.0, bypass=True, resistance=0.0, sun=SUN, cells=CELLS):
    """Volts and amperes of a string of equal parts in series, one of them with less light: the parts' volts added up.

    Without a bypass the shaded part blocks all that is more than its own light (its own leak left out).
    """
    here = at_conditions(DIODE, sun, cells)
    junction = np.linspace(-0.2 * 24.0, 26.0, 20001)
    grown = here.saturation_current * np.expm1(junction / here.thermal_voltage)
    lit = here.light_current - grown - here.shunt_conductance * junction
    shaded = light * here.light_current - grown - light * here.shunt_conductance * junction * (junction > 0)
    current = np.linspace(0.0, float(here.light_current), 4001)
    volts = np.interp(-current, -lit, junction) / parts
    blocked = np.where(current >= light * here.light_current, -1e3, np.interp(-current, -shaded, junction) / parts)
    inside = current * here.series_resistance / parts
    dark = np.maximum(blocked - inside, -BYPASS_DROP) if bypass else blocked - inside
    return (parts - 1) * (volts - inside) + dark - current * resistance, current


def read(volts, amperes, seed=None, loads=LOADS, own: Instruments = USUAL) -> Readings:
    """What meters show at the loads; exact without a seed. A share is drawn once, the last digit for each reading."""
    draw = np.random.default_rng(seed)
    size = 0.0 if seed is None else 1.0
    order = np.argsort(amperes - volts / np.max(volts))
    shown = []
    for load in loads:
        crossing = (amperes * load - volts if np.isfinite(load) else amperes)[order]
        shown.append((np.interp(0.0, crossing, volts[order]), np.interp(0.0, crossing, amperes[order])))
    voltage, current = (np.array(each) for each in zip(*shown, strict=True))
    count = len(voltage)
    voltage = voltage * (1 + size * own.voltage_share * draw.standard_normal()) + size * own.voltage_digit * draw.standard_normal(
        count
    )
    current = current * (1 + size * own.current_share * draw.standard_normal()) + size * own.current_digit * draw.standard_normal(
        count
    )
    everywhere = [np.full(count, each) for each in (SUN, CELLS, RISE)]
    return readings_of(np.maximum(voltage, 0.0), np.maximum(current, 0.0), *everywhere, own).by_chance(own, 1)


def printed(seed: int) -> Labelled:
    """The panel's label as it might have been printed: its best volts and amperes are a little off."""
    draw = np.random.default_rng(1000 + seed)
    vmp, imp = 17.6 * (1 + 0.005 * draw.standard_normal()), 0.86 * (1 + 0.01 * draw.standard_normal())
    return Labelled(fit_label(vmp, imp, 21.7, 0.92, 0.0005, -0.0033), 1, 1, 36, 21.7, 0.92, -0.0033)
