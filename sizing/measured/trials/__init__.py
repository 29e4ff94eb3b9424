"""sizing.measured.trials."""

from sizing.measured.trials.answer import trial_roots, turned_answer
from sizing.measured.trials.orientation_trial import Turned, turned_of
from sizing.measured.trials.sentences import range_words

__all__ = ["Turned", "range_words", "trial_roots", "turned_answer", "turned_of"]
