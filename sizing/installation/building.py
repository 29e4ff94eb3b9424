"""Everything that building and keeping a sized fountain asks for, in one place: wires, notes, basin, water, frost, care."""

from dataclasses import dataclass

from sizing.basin.basin import Basin, basin_of
from sizing.basin.frost import Frost, frost_of
from sizing.basin.water_balance import WaterBalance, water_balance_of
from sizing.installation.care import Care, care_of
from sizing.installation.safety import SafetyNote, safety_of
from sizing.installation.wires import Wires, wires_of
from sizing.report.report import Report


@dataclass(frozen=True, eq=False)
class Building:
    """What follows from one finished sizing, each part of the same report."""

    report: Report
    wires: Wires
    notes: tuple[SafetyNote, ...]
    basin: Basin
    balance: WaterBalance
    frost: Frost
    care: Care


def building_of(report: Report) -> Building:
    """All of it; costs about 25 ms.

    Parameters
    ----------
    report : of ``size``; its fountain need not play
    """
    wires, basin, frost = wires_of(report), basin_of(report), frost_of(report)
    notes, balance = safety_of(report, wires), water_balance_of(report, basin)
    care = care_of(report, wires, basin, balance, frost, notes)
    return Building(report, wires, notes, basin, balance, frost, care)
