"""sizing.foundation.sources."""

from sizing.foundation.sources.all_sources import SOURCES

__all__ = ["SOURCES"]
