"""sizing.operation."""

from sizing.operation.goal import GoalFound, needed_flow
from sizing.operation.load_line import LoadLine, Waterway, system_head
from sizing.operation.operating_point import REASONS, Match, State, operate
from sizing.operation.year import Month

__all__ = ["REASONS", "GoalFound", "LoadLine", "Match", "Month", "State", "Waterway", "needed_flow", "operate", "system_head"]
