"""A page on paper, as a browser prints it."""

import re
from typing import Any

PAPER = {"A4": 680, "Letter": 702}
"""[px] Width between the margins of 15 mm at 96 px an inch: 210 - 30 = 180 mm, 8.5 in - 30 mm = 185.9 mm."""
TALL = 1100
CUT = """() => [...document.querySelectorAll('main *')].filter(each => {
  if (!each.getClientRects().length || each.closest('svg')) return false;
  return each.getBoundingClientRect().right > innerWidth + 0.5;
}).map(each => `${each.tagName}.${each.className} ${each.textContent.trim().slice(0, 40)}`)"""


def sheets(content: bytes) -> int:
    """How many pages a PDF of Chromium has."""
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", content))


def printed(page: Any, paper: str) -> bytes:
    """The page as PDF, as a browser prints it."""
    content = page.pdf(format=paper, print_background=False)
    assert isinstance(content, bytes)
    return content
