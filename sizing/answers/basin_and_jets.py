"""The one basin and the jets of one design, each said once with its name."""

from typing import Self

from sizing.answers.kit import Exact, amount, meaning
from sizing.fountain.basin_under import BasinUnder
from sizing.operation.jet_heights import JetHeights


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


class JetsAnswer(Exact):
    """Heights of the jet above its outlet, each with its own name."""

    month: int = meaning("The month with most water", ge=1, le=12)
    hour: int = meaning("Best hour of its usual day [h]", ge=0, le=23)
    usual_m: float = amount("At that hour of a usual day of that month", "m")
    clear_m: float = amount("At that hour of a clear day of that month", "m")
    highest_m: float = amount("The highest of the year", "m")
    sentence: str = meaning("The same in words")

    @classmethod
    def of(cls, jets: JetHeights, sentence: str) -> Self:
        return cls(
            month=jets.month,
            hour=jets.hour,
            usual_m=jets.usual,
            clear_m=jets.clear,
            highest_m=jets.highest,
            sentence=sentence,
        )
