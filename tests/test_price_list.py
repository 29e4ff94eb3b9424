"""A price list as CSV: what has one reading is read, everything else is named by row and column and the rest kept."""

import codecs

import pytest

from sizing.errors import InputError
from sizing.price_list import COLUMNS, PriceRead, amount_of, read_prices

HEAD = "part,unit_price,currency,source,date\r\n"


def lines(*rows: str, head: str = HEAD) -> bytes:
    return (head + "".join(f"{row}\r\n" for row in rows)).encode()


@pytest.mark.parametrize(
    ("text", "amount", "currency"),
    [
        ("24.90", 24.9, ""),
        ("24,90", 24.9, ""),
        ("1,234.50", 1234.5, ""),
        ("1.234,50", 1234.5, ""),
        ("1 234,50", 1234.5, ""),
        ("1\N{NO-BREAK SPACE}234", 1234.0, ""),
        ("1'234.50", 1234.5, ""),
        ("1,234,567", None, ""),
        ("12,345,678", None, ""),
        ("€ 24.90", 24.9, "EUR"),
        ("24.90 EUR", 24.9, "EUR"),
        ("eur 24.90", 24.9, "EUR"),
        ("£3", 3.0, "GBP"),
        ("0,125", 0.125, ""),
        ("0", 0.0, ""),
        ("1234,567", 1234.567, ""),
    ],
)
def test_amounts_with_one_reading(text: str, amount: float | None, currency: str) -> None:
    """An amount above 100000 has one reading too, and is refused as too much."""
    if amount is None:
        with pytest.raises(InputError, match="is more than 100000"):
            amount_of(text)
    else:
        assert amount_of(text) == (amount, currency)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("-3", "is below zero"),
        ("\N{MINUS SIGN}3", "is below zero"),
        ("1,234", "can be read in two ways; write 1.234 or 1234"),
        ("1.234", "can be read in two ways"),
        ("$12", "can mean several currencies"),
        ("about 3", "is no price"),
        ("1.2.3", "is no price"),
        ("1,23.4", "is no price"),
        ("3..4", "is no price"),
        ("free", "is no price"),
        ("nan", "is no price"),
        ("1e3", "is no price"),
    ],
)
def test_amounts_without_one(text: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        amount_of(text)


@pytest.mark.parametrize("between", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252"])
def test_separators_and_encodings(between: str, encoding: str) -> None:
    text = between.join(("Part", "Name", "Unit Price", "currency", "source")) + "\r\n"
    text += between.join(("pipe", "Rohr für außen", '"2,35"', "eur", "Händler")) + "\r\n"
    found = read_prices(text.encode(encoding))
    assert (found.prices, found.problems) == ({"pipe": PriceRead(2.35, "EUR", "Händler", "")}, [])


def test_what_is_wrong_is_named_and_the_rest_kept() -> None:
    raw = lines(
        "cable,1.85,EUR,shop,2026-05-31",
        "pipe,-3,EUR,,",
        "liner,12.5,NZD,,31.5.2026",
        "cable,2,EUR,,",
        "foo,3,EUR,,",
        "fuse,,EUR,,",
        "switch,7.3,EUR,,5/6/2026",
        "outlet,4,euro,,",
        ",,,,",
    )
    found = read_prices(raw, ["cable", "cover"])
    assert {key: price.amount for key, price in found.prices.items()} == {
        "cable": 1.85, "liner": 12.5, "switch": 7.3, "outlet": 4.0,
    }  # fmt: skip
    assert found.prices["liner"].date == "2026-05-31"
    assert [(each.row, each.column) for each in found.problems] == [
        (3, "unit_price"), (4, "currency"), (5, "part"), (6, "part"), (8, "date"), (9, "currency"), (0, "part"),
    ]  # fmt: skip
    assert "no row for cover" in found.problems[-1].sentence
    assert all(each.sentence for each in found.problems)


def test_a_safe_cell_of_our_own_list_is_read_back() -> None:
    """A spreadsheet's guard, an apostrophe before a minus, is no part of what stands there."""
    assert read_prices(lines("'pipe,'2.5,'EUR,,'2026-05-31")).prices["pipe"] == PriceRead(2.5, "EUR", "", "2026-05-31")


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "is no text"),
        (b"  \r\n", "is no text"),
        (b"PK\x03\x04\0\0", "is no text"),
        (b"a,b\r\n1,2\r\n", "has no columns part and unit_price"),
        (b"x" * 100_001, "is larger than 100 KB"),
        (lines(*["pipe,1,EUR,,"] * 201), "has 201 rows"),
        (b'part,unit_price\r\npipe,"1.5', "breaks off inside a quoted cell"),
        (codecs.BOM_UTF16_LE + "part,unit_price".encode("utf-16-le"), "is no text"),
    ],
)
def test_files_that_are_none(raw: bytes, said: str) -> None:
    with pytest.raises(InputError, match=said):
        read_prices(raw)


def test_columns_of_the_list() -> None:
    assert COLUMNS == ("part", "name", "quantity", "unit", "unit_price", "currency", "source", "date")
