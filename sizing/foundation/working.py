"""Numbers that carry their working: formula, numbers put in, unit and source.

The stages are plain functions. ``formula`` attaches to a function the text of its sum, its unit and
its source; ``work`` calls it once and keeps what went in, so that a page can unfold any shown number
down to what was typed, published, measured or assumed.
"""

import inspect
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, NamedTuple, TypeVar

Basis = Literal["given", "assumed", "published", "measured", "computed"]


class Constant(float):
    """A published number that can be used in any sum and knows its name, unit and source.

    Examples
    --------
    >>> gravity = Constant(9.80665, "standard_gravity", "m/s2", "iso_80000_3")
    >>> gravity * 2
    19.6133
    >>> gravity.unit
    'm/s2'
    """

    name: str
    unit: str
    source: str

    def __new__(cls, value: float, name: str, unit: str, source: str) -> "Constant":
        self = super().__new__(cls, value)
        self.name, self.unit, self.source = name, unit, source
        return self


@dataclass(frozen=True)
class Formula:
    """The text of a sum (a Python expression in the function's own argument names), unit, source key."""

    text: str
    unit: str
    source: str


FORMULAS: dict[Callable[..., Any], Formula] = {}

F = TypeVar("F", bound=Callable[..., Any])


def formula(text: str, unit: str, source: str) -> Callable[[F], F]:
    """Attach formula text, unit (UCUM style, "1" for a ratio) and source key to a function."""

    def mark(function: F) -> F:
        FORMULAS[function] = Formula(text, unit, source)
        return function

    return mark


@dataclass(frozen=True, eq=False)
class Worked:
    """One number with its origin. ``eq=False``: two workings are the same only if they are one object.

    ``basis`` says whether the number was given in the design, assumed by us, published, measured by
    the user, or computed here. ``method`` is a sentence where a library or a solver did the sum.
    """

    name: str
    value: float
    unit: str
    basis: Basis
    source: str = ""
    formula: str = ""
    method: str = ""
    inputs: tuple[tuple[str, "Worked"], ...] = ()

    @property
    def substituted(self) -> str:
        """The formula with its numbers put in (4 figures), made from ``formula`` and ``inputs``.

        Examples
        --------
        >>> Worked("rise", -2.0, "m", "computed", "", "run * slope", "",
        ...        (("run", given("run", 4, "m")), ("slope", given("slope", -0.5, "1")))).substituted
        '4 * (-0.5)'
        """
        numbers = {name: figures(part.value) for name, part in self.inputs}
        return re.sub(r"[A-Za-z_]\w*", lambda match: numbers.get(match[0], match[0]), self.formula)


class Numbered(NamedTuple):
    """A number among others: its own id, the number, and the ids of what goes in, in the order of ``worked.inputs``."""

    id: str
    worked: Worked
    links: tuple[str, ...]


def figures(value: float, digits: int = 4) -> str:
    """Show a number with so many significant figures; a negative one stands in brackets.

    Examples
    --------
    >>> figures(0.76483), figures(-12.5), figures(1234567.0)
    ('0.7648', '(-12.5)', '1235000')
    """
    text = f"{value:.{digits}g}"
    if "e" in text:
        number = float(text)
        text = f"{number:.0f}" if abs(number) >= 1 else text
    return f"({text})" if text.startswith("-") else text


def given(name: str, value: float, unit: str) -> Worked:
    """A value that the design file gave."""
    return Worked(name, float(value), unit, "given")


def assumed(name: str, value: float, unit: str, source: str) -> Worked:
    """A value that we assumed because the design is silent; ``source`` says on what ground."""
    return Worked(name, float(value), unit, "assumed", source)


def work(function: Callable[..., Any], /, **inputs: Worked) -> Worked:
    """Call a ``formula`` function with worked numbers; the result remembers them.

    Constants among the defaults are filled in, so that even gravity shows its source.

    Examples
    --------
    >>> @formula("mass * gravity", unit="N", source="hydrostatics")
    ... def weight(mass, gravity=Constant(9.80665, "standard_gravity", "m/s2", "iso_80000_3")):
    ...     return mass * gravity
    >>> worked = work(weight, mass=given("mass", 2.0, "kg"))
    >>> worked.substituted, round(worked.value, 3)
    ('2 * 9.807', 19.613)
    """
    known = FORMULAS[function]
    parts = dict(inputs)
    for name, constant in constants_of(function):
        if name not in parts:
            parts[name] = Worked(constant.name, float(constant), constant.unit, "published", constant.source)
    value = float(function(**{name: part.value for name, part in parts.items()}))
    shown = tuple((name, part) for name, part in parts.items() if re.search(rf"\b{name}\b", known.text))
    return Worked(function.__name__, value, known.unit, "computed", known.source, known.text, "", shown)


@cache
def constants_of(function: Callable[..., Any]) -> tuple[tuple[str, Constant], ...]:
    """Arguments of a function that default to a published constant."""
    found = ((name, parameter.default) for name, parameter in inspect.signature(function).parameters.items())
    return tuple((name, default) for name, default in found if isinstance(default, Constant))


def solved(name: str, value: float, unit: str, source: str, left: Worked, right: Worked) -> Worked:
    """A value found by a solver, shown by both sides of its equation at the answer."""
    text = f"{left.name} = {right.name}"
    return Worked(name, float(value), unit, "computed", source, text, "", ((left.name, left), (right.name, right)))


def by_method(name: str, value: float, unit: str, source: str, method: str, **inputs: Worked) -> Worked:
    """A value that a library or a table computed; ``method`` says which and how, in one sentence."""
    return Worked(name, float(value), unit, "computed", source, "", method, tuple(inputs.items()))


def numbered(groups: Iterable[Iterable[Worked]]) -> list[list[Numbered]]:
    """Every number below each group of roots, each once, inputs before results; a group has those that no earlier one needed.

    Each number has an ``id`` (its name, numbered when a name stands for different numbers). Numbers that agree in everything
    are one.

    Examples
    --------
    >>> run, slope = given("run", 4, "m"), given("slope", -0.5, "1")
    >>> rise = Worked("rise", -2.0, "m", "computed", "", "run * slope", "", (("run", run), ("slope", slope)))
    >>> [found.id for found in numbered([[rise, given("run", 4, "m")]])[0]]
    ['run', 'slope', 'rise']
    """
    found: dict[tuple[Any, ...], Numbered] = {}
    ids: dict[int, str] = {}
    taken: dict[str, int] = {}

    def visit(part: Worked) -> str:
        known = ids.get(id(part))
        if known is not None:
            return known
        links = tuple([visit(below) for _, below in part.inputs])
        key = (part.name, part.value, part.unit, part.basis, part.source, part.formula, part.method, links)
        if key not in found:
            taken[part.name] = count = taken.get(part.name, 0) + 1
            found[key] = Numbered(part.name if count == 1 else f"{part.name}_{count}", part, links)
        ids[id(part)] = found[key].id
        return found[key].id

    result = []
    for roots in groups:
        before = len(found)
        for root in roots:
            visit(root)
        result.append(list(found.values())[before:])
    return result
