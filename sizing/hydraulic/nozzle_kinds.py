"""Kinds of nozzle: how much of the ideal flow an opening passes, how fast the jet leaves, and how far both may be off.

Discharge and velocity coefficient move together from one end of a kind's spread over the typical value to the other end,
so that no jet passes more than its bore at its speed. A coefficient that was typed counts before that of the kind.
"""

from sizing.foundation.tables import NOZZLE_KINDS, NozzleKind

NOZZLE_NAMES = {name: kind.words for name, kind in NOZZLE_KINDS.items()}
"""The kinds of nozzle, in words."""
NOT_KNOWN = "not_known"


def nozzle_kind(kind: str | None) -> NozzleKind:
    """The kind of nozzle by its name in the table; silence is a kind that is not known.

    Examples
    --------
    >>> nozzle_kind("drilled_cap").typical, nozzle_kind(None).typical
    ((0.62, 0.97), (0.946, 0.962))
    """
    return NOZZLE_KINDS[kind or NOT_KNOWN]


def nozzle_coefficients(
    kind: str | None, discharge: float | None = None, velocity: float | None = None, toward: float = 0.0
) -> tuple[float, float]:
    """Discharge and velocity coefficient [1] of a nozzle.

    Parameters
    ----------
    kind : name of the kind; ``None`` is not known
    discharge, velocity : [1] as typed; ``None`` takes that of the kind, kept possible beside the other
    toward : [1] 0 is typical, -1 one end of the kind's spread, 1 the other end

    Examples
    --------
    >>> nozzle_coefficients("drilled_cap"), nozzle_coefficients("short_tube", discharge=0.85)
    ((0.62, 0.97), (0.85, 0.85))
    >>> nozzle_coefficients(None, toward=-1.0), nozzle_coefficients(None, toward=0.5)
    ((0.82, 0.82), (0.783, 0.966))
    """
    spread = nozzle_kind(kind)
    end = spread.one_end if toward < 0 else spread.other_end
    share, speed = (middle + abs(toward) * (far - middle) for middle, far in zip(spread.typical, end, strict=True))
    if discharge is None:
        discharge = share if velocity is None else min(share, velocity)
    if velocity is None:
        velocity = max(speed, discharge)
    return discharge, velocity
