"""Latitude and longitude as people write them: "36.1 N, 79 57 W", "46,05 14,51", "46°03'00\\" N 14°30'36\\" E".

Letters, words, degree signs of all kinds and decimal commas become tokens, and tokens become angles. Latitude comes first
unless letters or words say otherwise. What could mean two things is asked about, never guessed.
"""

import re
import unicodedata
from dataclasses import dataclass
from typing import Literal

from sizing.foundation.errors import InputError, input_error
from sizing.foundation.working import formula

Axis = Literal["latitude", "longitude"]

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
EXAMPLES = {"latitude": "46.05 N", "longitude": "14.51 E"}
LIMITS = {"latitude": 90.0, "longitude": 180.0}
"""[deg]"""
ENDS = {"latitude": "-90 (south pole) to 90 (north pole)", "longitude": "-180 (west) to 180 (east)"}
POINTERS = {"latitude": "#/place/latitude_deg", "longitude": "#/place/longitude_deg"}
AXES: dict[str, Axis] = {"N": "latitude", "S": "latitude", "E": "longitude", "W": "longitude"}
PARTS = ("degrees", "minutes", "seconds")


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


@dataclass(frozen=True)
class Angle:
    """An angle that was read [deg], and which axis it must be on, if letters or words say so."""

    degrees: float
    axis: Axis | None


def read_coordinates(text: str) -> tuple[float, float]:
    """Latitude and longitude [deg] from a text in any usual form.

    Returns
    -------
    latitude, longitude : [deg], north and east positive

    Raises
    ------
    InputError : if the text is no pair of coordinates, could mean two things, or lies outside the Earth

    Examples
    --------
    >>> read_coordinates("36.1 N, 79 57 W")
    (36.1, -79.95)
    >>> read_coordinates("46,05 14,51")
    (46.05, 14.51)
    """
    first, second = (read_tokens(part) for part in parted(tokens(text)))
    if first.axis and first.axis == second.axis:
        raise unclear(f"both numbers are a {first.axis}", f"write one latitude and one longitude, such as {EXAMPLE}")
    turned = first.axis == "longitude" or second.axis == "latitude"
    latitude, longitude = (second.degrees, first.degrees) if turned else (first.degrees, second.degrees)
    named = bool(first.axis or second.axis)
    return checked(latitude, "latitude", "#/place", named), checked(longitude, "longitude", "#/place", named)


def read_angle(text: str, axis: Axis) -> float:
    """One latitude or longitude [deg] from its own field.

    Parameters
    ----------
    axis : which of the two the field asks for

    Raises
    ------
    InputError : if the text is no angle, belongs to the other axis, or lies outside the Earth

    Examples
    --------
    >>> read_angle("46°03'", "latitude"), read_angle("79 57 W", "longitude")
    (46.05, -79.95)
    """
    pointer = POINTERS[axis]
    try:
        found = read_tokens(tokens(text))
    except InputError as error:
        problem = error.problems[0]
        detail = problem.detail.replace(EXAMPLE, EXAMPLES[axis])  # one field asks for one number
        raise input_error(pointer, problem.code, detail, problem.minimum, problem.maximum) from None
    if found.axis not in (None, axis):
        raise input_error(
            pointer, "wrong_axis", f"this is a {found.axis}; the field asks for the {axis}; exchange the two fields."
        )
    return checked(found.degrees, axis, pointer, True)


@formula("whole_degrees + minutes / 60 + seconds / 3600", unit="deg", source="iso_80000_3")
def angle_in_degrees(whole_degrees: float, minutes: float, seconds: float) -> float:
    """An angle [deg] from degrees, minutes and seconds of arc.

    Examples
    --------
    >>> angle_in_degrees(14, 30, 36)
    14.51
    """
    return whole_degrees + minutes / 60 + seconds / 3600


def checked(degrees: float, axis: Axis, pointer: str, named: bool) -> float:
    """The angle if it lies on the Earth; ``named`` where the reader cannot have exchanged the two."""
    limit = LIMITS[axis]
    if abs(degrees) <= limit:
        return degrees
    advice = "check the sign and the decimal point"
    if axis == "latitude" and abs(degrees) <= LIMITS["longitude"] and not named:
        advice = "latitude comes first; if this is a longitude, put it second or add E or W"
    if axis == "longitude" and limit < degrees <= 2 * limit:
        advice = f"a longitude counted on from 180 is written {degrees - 2 * limit:g}"
    detail = f"{axis} is {degrees:.8g} degrees; {axis}s run from {ENDS[axis]}; {advice}."
    raise input_error(pointer, "out_of_range", detail, -limit, limit)


def parted(found: list[Token]) -> tuple[list[Token], list[Token]]:
    """The pieces of the first and of the second angle."""
    refuse_unclear_dashes(found)
    breaks = [index for index, token in enumerate(found) if token.kind == "break"]
    if len(breaks) > 1:
        raise unclear("more than one comma parts the text", f"put one comma between latitude and longitude, such as {EXAMPLE}")
    cut = breaks[0] if breaks else beginning_of_second(found)
    first, second = found[:cut], found[cut + 1 if breaks else cut :]
    if not all(any(token.kind == "number" for token in part) for part in (first, second)):
        raise unclear("one of the two numbers is missing", f"write latitude and longitude, such as {EXAMPLE}")
    return first, second


