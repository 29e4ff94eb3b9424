"""The line of links over the pages of one design: each page shows the same design from another side.

A page passes ``leads=leads(texts, "/results")`` to its template; ``base.html`` prints the line, or where the design is
long, buttons that carry all answers.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from web.forms.sending import ANSWERS, carried, href, short_address

SIDES = (
    ("/results", "What it will do"),
    ("/", "Change answers"),
    ("/sky", "Its sky"),
    ("/orientation", "Its direction"),
    ("/compare", "Compare pumps and panels"),
)
"""Address and words of each page of a design, in the order of the line."""


@dataclass(frozen=True)
class Lead:
    """One link of the line; ``here`` marks the page that is shown."""

    address: str
    href: str
    words: str
    here: bool


@dataclass(frozen=True)
class Leads:
    """The line; ``carried`` holds the answers where they are many, ``too_long`` says that no address takes them."""

    links: tuple[Lead, ...]
    carried: Mapping[str, str]
    too_long: bool


def leads(texts: Mapping[str, str], here: str) -> Leads:
    """The line of links for the answers of a form; empty boxes are left out of the addresses.

    Examples
    --------
    >>> line = leads({"title": "Ours", "note": ""}, "/sky")
    >>> [(lead.href, lead.here) for lead in line.links][1:3]
    [('/?title=Ours', False), ('/sky?title=Ours', True)]
    """
    links = tuple(Lead(address, href(address, texts), words, address == here) for address, words in SIDES)
    hidden = carried(texts)
    return Leads(links, hidden if ANSWERS in hidden else {}, not short_address("/", texts))
