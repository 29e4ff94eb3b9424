"""What the report says to whoever digs, fills and looks after the fountain: basin, water, who does what, the year's care."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter

from sizing.basin import WaterBalance
from sizing.foundation import MONTHS, figures
from sizing.installation import Building
from web.charts.kit.shapes import Table


@dataclass(frozen=True)
class Keeping:
    """Sentences on the basin, the table of its months, sentences on frost, who does what, and the looks of each time of year."""

    basin: tuple[str, ...]
    table: Table
    water: tuple[str, ...]
    assumptions: tuple[str, ...]
    frost: tuple[str, ...]
    club: tuple[str, ...]
    licensed: tuple[str, ...]
    looks: tuple[tuple[str, tuple[str, ...]], ...]


def keeping(built: Building) -> Keeping:
    """Everything about the basin and its care, of one design."""
    basin, balance, frost, care = built.basin, built.balance, built.frost, built.care
    chosen = f"The basin of this design: {basin.words}" if basin.given else f"The design names no basin; proposed: {basin.words}"
    return Keeping(
        basin=(f"{chosen}.", basin.jet_check, basin.held_sentence, basin.turnover_sentence, *basin.notes),
        table=water_table(balance),
        water=(balance.sentence, balance.dry_spell_sentence),
        assumptions=(*basin.assumptions, *balance.assumptions),
        frost=(frost.sentence, *frost.advice, frost.judged),
        club=care.club,
        licensed=care.licensed,
        looks=tuple((when, tuple(look.sentence for look in looks)) for when, looks in groupby(care.looks, attrgetter("when"))),
    )


def water_table(balance: WaterBalance) -> Table:
    """The basin's water month by month."""
    rows = [
        (
            MONTHS[month.month - 1],
            *amounts(
                month.evaporation_mm_per_day,
                month.evaporated_l_per_day,
                month.splashed_l_per_day,
                month.rain_kept_l_per_day,
                month.top_up_l_per_week,
            ),
        )
        for month in balance.months
    ]
    head = ("Month", "Evaporates, mm a day", "Evaporates, L a day", "Splashes away, L a day", "Rain that counts, L a day")
    return Table("The basin’s water on a mean day of each month", (*head, "Top up, L a week"), tuple(rows))


def amounts(*values: float) -> Sequence[str]:
    """Amounts of water with two figures; what is less than a tenth is nothing to a bucket.

    Examples
    --------
    >>> amounts(3.14, 0.02, 127.3)
    ['3.1', '0', '130']
    """
    return ["0" if value < 0.05 else figures(value, 2) for value in values]
