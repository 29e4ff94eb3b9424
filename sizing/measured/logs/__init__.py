"""sizing.measured.logs."""

from sizing.measured.logs.columns import blanks
from sizing.measured.logs.instruments import Instruments
from sizing.measured.logs.logs import read_panel, read_sheet, read_turns
from sizing.measured.logs.rows import LARGEST

__all__ = ["LARGEST", "Instruments", "blanks", "read_panel", "read_sheet", "read_turns"]
