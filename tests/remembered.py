"""Imported before any test: what many tests ask of the same designs is computed once in a process."""

import inspect
from collections import OrderedDict
from functools import lru_cache, wraps
from types import ModuleType
from typing import Any

import sizing.comparison.comparison
import sizing.installation.building
import sizing.installation.wires
import sizing.money.pair_costs
import sizing.orientation.orientation
import sizing.report.report
import sizing.sky.weather
from sizing.sky.weather import Sky


def once(module: ModuleType, name: str, most: int, room: ModuleType) -> None:
    """Let a function of a design be computed once for each design, folder and question in this process.

    The same designs are sized, compared and turned round by many tests: computing each once takes a fifth off all of them.
    Whoever is given a year of sky is never remembered, and a folder counts only where a weather file is looked for in it;
    ``size.__wrapped__`` is the function itself.
    """
    function = getattr(module, name)
    arguments = inspect.signature(function)
    kept: OrderedDict[tuple[object, ...], object] = OrderedDict()

    @wraps(function)
    def remembered(design: Any, *given: Any, **named: Any) -> Any:
        if any(isinstance(each, Sky) for each in (*given, *named.values())):
            return function(design, *given, **named)
        asked = arguments.bind(design, *given, **named)
        asked.apply_defaults()
        if design.sky is None or design.sky.kind != "weather_file":
            asked.arguments["folder"] = None
        key = (design.model_dump_json(exclude_unset=True), *list(asked.arguments.values())[1:])
        if key not in kept:
            kept[key] = function(design, *given, **named)
            if len(kept) > most:
                kept.popitem(last=False)
        kept.move_to_end(key)
        return kept[key]

    setattr(module, name, remembered)
    setattr(room, name, remembered)


def once_for_a_report(name: str, home: ModuleType, *others: ModuleType) -> None:
    """Let a function of a report alone be computed once for each report, wherever it is called."""
    remembered = lru_cache(maxsize=48)(getattr(home, name))
    for module in (home, *others):
        setattr(module, name, remembered)


sizing.sky.weather.sky_of_bytes = lru_cache(maxsize=8)(sizing.sky.weather.sky_of_bytes)
once(sizing.report.report, "size", 48, sizing.report)
once(sizing.comparison.comparison, "compare", 16, sizing.comparison)
once(sizing.orientation.orientation, "orient", 24, sizing.orientation)
once_for_a_report("wires_of", sizing.installation.wires, sizing.installation.building)
once_for_a_report("building_of", sizing.installation.building, sizing.installation, sizing.money.pair_costs)
