"""What goes wrong, and how it is told.

SizingError        a sentence for the person who asked, and where in the design the cause stands
└── InputError     a value of the design cannot be used (outside its limits, wrong kind, unknown)

Night, too little sun and a pump that cannot lift are not errors: they are states with a reason
(``operating_point``). Any other exception is a bug.
"""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Problem:
    """One wrong value: JSON Pointer, a stable code, one sentence, and the limits if there are any."""

    pointer: str
    code: str
    detail: str
    minimum: float | None = None
    maximum: float | None = None


class SizingError(ValueError):
    """The sizing cannot be done; ``problems`` says why and what to change, one sentence each.

    Examples
    --------
    >>> error = SizingError(Problem("#/pipe/length_m", "out_of_range", "pipe length is 950 m; ..."))
    >>> str(error)
    'pipe length is 950 m; ...'
    """

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("\n".join(problem.detail for problem in problems))


class InputError(SizingError):
    """A value of the design cannot be used."""


def input_error(pointer: str, code: str, detail: str, minimum: float | None = None, maximum: float | None = None) -> InputError:
    """Build the error for one wrong value (the caller raises it)."""
    return InputError(Problem(pointer, code, detail, minimum, maximum))


@dataclass(frozen=True)
class Note:
    """Something the reader should know that stops nothing: a code, how serious, one whole sentence."""

    code: str
    severity: Literal["info", "warning"]
    detail: str
    pointer: str = ""
