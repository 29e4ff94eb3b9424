"""sizing.fountain."""

from sizing.fountain.components import outlet_of, pipe_of
from sizing.fountain.site_setup import place_of

__all__ = ["outlet_of", "pipe_of", "place_of"]
