"""A design with the pump that a bench test found in place of its chosen one."""

from collections.abc import Mapping
from typing import Any

from sizing.assembly import index_of
from sizing.design import Design
from sizing.reading import read_design

KEPT = ("id", "position", "price")
"""What a bench cannot tell and the design knows."""
MARK = ", measured"
LONGEST_NAME = 80


def design_with_pump(design: Design, pump: Mapping[str, Any]) -> Design:
    """Put a measured pump in place of the chosen one; its id, price and position stay, its name says that it was measured.

    Parameters
    ----------
    pump : as ``sizing.bench_answer.bench_answer`` has it

    Raises
    ------
    InputError
        if the design could not hold it.
    """
    data = design.model_dump(mode="json", exclude_unset=True)
    index = index_of("pump", [each.id for each in design.pumps], design.chosen.pump if design.chosen else None)
    old = data["pumps"][index]
    name = str(old["name"]).removesuffix(MARK)[: LONGEST_NAME - len(MARK)] + MARK
    data["pumps"][index] = {**pump, **{key: old[key] for key in KEPT if key in old}, "name": name}
    return read_design(data)
