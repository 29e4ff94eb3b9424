"""The least whole watts that do, by halving: from nothing, or from a good guess."""

from collections.abc import Callable


def least_watts(met: Callable[[int], bool], most: int) -> int | None:
    """Least whole watts that do, 1 to ``most``, if more never do less; ``None`` where none does.

    Examples
    --------
    >>> least_watts(lambda watts: watts >= 37, 1000), least_watts(lambda watts: False, 1000)
    (37, None)
    """
    if most < 1 or not met(most):
        return None
    return halved(met, 0, most)


def halved(met: Callable[[int], bool], low: int, high: int) -> int:
    """Least number above ``low``, which does not do, up to ``high``, which does."""
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if met(middle) else (middle, high)
    return high


def settled(guess: int, met: Callable[[int], bool], most: int) -> int | None:
    """As ``least_watts`` from a guess: where the guess is right, it is asked about that and one less.

    Examples
    --------
    >>> settled(37, lambda watts: watts >= 37, 1000), settled(31, lambda watts: watts >= 37, 1000)
    (37, 37)
    >>> settled(45, lambda watts: watts >= 37, 1000), settled(990, lambda watts: False, 1000)
    (37, None)
    """
    stride = 1
    if met(guess):
        high, low = guess, guess - 1
        while low > 0 and met(low):
            high, stride = low, 2 * stride
            low = max(high - stride, 0)
        return halved(met, low, high)
    low, high = guess, min(guess + 1, most)
    while low < most and not met(high):
        low, stride = high, 2 * stride
        high = min(low + stride, most)
    return halved(met, low, high) if low < most else None
