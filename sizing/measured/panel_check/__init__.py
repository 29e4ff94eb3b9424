"""sizing.measured.panel_check."""

from sizing.measured.panel_check.answer import panel_check_answer
from sizing.measured.panel_check.panel_check import PanelCheck, panel_check_of
from sizing.measured.panel_check.working import reading_roots, sitting_roots

__all__ = ["PanelCheck", "panel_check_answer", "panel_check_of", "reading_roots", "sitting_roots"]
