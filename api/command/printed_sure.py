"""How sure a sizing is and what changes would do, as plain text for a terminal."""

from collections.abc import Sequence

from api.command.printed import Block, Sentence, Table
from sizing.foundation import LITRE, LITRE_PER_MINUTE, MONTHS, column, figures, length, length_unit, litres
from sizing.report import Answer, HowSureAnswer, SureMonthAnswer, WhatIf, YearAnswer, running_words
from web.pages.results import ages_told, signed

LARGEST_CAUSES = 3


def sure_blocks(found: Answer) -> list[Block]:
    """The likely ranges, the causes that count most, and what would narrow the range; nothing where nothing plays."""
    sure = found.how_sure
    if sure.shrink_most is None:
        return []
    causes = sorted(sure.causes, key=lambda cause: -cause.year_share)[:LARGEST_CAUSES]
    best = sure.months[sure.best_month - 1]
    columns = [tuple(cause.words for cause in causes), column([100 * cause.year_share for cause in causes], 2)]
    heads = [("", ""), ("water", "%")]
    if best.jet_height_m is not None:
        heads.append(("jet", "%"))
        columns.append(column([100 * cause.jet_share for cause in causes], 2))
    about = "The three causes that count most, by their share of the variance"
    return [
        [Sentence(ranges(sure, best, found.year))],
        [Sentence(about), Table(tuple(heads), tuple(zip(*columns, strict=True)))],
        [Sentence(sure.shrink_most.sentence)],
    ]


def ranges(sure: HowSureAnswer, best: SureMonthAnswer, found: YearAnswer) -> str:
    """The year's mean day and the best month with its jet."""
    whole, months = sure.year.water_l, running_words(found.running_months)
    part = bool(months) and whole > 0
    days = whole / found.running_water_l_per_day if part else 365
    year = (litres(float(f"{litre / days:.2g}")) for litre in (whole, sure.year.water_low_l, sure.year.water_high_l))
    assumed = " if all that was assumed is right" if sure.year.water_l > sure.year.water_high_l else ""
    said = "How sure: about {} a day {}{}, likely {} to {}".format(
        next(year), months if part else "over the year", assumed, *year
    )
    if best.jet_height_m and best.jet_low_m is not None and best.jet_high_m is not None:
        jet, low, high = (length(height) for height in (best.jet_height_m, best.jet_low_m, best.jet_high_m))
        said += f"; the jet at the best hour in {MONTHS[best.month - 1]} about {jet}, likely {low} to {high}"
    return f"{said}. Likely means one standard uncertainty to either side, about two times in three."


def change_blocks(changes: Sequence[WhatIf], found: Answer) -> list[Block]:
    """What one change at a time would do; nothing where none makes sense."""
    if not changes:
        return []
    year, month = found.year.water_l, found.months[found.how_sure.best_month - 1]
    unit, per_metre = length_unit(max(change.jet for change in changes))
    rows = []
    for each in changes:
        water = signed(each.more_water / LITRE, "L", max(0.001 * year, 1.0)) if year <= 0 else signed(share(each, year), "%", 0.1)
        if month.jet_height_m is None:
            high = signed(each.more_flow / LITRE_PER_MINUTE, "L/min", 0.1)
        else:
            high = signed(each.more_jet * per_metre, unit, 0.1 if unit == "cm" else 0.01)
        rows.append((each.change.words, water, high, signed(each.more_hours, "h", 1)))
    high_head = "flow" if month.jet_height_m is None else "jet"
    heads = (("with", ""), ("water", "a year"), (high_head, MONTHS[month.month - 1]), ("plays", "a year"))
    aged = [
        Sentence(f"{age.words}: {'; '.join(f'{words} ({basis})' for words, basis, _ in age.parts)}.", "- ")
        for age in ages_told(changes)
    ]
    loud = [Sentence(f"{each.change.words}: {each.verdict}.", "- ") for each in changes if "highest voltage" in each.verdict]
    return [[Sentence("What one change would do, everything else as it is"), Table(heads, tuple(rows)), *loud, *aged]]


def obstacle_blocks(found: Answer) -> list[Block]:
    """What each obstacle costs; nothing where none was typed."""
    if not found.obstacles:
        return []
    asked = found.goal is not None
    rows = []
    for cost in found.obstacles:
        name = "all of them" if len(cost.names) > 1 else f"{cost.names[0] or 'obstacle'}, {figures(cost.azimuths_deg[0])}°"
        more = [signed(cost.more_running_hours, "h", 1), signed(cost.more_water_l, "L", 1)]
        rows.append((name, *more, *([signed(cost.more_goal_hours or 0.0, "h", 1)] if asked else [])))
    heads = (("without", ""), ("plays", "a year"), ("water", "a year"), *((("goal hours", "a year"),) if asked else ()))
    return [[Sentence("What each obstacle costs: how much more a year has without it"), Table(heads, tuple(rows))]]


def share(change: WhatIf, year: float) -> float:
    """More water in percent of the year's [L]."""
    return 100 * change.more_water / LITRE / year
