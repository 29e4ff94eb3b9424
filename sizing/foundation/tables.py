"""Published tables; each stands here once, with unit and source key."""

from typing import NamedTuple

from sizing.foundation.working import Constant


class NozzleKind(NamedTuple):
    """Discharge and velocity coefficient [1] of a kind of opening, at one end of their spread, typical and at the other end,
    and the bores [m] that it is made in."""

    words: str
    one_end: tuple[float, float]
    typical: tuple[float, float]
    other_end: tuple[float, float]
    narrowest: float
    widest: float
    source: str


class PipeKind(NamedTuple):
    """Roughness [m] of a kind of pipe, and its friction over that of a smooth one [1]: low, typical, high."""

    words: str
    roughness: float
    low: float
    typical: float
    high: float
    source: str


class FittingLoss(NamedTuple):
    """Loss of one fitting in velocity heads of the pipe: typical value and the spread between handbooks."""

    low: float
    typical: float
    high: float
    source: str
    spread_source: str


FITTING_LOSS: dict[str, FittingLoss] = {
    # Bell-mouth 0.08, square edge 0.5; a hose end hanging free contracts to one half, (1/0.5 - 1)² = 1.
    "entrance": FittingLoss(0.08, 0.5, 1.0, "epanet_fittings", "unwin_1911"),
    # Long-radius flanged to regular threaded: small brass elbows are the worst.
    "elbow_90": FittingLoss(0.2, 0.9, 1.5, "epanet_fittings", "munson_fittings"),
    "elbow_45": FittingLoss(0.2, 0.4, 0.4, "epanet_fittings", "munson_fittings"),
    "tee_run": FittingLoss(0.2, 0.6, 0.9, "epanet_fittings", "munson_fittings"),
    "tee_branch": FittingLoss(1.0, 1.8, 2.0, "epanet_fittings", "munson_fittings"),
    # Swing check; the foot valve is the high end. A ball check may reach 70: enter its maker's k.
    "check_valve": FittingLoss(2.0, 2.5, 15.0, "epanet_fittings", "perry_fittings"),
    # Full bore, open. High: a bore of 0.8 of the pipe, ((1/0.64 - 1)² + (1 - 0.64)²) / 0.64² = 1.09.
    "ball_valve": FittingLoss(0.05, 0.05, 1.09, "munson_fittings", "unwin_1911"),
    "gate_valve": FittingLoss(0.15, 0.2, 0.2, "epanet_fittings", "munson_fittings"),
    # No published value found: contraction and enlargement at a barb whose bore is 0.75 of the hose
    # (low 0.85, high 0.65), ((1/0.64 - 1)² + (1 - a)²) / a² with the area ratio a = 0.75² = 0.5625.
    "hose_barb": FittingLoss(0.75, 1.60, 3.64, "common_practice", "unwin_1911"),
}
"""[1] Fittings that a design may name, open and fully turbulent: multiples of the velocity head in the pipe."""

EXIT_LOSS = Constant(1.0, "exit_loss", "1", "epanet_fittings")
"""For a pipe that ends under still water, such as the box behind a spillway; nozzle and open pipe count their own."""

NOZZLE_DISCHARGE_COEFFICIENT = Constant(0.946, "nozzle_discharge_coefficient", "1", "unwin_1911")
"""Castel's convergent nozzle of 13° 24', exit 15.5 mm, section 50; where the kind of nozzle is not known."""
NOZZLE_VELOCITY_COEFFICIENT = Constant(0.962, "nozzle_velocity_coefficient", "1", "unwin_1911")
"""The same nozzle: speed of the jet over the speed without loss."""
NOZZLE_KINDS: dict[str, NozzleKind] = {
    # Castel's nozzle of 13° 24'; one end: his of 5° 26'; the other: Freeman's fire nozzle of 3/4 inch (section 27).
    "smooth_cone": NozzleKind(
        "Smooth cone, narrowing down to the opening", (0.920, 0.920), (0.946, 0.962), (0.983, 0.983), 1e-3, 60e-3, "unwin_1911"
    ),
    # A shop's jet is tapered a little: Castel's nozzles from 0° over 5° 26' (0.924/0.920) to 13° 24' (section 50).
    "brass_jet": NozzleKind(
        "Jet from a shop, of brass or plastic, hardly narrowing",
        (0.829, 0.830),
        (0.920, 0.920),
        (0.946, 0.962),
        1e-3,
        25e-3,
        "unwin_1911",
    ),
    # Sharp orifice, sections 17 and 19: 0.60 under high heads; the other end: an edge that is not sharp (common practice).
    "drilled_cap": NozzleKind(
        "Hole drilled in a cap or a thin plate", (0.600, 0.950), (0.620, 0.970), (0.700, 0.970), 2e-3, 30e-3, "unwin_1911"
    ),
    # Cylindrical, 2 to 3 bores long (section 49); one end: 12 bores long (molesworth); the other: Castel's of 0°.
    "short_tube": NozzleKind(
        "Straight tube, two or three times as long as wide",
        (0.770, 0.770),
        (0.820, 0.820),
        (0.830, 0.830),
        1e-3,
        60e-3,
        "unwin_1911",
    ),
    # Taken as a smooth cone; its ends are the kinds that throw lowest and highest with the same pump.
    "not_known": NozzleKind("Not sure", (0.820, 0.820), (0.946, 0.962), (0.620, 0.970), 0.5e-3, 60e-3, "unwin_1911"),
}
"""Kinds of opening; the bores are those that are made (common practice, no source)."""

