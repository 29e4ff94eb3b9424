"""Between the texts of a form and a design: both ways, with every text kept as it was typed.

The texts go into a design file as they are understood; the design model judges them, and its sentences
come back to the fields they point at. Nothing is judged twice.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sizing.design import Design, FittingInput, Site, read_design, read_site
from sizing.foundation import InputError, Problem
from sizing.hydraulic import fitting_k
from web.forms.grids import CELLS, FITTINGS
from web.forms.panel_and_pump import SERIES
from web.forms.part_prices import ADDED_PRICES, BUDGET, SHARED, by_part, shared
from web.forms.questions import BOXES, CHECKS, CHOICES, FIELDS
from web.forms.reading import ASIDE, CARRIED, read_texts
from web.forms.sentences import beside_fields
from web.forms.several import without_gaps
from web.forms.typed_sky import OF_DESIGN, UNIT

Texts = dict[str, str]

LONGEST_TEXT = 600


@dataclass(frozen=True)
class Answer:
    """What became of a form: the texts as typed, the design or ``None``, and a sentence for each wrong field."""

    texts: Texts
    design: Design | None
    errors: dict[str, str]


def tidy(texts: Mapping[str, str]) -> Texts:
    """The texts that belong to the form, without overlong ones' tails and without gaps between panels or pumps."""
    return without_gaps({name: text[:LONGEST_TEXT] for name, text in texts.items() if known(name)})


def known(name: str) -> bool:
    """Whether a name is one of the form's."""
    return any(name in names for names in (FIELDS, CHOICES, BOXES, CARRIED, CELLS, ASIDE, SHARED.values()))


def understand(texts: Mapping[str, str]) -> Answer:
    """Turn the texts of a form into a design, or into sentences beside their fields."""
    kept = tidy(texts)
    reading = read_texts(kept)
    try:
        design = read_design(reading.data)
    except InputError as error:
        return Answer(kept, None, beside_fields(error.problems, reading))
    if reading.unclear:
        return Answer(kept, None, beside_fields((), reading))
    return Answer(kept, design, {})


SITE = ("place", "sky", "mounting")
"""The parts of a design that the sky over a garden is asked for with."""


def understand_site(texts: Mapping[str, str]) -> tuple[Site | None, dict[str, str]]:
    """The first part of a design alone, or sentences beside its fields; what is wrong further on does not matter."""
    reading = read_texts(tidy(texts))
    reading.unclear = {name: said for name, said in reading.unclear.items() if name.startswith(SITE)}
    try:
        site = read_site({part: reading.data[part] for part in SITE})
    except InputError as error:
        return None, beside_fields(error.problems, reading)
    return (None, beside_fields((), reading)) if reading.unclear else (site, {})


def sentences_of(texts: Texts, problems: tuple[Problem, ...]) -> dict[str, str]:
    """Problems that show only in the sizing, beside the fields they point at."""
    return beside_fields(problems, read_texts(texts))


def texts_of(design: Design) -> Texts:
    """The texts that a design puts into the form, numbers in full; what it leaves open stays empty."""
    data = design.model_dump(mode="json", exclude_unset=True, exclude_none=True) | {FITTINGS: gathered(design.pipe.fittings)}
    own = {UNIT: OF_DESIGN}
    if design.budget is not None:
        money = data[BUDGET]
        own |= shared([*money.get("parts", ()), *(money[name] for name in ADDED_PRICES if name in money)])
        if "parts" in money:
            money["parts"] = by_part(design.budget.parts, money["parts"])
    for series in SERIES:
        if "chosen" in data:
            own[series.chosen] = str([each["id"] for each in data[series.key]].index(data["chosen"][series.word]))
    own |= {f"pumps.{at}.known": known_by(pump) for at, pump in enumerate(data["pumps"])}
    if "goal" in data:
        own |= {CHECKS["goal.months"].boxes[month - 1][0]: "yes" for month in data["goal"].pop("months")}
    return {name: text for name, text in ({**flat(data), **own}).items() if known(name)}


def known_by(pump: Mapping[str, Any]) -> str:
    """What is known of a pump, as the form asks for it.

    Examples
    --------
    >>> known_by({"name": "small", "max_head_m": 2.1})
    'box'
    """
    return "points" if "points" in pump else "power" if "power_points" in pump else "box"


def flat(value: Any, name: str = "") -> Texts:
    """All values below a name as texts, each named as a pointer would, with dots."""
    if isinstance(value, dict | list):
        below = value.items() if isinstance(value, dict) else enumerate(value)
        return {key: text for part, each in below for key, text in flat(each, f"{name}.{part}" if name else str(part)).items()}
    return {name: f"{value:.12g}" if isinstance(value, float) else str(value)}


def gathered(fittings: tuple[FittingInput, ...]) -> dict[str, dict[str, Any]]:
    """Fittings by their kind, as the form asks for them; together they lose what they lost one by one."""
    found: dict[str, dict[str, Any]] = {}
    for kind in dict.fromkeys(fitting.kind for fitting in fittings):
        alike = [fitting for fitting in fittings if fitting.kind == kind]
        count = sum(fitting.count for fitting in alike)
        loss = sum(fitting.count * (fitting_k(kind).typical if fitting.k is None else fitting.k) for fitting in alike)
        found[kind] = {"count": count} | ({} if all(fitting.k is None for fitting in alike) else {"k": loss / count})
    return found
