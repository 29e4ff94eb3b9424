"""The page with the form: texts as they were typed, a sentence beside each wrong one, the parts that stand open."""

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path

from starlette.responses import Response

from sizing.reading import parse_design
from web.fields import Choice
from web.form import Texts, texts_of
from web.grids import Grid, grids
from web.questions import GROUPS
from web.reading import ASIDE
from web.sending import method_for, short_address
from web.site import page

EXAMPLE = Path(__file__).parent / "example.json"
SUMMARIES = {
    "months": "Twelve values of sun and air temperature",
    "skyline": "What hides the sun: trees, walls, hills",
    "fittings": "Bends, valves and joints",
}
"""Tables that fold up, and the words to press."""


@lru_cache(maxsize=1)
def example_texts() -> Mapping[str, str]:
    """The worked example as the form shows it."""
    return texts_of(parse_design(EXAMPLE.read_bytes()))


def form(
    texts: Texts, errors: Mapping[str, str], example: bool = False, file_error: str = "", weather_error: str = ""
) -> Response:
    """Print the form."""
    tables = grids(texts)
    order = {name: place for place, name in enumerate(in_page_order(tables))}
    return page(
        "form.html",
        422 if errors or file_error or weather_error else 200,
        current="/",
        groups=GROUPS,
        texts=texts,
        errors={name: errors[name] for name in sorted(errors, key=lambda name: order.get(name, len(order)))},
        grids=tables,
        opened=opened(texts, errors, tables),
        summaries=SUMMARIES,
        example=example,
        long=not short_address("/", texts),
        method=method_for(texts),
        file_error=file_error,
        weather_error=weather_error,
        carried={name: text for name, text in texts.items() if name not in order and name not in ASIDE},
    )


def in_page_order(tables: Mapping[str, Grid]) -> Iterator[str]:
    """Names of all boxes and choices, one after the other as the page shows them."""
    for group in GROUPS:
        for item in group.fields:
            yield item.name
            for way in item.ways if isinstance(item, Choice) else ():
                yield from (field.name for field in way.fields)
                yield from tables[way.table].cells if way.table else ()
        for key in group.tables:
            yield from tables[key].cells
        yield from (field.name for field in group.more)


def opened(texts: Texts, errors: Mapping[str, str], tables: Mapping[str, Grid]) -> set[str]:
    """What stands open: parts with an error, and parts that hold something of the reader's own."""
    example = example_texts()

    def stands_out(names: Iterable[str]) -> bool:
        return any(name in errors or texts.get(name, "") != example.get(name, "") for name in names)

    found = {key for key, grid in tables.items() if stands_out(grid.cells)}
    found |= {group.key for group in GROUPS if stands_out(field.name for field in group.more)}
    return found | ({"months"} if texts.get("sky.kind") == "monthly" else set())