USUAL_BORES = (2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0)
"""[mm] Bores of nozzles and drilled holes that are easy to get: the rounded preferred numbers R''10 (ISO 497, from memory)."""

PIPE_KINDS: dict[str, PipeKind] = {
    "smooth": PipeKind("Smooth inside: plastic pipe or garden hose", 1.5e-6, 1.0, 1.0, 1.0, "epanet_roughness"),
    "galvanised_steel": PipeKind("Galvanised steel pipe", 0.15e-3, 1.0, 1.0, 1.0, "epanet_roughness"),
    # Low: a maker's chart, twice a smooth pipe. Typical and high: Hawthorne's rings 3 and 5 mm apart in a bore of 25 mm.
    "ribbed_hose": PipeKind("Ribbed pond hose, with rings inside too", 1.5e-6, 2.0, 3.0, 4.5, "hawthorne_1963"),
    # Taken as smooth; it may be ribbed.
    "not_known": PipeKind("Not sure", 1.5e-6, 1.0, 1.0, 3.0, "hawthorne_1963"),
}
"""Kinds of pipe; a roughness that is typed counts before that of the kind."""
FRANCIS_COEFFICIENT = Constant(1.838, "francis_coefficient", "m1/2/s", "francis_weir")
"""3.33 in feet and seconds, times 0.3048**0.5; that is 2/3 x 0.622 x sqrt(2 g), a sharp edge."""
BRINK_RATIO = Constant(0.715, "brink_ratio", "1", "rouse_1936")
"""Depth on the edge of a free fall over the critical depth."""

CONDUCTOR_RESISTANCE: tuple[tuple[float, Constant], ...] = (
    # Class 5, flexible, plain copper; tinned strands, usual in solar cable, may have 2 to 3 % more.
    (0.5e-6, Constant(39.0e-3, "resistance_0_5_mm2", "ohm/m", "iec_60228")),
    (0.75e-6, Constant(26.0e-3, "resistance_0_75_mm2", "ohm/m", "iec_60228")),
    (1.0e-6, Constant(19.5e-3, "resistance_1_mm2", "ohm/m", "iec_60228")),
    (1.5e-6, Constant(13.3e-3, "resistance_1_5_mm2", "ohm/m", "iec_60228")),
    (2.5e-6, Constant(7.98e-3, "resistance_2_5_mm2", "ohm/m", "iec_60228")),
    (4.0e-6, Constant(4.95e-3, "resistance_4_mm2", "ohm/m", "iec_60228")),
    (6.0e-6, Constant(3.30e-3, "resistance_6_mm2", "ohm/m", "iec_60228")),
    (10.0e-6, Constant(1.91e-3, "resistance_10_mm2", "ohm/m", "iec_60228")),
    # The three largest are written from memory; resistance times area agrees with the rest within 2 %.
    (16.0e-6, Constant(1.21e-3, "resistance_16_mm2", "ohm/m", "iec_60228")),
    (25.0e-6, Constant(0.780e-3, "resistance_25_mm2", "ohm/m", "iec_60228")),
    (35.0e-6, Constant(0.554e-3, "resistance_35_mm2", "ohm/m", "iec_60228")),
)
"""Conductor area [m2] and the largest resistance [ohm/m] that the standard allows at 20 Cel, one conductor."""

GAUGE_RESISTANCE: dict[int, Constant] = {
    # Stranded (seven strands), uncoated copper, printed in ohm for 1000 feet: 7.95, 4.99, 3.14, 1.98, 1.24, 0.778.
    18: Constant(7.95 / 304.8, "resistance_awg_18", "ohm/m", "nec_table_8"),
    16: Constant(4.99 / 304.8, "resistance_awg_16", "ohm/m", "nec_table_8"),
    14: Constant(3.14 / 304.8, "resistance_awg_14", "ohm/m", "nec_table_8"),
    12: Constant(1.98 / 304.8, "resistance_awg_12", "ohm/m", "nec_table_8"),
    10: Constant(1.24 / 304.8, "resistance_awg_10", "ohm/m", "nec_table_8"),
    8: Constant(0.778 / 304.8, "resistance_awg_8", "ohm/m", "nec_table_8"),
    # The three thickest are written from memory; resistance times area agrees with the rest within 1 %.
    6: Constant(0.491 / 304.8, "resistance_awg_6", "ohm/m", "nec_table_8"),
    4: Constant(0.308 / 304.8, "resistance_awg_4", "ohm/m", "nec_table_8"),
    2: Constant(0.194 / 304.8, "resistance_awg_2", "ohm/m", "nec_table_8"),
}
"""American wire gauge, thinnest first, and the resistance [ohm/m] of one conductor at the table's temperature."""
GAUGE_TABLE_TEMPERATURE = Constant(75.0, "gauge_table_temperature", "Cel", "nec_table_8")
"""At which ``GAUGE_RESISTANCE`` holds."""

FUSE_RATINGS = (1.0, 3.0, 6.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0)
"""[A] Standard ratings of fuses (nec_240_6); 35 and 40 from memory."""
