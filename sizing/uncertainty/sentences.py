"""Chances in words."""

from sizing.uncertainty.chance import Chance, Outlook
from sizing.uncertainty.draws import DRAWS

SURE, NEVER = 0.995, 0.005
"""[1] A chance beyond these is told as more, or less, than a hundred draws can tell."""
SPACE = "\N{NO-BREAK SPACE}"
OUTLOOKS: dict[Outlook, str] = {"likely": "likely", "even": "even chance", "unlikely": "unlikely"}


def chance_words(chance: float) -> str:
    """A chance in per cent.

    Examples
    --------
    >>> [chance_words(each).replace(SPACE, " ") for each in (0.883, 1.0, 0.001)]
    ['88 %', 'more than 99 %', 'less than 1 %']
    """
    if chance >= SURE:
        return f"more than 99{SPACE}%"
    return f"less than 1{SPACE}%" if chance < NEVER else f"{max(round(100 * chance), 1)}{SPACE}%"


def outlook_words(found: Chance) -> str:
    """How a goal stands, with its chance.

    Examples
    --------
    >>> outlook_words(Chance(0.883, "likely", 1.2)).replace(SPACE, " ")
    'likely (88 %)'
    """
    return f"{OUTLOOKS[found.outlook]} ({chance_words(found.chance)})"


def chance_explained() -> str:
    """What a chance of the goal means and how it is worked out."""
    return (
        f"We try {DRAWS} sets of errors: in each, the sky, the clouds, the panel, the pump, the pipe and the nozzle all differ "
        "from what was typed or assumed, as far as the list of causes says. The chance is the share of them that meets the goal. "
        "Likely means at least five in six. Unlikely means less than one in three. Between the two it may go either way. "
        "What you measure moves the chance toward yes or no."
    )


def margin_words(found: Chance) -> str:
    """How much sun there is to spare, or lacks, in the poorest month; nothing where no sun would do."""
    if found.margin is None:
        return ""
    share = f"{abs(round(100 * (found.margin - 1)))}{SPACE}%"
    if found.margin >= 1:
        return f"With everything as taken, the poorest month has {share} more sun than the goal needs."
    return f"With everything as taken, the poorest month has {share} less sun than the goal needs."
