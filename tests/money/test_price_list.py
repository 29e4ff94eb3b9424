"""A price list as CSV: what has one reading is read, everything else is named by row and column, nothing is guessed."""

import contextlib
import csv
import io
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sizing.design.budget_input import Price
from sizing.foundation.errors import InputError
from sizing.money.parts import Part
from sizing.money.price_list import COLUMNS, LARGEST, PriceRead, amount_of, day_of, price_rows, read_prices
from tests.draws import drawn
from web.exports.months import csv_text

HEAD = ",".join(COLUMNS)
SPACE, THIN = "\N{NO-BREAK SPACE}", "\N{NARROW NO-BREAK SPACE}"


def told(text: str, wanted: tuple[str, ...] = ()) -> list[tuple[int, str]]:
    """Row and column of everything that a list is told of."""
    return [(each.row, each.column) for each in read_prices(text.encode(), wanted).problems]


def row(price: str, currency: str = "EUR", day: str = "", quantity: str = "8", key: str = "cable") -> str:
    """A list of one row; the price in quotes, for it may hold a comma."""
    return f'{HEAD}\r\n{key},two cores,{quantity},m,"{price}",{currency},shop,{day}\r\n'


# Amounts


@pytest.mark.parametrize(
    ("text", "amount", "currency"),
    [
        ("24.90", 24.9, ""),
        ("24,9", 24.9, ""),
        ("0", 0.0, ""),
        ("0.305", 0.305, ""),
        ("0,305", 0.305, ""),
        ("1,234.50", 1234.5, ""),
        ("1.234,50", 1234.5, ""),
        ("1 234,50", 1234.5, ""),
        (f"1{SPACE}234", 1234.0, ""),
        (f"12{THIN}345.6", 12345.6, ""),
        ("1'234.50", 1234.5, ""),
        ("1234.567", 1234.567, ""),
        ("€ 24.90", 24.9, "EUR"),
        ("24,90 €", 24.9, "EUR"),
        ("£7", 7.0, "GBP"),
        ("24.90 EUR", 24.9, "EUR"),
        ("nzd 3", 3.0, "NZD"),
    ],
)
def test_amounts_with_one_reading(text: str, amount: float, currency: str) -> None:
    assert amount_of(text) == (amount, currency)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1,234", "“1,234” can be read in two ways; write 1.234 or 1234; it is left out"),
        ("24.905", "“24.905” can be read in two ways; write 24.905 or 24905; it is left out"),
        ("-3", "“-3” is below zero; a price is not; it is left out"),
        ("\N{MINUS SIGN}3", "“\N{MINUS SIGN}3” is below zero; a price is not; it is left out"),
        ("$12", "“$12” can mean several currencies; write three letters, such as 24.90; it is left out"),
        ("1,234,567", "“1,234,567” is more than 100000; check it; it is left out"),
        ("100001", "“100001” is more than 100000; check it; it is left out"),
        *(
            (text, f"“{text}” is no price, such as 24.90; it is left out")
            for text in (
                "dear",
                "1e3",
                "nan",
                "12 34",
                "12.50 000",
                "1234 500",
                "3-",
                "1.2.3",
                "3..4",
                "1,23.4",
                "1,23,456",
                "2 for 5",
                "(3)",
                "٣",
            )
        ),
    ],
)
def test_amounts_without_one_reading_are_left_out_and_named(text: str, said: str) -> None:
    found = read_prices(row(text).encode())
    assert found.prices == {}
    assert [(each.row, each.column, each.sentence) for each in found.problems] == [(2, "unit_price", said)]


@drawn(40)
@given(st.decimals(0, 99999, places=2), st.sampled_from([("", "."), ("", ","), (",", "."), (".", ","), (" ", ","), ("'", ".")]))
def test_an_amount_is_read_as_it_was_written(amount: Decimal, marks: tuple[str, str]) -> None:
    thousands, point = marks
    text = f"{amount:,.2f}".replace(",", "t").replace(".", point).replace("t", thousands)
    assert amount_of(text)[0] == float(amount)


# Days


@pytest.mark.parametrize(
    ("text", "day"), [("", ""), ("2026-05-31", "2026-05-31"), ("31.5.2026", "2026-05-31"), ("01.06.2026", "2026-06-01")]
)
def test_days_with_one_reading(text: str, day: str) -> None:
    assert day_of(text) == (day, "")


