"""Direction and tilt experiments: is one direction really better, or was it chance?

In come readings of the turned or tilted panel over hours, days and teams; out come the differences with their ranges and how
sure they are, which readings would help, and the sun's height by a shadow or an instrument.

Read: ``fit`` (directions, days and teams in one fit), ``sun_heights``, ``orientation_trial`` (which readings belong together,
and all that they tell), ``sentences``, ``answer``.

2026-11-25, directions by one fit of logarithms. The design's clear sky carries each reading to one moment, for the same
    direction and tilt; its logarithm is one number of its direction and one of its day and team, solved by least squares, with
    differences by Student's t. The best against the least divides its chance by the number of pairs (Bonferroni). So a duller
    day or a smaller bucket fakes nothing where days and teams tie the directions together; where none does, we say so.
    Figures, seeded: without a true difference among six directions, "sure at 95 %" comes up in 3 % of logs; a difference of 29
    % beside scatter of 5 % is placed right in 99 %, and its range holds the truth in 69 %. Refused: averages by direction (a
    cloud at the wrong time decides); ranking by the model's ratio (the model would judge itself). Weakest: a reading of
    nothing has no logarithm; it is told and not counted.
"""

from sizing.measured.trials.answer import (
    ExperimentAnswer,
    SunHeightsAnswer,
    TurnedAnswer,
    TurnedGroupAnswer,
    TurnedQuantityAnswer,
    trial_roots,
    turned_answer,
)
from sizing.measured.trials.orientation_trial import OrientationTrial, trial_of
from sizing.measured.trials.sentences import range_words

__all__ = [
    "ExperimentAnswer",
    "OrientationTrial",
    "SunHeightsAnswer",
    "TurnedAnswer",
    "TurnedGroupAnswer",
    "TurnedQuantityAnswer",
    "range_words",
    "trial_of",
    "trial_roots",
    "turned_answer",
]
