"""Where sun and water meet: panel and pump (current, voltage), pump and pipe (head, flow).

Orange lines are what the sun gives, the blue line is what the water asks; they agree where they cross.
"""

from collections.abc import Sequence

from sizing.foundation import column, formats
from web.charts.kit.crossing import HEIGHT, Curve, Point, crossing_chart
from web.charts.kit.shapes import WIDTH, Chart, Table, picture

__all__ = ["Curve", "Point", "head_and_flow", "panel_and_pump"]


def panel_and_pump(
    curves: Sequence[Curve],
    load: Curve,
    points: Sequence[Point],
    maximum: Sequence[Point] = (),
    now: Point | None = None,
    *,
    name: str = "panel-and-pump",
) -> Chart:
    """Current over voltage: the panel at several strengths of sun, and what the pump draws.

    Parameters
    ----------
    curves
        The panel's curves [V, A], each labelled with its strength of sun ("600 W/m²").
    load
        What the pump draws [V, A].
    points
        Where the pump runs, labelled as the curve; none for a curve at which it does not run steadily.
    maximum
        With a controller: the panel's maximum-power points, labelled likewise; each is joined to the
        pump's point of the same label.
    now
        The chosen moment.
    name
        Beginning of the ids in the page.
    """
    shapes = crossing_chart(curves, load, points, maximum, now, ("amps", "volts"))
    rows = meeting_rows(curves, points, maximum)
    head = ("Sun", "Pump, V", "Pump, A", "Pump, W") + (("Panel, V", "Panel, A", "Panel, W") if maximum else ())
    finding = panel_finding(points, bool(maximum), len(curves))
    title = "Panel and pump"
    about = f"Current over voltage of the panel at {len(curves)} strengths of sun, and of the pump. {finding}"
    return Chart(name, title, about, finding, picture(WIDTH, HEIGHT, shapes), Table(f"{title}: where they agree", head, rows))


def head_and_flow(
    curves: Sequence[Curve],
    system: Curve,
    points: Sequence[Point],
    now: Point | None = None,
    *,
    name: str = "head-and-flow",
) -> Chart:
    """Head over flow: the pump at several speeds, and what pipe and outlet ask.

    Parameters
    ----------
    curves
        The pump's curves [L/min, m], each labelled with its speed or strength of sun.
    system
        Head that lift, pipe and outlet ask [L/min, m].
    points
        Where the water flows, labelled as the curve; none for a curve that stays dry.
    now
        The chosen moment.
    name
        Beginning of the ids in the page.
    """
    shapes = crossing_chart(curves, system, points, (), now, ("head, m", "litres a minute"))
    met = [matching(curve.label, points) for curve in curves]
    columns = [with_word([None if found is None else found[axis] for found in met], "dry") for axis in (0, 1)]
    rows = tuple(zip((curve.label for curve in curves), *columns, strict=True))
    finding = flow_finding(points, len(curves))
    title = "Pump and pipe"
    about = f"Head over flow of the pump at {len(curves)} speeds, and of pipe and outlet. {finding}"
    table = Table(f"{title}: where they agree", ("Pump at", "Flow, L/min", "Head, m"), rows)
    return Chart(name, title, about, finding, picture(WIDTH, HEIGHT, shapes), table)


def matching(label: str, points: Sequence[Point]) -> tuple[float, float] | None:
    """x and y of the point of a curve, where it has one."""
    return next(((point.x, point.y) for point in points if point.label == label), None)


def with_word(values: Sequence[float | None], word: str) -> tuple[str, ...]:
    """A column of numbers with the same decimals, a word where there is none."""
    known = iter(column([value for value in values if value is not None]))
    return tuple(word if value is None else next(known) for value in values)


def meeting_rows(curves: Sequence[Curve], points: Sequence[Point], maximum: Sequence[Point]) -> tuple[tuple[str, ...], ...]:
    """Volts, amps and watts of pump and panel at each strength of sun."""
    columns: list[tuple[str, ...]] = [tuple(curve.label for curve in curves)]
    for marked, word in ((points, "not steady"), *([(maximum, "–")] if maximum else [])):
        met = [matching(curve.label, marked) for curve in curves]
        volts = [None if found is None else found[0] for found in met]
        amps = [None if found is None else found[1] for found in met]
        watts = [None if found is None else found[0] * found[1] for found in met]
        columns += [with_word(values, word) for values in (volts, amps, watts)]
    return tuple(zip(*columns, strict=True))


def panel_finding(points: Sequence[Point], controlled: bool, count: int) -> str:
    """What the crossing of panel and pump says."""
    if not points:
        return "The pump does not run at any strength of sun shown here."
    point = points[len(points) // 2]
    values = f"{formats.quantity(point.x, 'V')} and {formats.quantity(point.y, 'A')}"
    if controlled:
        sentence = f"A controller turns the panel's best (dots) into what the pump takes (rings): at {point.label}, {values}"
    else:
        sentence = f"Panel and pump agree where the lines cross: at {point.label} that is {values}"
    stopped = count - len(points)
    return sentence + (f"; at {stopped} of {count} strengths of sun the pump does not run steadily." if stopped > 0 else ".")


def flow_finding(points: Sequence[Point], count: int) -> str:
    """What the crossing of pump and pipe says."""
    if not points:
        return "No water flows: the pump cannot pass the lift at any speed shown here."
    point = max(points, key=lambda each: each.x)
    sentence = f"Faster pump, more head and more flow: at {point.label} {formats.quantity(point.x, 'l/min')}"
    sentence += f" against {formats.length(point.y)} of head"
    dry = count - len(points)
    return sentence + (f"; at {dry} of {count} it stays dry." if dry > 0 else ".")
