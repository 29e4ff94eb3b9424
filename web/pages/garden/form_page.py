"""The page with the form: texts as they were typed, a sentence beside each wrong one, the parts that stand open."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import urlencode

from starlette.responses import Response

from sizing.data import shipped
from sizing.design import parse_design
from web.forms.fields import Choice, Group, Series
from web.forms.form import Texts, texts_of
from web.forms.grids import Grid, grids
from web.forms.panel_and_pump import SERIES
from web.forms.part_prices import BUDGET, PRICE_FIELDS
from web.forms.places import CLEARED
from web.forms.questions import BOXES, SECTIONS, called, chosen_of, groups_of
from web.forms.reading import ASIDE
from web.forms.sending import LONGEST_ADDRESS, filled, short_address
from web.forms.several import OPEN, chosen_position, count, is_blank
from web.pages.frame.leads import SIDES
from web.pages.frame.site import page
from web.pages.garden.left_over import told
from web.pages.garden.summaries import key_numbers

EXAMPLE = shipped("examples/quince_court_jet.json")
COMPARE = "/compare"
SUMMARIES = {
    "months": "Twelve values of sun and air temperature",
    "obstacles": "What hides the sun: trees, houses, masts, each for itself",
    "skyline": "What hides the sun: the line of hills, walls and hedges",
    "fittings": "Bends, valves and joints",
}
"""Tables that fold up, and the words to press."""
OF_SEVERAL = re.compile(r"^(panels|pumps)\.[0-9]+\.")
"""What names of another panel or pump than the first begin with."""


@lru_cache(maxsize=1)
def example_texts() -> Mapping[str, str]:
    """The worked example as the form shows it."""
    return texts_of(parse_design(EXAMPLE.read_bytes()))


@dataclass(frozen=True)
class Member:
    """A panel or pump: its questions, its place and name, its key numbers, whether it is sized and whether it stands open."""

    group: Group
    called: str
    numbers: str
    sized: bool
    open: bool


@dataclass(frozen=True)
class Shown:
    """A heading of the page with its groups; of several ones, which is sized, and whether one more would be too many."""

    series: Series
    members: tuple[Member, ...]
    chosen: Choice
    full: bool


def form(
    texts: Texts, errors: Mapping[str, str], example: bool = False, file_error: str = "", weather_error: str = ""
) -> Response:
    """Print the form."""
    tables = grids(texts)
    order = {name: place for place, name in enumerate([*in_page_order(texts), *wrong_prices(errors)])}
    return page(
        "form.html",
        422 if errors or file_error or weather_error else 200,
        current="/",
        sections=[shown(each, texts, errors) if isinstance(each, Series) else each for each in sections(errors)],
        texts=texts,
        errors={name: errors[name] for name in sorted(errors, key=lambda name: order.get(name, len(order)))},
        grids=tables,
        opened=opened(texts, errors),
        summaries=SUMMARIES,
        example=example,
        cleared=told(texts.get(CLEARED, "")),
        long=not short_address("/", texts),
        method=method_of(texts, order),
        compares=any(count(texts, series.key) > 1 for series in SERIES) and COMPARE in dict(SIDES),
        file_error=file_error,
        weather_error=weather_error,
        carried={
            name: text for name, text in filled(texts).items() if name not in order and name not in ASIDE and name not in BOXES
        },
    )


def wrong_prices(errors: Mapping[str, str]) -> list[str]:
    """Boxes of the parts list that are wrong; they stand on another page as long as they are right."""
    return [name for name in PRICE_FIELDS if name in errors]


def sections(errors: Mapping[str, str]) -> tuple[Group | Series, ...]:
    """The headings of the page; prices of the parts list only where one is wrong."""
    wrong = tuple(PRICE_FIELDS[name] for name in wrong_prices(errors))
    return (*SECTIONS, Group(BUDGET, "Prices of parts", "Those that cannot be read.", wrong)) if wrong else SECTIONS


def method_of(texts: Texts, order: Mapping[str, int]) -> str:
    """How the form is sent: by GET while it is short with all its boxes, as one panel and one pump are."""
    one_each = all(count(texts, series.key) == 1 for series in SERIES)
    return "get" if one_each and len(urlencode(dict.fromkeys(order, "") | texts)) <= LONGEST_ADDRESS else "post"


def shown(series: Series, texts: Texts, errors: Mapping[str, str]) -> Shown:
    """A series with those of its members that the texts hold; what is sized, wrong, new or empty stands open."""
    number = count(texts, series.key)
    sized = chosen_position(texts, series.key)

    def member(index: int) -> Member:
        base = f"{series.key}.{index}"
        wrong = any(name.startswith(f"{base}.") for name in errors)
        stands_open = index == sized or wrong or texts.get(OPEN) == base or is_blank(texts, base)
        name = called(series, texts, index)
        return Member(series.groups[index], name, key_numbers(texts, base), index == sized, stands_open)

    members = tuple(member(index) for index in range(number))
    return Shown(series, members, chosen_of(series, texts), number == len(series.groups))


def in_page_order(texts: Mapping[str, str]) -> Iterator[str]:
    """Names of all boxes and choices, one after the other as the page shows them."""
    tables = grids(texts)
    for section in SECTIONS:
        if isinstance(section, Group):
            yield from in_order(section, tables)
            continue
        number = count(texts, section.key)
        if number > 1:
            yield section.chosen
        for group in section.groups[:number]:
            yield from in_order(group, tables)


def in_order(group: Group, tables: Mapping[str, Grid]) -> Iterator[str]:
    """Names of the boxes and choices of a group."""
    for item in group.fields:
        yield item.name
        for way in item.ways if isinstance(item, Choice) else ():
            yield from (field.name for field in way.fields)
            yield from tables[way.table].cells if way.table else ()
    for key in group.tables:
        yield from tables[key].cells
    yield from (field.name for field in group.more)


def opened(texts: Mapping[str, str], errors: Mapping[str, str]) -> set[str]:
    """What stands open: parts with an error, and parts that hold something of the reader's own."""
    example = example_texts()

    def stands_out(names: Iterable[str]) -> bool:
        return any(name in errors or texts.get(name, "") != example.get(OF_SEVERAL.sub(r"\1.0.", name), "") for name in names)

    found = {key for key, grid in grids(texts).items() if stands_out(grid.cells)}
    found |= {group.key for group in groups_of(texts) if stands_out(field.name for field in group.more)}
    return found | ({"months"} if texts.get("sky.kind") == "monthly" else set())
