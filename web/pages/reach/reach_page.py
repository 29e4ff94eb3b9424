"""What would meet a goal: offers by rank, each with what it changes, reaches and costs, and a button that takes it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from starlette.responses import Response

from sizing.foundation import SizingError
from sizing.reach import (
    TRIED,
    Offer,
    Reach,
    ask_words,
    chance_said,
    changes_of_key,
    cost_words,
    headline,
    lead,
    offer_words,
    reach,
    reach_answer,
    reached_words,
    read_again,
    with_chosen,
)
from sizing.report import goal_words
from web.exports.reach import offers_csv
from web.forms.form import Texts, sentences_of, texts_of, tidy, understand
from web.forms.sending import Fields, carried, filled, href, method_for
from web.pages.frame.leads import leads
from web.pages.frame.site import page, spreadsheet
from web.pages.garden.form_page import form

OFFER = "offer"
"""Name of the field that says which offer was pressed."""


@dataclass(frozen=True)
class Row:
    """An offer: its name, its words, what is reached, how surely, what it costs, and what has to be asked first."""

    key: str
    words: str
    reached: str
    chance: str
    cost: str
    ask: str


def reach_page(fields: Fields) -> Response:
    """What would meet the goal; the form again if something is wrong with the design, or where it sets no goal."""
    texts, found, errors = searched(fields)
    if found is None:
        return form(texts, errors)
    return page("reach.html", current="/reach", **reach_content(found, texts))


def reach_table(fields: Fields) -> Response:
    """The offers as RFC 4180; the form again if something is wrong with the design."""
    texts, found, errors = searched(fields)
    if found is None:
        return form(texts, errors)
    return spreadsheet(offers_csv(reach_answer(found)), "fountain-changes.csv")


def searched(fields: Fields) -> tuple[Texts, Reach | None, dict[str, str]]:
    """Search the changes for what was sent, or say what is wrong with it."""
    texts = tidy(fields)
    understood = understand(texts)
    if understood.design is None:
        return texts, None, understood.errors
    try:
        return texts, reach(understood.design), {}
    except SizingError as error:
        return texts, None, sentences_of(texts, error.problems)


def with_offer(fields: Fields) -> dict[str, str]:
    """What was sent with the offer that was pressed put in; as it was where there is no such offer."""
    texts = {name: text for name, text in fields.items() if name != OFFER}
    design = understand(texts).design
    if design is None:
        return texts
    changes = changes_of_key(design, fields.get(OFFER, ""))
    if not changes:
        return texts
    try:
        before, after = texts_of(with_chosen(design)), texts_of(read_again(design, changes))
    except SizingError:
        return texts
    kept = {name: text for name, text in texts.items() if name in after or name not in before}
    return kept | {name: text for name, text in after.items() if before.get(name) != text}


def reach_content(found: Reach, texts: Mapping[str, str]) -> dict[str, Any]:
    """Everything that the page prints."""
    texts = filled(texts)
    line = leads(texts, "/reach")
    nearest = found.nearest if not found.offers else None
    return {
        "title": found.design.title,
        "leads": line,
        "sender": "whole-design" if line.carried else "reach-form",
        "method": method_for(texts),
        "carried": carried(texts),
        "headline": headline(found),
        "lead": lead(found, goal_words),
        "rows": [row_of(found, offer) for offer in found.offers],
        "nearest": None if nearest is None else row_of(found, nearest),
        "likely": found.chance.outlook == "likely",
        "asks": any(offer.ask_volts for offer in found.offers),
        "tried": TRIED,
        "number": found.tried,
        "change": href("/", texts, "goal-questions"),
    }


def row_of(found: Reach, offer: Offer) -> Row:
    """One offer."""
    reached, chance, cost = (
        said[:1].upper() + said[1:] for said in (reached_words(offer.reached), chance_said(offer), cost_words(offer.cost))
    )
    return Row(offer.key, offer_words(found.design, offer), reached, chance, cost, ask_words(offer))
