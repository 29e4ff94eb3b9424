"""sizing.hydraulic."""

from sizing.hydraulic.outlet import Nozzle, OpenPipe, Outlet, Spillway, largest_flow
from sizing.hydraulic.pipes import FITTING_NAMES, fitting_k
from sizing.hydraulic.pump import Pump, pump_head

__all__ = ["FITTING_NAMES", "Nozzle", "OpenPipe", "Outlet", "Pump", "Spillway", "fitting_k", "largest_flow", "pump_head"]
