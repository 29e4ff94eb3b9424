"""The search over all directions as plain text for a terminal, at most 80 columns wide."""

from collections.abc import Mapping
from typing import Any

from api.command.printed import CAUTION, Block, Sentence, Table, heading, laid_out
from sizing.answers import PlaceAnswer
from sizing.foundation import SHORT_MONTHS, column, figures
from sizing.orientation import ALIKE, degrees, turned

HEADS = {
    "year_water": "year",
    "months_water": "months",
    "hours_water": "hours",
    "year_play": "play",
    "hours_play": "hours",
    "goal_hours": "goal",
}
"""Head of the column of each aim, over its unit."""
TILT_STEP, TURN_STEP = 2, 3
"""Every second tilt and every third azimuth of the grid fit a terminal."""


def orientation_text(found: Mapping[str, Any], encoding: str = "utf-8") -> str:
    """The whole answer for people.

    Parameters
    ----------
    found : the answer of a search
    encoding : of the terminal
    """
    paragraphs: list[Block] = [
        heading(found["title"], PlaceAnswer.model_validate(found["place"]), found["sky"]["title"]),
        [Sentence(found["verdict"]), Sentence(found["compass"])],
        [
            Sentence("What each aim gives up"),
            *(Sentence(f"{aim['sentence']} {aim['within_sentence']}".strip(), "- ") for aim in found["aims"]),
            Sentence(found["choice"]["sentence"]),
        ],
        *side_blocks(found),
        *grid_blocks(found),
        *tilt_blocks(found),
        [Sentence(CAUTION)],
    ]
    texts = ("\n".join(laid_out(paragraph, encoding)) for paragraph in paragraphs if paragraph)
    return "\n\n".join(texts) + "\n"


def side_blocks(found: Mapping[str, Any]) -> list[Block]:
    """Six directions side by side."""
    sides, aims = found["side_by_side"], found["aims"]
    heads = [("", ""), ("tilt", "°"), ("facing", "°"), ("sun", "kWh/m²")]
    texts = [[degrees(side[name]) for side in sides] for name in ("tilt_deg", "azimuth_deg")]
    texts.append([*column([side["sun_kwh_per_m2"] for side in sides])])
    for aim in aims:
        water = aim["unit"] == "L"
        heads.append((HEADS[aim["key"]], "m³" if water else "h"))
        texts.append([*column([side["values"][aim["key"]] / (1000 if water else 1) for side in sides])])
    rows = [(side["name"], *numbers) for side, numbers in zip(sides, zip(*texts, strict=True), strict=True)]
    about = (
        "Side by side: sun on the panel in the year, then "
        + ", ".join(f"{aim['name']} ({'m³' if aim['unit'] == 'L' else 'h'})" for aim in aims)
        + "."
    )
    return [[Sentence(about)], [Table(tuple(heads), tuple(rows))]]


def grid_blocks(found: Mapping[str, Any]) -> list[Block]:
    """What counts first in every second tilt and every third azimuth, in percent of the best."""
    main = next(aim for aim in found["aims"] if aim["key"] == found["main_aim"])
    most, grid = main["best"]["value"], found["grid"]
    if most <= 0:
        return []
    values = grid[f"{main['key']}_{main['unit'].lower()}"]
    heads = (("tilt", "°"), *((figures(turn), "%") for turn in grid["azimuth_deg"][::TURN_STEP]))
    rows = tuple(
        (figures(tilt), *(f"{100 * value / most:.0f}" for value in row[::TURN_STEP]))
        for tilt, row in [*zip(grid["tilt_deg"], values, strict=True)][::TILT_STEP]
    )
    about = (
        f"Percent of the best for {main['name']}, by tilt and by the direction it faces (0 and 360 north, 90 east, 180 south)."
    )
    return [[Sentence(about)], [Table(heads, rows)]]


def tilt_blocks(found: Mapping[str, Any]) -> list[Block]:
    """The best tilt of each month, at today's direction and facing the equator."""
    blocks: list[Block] = []
    both = [found["tilts"], found["equator_tilts"]]
    if turned(both[0]["azimuth_deg"], both[1]["azimuth_deg"]) <= ALIKE:
        both = both[:1]
    for tilts in both:
        blocks.append([Sentence(f"{tilts['sentence']} {tilts['two_tilts_sentence']}".strip())])
        if tilts["fixed_water_l"] > 0:
            months = tilts["months"]
            water = column([month[name] / 1000 for name in ("best_water_l", "fixed_water_l") for month in months])
            rows = tuple(
                (
                    SHORT_MONTHS[month["month"] - 1],
                    "-" if month["best_tilt_deg"] is None else figures(month["best_tilt_deg"]),
                    *texts,
                )
                for month, texts in zip(months, zip(water[:12], water[12:], strict=True), strict=True)
            )
            fixed = f"at {figures(tilts['fixed_tilt_deg'])}°"
            blocks.append([Table((("", ""), ("best tilt", "°"), ("at it", "m³"), (fixed, "m³")), rows)])
    return blocks
