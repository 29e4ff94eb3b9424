"""The smallest panel with which a pump meets the goal."""

from dataclasses import dataclass

from sizing.pairs import ConnectionKind


@dataclass(frozen=True)
class SmallestPanel:
    """For one pump (id) the least watts at standard test conditions, whole, with the volts of a panel of the design
    (``like``, its id, with as many in series) and its current scaled; ``None`` where none up to 1000 W does. The
    sentence says which, or why none can."""

    pump: str
    watts: int | None
    like: str | None
    connection: ConnectionKind | None
    sentence: str
