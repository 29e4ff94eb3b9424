"""A bench test as plain text for a terminal, at most 80 columns wide."""

from collections.abc import Mapping
from typing import Any

from api.command.printed import Sentence, Table, notes
from api.command.printed_class import problem_block, text_of
from sizing.answers import RowProblemAnswer
from sizing.foundation import column, figures

MOST_SETTINGS = 40


def bench_text(found: Mapping[str, Any], encoding: str = "utf-8") -> str:
    """The pump that follows from a bench test."""
    first, *others = found["notes"]
    curve, settings = found["curve"]["rows"], found["settings"][:MOST_SETTINGS]
    more = len(found["settings"]) - len(settings)
    label = [] if found["label"] is None else [Sentence(told, "- ") for told in found["label"]["sentences"]]
    return text_of(
        [
            [Sentence(first["detail"])],
            [Sentence(f"The pump at {figures(found['rated_voltage_v'])} V, with likely ranges"), curve_table(curve)],
            [Sentence("Flow of each setting, as measured"), setting_table(settings)],
            [Sentence(f"{more} more settings stand in the JSON.")] if more > 0 else [],
            [Sentence("Beside its label"), *label] if label else [],
            notes("To know", others),
            [Sentence("What would help most"), *(Sentence(one["sentence"], "- ") for one in found["advice"])]
            if found["advice"]
            else [],
            problem_block([RowProblemAnswer(**each) for each in found["problems"]]),
        ],
        encoding,
    )


def curve_table(rows: list[Mapping[str, float]]) -> Table:
    """The pump's curve at rated voltage."""
    heads = (("flow", "L/min"), ("head", "m"), ("from", "m"), ("to", "m"), ("current", "A"), ("efficiency", "%"))
    names = ("flow_l_per_min", "head_m", "head_low_m", "head_high_m", "current_a", "efficiency_pct")
    return Table(heads, tuple(zip(*(column([row[name] for row in rows]) for name in names), strict=True)))


def setting_table(rows: list[Mapping[str, Any]]) -> Table:
    """The settings of a bench test."""
    heads = (("volts", "V"), ("height", "m"), ("amperes", "A"), ("readings", "no."), ("flow", "L/min"), ("give or take", "L/min"))
    names = ("voltage_v", "height_m", "current_a", "repeats", "flow_l_per_min", "uncertainty_l_per_min")
    columns = ([str(row[name]) for row in rows] if name == "repeats" else column([row[name] for row in rows]) for name in names)
    return Table(heads, tuple(zip(*columns, strict=True)))
