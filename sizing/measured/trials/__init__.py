"""sizing.measured.trials."""

from sizing.measured.trials.answer import trial_roots, turned_answer
from sizing.measured.trials.orientation_trial import OrientationTrial, trial_of
from sizing.measured.trials.sentences import range_words

__all__ = ["OrientationTrial", "range_words", "trial_of", "trial_roots", "turned_answer"]
