"""What a search over all directions answers, its numbers in full, each field with its meaning and its unit."""

from typing import Annotated, Literal, Self

import numpy as np
from numpy.typing import NDArray
from pydantic import Field

from sizing.answers.kit import Exact, GivenDesign, Partial, amount, meaning
from sizing.answers.shared import (
    MonthNumber,
    Months,
    MountingAnswer,
    PlaceAnswer,
    WindowAnswer,
    YearOfSunAnswer,
    windows_of,
)
from sizing.foundation.units import LITRE
from sizing.foundation.version import MODEL_VERSION
from sizing.orientation.directions import AZIMUTHS, TILTS, Season, TiltsFound, TwoTilts, as_table
from sizing.orientation.orientation import Aim, AimKey, Choice, Orientation, Origin, Side, SideName
from sizing.orientation.sentences import (
    chance_sentence,
    choice_sentence,
    compass_sentence,
    flatness_sentence,
    tilts_sentence,
    two_tilts_sentence,
    verdict,
)
from sizing.uncertainty.chance import Outlook

Row = Annotated[list[float], Field(min_length=len(AZIMUTHS), max_length=len(AZIMUTHS))]
Rows = Annotated[list[Row], Field(min_length=len(TILTS), max_length=len(TILTS))]


def scale(aim: Aim) -> float:
    """What one unit of the answer is in the unit of the aim."""
    return LITRE if aim.unit == "m3" else 1.0


def rows(values: NDArray[np.float64]) -> list[list[float]]:
    """Values of the grid as lists, one for each tilt."""
    found: list[list[float]] = as_table(values).tolist()
    return found


class ChoiceAnswer(Exact):
    months: Months = meaning("Months that count where months are chosen, 1 to 12")
    from_hour: float = amount("Hour of the day from which it counts where hours are chosen", "h")
    to_hour: float = amount("Hour of the day until which it counts", "h")
    windows: list[WindowAnswer] = meaning("The windows of the day that count, in its order", min_length=1, max_length=4)
    months_from: Origin = meaning("Whether the months were asked for, are those of the goal, or were assumed")
    hours_from: Origin = meaning("The same of the hours")
    sentence: str = meaning("The same in words")

    @classmethod
    def of(cls, choice: Choice, hour_basis: str) -> Self:
        return cls(
            months=list(choice.months),
            from_hour=choice.hours[0],
            to_hour=choice.hours[1],
            windows=windows_of(choice.windows),
            months_from=choice.months_from,
            hours_from=choice.hours_from,
            sentence=choice_sentence(choice, hour_basis),
        )


class BestPlaneAnswer(Exact):
    tilt_deg: float = amount("Tilt", "deg")
    azimuth_deg: float = amount("Direction it faces, clockwise from true north", "deg")
    value: float = meaning("What it brings, in the unit of the aim")


class AimAnswer(Exact):
    key: AimKey = meaning("Stable name of what is wanted")
    name: str = meaning("The same in words")
    unit: Literal["L", "h"] = meaning("Unit of today and of the best value, as UCUM code")
    outcome: Literal["never", "alike", "found"] = meaning(
        "never: no direction brings any; alike: all directions bring the same within 0.1 %; found: there is a best one"
    )
    today: float = meaning("What the direction of the design brings, in the unit of the aim")
    best: BestPlaneAnswer = meaning("The best plane of the grid; of several within 0.1 % the one in their middle")
    given_up: float = amount("Share of the best value that the direction of the design lacks; may be below 0", "1")
    within_deg: float = amount("Largest angle from the best plane within which no plane of the grid loses more than 5 %", "deg")
    sentence: str = meaning("What the direction of the design gives up, in words")
    within_sentence: str = meaning("How exactly the best must be kept, in words; empty where there is none")

    @classmethod
    def of(cls, found: Orientation, aim: Aim) -> Self:
        return cls(
            key=aim.key,
            name=aim.words,
            unit="L" if aim.unit == "m3" else "h",
            outcome=aim.outcome,
            today=aim.today / scale(aim),
            best=BestPlaneAnswer(
                tilt_deg=float(found.planes.tilt[aim.best]),
                azimuth_deg=float(found.planes.azimuth[aim.best]),
                value=float(aim.values[aim.best]) / scale(aim),
            ),
            given_up=aim.given_up,
            within_deg=aim.flatness.angle,
            sentence=verdict(found, aim),
            within_sentence=flatness_sentence(aim),
        )


