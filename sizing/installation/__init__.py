"""sizing.installation."""

from sizing.installation.building import Building, building_of
from sizing.installation.safety import SafetyNote
from sizing.installation.wires import CableRow, Wires

__all__ = ["Building", "CableRow", "SafetyNote", "Wires", "building_of"]
