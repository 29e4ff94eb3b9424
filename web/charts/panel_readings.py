"""The picture of a panel check: readings over the label's curve, what fits best, and how a dirty or shaded panel would look."""

from collections.abc import Sequence

from sizing.foundation import column
from sizing.measured.panel_check import PanelReadingAnswer, SittingAnswer
from web.charts.experiments import About, Drawn, Mark, measured_chart
from web.charts.kit.shapes import INK, QUIET, SUN_TEXT, WATER, Chart, Table

LOOKS = {
    "label": ("clear sky", "", WATER),
    "told": ("its own sun", "9 3.5", WATER),
    "best": ("fits best", "12 3 2.5 3", SUN_TEXT),
    "dirty": ("dirty", "2.5 2.5", QUIET),
    "shaded": ("part shade", "5 5", INK),
}
"""Label, dashes and colour of each curve."""
LEGEND = (
    "Rings are readings, a cross is one off the label by more than two uncertainties. The full line is the label’s curve under a "
    "clear sky, dot and dash what fits best; the dotted and the short-dashed line show how a dirty panel and one in part shade "
    "look."
)


def readings_chart(
    curves: Sequence[tuple[str, Sequence[float], Sequence[float]]],
    voltage: Sequence[float],
    current: Sequence[float],
    current_uncertainty: Sequence[float],
    off: Sequence[bool],
    *,
    name: str = "panel-readings",
) -> Chart:
    """Current over voltage: readings on curves.

    Parameters
    ----------
    curves
        Key (one of ``LOOKS``), volts and amperes of each line.
    voltage, current, current_uncertainty, off
        One each per reading [V, A, A]; whether it is off the label by more than two uncertainties.
    name
        Beginning of the ids in the page.
    """
    lines = [Drawn(LOOKS[key][0], volts, amperes, dash=LOOKS[key][1], colour=LOOKS[key][2]) for key, volts, amperes in curves]
    marks = [
        Mark(x, y, max(y - spread, 0.0), y + spread, apart)
        for x, y, spread, apart in zip(voltage, current, current_uncertainty, off, strict=True)
    ]
    about = About(name, "Readings on the panel’s curves", f"Current over voltage. {LEGEND}", LEGEND, "volts", "amps")
    return measured_chart(about, lines, marks, curve_table(curves))


def curve_table(curves: Sequence[tuple[str, Sequence[float], Sequence[float]]], rows: int = 9) -> Table:
    """Amperes of every curve at the same volts."""
    most = max(volts[-1] for _, volts, _ in curves)
    at = [most * index / (rows - 1) for index in range(rows)]
    columns = [column(at)] + [column([between(each, volts, amperes) for each in at]) for _, volts, amperes in curves]
    head = ("Volts, V", *(f"{LOOKS[key][0]}, A" for key, _, _ in curves))
    return Table("The panel’s curves, computed", head, tuple(zip(*columns, strict=True)))


def between(at: float, x: Sequence[float], y: Sequence[float]) -> float:
    """Value of a line at a place; nothing beyond its end.

    Examples
    --------
    >>> between(1.5, (0.0, 1.0, 2.0), (4.0, 2.0, 0.0)), between(3.0, (0.0, 2.0), (4.0, 0.0))
    (1.0, 0.0)
    """
    for index in range(1, len(x)):
        if at <= x[index]:
            share = (at - x[index - 1]) / (x[index] - x[index - 1])
            return y[index - 1] + share * (y[index] - y[index - 1])
    return 0.0


def sitting_chart(sitting: SittingAnswer, readings: Sequence[PanelReadingAnswer], number: int) -> Chart | None:
    """The picture of one sitting of a panel check; ``None`` where nothing could be fitted.

    The curve at the sun that the short circuit tells is left out where the best explanation is light alone: they are one.

    Parameters
    ----------
    readings : of all sittings
    number : of the sitting on the page, from 1
    """
    by_light = sitting.likeliest in ("clean", "dirt_or_haze", "brighter")
    curves = [(each.key, each.voltage_v, each.current_a) for each in sitting.curves if not (by_light and each.key == "told")]
    if not curves:
        return None
    own = [(each, each.clear_sky.within) for each in readings if each.sitting == sitting.sitting and each.clear_sky is not None]
    return readings_chart(
        curves,
        [each.voltage_v for each, _ in own],
        [each.current_a for each, _ in own],
        [each.current_uncertainty_a for each, _ in own],
        [not within for _, within in own],
        name=f"panel-readings-{number}",
    )
