"""What would meet a goal, as plain text for a terminal, at most 80 columns wide."""

from api.command.printed import CAUTION, Block, Sentence, heading, laid_out, listed
from sizing.answers import PlaceAnswer
from sizing.reach import TRIED, Reach, headline, lead, offer_sentence
from sizing.report import goal_words


def reach_text(found: Reach, encoding: str = "utf-8") -> str:
    """The whole search for people, in what the ``encoding`` of the terminal can show."""
    place, sky = found.setting.place, found.setting.sky
    offers = [f"{number}. {offer_sentence(found.design, offer)}" for number, offer in enumerate(found.offers, 1)]
    paragraphs: list[Block] = [
        heading(found.design.title, PlaceAnswer.of(place), sky.title),
        [Sentence(headline(found)), *(Sentence(each) for each in lead(found, goal_words))],
        listed("Likely ones first, then fewest changes, then the cheapest", offers),
        [] if not found.offers else [Sentence(TRIED)],
        [Sentence(CAUTION)],
    ]
    texts = ("\n".join(laid_out(paragraph, encoding)) for paragraph in paragraphs if paragraph)
    return "\n\n".join(texts) + "\n"
