"""A price list as CSV, both ways: written with what is known, read back with whatever has one reading; the rest is named."""

import datetime
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import get_args

from sizing.design.budget_input import PartKey
from sizing.foundation.csv_file import RowProblem, cells, text_of
from sizing.foundation.errors import InputError, input_error
from sizing.money.parts import Part

COLUMNS = ("part", "name", "quantity", "unit", "unit_price", "currency", "source", "date")
KEYS = ("panel", "pump", "controller", *get_args(PartKey))
LARGEST, MOST_ROWS, LONGEST_CELL = 100_000, 200, 120
CALLED = "price list"
SIGNS = {"€": "EUR", "£": "GBP"}
"""Signs with one reading; a dollar or a crown has several."""
AMOUNT = re.compile(r"[0-9][0-9.,'\u00a0\u202f ]*")
GROUPED = re.compile(r"[0-9]{1,3}(['\u00a0\u202f ][0-9]{3})+([.,][0-9]+)?")
"""An amount whose thousands are set apart by neither point nor comma."""
WRITTEN_DAY, DOTTED_DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})"), re.compile(r"([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})")
GUARDED = re.compile(r"^'(?=[=+\-@])")
"""How a text begins that was kept from being run by a spreadsheet."""


@dataclass(frozen=True)
class PriceRead:
    """One price of the list: amount, currency (empty where the row names none), source and day."""

    amount: float
    currency: str
    source: str
    date: str


@dataclass
class PriceList:
    """Prices by the key of their part, and what could not be read; a part without an amount has no price."""

    prices: dict[str, PriceRead] = field(default_factory=dict)
    problems: list[RowProblem] = field(default_factory=list)


def price_rows(parts: Sequence[Part]) -> list[tuple[object, ...]]:
    """The list as rows for a spreadsheet, header first, with the prices that are known."""
    rows: list[tuple[object, ...]] = [COLUMNS]
    for part in parts:
        price = part.price
        known = (price.amount, price.currency, price.source, price.date) if price else (None, None, None, None)
        rows.append((part.key, part.name, float(part.quantity), part.unit, *known))
    return rows


def read_prices(raw: bytes, wanted: Sequence[str] = ()) -> PriceList:
    """Prices of a file that somebody filled in.

    Parameters
    ----------
    raw : UTF-8 with or without a mark at its start, or Windows-1252; commas, semicolons or tabs between the cells
    wanted : keys of the parts that the design needs; those without a row are told

    Raises
    ------
    InputError
        with one sentence where it is no such file at all.
    """
    text = text_of(raw, CALLED, "prices", LARGEST, "keep one row for each part")
    rows = cells(text, CALLED, "prices")
    header = [cell.strip().lower().replace(" ", "_") for cell in rows[0][1]] if rows else []
    named = [name for name in header if name]
    if not {"part", "unit_price"} <= set(named):
        told = "the price list has no columns part and unit_price; begin with the list of this page"
        raise input_error("prices", "file_unreadable", told)
    if len(set(named)) < len(named):
        raise input_error("prices", "file_unreadable", "the price list has two columns of the same name; keep one of them")
    if len(rows) - 1 > MOST_ROWS:
        told = f"the price list has {len(rows) - 1} rows; at most {MOST_ROWS} are read; shorten it"
        raise input_error("prices", "file_too_long", told)
    found, seen = PriceList(), set[str]()
    for number, row in rows[1:]:
        read_row(found, seen, number, header, [cell.strip() for cell in row])
    told = ", so its price stays missing"
    found.problems += [RowProblem(0, "part", f"the list has no row for {key}{told}") for key in wanted if key not in seen]
    return found


def read_row(found: PriceList, seen: set[str], number: int, header: Sequence[str], cells: Sequence[str]) -> None:
    """One row: its price is kept where part and amount have one reading each."""
    row = dict(zip(header, cells, strict=False))
    key = row.get("part", "").lstrip("'").lower()

    def wrong(column: str, sentence: str) -> None:
        found.problems.append(RowProblem(number, column, sentence))

    if key not in KEYS:
        wrong("part", f"“{key[:40]}” is no part of the list; take the names of this page")
    elif key in seen:
        wrong("part", f"{key} has two rows; the first one is kept")
    elif broken(header, cells):
        wrong("unit_price", "a price with a comma falls into two cells here; put it in quotes or write a point; it is left out")
    elif row.get("unit_price"):
        told = quantity_words(row["quantity"]) if "quantity" in row else ""
        if told:
            wrong("quantity", told)
        try:
            amount, sign = amount_of(row["unit_price"])
        except InputError as error:
            wrong("unit_price", error.problems[0].detail)
        else:
            found.prices[key] = price_of(found, number, row, amount, sign)
    seen.add(key)


def broken(header: Sequence[str], cells: Sequence[str]) -> bool:
    """Whether a price like 24,90 was taken apart by the commas between the cells.

    Examples
    --------
    >>> broken(["part", "unit_price"], ["cable", "24", "90"]), broken(["part", "unit_price"], ["cable", "24,90"])
    (True, False)
    """
    after = header.index("unit_price") + 1
    cents = after < min(len(header), len(cells)) and header[after] != "quantity" and re.fullmatch("[0-9]{1,2}", cells[after])
    return len(cells) > len(header) or bool(cents)


