"""Sums as a reader writes them: the text of a formula, with names or with numbers put in.

``sizing.foundation.working`` keeps each formula as a Python expression. Here the expression is taken apart and
written again with × and ÷, raised exponents, and names with spaces.
"""

import ast
from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from sizing.foundation import formats
from sizing.report import MONTH_IDS

SIGNS: dict[type[ast.AST], str] = {
    ast.Add: "+",
    ast.Sub: formats.MINUS,
    ast.Mult: "×",
    ast.Div: "÷",
    ast.Lt: "<",
    ast.LtE: "≤",
    ast.Gt: ">",
    ast.GtE: "≥",
    ast.Eq: "=",
    ast.BitAnd: "and",
    ast.BitOr: "or",
}
FUNCTIONS = {
    "log": "ln",
    "log10": "log₁₀",
    "arccos": "arc cos",
    "arcsin": "arc sin",
    "arctan": "arc tan",
    "arctan2": "arc tan",
    "minimum": "the smaller of ",
    "maximum": "the larger of ",
    "abs": "size of ",
    "radians": "in radians ",
    "degrees": "in degrees ",
}
CONSTANTS = {"pi": "π"}
PROPER = dict(zip(MONTH_IDS, formats.MONTHS, strict=True)) | {
    name.lower(): name for name in ("GHI", "DNI", "DHI", "EMF", "Faiman", "Reynolds", "Boltzmann")
}
"""Words of names that keep their capitals."""
SUM, PRODUCT, SIGN, POWER, ATOM = 1, 2, 3, 4, 5
LOOSE, FIRM, TIGHTER = (ast.Add, ast.Sub), (ast.Mult, ast.Div), (ast.Sub, ast.Div)
"""Signs of sums, signs of products, and those whose right side holds tighter than their left."""


class Piece(NamedTuple):
    """Written text and how tightly it holds together; ``spaced`` is true where a space stands inside."""

    text: str
    strength: int
    spaced: bool = False


@lru_cache(maxsize=1024)
def name(identifier: str) -> str:
    """Write a name of the code in words.

    Examples
    --------
    >>> name("friction_factor"), name("water_in_june"), name("back_emf")
    ('friction factor', 'water in June', 'back EMF')
    """
    return CONSTANTS.get(identifier) or " ".join(PROPER.get(word, word) for word in identifier.split("_")).strip()


@lru_cache(maxsize=512)
def formula(text: str) -> str:
    """Write a formula with ×, ÷, raised exponents and names in words.

    Text that is no expression comes back with its underscores opened.

    Examples
    --------
    >>> formula("friction_factor * length / diameter * velocity**2 / (2 * g)")
    'friction factor × length ÷ diameter × velocity² ÷ (2 × g)'
    >>> formula("pump_head = system_head")
    'pump head = system head'
    """
    return write(text, {})


def put_in(text: str, inputs: Mapping[str, tuple[float, str]], digits: int = 4) -> str:
    """Write a formula with its numbers and their units (UCUM codes) put in.

    Examples
    --------
    >>> put_in("velocity**2 / (2 * g)", {"velocity": (0.741, "m/s"), "g": (9.80665, "m/s2")}).replace(formats.SPACE, " ")
    '(0.741 m/s)² ÷ (2 × 9.807 m/s²)'
    """
    texts, kinds = {}, []
    for identifier, (value, code) in inputs.items():
        shown = formats.quantity(value, code, digits)
        strength = (PRODUCT if "×" in shown else ATOM) if value >= 0 else (SUM if "×" in shown else SIGN)
        texts[identifier] = shown
        kinds.append((identifier, strength, formats.SPACE in shown))
    return layout(text, tuple(kinds)).format_map(texts)


@lru_cache(maxsize=1024)
def layout(text: str, kinds: tuple[tuple[str, int, bool], ...]) -> str:
    """A formula with a mark in place of each input: its brackets depend on how the inputs hold together, not on their numbers.

    Examples
    --------
    >>> layout("rise / run", (("rise", SIGN, True), ("run", ATOM, True)))
    '{rise} ÷ {run}'
    """
    return write(text, {identifier: Piece(f"{{{identifier}}}", strength, spaced) for identifier, strength, spaced in kinds})


