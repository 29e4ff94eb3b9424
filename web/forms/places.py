"""Towns and coordinates that a search may mean, each with the form's answers it would bring along."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sizing.foundation import InputError, digits_grouped, figures
from sizing.place import LONGEST_QUERY, Town, find_towns, read_coordinates
from sizing.sky import nearest_town
from web.forms.position import LATITUDE, LONGITUDE
from web.forms.sending import filled, href

FIND = "find"
CLEARED = "cleared"
"""What was cleared because it was an example's, in words; the form tells it once."""
"""Name of the box; it is no answer and is gone once a place was taken."""
TAKE = "take"
"""Name of the button that takes one of the places found, counted from 0, where a link cannot carry the design."""
PLACE_QUESTIONS = "place-questions"
NEAR = 30.0
"""[km] A garden within this of a town may bear its name."""
MOST = 12
NOTHING = (
    "No town of this name is in the list, which holds places of 15,000 people and more. Try a larger town near by, the name "
    "without its district, or type coordinates such as 46.05 N, 14.51 E from a map."
)
EMPTY = "Type the name of a town, such as Novo mesto or Springfield, IL, or coordinates such as 46.05 N, 14.51 E."


@dataclass(frozen=True)
class Match:
    """A place that may be meant: what it is called, what is known of it, the form's answers with it, and the way back to them."""

    name: str
    region: str
    country: str
    population: str
    coordinates: str
    time_zone: str
    texts: Mapping[str, str]
    href: str


@dataclass(frozen=True)
class Search:
    """What a search found, or a sentence on what to do instead; ``read`` says how coordinates were understood."""

    matches: tuple[Match, ...]
    read: str = ""
    advice: str = ""


def search(query: str, texts: Mapping[str, str], gone: Sequence[str] = ()) -> Search:
    """The places that a text may mean, best first.

    Parameters
    ----------
    query : name of a town, or coordinates in any usual form
    texts : the form's answers, which every match keeps
    gone : what was cleared from them, in words

    Examples
    --------
    >>> [match.name for match in search("novo mesto", {}).matches][:1]
    ['Novo Mesto']
    >>> search("36.1 N, 79 57 W", {}).read
    'Read as 36.1° north, 79.95° west.'
    """
    text, texts = query.strip(), dict(texts) | {CLEARED: "; ".join(gone)}
    if not text:
        return Search((), advice=EMPTY)
    if len(text) > LONGEST_QUERY:
        return Search((), advice=f"That is no name of a town: it has {len(text)} letters. {EMPTY}")
    doubt = ""
    if any(letter.isdigit() for letter in text):
        try:
            return by_coordinates(*read_coordinates(text), texts)
        except InputError as error:
            detail = error.problems[0].detail
            doubt = f"As coordinates: {detail.rstrip('.')}. "
    found = find_towns(text, MOST)
    if not found:
        return Search((), advice=doubt or NOTHING)
    return Search(tuple(match(town, town.name, texts) for town in found))


def by_coordinates(latitude: float, longitude: float, texts: Mapping[str, str]) -> Search:
    """The one place that coordinates name, on the clock of the nearest town."""
    town, away = nearest_town(latitude, longitude)
    where = coordinates(latitude, longitude)
    name = f"Near {town.name}" if away <= NEAR else where
    here = Town(name, f"{figures(away, 2)} km from {town.name}", town.country, "", latitude, longitude, town.time_zone, 0)
    return Search((match(here, name, texts),), f"Read as {where}.")


def match(town: Town, name: str, texts: Mapping[str, str]) -> Match:
    """A match with its way back; the elevation is left to be looked up."""
    own = {
        "place.name": ", ".join(part for part in (name, town.country) if part)[:80],
        LATITUDE: f"{town.latitude:.7g}",
        LONGITUDE: f"{town.longitude:.7g}",
        "place.elevation_m": "",
        "place.time_zone": town.time_zone,
        FIND: "",
    }
    kept = filled(dict(texts) | own)
    people = digits_grouped(str(town.population)) if town.population else ""
    where = coordinates(town.latitude, town.longitude)
    return Match(name, town.region, town.country, people, where, town.time_zone, kept, href("/", kept, PLACE_QUESTIONS))


def coordinates(latitude: float, longitude: float) -> str:
    """Coordinates in words.

    Examples
    --------
    >>> coordinates(-33.9, 18.42)
    '33.9° south, 18.42° east'
    """
    halves = "south" if latitude < 0 else "north", "west" if longitude < 0 else "east"
    return ", ".join(f"{abs(angle):.6g}° {half}" for angle, half in zip((latitude, longitude), halves, strict=True))
