"""The search over all directions as plain text for a terminal, at most 80 columns wide."""

from api.command.printed import CAUTION, Block, Sentence, Table, heading, laid_out
from sizing.answers import PlaceAnswer
from sizing.foundation import SHORT_MONTHS, column, figures
from sizing.orientation import (
    ALIKE,
    AZIMUTHS,
    TILTS,
    AimKey,
    Orientation,
    TiltsFound,
    as_table,
    chance_sentence,
    choice_sentence,
    compass_sentence,
    degrees,
    flatness_sentence,
    tilts_sentence,
    turned,
    two_tilts_sentence,
    verdict,
)

HEADS: dict[AimKey, str] = {
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


def orientation_text(found: Orientation, encoding: str = "utf-8") -> str:
    """The whole search for people, in what the ``encoding`` of the terminal can show."""
    paragraphs: list[Block] = [
        heading(found.design.title, PlaceAnswer.of(found.place), found.sky.title),
        [
            Sentence(verdict(found, found.main)),
            *([Sentence(chance_sentence(found))] if found.chances else []),
            Sentence(compass_sentence(found)),
        ],
        [
            Sentence("What each aim gives up"),
            *(Sentence(f"{verdict(found, aim)} {flatness_sentence(aim)}".strip(), "- ") for aim in found.aims),
            Sentence(choice_sentence(found.choice, found.sky.hour_basis)),
        ],
        *side_blocks(found),
        *grid_blocks(found),
        *tilt_blocks(found),
        [Sentence(CAUTION)],
    ]
    texts = ("\n".join(laid_out(paragraph, encoding)) for paragraph in paragraphs if paragraph)
    return "\n\n".join(texts) + "\n"


def side_blocks(found: Orientation) -> list[Block]:
    """Six directions side by side."""
    sides, units = found.sides, {"m3": "m³", "h": "h"}
    heads = [("", ""), ("tilt", "°"), ("facing", "°"), ("sun", "kWh/m²")]
    texts = [[degrees(side.tilt) for side in sides], [degrees(side.azimuth) for side in sides]]
    texts.append([*column([side.sun for side in sides])])
    for place, aim in enumerate(found.aims):
        heads.append((HEADS[aim.key], units[aim.unit]))
        texts.append([*column([side.values[place] for side in sides])])
    rows = [(side.name, *numbers) for side, numbers in zip(sides, zip(*texts, strict=True), strict=True)]
    wanted = ", ".join(f"{aim.words} ({units[aim.unit]})" for aim in found.aims)
    about = f"Side by side: sun on the panel in the year, then {wanted}."
    return [[Sentence(about)], [Table(tuple(heads), tuple(rows))]]


def grid_blocks(found: Orientation) -> list[Block]:
    """What counts first in every second tilt and every third azimuth, in percent of the best."""
    main = found.main
    most = float(main.values[main.best])
    if most <= 0:
        return []
    heads = (("tilt", "°"), *((figures(turn), "%") for turn in AZIMUTHS[::TURN_STEP].tolist()))
    shown = as_table(main.values)[::TILT_STEP, ::TURN_STEP]
    rows = tuple(
        (figures(tilt), *(f"{100 * value / most:.0f}" for value in row))
        for tilt, row in zip(TILTS[::TILT_STEP].tolist(), shown.tolist(), strict=True)
    )
    about = f"Percent of the best for {main.words}, by tilt and by the direction it faces (0 and 360 north, 90 east, 180 south)."
    return [[Sentence(about)], [Table(heads, rows)]]


def tilt_blocks(found: Orientation) -> list[Block]:
    """The best tilt of each month, at today's direction and facing the equator."""
    blocks: list[Block] = []
    both = [found.tilts, found.equator_tilts]
    if turned(found.tilts.azimuth, found.equator_tilts.azimuth) <= ALIKE:
        both = both[:1]
    for tilts in both:
        blocks.append([Sentence(f"{tilts_sentence(tilts)} {two_tilts_sentence(tilts)}".strip())])
        if tilts.fixed_water.sum() > 0:
            blocks.append([tilt_table(tilts)])
    return blocks


def tilt_table(tilts: TiltsFound) -> Table:
    """The months with their best tilts, and the water at these and at the one that stays."""
    best = ["-" if tilt is None else figures(tilt) for tilt in tilts.monthly]
    water = column([*tilts.monthly_water.tolist(), *tilts.fixed_water.tolist()])
    heads = (("", ""), ("best tilt", "°"), ("at it", "m³"), (f"at {figures(tilts.fixed)}°", "m³"))
    return Table(heads, tuple(zip(SHORT_MONTHS, best, water[:12], water[12:], strict=True)))