class SideValuesAnswer(Partial):
    year_water: float = amount("Water in the year", "L")
    months_water: float | None = meaning("Water in the chosen months, where not all are chosen [L]", default=None)
    hours_water: float | None = meaning("Water in the chosen hours of the chosen months [L]", default=None)
    year_play: float = amount("Hours of play in the year", "h")
    hours_play: float | None = meaning("Hours of play in the chosen hours of the chosen months [h]", default=None)
    goal_hours: float | None = meaning("Hours that meet the goal, where there is one [h]", default=None)

    @classmethod
    def of(cls, aims: tuple[Aim, ...], side: Side) -> Self:
        """What is not wanted is left out: each aim has the name of its field."""
        return cls.model_validate({aim.key: value / scale(aim) for aim, value in zip(aims, side.values, strict=True)})


class SideAnswer(Exact):
    name: SideName = meaning("Which direction it is")
    tilt_deg: float = amount("Tilt", "deg")
    azimuth_deg: float = amount("Direction it faces, clockwise from true north", "deg")
    sun_kwh_per_m2: float = amount("Sun on the plane in the year, before reflection and dirt", "kW.h/m2")
    values: SideValuesAnswer = meaning("What it brings")

    @classmethod
    def of(cls, aims: tuple[Aim, ...], side: Side) -> Self:
        return cls(
            name=side.name,
            tilt_deg=side.tilt,
            azimuth_deg=side.azimuth,
            sun_kwh_per_m2=side.sun,
            values=SideValuesAnswer.of(aims, side),
        )


class TiltMonthAnswer(Exact):
    month: MonthNumber = meaning("Month, 1 to 12")
    best_tilt_deg: float | None = amount("Tilt with most water; null in a month that stays dry at every tilt", "deg")
    best_water_l: float = amount("Water of the month at it", "L")
    fixed_water_l: float = amount("Water of the month at the best tilt of the year", "L")


class SeasonAnswer(Exact):
    tilt_deg: float = amount("Tilt", "deg")
    months: Months = meaning("Months in which the panel stands so, from the first to the last")

    @classmethod
    def of(cls, season: Season) -> Self:
        return cls(tilt_deg=season.tilt, months=list(season.months))


class TwoTiltsAnswer(Exact):
    seasons: list[SeasonAnswer] = meaning("The two tilts and their months", min_length=2, max_length=2)
    water_l: float = amount("Water in the year", "L")
    gain: float = amount("What it is more than at the best tilt that stays, as a share", "1")

    @classmethod
    def of(cls, two: TwoTilts) -> Self:
        return cls(seasons=[SeasonAnswer.of(season) for season in two.seasons], water_l=two.water / LITRE, gain=two.gain)


class TiltsAnswer(Exact):
    azimuth_deg: float = amount("Direction that the panel faces at all these tilts", "deg")
    fixed_tilt_deg: float = amount("The one tilt with most water in the year", "deg")
    fixed_water_l: float = amount("Water in the year at it", "L")
    months: list[TiltMonthAnswer] = meaning("The twelve months, January first", min_length=12, max_length=12)
    monthly_gain: float = amount("What a new tilt each month would bring more, as a share", "1")
    two_tilts: TwoTiltsAnswer | None = meaning("The best two tilts a year; null where they gain nothing")
    sentence: str = meaning("The same in words")
    two_tilts_sentence: str = meaning("What two tilts a year bring, in words")

    @classmethod
    def of(cls, found: TiltsFound) -> Self:
        return cls(
            azimuth_deg=found.azimuth,
            fixed_tilt_deg=found.fixed,
            fixed_water_l=float(found.fixed_water.sum()) / LITRE,
            months=[
                TiltMonthAnswer(
                    month=month + 1,
                    best_tilt_deg=tilt,
                    best_water_l=float(found.monthly_water[month]) / LITRE,
                    fixed_water_l=float(found.fixed_water[month]) / LITRE,
                )
                for month, tilt in enumerate(found.monthly)
            ],
            monthly_gain=found.gain,
            two_tilts=None if found.two is None else TwoTiltsAnswer.of(found.two),
            sentence=tilts_sentence(found),
            two_tilts_sentence=two_tilts_sentence(found),
        )


