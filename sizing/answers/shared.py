"""Parts that several answers have in common: place, mounting, sky, notes, working and its sources."""

from collections.abc import Iterable, Sequence
from typing import Annotated, Literal, Self, cast

from pydantic import Field

from sizing.answers.kit import Exact, amount, meaning
from sizing.foundation.csv_file import RowProblem
from sizing.foundation.errors import Note
from sizing.foundation.sources import SOURCES
from sizing.foundation.units import LITRE
from sizing.foundation.working import Numbered, Worked, numbered
from sizing.fountain.sentences import question
from sizing.fountain.site_setup import Mounting
from sizing.fountain.unknowns import CAUSES, Unknown, UnknownCode
from sizing.operation.operating_point import State
from sizing.operation.strain import Strain
from sizing.place.place import Place
from sizing.sky.weather import Sky

StateName = Literal["night", "too_little_sun", "below_lowest_voltage", "cannot_lift", "plays", "over_voltage"]
SkyKind = Literal["built_in", "monthly", "weather_file"]
MonthNumber = Annotated[int, Field(ge=1, le=12)]
Months = Annotated[list[MonthNumber], Field(min_length=1, max_length=12)]
"""Some of the months of a year."""


class WindowAnswer(Exact):
    from_hour: float = amount("Hour of the day from which it counts", "h")
    to_hour: float = amount("Hour of the day until which it counts", "h")


def windows_of(windows: tuple[tuple[float, float], ...]) -> list[WindowAnswer]:
    """Windows of a day, as they are written."""
    return [WindowAnswer(from_hour=first, to_hour=last) for first, last in windows]


def state_name(state: State) -> StateName:
    """A state as it is written.

    Examples
    --------
    >>> state_name(State.TOO_LITTLE_SUN)
    'too_little_sun'
    """
    return cast(StateName, state.name.lower())


class PlaceAnswer(Exact):
    name: str = meaning("Name of the place")
    latitude_deg: float = amount("Latitude, north positive", "deg")
    longitude_deg: float = amount("Longitude, east positive", "deg")
    elevation_m: float = amount("Elevation above the sea, given or looked up", "m")

    @classmethod
    def of(cls, place: Place) -> Self:
        return cls(name=place.name, latitude_deg=place.latitude, longitude_deg=place.longitude, elevation_m=place.elevation)


class MountingAnswer(Exact):
    tilt_deg: float = amount("Tilt of the panel", "deg")
    azimuth_deg: float = amount("Direction the panel faces, clockwise from true north", "deg")
    compass_deg: float | None = amount("The compass reading it was turned from; null where true north was given", "deg")
    declination_deg: float | None = amount("Magnetic declination, east positive; null without a compass reading", "deg")

    @classmethod
    def of(cls, mounting: Mounting) -> Self:
        return cls(
            tilt_deg=mounting.tilt,
            azimuth_deg=mounting.azimuth,
            compass_deg=mounting.compass_reading,
            declination_deg=mounting.declination,
        )


class YearOfSunAnswer(Exact):
    kind: SkyKind = meaning("Where the year of sun comes from")
    title: str = meaning("The same for people")
    hour_basis: str = meaning("The clock that all hours of this answer follow")

    @classmethod
    def of(cls, sky: Sky) -> Self:
        assert sky.kind != "clear_day", "a clear day is not a year"
        return cls(kind=sky.kind, title=sky.title, hour_basis=sky.hour_basis)


class TellAnswer(Exact):
    code: str = meaning("Stable code")
    severity: Literal["info", "warning"] = meaning("How much it matters")
    detail: str = meaning("One whole sentence")

    @classmethod
    def of(cls, note: Note) -> Self:
        return cls(code=note.code, severity=note.severity, detail=note.detail)


class NoteAnswer(Exact):
    code: str = meaning("Stable name of the note")
    severity: Literal["info", "warning"] = meaning("How serious")
    detail: str = meaning("One whole sentence")
    pointer: str = meaning("JSON Pointer to the place in the design that it concerns; may be empty")

    @classmethod
    def of(cls, note: Note) -> Self:
        return cls(code=note.code, severity=note.severity, detail=note.detail, pointer=note.pointer)


class QuestionAnswer(Exact):
    code: UnknownCode = meaning("What nobody said")
    pointer: str = meaning("JSON Pointer to its place in the design")
    taken: float | None = meaning("The number that stands in for it, in the unit of its field; null where a word does")
    asked_v: float | None = amount("Of an unknown highest voltage: the most that the pump would get; else null", "V")
    hours: float | None = amount("Of an unknown highest voltage: hours of a year above the rated one; else null", "h")
    cause: str | None = meaning("Key of the cause of doubt that it makes in how_sure; null where it makes none")
    sentence: str = meaning("The question in words, with what we assumed")

    @classmethod
    def of(cls, unknown: Unknown) -> Self:
        of_volts = unknown.code == "highest_voltage"
        return cls(
            code=unknown.code,
            pointer=unknown.pointer,
            taken=unknown.taken,
            asked_v=unknown.asked if of_volts else None,
            hours=unknown.hours if of_volts else None,
            cause=CAUSES.get(unknown.code),
            sentence=question(unknown),
        )