def write(text: str, inputs: Mapping[str, Piece]) -> str:
    """Write a formula or an equation; each side of an equals sign is an expression of its own."""
    try:
        sides = sides_of(text)
    except SyntaxError:
        return name(text)
    return " = ".join(piece(side, inputs).text for side in sides)


@lru_cache(maxsize=512)
def sides_of(text: str) -> tuple[ast.expr, ...]:
    """The expressions on both sides of an equation, or the one of a formula; formulas are few and met again."""
    return tuple(ast.parse(side.strip(), mode="eval").body for side in text.split(" = "))


def held(part: Piece, strength: int) -> str:
    """Put brackets around what holds together less tightly than asked."""
    return part.text if part.strength >= strength else f"({part.text})"


def piece(node: ast.AST, inputs: Mapping[str, Piece]) -> Piece:
    """Write one node of the expression."""
    if isinstance(node, ast.Name):
        return inputs.get(node.id) or Piece(name(node.id), ATOM, "_" in node.id)
    if isinstance(node, ast.BinOp):
        return power(node, inputs) if isinstance(node.op, ast.Pow) else binary(node, inputs)
    match node:
        case ast.Constant(value=int() | float() as value):
            shown = formats.figures(value, 15)
            return Piece(shown, ATOM if "×" not in shown else PRODUCT, "×" in shown)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return Piece(formats.MINUS + held(piece(operand, inputs), POWER), SIGN)
        case ast.Compare(left=left, ops=operators, comparators=others):
            text = held(piece(left, inputs), SUM)
            for operator, other in zip(operators, others, strict=True):
                text += f" {SIGNS.get(type(operator), '?')} {held(piece(other, inputs), SUM)}"
            return Piece(text, 0)
        case ast.Call(func=ast.Name(id=called), args=arguments):
            return call(called, [piece(argument, inputs) for argument in arguments])
    return Piece(name(ast.unparse(node)), ATOM, True)


def binary(node: ast.BinOp, inputs: Mapping[str, Piece]) -> Piece:
    """Write a sum, difference, product or quotient; the right side of − and ÷ holds tighter."""
    strength = SUM if isinstance(node.op, LOOSE) else PRODUCT if isinstance(node.op, FIRM) else 0
    left, right = piece(node.left, inputs), piece(node.right, inputs)
    least = strength + isinstance(node.op, TIGHTER)
    if right.strength == SIGN:
        least = max(least, SIGN + 1)
    return Piece(f"{held(left, strength)} {SIGNS.get(type(node.op), '?')} {held(right, least)}", strength)


def power(node: ast.BinOp, inputs: Mapping[str, Piece]) -> Piece:
    """Write a power: raised where the exponent is a whole number, a root for one half, ``^`` otherwise."""
    base, exponent = piece(node.left, inputs), node.right
    below = f"({base.text})" if base.strength < ATOM or base.spaced else base.text
    try:
        value = ast.literal_eval(exponent)
    except ValueError:
        return Piece(f"{below}^({piece(exponent, inputs).text})", POWER)
    if value == 0.5:
        return Piece(f"√{below}", POWER)
    if value == int(value):
        return Piece(below + formats.superscript(int(value)), POWER)
    return Piece(f"{below}^{formats.figures(value, 6)}", POWER)


def call(called: str, arguments: list[Piece]) -> Piece:
    """Write a function of its arguments."""
    texts = [argument.text for argument in arguments]
    if called == "sqrt":
        return Piece(f"√{held(arguments[0], ATOM) if not arguments[0].spaced else f'({texts[0]})'}", POWER)
    if called == "where":
        return Piece(f"({texts[1]} where {texts[0]}, otherwise {texts[2]})", ATOM, True)
    between = " and " if called in ("minimum", "maximum") else ", "
    return Piece(f"{FUNCTIONS.get(called, name(called))}({between.join(texts)})", ATOM, True)