class GridAnswer(Partial):
    """One row for each tilt, in it one value for each azimuth; the level plane stands at every azimuth, north at both ends."""

    tilt_deg: list[float] = amount("Tilts of the rows", "deg")
    azimuth_deg: list[float] = amount("Azimuths of the columns, clockwise from true north", "deg")
    sun_kwh_per_m2: Rows = amount("Sun on the plane in the year, before reflection and dirt", "kW.h/m2")
    year_water_l: Rows = amount("Water in the year", "L")
    months_water_l: Rows | None = meaning("Water in the chosen months, where not all are chosen [L]", default=None)
    hours_water_l: Rows | None = meaning("Water in the chosen hours of the chosen months [L]", default=None)
    year_play_h: Rows = amount("Hours of play in the year", "h")
    hours_play_h: Rows | None = meaning("Hours of play in the chosen hours of the chosen months [h]", default=None)
    goal_hours_h: Rows | None = meaning("Hours that meet the goal, where there is one [h]", default=None)

    @classmethod
    def of(cls, found: Orientation) -> Self:
        """What is not wanted is left out: each aim with its unit has the name of its field."""
        units = {"m3": "l", "h": "h"}
        wanted = {f"{aim.key}_{units[aim.unit]}": rows(aim.values / scale(aim)) for aim in found.aims}
        axes = {"tilt_deg": TILTS.tolist(), "azimuth_deg": AZIMUTHS.tolist()}
        return cls.model_validate(axes | {"sun_kwh_per_m2": rows(found.sun)} | wanted)


class GoalChancesAnswer(Exact):
    chance: float = meaning("Chance that the goal is met as the panel faces today [1]", ge=0, le=1)
    outlook: Outlook = meaning("likely: a chance of five in six and more; unlikely: less than one in three; even: in between")
    best_tilt_deg: float = amount("Tilt of the direction with most hours of the goal", "deg")
    best_azimuth_deg: float = amount("Its azimuth, from true north", "deg")
    best_chance: float = meaning("Chance that the goal is met there [1]", ge=0, le=1)
    best_outlook: Outlook = meaning("The same in one word")
    sentence: str = meaning("The same in words")

    @classmethod
    def of(cls, found: Orientation) -> "GoalChancesAnswer | None":
        chances = found.chances
        if chances is None:
            return None
        return cls(
            chance=chances.today.chance,
            outlook=chances.today.outlook,
            best_tilt_deg=chances.tilt,
            best_azimuth_deg=chances.azimuth,
            best_chance=chances.best.chance,
            best_outlook=chances.best.outlook,
            sentence=chance_sentence(found),
        )


class OrientationAnswer(Exact):
    """The fountain's year in every direction, and the direction of the design beside the best."""

    model_version: str = meaning("Version of the model; it changes when a number changes")
    title: str = meaning("Title of the design")
    design: GivenDesign = meaning("The design as it was understood")
    place: PlaceAnswer = meaning("The place")
    mounting: MountingAnswer = meaning("How the panel stands today, from true north")
    sky: YearOfSunAnswer = meaning("The year of sun")
    verdict: str = meaning("What today's direction gives up for what counts first")
    compass: str = meaning("What to know of compass needles")
    choice: ChoiceAnswer = meaning("Months and hours that count where they are chosen")
    main_aim: AimKey = meaning("What counts first: the goal where any direction meets it, else the water of the year")
    goal_chances: GoalChancesAnswer | None = meaning("How surely the goal is met, today and at its best; null without a goal")
    aims: list[AimAnswer] = meaning("Everything one may want of a direction", min_length=2, max_length=6)
    side_by_side: list[SideAnswer] = meaning("Six directions to compare", min_length=6, max_length=6)
    tilts: TiltsAnswer = meaning("Tilting with the seasons at today's azimuth")
    equator_tilts: TiltsAnswer = meaning("The same facing the equator")
    grid: GridAnswer = meaning("Every direction that was tried")


def orientation_answer(found: Orientation) -> OrientationAnswer:
    """Everything a search holds that can be written down."""
    return OrientationAnswer(
        model_version=MODEL_VERSION,
        title=found.design.title,
        design=found.design,
        place=PlaceAnswer.of(found.place),
        mounting=MountingAnswer.of(found.mounting),
        sky=YearOfSunAnswer.of(found.sky),
        verdict=verdict(found, found.main),
        compass=compass_sentence(found),
        choice=ChoiceAnswer.of(found.choice, found.sky.hour_basis),
        main_aim=found.main.key,
        goal_chances=GoalChancesAnswer.of(found),
        aims=[AimAnswer.of(found, aim) for aim in found.aims],
        side_by_side=[SideAnswer.of(found.aims, side) for side in found.sides],
        tilts=TiltsAnswer.of(found.tilts),
        equator_tilts=TiltsAnswer.of(found.equator_tilts),
        grid=GridAnswer.of(found),
    )