def beginning_of_second(found: list[Token]) -> int:
    """Where the second angle begins if no comma says so: by words, letters, degree signs, else half and half."""
    for kind, value in (("axis", None), ("side", None), ("mark", "°")):
        at = [index for index, token in enumerate(found) if token.kind == kind and value in (None, token.value)]
        if kind == "mark":
            at = [before_sign(found, index - 1) for index in at if index]
        if len(at) == 2:
            return at[1] if at[0] == 0 else at[0] + 1 if at[1] == len(found) - 1 and kind != "mark" else at[1]
        if at and kind == "side":
            some = "only one letter (N, S, E or W) stands" if len(at) == 1 else f"{len(at)} letters (N, S, E or W) stand"
            raise unclear(f"{some} in the text", f"give one to each number, such as {EXAMPLE}")
    at = [index for index, token in enumerate(found) if token.kind == "number"]
    if len(at) == 1 and "," in found[at[0]].value:
        raise unclear(
            f'the comma in "{found[at[0]].value}" can be a decimal comma or stand between two numbers', f"write {EXAMPLE}"
        )
    if len(at) not in (2, 4, 6):
        some = "only one number stands" if len(at) == 1 else f"{len(at)} numbers stand"
        raise unclear(f"{some} in the text", f"write latitude and longitude, such as {EXAMPLE}")
    return before_sign(found, at[len(at) // 2])


def before_sign(found: list[Token], index: int) -> int:
    """Where a number begins, its sign included."""
    return index - 1 if index and found[index - 1].kind == "sign" else index


def refuse_unclear_dashes(found: list[Token]) -> None:
    """Refuse a dash that may be a minus or part the two numbers: "46.05-14.51", "46 - 14"."""
    for before, token, after in zip(found, found[1:], found[2:], strict=False):
        joins = before.kind in ("number", "mark", "side") and token.value == "-" and found[0].kind != "sign"
        if joins and (token.begin == before.end or after.begin > token.end):
            raise unclear("the dash may be a minus or stand between the two numbers", f"write {EXAMPLE}, or S and W for a minus")


def read_tokens(found: list[Token]) -> Angle:
    """The angle that the pieces of one number make."""
    sides, axes, signs = ([token for token in found if token.kind == kind] for kind in ("side", "axis", "sign"))
    core = [token for token in found if token.kind in ("number", "mark")]
    for tokens_of_kind, name in ((sides, "letter N, S, E or W"), (axes, "word"), (signs, "sign")):
        if len(tokens_of_kind) > 1:
            raise unclear(f"one number has more than one {name}", f"write coordinates such as {EXAMPLE}")
    if sides and signs:
        raise unclear(f"a number has both a sign and the letter {sides[0].value}", "use one of the two")
    if any(token.kind == "break" for token in found) or any(
        core[0].begin < token.begin < core[-1].begin for token in sides + axes
    ):
        raise unclear("this is not one angle", "write degrees, or degrees, minutes and seconds, such as 46 3 0 N")
    if signs and found.index(signs[0]) + 1 != found.index(core[0]):
        raise unclear("a sign stands inside a number", "put it before the degrees")
    named: list[Axis] = [AXES[side.value] for side in sides] + [
        "latitude" if axis.value == "latitude" else "longitude" for axis in axes
    ]
    if len(set(named)) > 1:
        raise unclear(f"the letter {sides[0].value} and the word {axes[0].value} contradict each other", "correct one of them")
    negative = any(token.value in ("-", "S", "W") for token in signs + sides)
    degrees = angle_in_degrees(*parts_of_angle(core))
    return Angle(-degrees if negative and degrees else degrees, named[0] if named else None)


def parts_of_angle(core: list[Token]) -> tuple[float, float, float]:
    """Degrees, minutes and seconds from numbers and their marks; only the last may have decimals."""
    values: list[str] = []
    marked = 0
    for token in core:
        if token.kind == "number":
            values.append(token.value.replace(",", "."))
        elif not values or marked == len(values) or token.value != MARKS[min(len(values), 3) - 1]:
            raise unclear(
                "the signs of degrees, minutes and seconds do not follow their numbers", "write them as in 46° 3' 0\" N"
            )
        else:
            marked = len(values)
    if len(values) > 3:
        raise unclear(f"{len(values)} numbers stand in one angle", "write degrees, or degrees, minutes and seconds")
    if any("." in value for value in values[:-1]):
        raise unclear("only the last of degrees, minutes and seconds can have decimals", "write 46.05 or 46 3.0 or 46 3 0.0")
    if any(value.startswith(".") for value in values[1:]):
        raise unclear("a decimal point stands apart from its number", "leave no space before it")
    for value, name in zip(values[1:], PARTS[1:], strict=False):
        if float(value) >= 60:
            found = f"{name} are {float(value):.6g}; {name} of arc run from 0 to below 60"
            detail = f"{found}; check the number or write degrees with decimals."
            raise input_error("#/place", "out_of_range", detail, 0, 60)
    whole, minutes, seconds = (float(value) for value in [*values, "0", "0"][:3])
    return whole, minutes, seconds