class StrainAnswer(Exact):
    """What a year asks of the pump while it turns. An unknown highest voltage counts as the rated one, never as a yes."""

    highest_voltage_known: bool = meaning("Whether the highest voltage is known")
    allowed_v: float = amount("Highest voltage known for the pump: its highest, or its rated one", "V")
    rated_v: float = amount("Rated voltage", "V")
    rated_w: float = amount("Most power at rated voltage, by the pump's points or its box", "W")
    most_v: float = amount("Highest voltage of the year", "V")
    most_w: float = amount("Largest power of the year", "W")
    above_rated_voltage_h: float = amount("Hours of the year above the rated voltage", "h")
    above_rated_power_h: float = amount("Hours of the year above the rated power", "h")
    above_allowed_h: float = amount("Hours of the year above the highest voltage known for it", "h")
    play_above_allowed_h: float = amount("Hours of play among them", "h")
    water_above_allowed_l: float = amount("Water lifted in them", "L")

    @classmethod
    def of(cls, strain: Strain) -> Self:
        return cls(
            highest_voltage_known=strain.known,
            allowed_v=strain.allowed,
            rated_v=strain.rated_voltage,
            rated_w=strain.rated_power,
            most_v=strain.most_voltage,
            most_w=strain.most_power,
            above_rated_voltage_h=strain.above_rated_voltage,
            above_rated_power_h=strain.above_rated_power,
            above_allowed_h=strain.above_allowed,
            play_above_allowed_h=strain.play_above,
            water_above_allowed_l=strain.water_above / LITRE,
        )


class RowProblemAnswer(Exact):
    row: int = Field(ge=0, description="Row as a spreadsheet counts it; 0 means the whole log.")
    column: str = meaning("Column; empty where the whole row is meant")
    sentence: str = meaning("What could not be read, and what became of it")

    @classmethod
    def of(cls, problem: RowProblem) -> Self:
        return cls(row=problem.row, column=problem.column, sentence=problem.sentence)


class InputAnswer(Exact):
    name: str = meaning("Name of the number in the formula")
    id: str = meaning("Its own entry in working")


class StepAnswer(Exact):
    id: str = meaning("Name of this number within the answer")
    name: str = meaning("Quantity")
    value: float = meaning("The number in full")
    unit: str = meaning("Unit, as UCUM code; 1 for a ratio")
    basis: Literal["given", "assumed", "published", "measured", "computed"] = meaning("Where the number comes from")
    source: str = meaning("Key in sources; empty for what the design gave")
    formula: str = meaning("The sum in words; empty where there is none")
    substituted: str = meaning("The sum with its numbers put in")
    method: str = meaning("In one sentence, where a library or a solver did the sum")
    inputs: list[InputAnswer] = meaning("The numbers that went in")

    @classmethod
    def of(cls, found: Numbered) -> Self:
        part = found.worked
        return cls(
            id=found.id,
            name=part.name,
            value=part.value,
            unit=part.unit,
            basis=part.basis,
            source=part.source,
            formula=part.formula,
            substituted=part.substituted,
            method=part.method,
            inputs=[InputAnswer(name=name, id=link) for (name, _), link in zip(part.inputs, found.links, strict=True)],
        )


class SourceAnswer(Exact):
    title: str = meaning("Title of the publication")
    publisher: str = meaning("Publisher")
    year: int = meaning("Year of the edition")
    where: str = meaning("Chapter, table or page")
    read: str = meaning("Whether the publication itself was read, or a text that quotes it")


def working_of(roots: Iterable[Worked]) -> list[StepAnswer]:
    """Every number below ``roots``, each once, inputs before results (``sizing.foundation.working.numbered``)."""
    return [StepAnswer.of(found) for found in numbered([roots])[0]]


def sources_of(working: Sequence[StepAnswer], others: Iterable[str] = ()) -> dict[str, SourceAnswer]:
    """The publications that the working names, and others, by their keys."""
    keys = sorted({step.source for step in working if step.source} | set(others))
    return {
        key: SourceAnswer(
            title=SOURCES[key].title,
            publisher=SOURCES[key].publisher,
            year=SOURCES[key].year,
            where=SOURCES[key].where,
            read=SOURCES[key].read,
        )
        for key in keys
    }
