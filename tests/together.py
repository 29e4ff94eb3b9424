"""Many small cases of one claim as one test: each is tried, and every one that fails is named."""

import inspect
from collections.abc import Callable, Iterable
from functools import wraps
from typing import Any


def together(name: str, cases: Iterable[Any]) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Give a test each of the cases as the argument ``name``; several names with commas take tuples.

    Hundreds of cases of a microsecond each would spend milliseconds each on being tests of their own.

    Examples
    --------
    >>> @together("number", [1, -2, 3, -4])
    ... def is_positive(number):
    ...     assert number > 0
    >>> is_positive()  # doctest: +ELLIPSIS, +IGNORE_EXCEPTION_DETAIL
    Traceback (most recent call last):
    AssertionError: 2 of 4 cases fail: ...
    """
    names = [each.strip() for each in name.split(",")]
    kept = list(cases)

    def decorate(test: Callable[..., None]) -> Callable[..., None]:
        @wraps(test)
        def tried(**others: Any) -> None:
            wrong = []
            for case in kept:
                try:
                    test(**dict(zip(names, [case] if len(names) == 1 else case, strict=True)), **others)
                except Exception as error:
                    wrong.append(f"{case!r}: {type(error).__name__} {error}")
            if wrong:
                raise AssertionError(f"{len(wrong)} of {len(kept)} cases fail:\n" + "\n".join(wrong))

        signature = inspect.signature(test)
        tried.__signature__ = signature.replace(  # type: ignore[attr-defined]
            parameters=[each for key, each in signature.parameters.items() if key not in names]
        )
        return tried

    return decorate
