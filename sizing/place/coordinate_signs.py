"""What letters, words and signs of written coordinates mean: N, south, lat, degree signs of all kinds, decimal commas."""

import re
import unicodedata
from dataclasses import dataclass

from sizing.foundation.errors import InputError, input_error

LONGEST_TEXT = 200
EXAMPLE = "46.05 N, 14.51 E"
MARKS = ("°", "'", '"')
SIGNS = (
    ("°", "º˚∘"),
    ('"', "″“”„‟ʺ＂"),
    ("'", "′‘’‛ʹʼ`´＇"),
    ("-", "−–—‐‑‒﹣－"),
    (" ", "()[]{}|\\"),
)
"""Signs that mean the first one of each pair, because keyboards and word processors differ."""
SAME_SIGN = str.maketrans({sign: plain for plain, signs in SIGNS for sign in signs})
MEANINGS: tuple[tuple[str, str, str], ...] = (
    ("side", "N", "n north nord norte"),
    ("side", "S", "s south sud süd sur sul"),
    ("side", "E", "e east est este ost"),
    ("side", "W", "w west ouest oeste ovest"),
    ("axis", "latitude", "lat latitude"),
    ("axis", "longitude", "lon long lng longitude"),
    ("mark", "°", "deg degree degrees"),
    ("mark", "'", "min minute minutes"),
    ("mark", '"', "sec second seconds"),
)
"""Kind, value, and the words that mean it, some of them in neighbouring languages."""
WORDS = {word: (kind, value) for kind, value, words in MEANINGS for word in words.split()}
OTHER_SIGNS = {"+": "sign", "-": "sign", ",": "break", ";": "break", "/": "break", ":": "", "=": ""}
TOKEN = re.compile(r"(?P<number>\d+(?:[.,]\d+)*|\.\d+)|(?P<word>[^\W\d_]{2,}|[^\W\d_])(?:(?<=[^\W\d_]{2})\.)?|(?P<sign>''|\S)")
EAST_OR_WEST = "o"


@dataclass(frozen=True)
class Token:
    """A piece of the text: a number, a mark (° ' "), a sign, a side (N S E W), an axis or a break; where it begins and ends."""

    kind: str
    value: str
    begin: int
    end: int


def unclear(found: str, advice: str) -> InputError:
    """The error for a text that is not a pair of coordinates, or more than one."""
    return input_error("#/place", "unclear_coordinates", f"{found}; {advice}.")


def plain(text: str) -> str:
    """The text with one sign for each meaning: plain digits, spaces, primes, minus; no quotes around the whole."""
    if len(text) > LONGEST_TEXT:
        raise unclear(f"the text has {len(text)} letters", f"coordinates need {LONGEST_TEXT} at most, such as {EXAMPLE}")
    same = unicodedata.normalize("NFKC", text.translate(SAME_SIGN)).translate(SAME_SIGN)
    digits = "".join(str(unicodedata.decimal(sign)) if sign.isdecimal() else sign for sign in same)
    bare = digits.replace("٫", ".").replace("،", ",").lstrip().rstrip(" \t\r\n.,;/")  # a point in front is a decimal
    return bare[1:].removesuffix(bare[0]) if bare[:1] in ("'", '"') else bare


def tokens(text: str) -> list[Token]:
    """The pieces of a text; a comma between digits is read as a decimal comma unless the digits have points too."""
    found: list[Token] = []
    for match in TOKEN.finditer(plain(text)):
        kind, value = str(match.lastgroup), match.group(str(match.lastgroup))
        if kind == "number":
            found += numbers(value, match.start())
            continue
        kind, value = meaning(value.lower()) if kind == "word" else sign_meaning(value)
        if kind:
            found.append(Token(kind, value, match.start(), match.end()))
    if not any(token.kind == "number" for token in found):
        raise unclear("there is no number in the text", f"write coordinates such as {EXAMPLE}")
    values = [token.value for token in found if token.kind == "number"]
    if any("," in value for value in values) and any("." in value for value in values):
        raise unclear("points and commas both stand for decimals", f"write all decimals alike, such as {EXAMPLE}")
    return found


def meaning(word: str) -> tuple[str, str]:
    """Kind and value of a word."""
    if word == EAST_OR_WEST:
        raise unclear('the letter "O" is east in one language and west in another', "write E or W")
    if word not in WORDS:
        raise unclear(f'the word "{word}" is not understood', f"write coordinates such as {EXAMPLE}")
    return WORDS[word]


def sign_meaning(sign: str) -> tuple[str, str]:
    """Kind and value of a sign; an empty kind where it says nothing."""
    sign = '"' if sign == "''" else sign
    if sign in MARKS:
        return "mark", sign
    if sign not in OTHER_SIGNS:
        raise unclear(f'the sign "{sign}" is not understood', f"write coordinates such as {EXAMPLE}")
    return OTHER_SIGNS[sign], sign


def numbers(digits: str, begin: int) -> list[Token]:
    """One number, or two that a comma parts: "46,05" is one, "46.05,14.51" are two, "46,05,14,51" is asked about."""
    parts = digits.split(",")
    if len(parts) > 2 or max(part.count(".") for part in parts) > 1:
        raise unclear(f'"{digits}" can be read in more than one way', f"write decimals with points, such as {EXAMPLE}")
    if len(parts) == 1 or "." not in digits:
        return [Token("number", digits, begin, begin + len(digits))]
    comma = begin + len(parts[0])
    end = begin + len(digits)
    return [
        Token("number", parts[0], begin, comma),
        Token("break", ",", comma, comma + 1),
        Token("number", parts[1], comma + 1, end),
    ]