@pytest.mark.parametrize("text", ["5/6/2026", "31.2.2026", "2026-02-30", "0000-00-00", "May 2026", "31.5.26", "2026-5-31"])
def test_other_days_are_left_out_and_the_price_is_kept(text: str) -> None:
    found = read_prices(row("2", day=text).encode())
    assert found.prices["cable"] == PriceRead(2.0, "EUR", "shop", "")
    assert [(each.row, each.column) for each in found.problems] == [(2, "date")]
    assert found.problems[0].sentence.endswith("write it like 2026-05-31; it is left out")


# Files


PLAIN = "Part,Unit Price,CURRENCY\ncable,1.85,EUR\npipe,2.4,EUR\n"


@pytest.mark.parametrize(
    "raw",
    [
        PLAIN.encode(),
        PLAIN.encode("utf-8-sig"),
        PLAIN.replace("\n", "\r\n").encode(),
        PLAIN.replace("\n", "\r").encode(),
        PLAIN.replace(",", "\t").encode(),
        PLAIN.replace(",", ";").replace(".", ",").encode(),
        b"sep=;\r\n" + PLAIN.replace(",", ";").encode(),
        b"Currency;part;unit_price\nEUR;cable;1,85\nEUR;PIPE;2,4\n",
        b"part;unit_price\ncable;1,85 \x80\npipe;2,4 \x80\n",  # the euro sign of Windows-1252
        b"\n\npart,unit_price,currency\n\n,,\ncable,1.85,eur\npipe,'2.40,EUR\n",
    ],
)
def test_files_of_many_programs_say_the_same(raw: bytes) -> None:
    found = read_prices(raw, ("cable", "pipe"))
    assert found.prices == {"cable": PriceRead(1.85, "EUR", "", ""), "pipe": PriceRead(2.4, "EUR", "", "")}
    assert found.problems == []


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "is no text"),
        (b" \r\n", "is no text"),
        (b"PK\x03\x04\x00\x00", "is no text; save it as CSV and send that"),
        (b"%PDF-1.7\n\xff\xfe", "no columns part and unit_price"),
        (b"part,price\ncable,2\n", "no columns part and unit_price; begin with the list of this page"),
        (b"part,unit_price,unit_price\ncable,2,3\n", "two columns of the same name; keep one of them"),
        (b'part,unit_price\ncable,"2\n', "breaks off inside a quoted cell; save it again as CSV"),
        (b"part,unit_price\n" + b"x,1\n" * 201, "has 201 rows; at most 200 are read; shorten it"),
        (b"part,unit_price\n" + b" " * LARGEST, "is larger than 100 KB; keep one row for each part"),
    ],
)
def test_what_is_no_list_is_refused_with_one_sentence(raw: bytes, said: str) -> None:
    with pytest.raises(InputError) as error:
        read_prices(raw)
    assert len(error.value.problems) == 1
    assert said in error.value.problems[0].detail


def test_two_hundred_rows_are_read() -> None:
    rows = f"{HEAD}\n" + "cable,,1,m,2,EUR,,\n" * 200
    assert told(rows) == [(number, "part") for number in range(3, 202)]


