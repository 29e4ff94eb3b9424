"""The one basin and the jets of one design, each said once with its name."""

from typing import Self

from sizing.answers.kit import Exact, amount, meaning
from sizing.fountain.basin_under import BasinUnder


class BasinSizeAnswer(Exact):
    """The one basin that picture, splash, water, parts and safety use."""

    given: bool = meaning("Whether the design names it; false for one that is proposed")
    length_m: float = amount("Longer side of the water; diameter where it is round", "m")
    width_m: float = amount("Shorter side of the water; diameter where it is round", "m")
    depth_m: float = amount("Depth of the water", "m")
    highest_water_m: float | None = amount("Highest water of the year above the basin's; null where no jet rises", "m")
    falls_inside: bool | None = meaning("Whether the water falls back inside on a calm day; null without play")

    @classmethod
    def of(cls, basin: BasinUnder) -> Self:
        return cls(
            given=basin.given,
            length_m=basin.long,
            width_m=basin.short,
            depth_m=basin.depth,
            highest_water_m=basin.top or None,
            falls_inside=basin.falls_inside,
        )
