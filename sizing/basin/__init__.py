"""sizing.basin."""

from sizing.basin.answer import water_answer
from sizing.basin.water_balance import WaterBalance

__all__ = ["WaterBalance", "water_answer"]
