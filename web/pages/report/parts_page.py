"""The page of what must be bought: parts with reasons, boxes for prices, the budget, ten years, a price list as a file."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from starlette.responses import Response

from sizing.foundation import InputError, RowProblem, SizingError, Worked
from sizing.installation import Building, building_of
from sizing.money import LARGEST, Bought, PriceRead, bought, price_rows, read_prices
from sizing.report import size
from web.exports.months import csv_text
from web.forms.form import Texts, sentences_of, tidy, understand
from web.forms.part_prices import ADDED_FIELDS, PARTS, PRICE_FIELDS, SHARED_FIELDS, told_once, unread
from web.forms.sending import Fields, carried, filled
from web.forms.several import chosen_position
from web.pages.frame.leads import leads
from web.pages.frame.site import page, spreadsheet
from web.pages.frame.unfolded import unfolded
from web.pages.garden.form_page import form
from web.pages.report.budget import budget, hours_table, parts_csv, ten_years_csv
from web.pages.report.report_page import beside

UPLOAD = "prices"
"""Name of the box that takes a price list."""
CHOOSE = "Choose the price list (CSV) that you filled in, then press “Read this list”"


@dataclass(frozen=True, eq=False)
class Asked:
    """What was sent, what is wrong with its prices, and the design built without them; or what is wrong elsewhere."""

    texts: Texts
    errors: dict[str, str]
    built: Building | None


@dataclass(frozen=True)
class Taken:
    """What became of a price list: how many prices it gave, and what could not be read."""

    count: int
    problems: tuple[RowProblem, ...]


def parts_page(fields: Fields) -> Response:
    """The page; the form again if something other than a price is wrong."""
    return answered(tidy(fields))


def answered(texts: Texts, file_error: str = "", taken: Taken | None = None) -> Response:
    """The page of some texts."""
    asked = understood(texts)
    if asked.built is None:
        return form(texts, asked.errors)
    try:
        content = parts_content(asked.built, texts)
    except SizingError as error:
        return form(texts, sentences_of(texts, error.problems))
    kept = filled(texts)
    return page(
        "parts.html",
        422 if asked.errors or file_error else 200,
        current="/parts",
        leads=leads(kept, "/parts"),
        texts=texts,
        errors={name: asked.errors[name] for name in PRICE_FIELDS if name in asked.errors},
        file_error=file_error,
        taken=taken,
        carried=carried({name: text for name, text in kept.items() if name not in PRICE_FIELDS}),
        whole=carried(kept),
        **content,
    )


def parts_content(built: Building, texts: Mapping[str, str]) -> dict[str, Any]:
    """What the page prints of the design itself: parts and budget, ten years, pairs beside it, the numbers behind them."""
    return {
        "title": built.report.design.title,
        "budget": budget(bought(built)),
        "hours": hours_table(beside(built)),
        "about": f"{built.wires.sentence} {built.basin.held_sentence} {built.balance.sentence}",
        "working": unfolded("built", "How cable, voltage, basin and its water were computed", built_working(built)),
        "shared": list(SHARED_FIELDS.values()),
        "fields": list(ADDED_FIELDS.values()),
        "of_form": {key: f"{price_name(texts, key)}.amount" for key in ("panel", "pump", "controller")},
    }


def understood(texts: Texts) -> Asked:
    """Size the design; prices that cannot be read are left out, each with its sentence."""
    errors: dict[str, str] = {}
    kept = dict(texts)
    for _ in range(3):
        found = understand(kept)
        if found.design is not None:
            try:
                return Asked(texts, errors, building_of(size(found.design)))
            except SizingError as error:
                return Asked(texts, sentences_of(texts, error.problems), None)
        wrong = {name: said for name, said in found.errors.items() if name in PRICE_FIELDS}
        if len(wrong) < len(found.errors):
            break
        errors |= wrong
        gone = unread(kept, wrong)
        kept = {name: text for name, text in kept.items() if name not in gone}
    return Asked(texts, understand(texts).errors, None)


def with_file(texts: Texts, content: bytes) -> Response:
    """The page with the prices of a file put into its boxes; nothing is kept."""
    if not content:
        return answered(texts, CHOOSE)
    asked = understood(texts)
    if asked.built is None:
        return form(texts, asked.errors)
    try:
        found = read_prices(content[: LARGEST + 1])  # the page itself names what is still without a price
    except InputError as error:
        detail = error.problems[0].detail
        return answered(texts, detail[0].upper() + detail[1:])
    put = {name: text for key, price in found.prices.items() for name, text in boxes_of(texts, key, price).items()}
    return answered(tidy(told_once(texts | put)), taken=Taken(len(found.prices), tuple(found.problems)))


def boxes_of(texts: Mapping[str, str], key: str, price: PriceRead) -> Texts:
    """The boxes that one price of a file fills; source and day of an older price go, and its currency unless one is given."""
    base = price_name(texts, key)
    said = {"amount": f"{price.amount:.12g}", "source": price.source, "date": price.date}
    return {f"{base}.{name}": text for name, text in (said | ({"currency": price.currency} if price.currency else {})).items()}


def price_name(texts: Mapping[str, str], key: str) -> str:
    """What the boxes of a part's price begin with; panel, pump and controller have theirs in the form."""
    if key == "controller":
        return "connection.price"
    return f"{key}s.{chosen_position(texts, f'{key}s')}.price" if key in ("panel", "pump") else f"{PARTS}.{key}"


def built_working(built: Building) -> Iterator[Worked]:
    """Numbers on cable and basin, and of the basin's water those of the month that needs most."""
    wires, balance = built.wires, built.balance
    yield from (*wires.working, wires.cold.working, *built.basin.working)
    months = [part for _, part in balance.working[0].inputs]
    most = max(balance.months, key=lambda month: month.top_up_l_per_week)
    yield months[most.month - 1]
    yield balance.working[1]


def parts_table(fields: Fields) -> Response:
    """The parts and their budget as RFC 4180."""
    return table(fields, parts_csv, "fountain-parts.csv")


def price_table(fields: Fields) -> Response:
    """The price list to fill in."""
    return table(fields, lambda _, found: csv_text(price_rows(found.listed.parts)), "fountain-prices.csv")


def ten_years_table(fields: Fields) -> Response:
    """What wears out and what ten years cost as RFC 4180."""
    return table(fields, ten_years_csv, "fountain-ten-years.csv")


def table(fields: Fields, write: Callable[[str, Bought], str], filename: str) -> Response:
    """A table for spreadsheets; the page or the form where something is wrong."""
    texts = tidy(fields)
    asked = understood(texts)
    if asked.built is None or asked.errors:
        return answered(texts)
    return spreadsheet(write(asked.built.report.design.title, bought(asked.built)), filename)
