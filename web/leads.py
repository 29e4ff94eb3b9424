"""The line of links over the pages of one design: each page shows the same design from another side.

A page passes ``leads=leads(texts, "/results")`` to its template; ``base.html`` prints the line.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

SIDES = (
    ("/results", "What it will do"),
    ("/", "Change answers"),
    ("/sky", "Its sky"),
)
"""Address and words of each page of a design, in the order of the line."""


@dataclass(frozen=True)
class Lead:
    """One link of the line; ``here`` marks the page that is shown."""

    href: str
    words: str
    here: bool


def leads(texts: Mapping[str, str], here: str) -> tuple[Lead, ...]:
    """The line of links for the answers of a form; empty boxes are left out of the addresses.

    Examples
    --------
    >>> [(lead.href, lead.here) for lead in leads({"title": "Ours", "note": ""}, "/sky")]
    [('/results?title=Ours', False), ('/?title=Ours', False), ('/sky?title=Ours', True)]
    """
    kept = urlencode({name: text for name, text in texts.items() if text.strip()})
    return tuple(Lead(f"{address}?{kept}" if kept else address, words, address == here) for address, words in SIDES)
