"""sizing.uncertainty."""

from sizing.uncertainty.uncertainty import band, shares
from sizing.uncertainty.uncertainty_budget import remedy_of
from sizing.uncertainty.uncertainty_source import Cause

__all__ = ["Cause", "band", "remedy_of", "shares"]