def quantity_words(text: str) -> str:
    """What is told of a quantity: those of the design count, whatever the file says; nothing to say of one above zero."""
    if text and re.search("[1-9]", text) and not text.startswith(("-", "\N{MINUS SIGN}")):
        return ""
    return f"the quantity is {f'“{text[:12]}”' if text else 'empty'}; that of the design counts, and the price is kept"


def price_of(found: PriceList, number: int, row: Mapping[str, str], amount: float, sign: str) -> PriceRead:
    """The price of a row whose amount could be read; what is odd beside it is told."""
    told: list[tuple[str, str]] = []
    if amount == 0:
        told.append(("unit_price", "a price of zero is kept: it costs nothing; leave it empty where no price is known"))
    currency = row.get("currency", "").lstrip("'").upper()
    currency = SIGNS.get(currency, currency) or sign
    if currency and not re.fullmatch(r"[A-Z]{3}", currency):
        kept = f"the price is kept with {sign}" if sign else "the price is kept without it"
        told.append(("currency", f"“{currency[:12]}” is no currency; write three letters, such as EUR; {kept}"))
        currency = sign
    if currency and sign and currency != sign:
        told.append(("currency", f"the price says {sign} and the column {currency}; the column is kept"))
    first = next((price.currency for price in found.prices.values() if price.currency), currency)
    if currency and currency != first:
        told.append(("currency", f"{currency} is not the {first} of the rows above; it is kept, but never added to them"))
    day, said = day_of(row.get("date", "").lstrip("'"))
    if said:
        told.append(("date", said))
    found.problems += [RowProblem(number, column, sentence) for column, sentence in told]
    return PriceRead(amount, currency, plain(row.get("source", "")), day)


def amount_of(text: str) -> tuple[float, str]:
    """An amount and the currency that stands beside it, empty where none does.

    Raises
    ------
    InputError
        with one sentence where it has no reading, or two.

    Examples
    --------
    >>> amount_of("€ 1.234,50"), amount_of("24.90 NZD"), amount_of("1 234")
    ((1234.5, 'EUR'), (24.9, 'NZD'), (1234.0, ''))
    """
    bare = text.strip().lstrip("'").strip()
    if bare.startswith(("-", "\N{MINUS SIGN}")):
        raise input_error("unit_price", "negative", f"“{bare[:20]}” is below zero; a price is not; it is left out")
    match = AMOUNT.search(bare)
    beside = (bare[: match.start()] + bare[match.end() :]).strip() if match else bare
    sign = SIGNS.get(beside, beside.upper() if re.fullmatch(r"[A-Za-z]{3}", beside) else "")
    if match is None or (beside and not sign):
        several = " can mean several currencies; write three letters" if beside in ("$", "kr", "¥") and match else " is no price"
        raise input_error("unit_price", "not_a_number", f"“{bare[:20]}”{several}, such as 24.90; it is left out")
    return plain_amount(match[0].strip(), bare), sign


def plain_amount(digits: str, shown: str) -> float:
    """The number that digits with marks mean; one mark before three digits has two readings."""
    close = re.sub(r"['\u00a0\u202f ]", "", digits) if GROUPED.fullmatch(digits) else digits
    marks = re.findall("[.,]", close)
    if not marks and close.isdigit():
        return limited(float(close), shown)
    last = marks[-1] if marks else "."
    other = "," if last == "." else "."
    whole, _, part = close.rpartition(last)
    if len(marks) > 1 and re.fullmatch(rf"\d{{1,3}}(\{last}\d{{3}})+", close):
        return limited(float(close.replace(last, "")), shown)
    if re.fullmatch(rf"\d+|\d{{1,3}}(\{other}\d{{3}})+", whole) and part.isdigit():
        if len(marks) == 1 and len(part) == 3 and whole != "0" and len(whole) <= 3:
            both = f"{whole}.{part} or {whole}{part}"
            raise input_error(
                "unit_price", "two_readings", f"“{shown[:20]}” can be read in two ways; write {both}; it is left out"
            )
        return limited(float(f"{whole.replace(other, '')}.{part}"), shown)
    raise input_error("unit_price", "not_a_number", f"“{shown[:20]}” is no price, such as 24.90; it is left out")


def limited(amount: float, shown: str) -> float:
    """An amount that a part can cost."""
    if amount > 100_000:
        raise input_error("unit_price", "out_of_range", f"“{shown[:20]}” is more than 100000; check it; it is left out")
    return amount


def day_of(text: str) -> tuple[str, str]:
    """A day as a design file has it, and a sentence where it has no reading or two.

    Examples
    --------
    >>> day_of("31.5.2026"), day_of("2026-05-31"), day_of("5/6/2026")[1]
    (('2026-05-31', ''), ('2026-05-31', ''), '“5/6/2026” is no day with one reading; write it like 2026-05-31; it is left out')
    >>> day_of("2026-02-30")[0]
    ''
    """
    if not text:
        return "", ""
    written, dotted = WRITTEN_DAY.fullmatch(text), DOTTED_DAY.fullmatch(text)
    year, month, day = written.groups() if written else reversed(dotted.groups()) if dotted else ("0", "0", "0")
    try:
        return datetime.date(int(year), int(month), int(day)).isoformat(), ""
    except ValueError:
        told = "is in no calendar" if written or dotted else "is no day with one reading"
        return "", f"“{text[:20]}” {told}; write it like 2026-05-31; it is left out"


def plain(text: str) -> str:
    """A source on one line, no longer than a design file takes, without the mark that kept it from being run."""
    return "".join(letter for letter in GUARDED.sub("", text, count=1) if letter.isprintable())[:LONGEST_CELL]
