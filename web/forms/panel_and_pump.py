"""The questions on one panel and on one pump; a design may have several of each to choose from."""

from dataclasses import replace

from pydantic import BaseModel

from sizing.design import OF_BOX, PanelInput, PumpInput, extra, item_field, models_in, walk
from web.forms.fields import Choice, Field, Group, Series, Way, ask, every_item
from web.forms.grids import points_of, power_points_of
from web.forms.several import MOST

OWN_WAY = {"id", "points", "power_points", "measured"}
"""Fields that are asked by a table, or carried along without a question."""
BOX_HINTS = {
    "max_head_m": "The height at which no water comes any more",
    "max_flow_l_per_min": "Litres an hour over 60",
    "rated_current_a": "Watts over volts",
}


DRIVES = (
    Way("", "Not known: ask the maker"),
    Way("dc_motor", "A DC motor: more voltage turns it faster"),
    Way("holds_speed", "Electronics that hold one speed"),
    Way("tracks_power", "Electronics that track the panel's maximum power"),
)
"""What may turn a pump, in words."""
MOTORS = (
    Way("", "Not said: both kinds are counted"),
    Way("brushed", "With brushes"),
    Way("brushless", "Without brushes"),
    Way("not_known", "Not sure"),
)
"""Kinds of motor, in words."""


def completed(group: Group, model: type[BaseModel]) -> Group:
    """The group with a question for each field of its model that it does not ask for yet.

    A new field of the model is asked with the label, unit, limits and advice that stand there: what must be given and
    what is one of a few words behind the other questions, the rest among those that most people can skip.
    """
    asked = {item.name.removeprefix(f"{group.key}.").split(".")[0] for item in every_item((*group.fields, *group.more))}
    first: list[Field | Choice] = []
    later: list[Field] = []
    for name, field in model.model_fields.items():
        if name in asked or name in OWN_WAY:
            continue
        found = question(group.key, name, model)
        if isinstance(found, Choice) or field.is_required():
            first.append(found)
        else:
            later.append(found)
    return replace(group, fields=(*group.fields, *first), more=(*group.more, *later))


def question(base: str, name: str, model: type[BaseModel]) -> Field | Choice:
    """The question that a field of a model makes by itself: a box, or a list of its words."""
    field = model.model_fields[name]
    if models_in(field.annotation) or item_field(field) is not None or extra(field, "row"):
        raise TypeError(f"{base}.{name} holds more than one value; give it questions of its own")
    label, advice = (text[:1].upper() + text[1:] for text in (extra(field, "label"), extra(field, "advice")))
    if words := [word for word in walk(field.annotation) if isinstance(word, str)]:
        ways = (
            Way("", "Choose one" if field.is_required() else "Not said"),
            *(Way(word, word.replace("_", " ")) for word in words),
        )
        return Choice(f"{base}.{name}", label, ways, listed=True)
    key, index = base.split(".")
    return ask(key, int(index), name, hint=advice)


def panel(index: int) -> Group:
    """What is asked of a panel, counted from 0."""
    asked = Group(
        f"panels.{index}",
        "Panel",
        "",
        (
            ask("panels", index, "name", long=True),
            ask("panels", index, "vmp_v", hint="Vmp or Umpp on the label"),
            ask("panels", index, "imp_a", hint="Imp or Impp on the label"),
            ask("panels", index, "voc_v", hint="Voc or Uoc on the label"),
            ask("panels", index, "isc_a", hint="Isc on the label"),
            ask("panels", index, "in_series", hint="Joined plus to minus: the volts add up"),
            ask("panels", index, "in_parallel", hint="Joined plus to plus: the amperes add up"),
        ),
        (
            ask("panels", index, "isc_temperature_coefficient_pct_per_c", hint="About 0.05 for silicon"),
            ask("panels", index, "voc_temperature_coefficient_pct_per_c", hint="About -0.33 for silicon"),
            *price_of("panels", index),
        ),
    )
    return completed(asked, PanelInput)


def pump(index: int) -> Group:
    """What is asked of a pump, counted from 0."""
    asked = Group(
        f"pumps.{index}",
        "Pump",
        "",
        (
            ask("pumps", index, "name", long=True),
            ask("pumps", index, "rated_voltage_v", hint="The volts at which the points or the box values hold"),
            ask("pumps", index, "lowest_voltage_v", hint="Below it the pump's electronics switch off; 0 if it has none"),
            ask("pumps", index, "highest_voltage_v", hint="Leave it empty if the label does not say"),
            Choice(
                f"pumps.{index}.position",
                "Where the pump stands",
                (Way("submersible", "In the water"), Way("surface", "Beside the water")),
            ),
            Choice(f"pumps.{index}.motor_kind", "Kind of motor", MOTORS, listed=True),
            Choice(f"pumps.{index}.known", "What you know of the pump", (by_points(index), by_power(index), by_its_box(index))),
            Choice(f"pumps.{index}.drive", "What drives it", DRIVES, listed=True),
        ),
        (
            ask("pumps", index, "winding_resistance_ohm", hint="Leave it empty if not measured"),
            ask("pumps", index, "no_load_current_a", hint="Leave it empty if not measured"),
            ask("pumps", index, "starting_current_a", hint="Leave it empty if not measured"),
            *price_of("pumps", index),
        ),
    )
    return completed(asked, PumpInput)


def by_points(index: int) -> Way:
    """A pump known by points of its curve."""
    return Way("points", "Points of its curve", table=points_of(index))


def by_power(index: int) -> Way:
    """A pump known by its flow against power."""
    return Way("power", "Flow against power at fixed heads (solar pump sheets)", table=power_points_of(index))


def by_its_box(index: int) -> Way:
    """A pump known by three numbers."""
    return Way("box", "Only what its box says", tuple(ask("pumps", index, name, hint=BOX_HINTS[name]) for name in OF_BOX))


def price_of(*path: str | int, whose: str = "") -> tuple[Field, ...]:
    """What is asked of a price; ``whose`` tells it from others where it is not plain."""
    of = f" of {whose}" if whose else ""
    return (
        ask(*path, "price", "amount", label=f"price{of}", hint="Of one, the number alone"),
        ask(*path, "price", "currency", label=f"currency of the price{of}", hint="Three letters, such as EUR"),
        ask(*path, "price", "date", label=f"day of the price{of}", hint="Like 2026-05-31"),
        ask(*path, "price", "source", label=f"where the price{of} was seen", hint="Shop, page, offer", long=True),
    )


PANELS = Series(
    "panels",
    "panel",
    "Panel",
    "Five numbers from the label on its back.",
    tuple(panel(index) for index in range(MOST["panels"])),
)
PUMPS = Series(
    "pumps",
    "pump",
    "Pump",
    "Points of its curve (maker's sheet or your own bucket and stopwatch), flow against power from a solar pump's sheet, or what "
    "the box says.",
    tuple(pump(index) for index in range(MOST["pumps"])),
)
SERIES = (PANELS, PUMPS)
