"""Answers on their way to a page: short ones in an address, long ones in a body, and links that carry either."""

from urllib.parse import parse_qsl, urlencode, urlsplit

import pytest
from starlette.exceptions import HTTPException

from web.forms.sending import (
    LONGEST_ADDRESS,
    LONGEST_LINK,
    MOST_ANSWERS,
    URLENCODED,
    apart,
    carried,
    href,
    method_for,
    sent_fields,
    short_address,
)
from web.pages.frame.leads import leads

LONG = {"note": "x" * LONGEST_ADDRESS}


@pytest.mark.parametrize("text", ["", "a=1", "ä & = + % 🐸 <b>", "7,3 m", " "])
def test_a_body_holds_what_an_address_would(text: str) -> None:
    fields = {"title": text, "note": "second"}
    body = urlencode(fields).encode()
    assert sent_fields(URLENCODED + "; charset=UTF-8", body) == fields
    assert dict(parse_qsl(urlsplit(short_address("/x", fields)).query)) == {n: t for n, t in fields.items() if t.strip()}


def test_of_a_name_that_stands_twice_the_last_counts() -> None:
    assert sent_fields(URLENCODED, b"a=1&a=2") == {"a": "2"}


@pytest.mark.parametrize(
    ("kind", "body", "status"),
    [
        ("multipart/form-data; boundary=x", b"", 415),
        ("application/json", b"{}", 415),
        ("", b"a=1", 415),
        (URLENCODED, b"&".join(b"%d=1" % number for number in range(MOST_ANSWERS + 1)), 413),
    ],
)
def test_what_no_form_sends_is_refused(kind: str, body: bytes, status: int) -> None:
    with pytest.raises(HTTPException) as refused:
        sent_fields(kind, body)
    assert refused.value.status_code == status


def test_bytes_that_are_no_text_are_replaced() -> None:
    assert sent_fields(URLENCODED, b"\xff=%ff") == {"\N{REPLACEMENT CHARACTER}": "\N{REPLACEMENT CHARACTER}"}


def test_an_address_is_short_to_the_last_byte() -> None:
    room = LONGEST_ADDRESS - len("/x?note=")
    assert len(short_address("/x", {"note": "x" * room})) == LONGEST_ADDRESS
    assert short_address("/x", {"note": "x" * (room + 1)}) == ""
    assert short_address("/x", {"note": "ä" * (room // 3 + 1)}) == ""  # six letters of an address for each


def test_links_of_a_long_design_lead_to_the_buttons_that_carry_it() -> None:
    assert href("/", LONG, "place-questions") == "#whole-design"
    assert (method_for(LONG), method_for({"note": "x"})) == ("post", "get")
    line = leads(LONG, "/sky")
    assert apart(line.carried) == LONG
    assert line.too_long
    assert {lead.href for lead in line.links} == {"#whole-design"}
    assert leads({"note": "x"}, "/sky") == leads({"note": "x", "title": " "}, "/sky")
    assert leads({"note": "x"}, "/sky").carried == {}


@pytest.mark.parametrize("length", [LONGEST_LINK, LONGEST_ADDRESS - 50])
def test_many_answers_stand_once_on_a_page_though_an_address_takes_them(length: int) -> None:
    texts = {"note": "x" * length, "title": "a=1&b=%20+ä"}
    assert apart(carried(texts)) == texts
    line = leads(texts, "/sky")
    assert apart(line.carried) == texts
    assert not line.too_long
    assert method_for(texts) == "post"


def test_what_is_sent_beside_all_answers_counts_more() -> None:
    assert apart({"moment.month": "6", "answers": "moment.month=1&answers=x"}) == {"moment.month": "6", "answers": "x"}