@pytest.mark.parametrize("between", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_letters_of_other_languages(between: str, encoding: str) -> None:
    text = between.join(("Part", "Name", "Unit Price", "source")) + "\r\n"
    text += between.join(("pipe", "Rohr für außen", '"2,35"', "Händler")) + "\r\n"
    assert read_prices(text.encode(encoding)).prices == {"pipe": PriceRead(2.35, "", "Händler", "")}


# Rows


@pytest.mark.parametrize(
    "line", ["cable,c,8,m,24,90,EUR,shop,2026-05-31", "cable,c,8,m,24,90,EUR,,", "cable,c,8,m,24,90,EUR", "cable,c,8,m,24,90"]
)
def test_a_decimal_comma_between_commas_is_never_read_as_a_smaller_price(line: str) -> None:
    found = read_prices(f"{HEAD}\n{line}\npipe,p,3,m,2,EUR,,\n".encode())
    assert list(found.prices) == ["pipe"]
    assert [(each.row, each.column) for each in found.problems] == [(2, "unit_price")]


def test_an_empty_price_is_missing_and_zero_is_a_price() -> None:
    found = read_prices(f"{HEAD}\ncable,,8,m,,EUR,,\nfixings,,4,pieces,0,EUR,,\n".encode(), ("cable", "fixings"))
    assert found.prices == {"fixings": PriceRead(0.0, "EUR", "", "")}
    assert [(each.row, each.column, each.sentence) for each in found.problems] == [
        (3, "unit_price", "a price of zero is kept: it costs nothing; leave it empty where no price is known")
    ]


def test_doubled_missing_and_unknown_rows_are_told_and_the_rest_is_kept() -> None:
    rows = ("cable,,8,m,2", "CABLE,,8,m,3", "hammer,,1,pieces,9", "switch,,1,pieces,", "switch,,1,pieces,4")
    text = "\n".join((HEAD, *(f"{row},EUR,," for row in rows)))
    found = read_prices(text.encode(), ("cable", "switch", "pipe"))
    assert {key: price.amount for key, price in found.prices.items()} == {"cable": 2.0}
    assert [each.sentence for each in found.problems] == [
        "cable has two rows; the first one is kept",
        "“hammer” is no part of the list; take the names of this page",
        "switch has two rows; the first one is kept",
        "the list has no row for pipe, so its price stays missing",
    ]


@pytest.mark.parametrize(
    ("quantity", "said"), [("8", []), ("7.3", []), ("", ["empty"]), ("0", ["“0”"]), ("0,0", ["“0,0”"]), ("-2", ["“-2”"])]
)
def test_quantities_of_the_design_count(quantity: str, said: list[str]) -> None:
    found = read_prices(row("2", quantity=f'"{quantity}"').encode())
    assert found.prices["cable"].amount == 2
    assert [each.sentence for each in found.problems] == [
        f"the quantity is {each}; that of the design counts, and the price is kept" for each in said
    ]


@pytest.mark.parametrize(
    ("price", "currency", "kept", "columns"),
    [
        ("2", "eur", "EUR", []),
        ("2", "€", "EUR", []),
        ("2 €", "", "EUR", []),
        ("2 €", "EUR", "EUR", []),
        ("2", "", "", []),
        ("2", "euros", "", ["currency"]),
        ("2 EUR", "?", "EUR", ["currency"]),
        ("2 €", "NZD", "NZD", ["currency"]),
    ],
)
def test_the_currency_of_a_row(price: str, currency: str, kept: str, columns: list[str]) -> None:
    found = read_prices(row(price, currency).encode())
    assert found.prices["cable"].currency == kept
    assert [each.column for each in found.problems] == columns


def test_another_currency_than_that_of_the_first_row_is_kept_and_told() -> None:
    found = read_prices(f"{HEAD}\ncable,,8,m,2,EUR,,\npipe,,3,m,3,NZD,,\nliner,,9,m²,4,EUR,,\n".encode())
    assert [price.currency for price in found.prices.values()] == ["EUR", "NZD", "EUR"]
    assert [(each.row, each.sentence) for each in found.problems] == [
        (3, "NZD is not the EUR of the rows above; it is kept, but never added to them")
    ]


# Both ways


def test_a_list_comes_back_as_it_went_out_and_nothing_in_it_can_be_run() -> None:
    parts = (
        Part(
            "panel", "a", '=HYPERLINK("x")', Decimal(2), "pieces", "for 1", Price(amount=54.5, currency="NZD", source="@shop, 2")
        ),
        Part("cable", "a", "cable", Decimal("7.5"), "m", "for 1", Price(amount=1.85, currency="NZD", date="2026-05-31")),
        Part("liner", "b", "liner", Decimal("9.0"), "m²", "for 1", None),
    )
    text = csv_text(price_rows(parts))
    for cells in csv.reader(io.StringIO(text)):
        assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in cells)
    found = read_prices(text.encode(), [part.key for part in parts])
    assert found.prices == {"panel": PriceRead(54.5, "NZD", "@shop, 2", ""), "cable": PriceRead(1.85, "NZD", "", "2026-05-31")}
    assert found.problems == []


@drawn(40)
@given(st.binary(max_size=60) | st.text(max_size=60).map(lambda text: f"part,unit_price,currency,date\ncable,{text}".encode()))
def test_no_file_ends_in_anything_but_prices_or_a_sentence(raw: bytes) -> None:
    with contextlib.suppress(InputError):
        assert all(0 <= price.amount <= 100_000 for price in read_prices(raw).prices.values())
