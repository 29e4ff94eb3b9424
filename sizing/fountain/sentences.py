"""What to ask, in whole sentences: one for each thing that nobody said, with what we assumed in its place."""

from sizing.foundation.formats import quantity
from sizing.fountain.unknowns import Unknown
from sizing.operation.strain import Strain

FIXED = {
    "controller_kind": (
        "Ask the maker of the controller: does it only lower the voltage, or raise it too? We assumed that it only lowers it."
    ),
    "nozzle_kind": (
        "Ask the maker of the nozzle, or look: is the opening a smooth cone, a jet from a shop, a hole drilled in a cap, or a "
        "straight tube? We assumed a smooth cone."
    ),
    "nozzle_coefficients": (
        "Ask the maker of the nozzle: how much water does it pass, and how high is its jet? We took what its kind usually does."
    ),
    "pipe_kind": "Look into the pipe: is it smooth inside, or does it have rings? We assumed that it is smooth.",
}


def question(unknown: Unknown) -> str:
    """What to ask, and what we assumed."""
    if unknown.code == "highest_voltage":
        return highest_voltage(unknown)
    if unknown.code == "lowest_voltage":
        return (
            f"Ask the maker of “{unknown.part}”: below how many volts does the pump stop? We assumed that it has no such limit."
        )
    if unknown.code == "starting_current":
        return (
            f"Ask the maker of “{unknown.part}”, or watch a meter at sunrise: how many amperes start the pump? We assumed "
            f"{quantity(unknown.taken or 0.0, 'A')}."
        )
    if unknown.code == "motor_kind":
        return (
            f"Ask the maker of “{unknown.part}”: does its motor have brushes? We counted both in the cost of ten years: brushes "
            "wear out after a few thousand hours."
        )
    if unknown.code == "drive":
        taken = "its electronics track the panel's maximum power" if unknown.taken else "more voltage turns it faster"
        return (
            f"Ask the maker of “{unknown.part}”: does more voltage turn it faster, or do its electronics hold one speed or track "
            f"the panel's maximum power? We assumed that {taken}."
        )
    return FIXED[unknown.code]


def strain_told(strain: Strain) -> str:
    """Hours above rated volts and rated watts, and the most of both."""
    volts, watts = quantity(strain.rated_voltage, "V"), quantity(strain.rated_power, "W", 2)
    if strain.above_rated_voltage == strain.above_rated_power == 0:
        return f"The pump never runs above its rated {volts} or its rated {watts}."
    hours, loaded = (quantity(value, "h") for value in (strain.above_rated_voltage, strain.above_rated_power))
    most, hardest = quantity(strain.most_voltage, "V"), quantity(strain.most_power, "W", 2)
    return (
        f"The pump runs above its rated {volts} for {hours} a year, at up to {most}, and above its rated {watts} for {loaded}, "
        f"at up to {hardest}."
    )


def highest_voltage(unknown: Unknown) -> str:
    """Whether the pump may have the volts that it would get."""
    asked, rated = quantity(unknown.asked, "V"), quantity(unknown.taken or 0.0, "V")
    ask = f"Ask the maker: is {asked} allowed?"
    if unknown.hours > 0:
        return (
            f"{ask} The label of “{unknown.part}” names no highest voltage, and the pump would run above its rated {rated} for "
            f"about {quantity(round(unknown.hours), 'h')} a year, at up to {asked}."
        )
    return (
        f"{ask} The label of “{unknown.part}” names no highest voltage; while the pump does not run, the panel can put up to "
        f"{asked} on it on a cold clear morning."
    )
