"""Direction and tilt experiments in plain words: which is best, whether chance could have made it so, and what the model says."""

from collections.abc import Sequence

from sizing.foundation.aligned_numbers import column
from sizing.foundation.formats import clock, compass, figures, percent, quantity
from sizing.measured.day.clear_day import day_words
from sizing.measured.trials.fit import PERHAPS, SURE, Difference, difference
from sizing.measured.trials.orientation_trial import Measured, Tried

NAMES = {"current": "current", "voltage": "voltage", "power": "power", "flow": "flow"}


def angle_words(changed: str, angle: float) -> str:
    """A direction with its name, or a tilt.

    Examples
    --------
    >>> angle_words("direction", 181.6), angle_words("tilt", 34.7)
    ('south (182°)', '35° of tilt')
    """
    return (
        f"{compass(angle)} ({quantity(angle % 360, 'deg')})" if changed == "direction" else f"{quantity(angle, 'deg', 2)} of tilt"
    )


def held_words(trial: Tried) -> str:
    """What was held while the other angle was changed."""
    if trial.experiment.changed == "direction":
        return f"tilted {quantity(trial.experiment.held, 'deg', 2)}, turned to {len(trial.experiment.angle)} directions"
    return f"facing {angle_words('direction', trial.experiment.held)}, at {len(trial.experiment.angle)} tilts"


def sureness(found: Difference) -> str:
    """How sure a difference is, in words and as a number.

    Examples
    --------
    >>> sureness(Difference(0.2, 0.05, 0.993, 0)).replace("\\N{NO-BREAK SPACE}", " ")
    'larger than the scatter (99.3 % sure)'
    """
    sure = f"{percent(min(found.confidence, 0.999), 3)} sure"
    if found.confidence >= SURE:
        return f"larger than the scatter ({sure})"
    if found.confidence >= PERHAPS:
        return f"perhaps larger than the scatter ({sure}); {more_words(found)}"
    return f"not larger than the scatter ({sure}), so it cannot be told; {more_words(found)}"


def more_words(found: Difference) -> str:
    """How many more readings would settle a difference."""
    if found.more is None:
        return "the two are so alike that no reasonable number of readings would part them"
    one = "one more reading" if found.more == 1 else f"about {found.more} more readings"
    return f"{one} of each would settle it, if the difference is as large as it looks"


def ends_sentence(trial: Tried, part: Measured) -> str:
    """Best against least: does it matter at all."""
    order = sorted(range(len(part.angle)), key=lambda at: -part.fit.mean[at])
    best, least = (angle_words(trial.experiment.changed, part.angle[at]) for at in (order[0], order[-1]))
    if part.ends is None:
        return f"Most {NAMES[part.quantity]} was measured at {best}; {why_untold(part)}."
    share = part.ends.share
    much = f"{percent(share)} more than" if share < 2 else f"{figures(1 + share, 2)} times as much as"
    told = f"{best[0].upper()}{best[1:]} gives most {NAMES[part.quantity]}, {much} {least}"
    return f"{told}; the difference is {sureness(part.ends)}."


def next_sentence(trial: Tried, part: Measured) -> str:
    """Best against next best; empty where there are only two."""
    if len(part.angle) < 3:
        return ""
    order = sorted(range(len(part.angle)), key=lambda at: -part.fit.mean[at])
    after = angle_words(trial.experiment.changed, part.angle[order[1]])
    if part.next is None:
        return f"Whether it beats {after} cannot be told: {why_untold(part)}."
    return f"It beats the next best, {after}, by {percent(abs(part.next.share))}; that is {sureness(part.next)}."


def why_untold(part: Measured) -> str:
    """Why a difference has no number."""
    if part.fit.freedom <= 0:
        return "every reading is needed for its own direction, day and team, so nothing is left to tell chance by; repeat some"
    return "no day and no team measured both, so a duller sky could be the reason; let one team measure both on one day"


def model_sentence(trial: Tried, part: Measured) -> str:
    """Whether the class's best is the model's best."""
    ours, theirs = int(part.fit.mean.argmax()), int(part.expected.argmax())
    said = angle_words(trial.experiment.changed, part.angle[theirs])
    if ours == theirs:
        return f"The model, too, has {said} best among those that were measured."
    apart = difference(part.fit, ours, theirs)
    if apart is None or apart.confidence < SURE:
        return f"The model has {said} best; the readings do not part it from theirs, so they agree within the scatter."
    return (
        f"The model has {said} best, and the readings part the two ({percent(min(apart.confidence, 0.999), 3)} sure): look at "
        "the compass, at shadows, and at reflections from walls."
    )


def explanation(trial: Tried) -> tuple[str, ...]:
    """How readings of different minutes, days and teams were made comparable."""
    when = f"{clock(trial.hour)} on {day_words(trial.day)}"
    several = trial.blocks > 1
    ties = (
        f"The {trial.blocks} days and teams each have a number of their own in the fit, so that a duller sky or another bucket "
        "does not fake a direction."
        if several
        else "All readings are of one day and one team; another day would show how far it holds."
    )
    return (
        f"Each reading was carried to {when}, the middle of the readings: it was multiplied by what a clear sky gives there over "
        "what a clear sky gives at its own minute, both for the same direction and tilt.",
        ties,
    )


def range_words(ranges: Sequence[tuple[float | None, float | None]]) -> list[str]:
    """Likely ranges, all with the digits of one column; a dash where there is none.

    Parameters
    ----------
    ranges : lower and upper end of each, both ``None`` where there is no range

    Examples
    --------
    >>> range_words([(7.104, 7.22), (None, None), (6.4, 6.49)])
    ['7.10 to 7.22', '–', '6.40 to 6.49']
    """
    ends = iter(column([end for each in ranges for end in each if end is not None]))
    return ["–" if low is None else f"{next(ends)} to {next(ends)}" for low, _ in ranges]
