"""What is answered on cable, fuse and voltages, on safety, and on care through the year."""

from typing import Literal, Self

from sizing.answers.kit import Exact, amount, meaning
from sizing.foundation.units import LITRE, SQUARE_MILLIMETRE
from sizing.installation.care import Care, Look
from sizing.installation.electric_limits import ColdVoltage, FuseRule, VoltageLimit
from sizing.installation.safety import SafetyNote
from sizing.installation.wires import CableRow, Wires


class CableSizeAnswer(Exact):
    size: str = meaning("Name of the size")
    family: str = meaning("iec for square millimetres, awg for wire gauge")
    area_mm2: float = amount("Area of one conductor", "mm2")
    resistance_ohm: float = amount("Resistance there and back", "Ohm")
    drop_share: float = amount("Largest share of the voltage that it keeps at the operating points that count", "1")
    drop_v: float = amount("Volts that it keeps there", "V")
    water_l: float = amount("Water of the year with it", "L")
    water_lost_l: float = amount("How much less that is than with the design's own cable", "L")

    @classmethod
    def of(cls, row: CableRow) -> Self:
        return cls(
            size=row.size.name,
            family=row.size.family,
            area_mm2=row.size.area / SQUARE_MILLIMETRE,
            resistance_ohm=row.resistance,
            drop_share=row.drop_share,
            drop_v=row.drop_volts,
            water_l=row.water / LITRE,
            water_lost_l=row.water_lost / LITRE,
        )


class FuseAnswer(Exact):
    needed: bool = meaning("Whether each string needs a fuse of its own")
    rating_a: float | None = amount("Rating that rules would take; null where none is needed", "A")
    sentence: str = meaning("Why")
    source: str = meaning("Source key")

    @classmethod
    def of(cls, fuse: FuseRule) -> Self:
        return cls(needed=fuse.needed, rating_a=fuse.rating, sentence=fuse.sentence, source=fuse.source)


class ColdDawnAnswer(Exact):
    air_temperature_c: float = amount("Air of the coldest dawn that is reckoned with", "Cel")
    usual_air_temperature_c: float = amount("Air of the coldest night of ten years, as estimated or typed", "Cel")
    basis: Literal["typed", "file", "months"] = meaning(
        "Whether it was typed, or estimated from the coldest hour of a weather file or the mean of the coldest month"
    )
    voltage_v: float = amount("Open-circuit voltage of the whole array then", "V")

    @classmethod
    def of(cls, cold: ColdVoltage) -> Self:
        return cls(
            air_temperature_c=cold.air_temperature,
            usual_air_temperature_c=cold.air.usual,
            basis=cold.air.basis,
            voltage_v=cold.voltage,
        )


class VoltageLimitAnswer(Exact):
    family: str = meaning("Which rules name it, and where it holds")
    limit_v: float = amount("Limit of direct current", "V")
    exceeded: bool = meaning("Whether the cold voltage lies above it")
    too_near: bool = meaning("Whether it lies too near to say that it stays below")
    sentence: str = meaning("The same in words")
    source: str = meaning("Source key")

    @classmethod
    def of(cls, limit: VoltageLimit) -> Self:
        return cls(
            family=limit.family,
            limit_v=limit.limit,
            exceeded=limit.exceeded,
            too_near=limit.too_near,
            sentence=limit.sentence,
            source=limit.source,
        )


class WiresAnswer(Exact):
    length_m: float = amount("Length of the cable one way", "m")
    conductor_temperature_c: float = amount("Temperature of the copper", "Cel")
    drop_limit: float = amount("Share of the voltage that good practice lets a cable keep", "1")
    own: CableSizeAnswer = meaning("The design's own cable")
    sizes: list[CableSizeAnswer] = meaning("Sizes around what is needed, thinnest first, square millimetres before wire gauge")
    smallest: str | None = meaning("Thinnest size in square millimetres under the limit; null where none is")
    next_size: str | None = meaning("The next thicker size; null where there is none")
    smallest_gauge: str | None = meaning("Thinnest wire gauge under the limit; null where none is")
    water_without_loss_l: float = amount("Water of the year with a cable without resistance", "L")
    sentence: str = meaning("What the cable costs and which size would do")
    short_circuit_current_a: float = amount("Short-circuit current of the whole array", "A")
    design_current_a: float = amount("Current that cable and switch must bear", "A")
    fuse: FuseAnswer = meaning("Whether strings need fuses of their own")
    cold_dawn: ColdDawnAnswer = meaning("The highest voltage that anybody can meet")
    voltage_limits: list[VoltageLimitAnswer] = meaning("Limits that two families of rules name; check current local code")
    licensed: list[str] = meaning("Why a licensed person must look; empty does not mean that none need look")

    @classmethod
    def of(cls, wires: Wires) -> Self:
        return cls(
            length_m=wires.length,
            conductor_temperature_c=wires.temperature,
            drop_limit=wires.limit,
            own=CableSizeAnswer.of(wires.own),
            sizes=[CableSizeAnswer.of(row) for row in wires.rows],
            smallest=named(wires.smallest),
            next_size=named(wires.next_size),
            smallest_gauge=named(wires.smallest_gauge),
            water_without_loss_l=wires.water_without_loss / LITRE,
            sentence=wires.sentence,
            short_circuit_current_a=wires.short_circuit,
            design_current_a=wires.design_current,
            fuse=FuseAnswer.of(wires.fuse),
            cold_dawn=ColdDawnAnswer.of(wires.cold),
            voltage_limits=[VoltageLimitAnswer.of(limit) for limit in wires.limits],
            licensed=list(wires.licensed),
        )


def named(row: CableRow | None) -> str | None:
    """Name of a size, ``None`` where there is none."""
    return None if row is None else row.size.name


class SafetyNoteAnswer(Exact):
    note: str = meaning("Short name of the note in SAFETY.md")
    title: str = meaning("Its first sentence")
    reason: str = meaning("Why it applies to this design, with its number")
    licensed: bool = meaning("Whether a licensed person must look because of it; false does not mean that none need look")

    @classmethod
    def of(cls, note: SafetyNote) -> Self:
        return cls(note=note.anchor, title=note.title, reason=note.reason, licensed=note.licensed)


class LookAnswer(Exact):
    when: str = meaning("When it is looked at")
    sentence: str = meaning("What is looked at, with its number")

    @classmethod
    def of(cls, look: Look) -> Self:
        return cls(when=look.when, sentence=look.sentence)


class CareAnswer(Exact):
    looks: list[LookAnswer] = meaning("What is looked at, in the order of the year")
    club: list[str] = meaning("Work that a club can prepare where local rules let it")
    licensed: list[str] = meaning("Work and judgement for a licensed person, each with its reason")

    @classmethod
    def of(cls, care: Care) -> Self:
        return cls(looks=[LookAnswer.of(look) for look in care.looks], club=list(care.club), licensed=list(care.licensed))
