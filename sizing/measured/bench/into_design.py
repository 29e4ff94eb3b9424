"""A design with the pump that a bench test found in place of its chosen one."""

from collections.abc import Mapping
from typing import Any

from sizing.design.design import Design
from sizing.design.reading import read_design
from sizing.fountain.components import index_of
from sizing.measured.bench.measured_pump import MEASURED

MARK = ", measured"
LONGEST_NAME = 80


def design_with_pump(design: Design, pump: Mapping[str, Any]) -> Design:
    """Put a measured pump in place of the chosen one; what a bench cannot tell stays, its name says that it was measured.

    Parameters
    ----------
    pump : as ``sizing.measured.bench.answer.bench_answer`` has it

    Raises
    ------
    InputError
        if the design could not hold it.
    """
    data = design.model_dump(mode="json", exclude_unset=True)
    index = index_of("pump", [each.id for each in design.pumps], design.chosen.pump if design.chosen else None)
    old = data["pumps"][index]
    name = str(old["name"]).removesuffix(MARK)[: LONGEST_NAME - len(MARK)] + MARK
    kept = {field: value for field, value in old.items() if field not in MEASURED and value is not None}
    data["pumps"][index] = {**pump, **kept, "name": name}
    return read_design(data)
