"""A publication that a number or a formula rests on, and how we know what stands in it.

``read`` says how we know the figure: "read" in the publication, "secondary" in a named later text that
quotes it, "memory" where it was written from memory and checked only by recomputation, and
"practice" for common practice without a published source.
"""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Source:
    """A publication: title, who published it and when, where in it to look, and how it was read."""

    title: str
    publisher: str
    year: int
    where: str = ""
    read: Literal["read", "secondary", "memory", "practice"] = "read"
