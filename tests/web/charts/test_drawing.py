"""The fountain to scale: true proportions, everything on the sheet, words that cover nothing."""

import math
from dataclasses import replace
from itertools import combinations, product

import pytest

from sizing.foundation import formats
from tests.together import together
from web.charts.drawing import fountain as drawing
from web.charts.drawing import scene
from web.charts.drawing.fountain import fountain_to_scale
from web.charts.drawing.scene import Fountain
from web.charts.kit import labels
from web.charts.kit.labels import Box
from web.charts.kit.shapes import INK, POOL, RAMP, SUN, WATER, Chart, Circle, Line, Picture, Rectangle, Text

USUAL = Fountain(
    "nozzle", 0.55, "submersible", 30, jet_now=0.62, jet_best=0.88, basin_width=1.6, water_depth=0.4, panel_length=0.54
)
CASES = {
    "usual": USUAL,
    "nothing given": replace(USUAL, basin_width=2.3, water_depth=0.3, proposed=True, panel_length=None),
    "tall": replace(USUAL, jet_now=2.9, jet_best=4.0, basin_width=3.0),
    "tiny": replace(USUAL, jet_now=0.08, jet_best=0.1, outlet_height=0.02, basin_width=0.6, water_depth=0.2),
    "now as good as best": replace(USUAL, jet_now=0.88),
    "dry": replace(USUAL, jet_now=0.0),
    "never plays": replace(USUAL, jet_now=0.0, jet_best=0.0),
    "open pipe": replace(USUAL, outlet="open_pipe", jet_now=0.06, jet_best=0.12, outlet_height=0.3),
    "spillway": replace(USUAL, outlet="spillway", jet_now=None, jet_best=None, flow_now=14.2, sheet_width=0.3),
    "high dry spillway": replace(
        USUAL,
        outlet="spillway",
        jet_now=None,
        jet_best=None,
        flow_now=0.0,
        outlet_height=1.9,
        pump_position="surface",
        basin_width=3.2,
    ),
    "surface pump, facing north": replace(USUAL, pump_position="surface", panel_faces="north", panel_tilt=55),
    "pond": replace(USUAL, basin_width=12.0, water_depth=1.2),
    "deep": replace(USUAL, water_depth=3.0),
    "flat": replace(USUAL, panel_tilt=0),
    "upright, long words": replace(USUAL, panel_tilt=90, panel_length=1.7, panel_faces="south-west"),
    "at the water": replace(USUAL, outlet_height=0.0, jet_now=0.3, jet_best=0.31),
    "large panel": replace(USUAL, panel_length=2.2, panel_tilt=20, pump_position="surface", basin_width=6.0),
    "ring": replace(USUAL, jets=12, jets_across=0.6, on_ring=True),
    "row": replace(USUAL, jets=5, jets_across=1.2),
    "ring wider than the basin": replace(USUAL, jets=40, jets_across=2.5, on_ring=True),
}
ROOMS = {"wide": scene.WIDE, "narrow": scene.NARROW}


def plain(text: str) -> str:
    return text.replace(formats.SPACE, " ")


def said(sheet: Picture) -> list[str]:
    return [plain(shape.content) for shape in sheet.shapes if isinstance(shape, Text)]


def corners(sheet: Picture) -> list[tuple[float, float]]:
    """Outermost points of every shape."""
    points: list[tuple[float, float]] = []
    for shape in sheet.shapes:
        if isinstance(shape, Line):
            points += shape.points
        elif isinstance(shape, Circle):
            points += [(shape.x - shape.radius, shape.y - shape.radius), (shape.x + shape.radius, shape.y + shape.radius)]
        elif isinstance(shape, Rectangle):
            points += [(shape.x, shape.y), (shape.x + shape.width, shape.y + shape.height)]
        else:
            box = labels.text_box(shape)
            points += [(box.left, box.top), (box.right, box.bottom)]
    return points


def both(chart: Chart) -> tuple[Picture, Picture]:
    assert chart.narrow is not None
    return chart.picture, chart.narrow


@together("case, room", product(CASES, ROOMS))
def test_everything_stands_on_the_sheet_and_no_words_meet(case: str, room: str) -> None:
    sheet = drawing.sheet(CASES[case], ROOMS[room])
    assert sheet.height <= ROOMS[room].height + 1
    for x, y in corners(sheet):
        assert -0.5 <= x <= sheet.width + 0.5
        assert -0.5 <= y <= sheet.height + 0.5
    boxes = [labels.text_box(shape) for shape in sheet.shapes if isinstance(shape, Text)]
    assert not any(labels.overlap(*pair) for pair in combinations(boxes, 2))


@together("case, room", product(CASES, ROOMS))
def test_words_beside_the_water_keep_clear_of_pupil_panel_and_sun(case: str, room: str) -> None:
    fountain, sheet = CASES[case], drawing.sheet(CASES[case], ROOMS[room])
    view = scene.scene(fountain, ROOMS[room])
    half = view.sizes.panel_reach / 2 * view.scale
    rise = view.sizes.panel / 2 * math.sin(math.radians(fountain.panel_tilt)) * view.scale
    middle = scene.level(view, view.sizes.panel_middle)
    obstacles = [
        Box(view.panel - half, middle - rise, view.panel + half, middle + rise),
        Box(view.width - scene.SUN_WIDTH, 0, view.width, scene.SUN_HEIGHT - 2),
        Box(view.pupil - 0.15 * view.scale, scene.level(view, 1.4), view.pupil + 0.15 * view.scale, view.ground),
    ]
    for shape in sheet.shapes:
        if isinstance(shape, Text):
            assert not any(labels.overlap(labels.text_box(shape), obstacle) for obstacle in obstacles), shape.content


@pytest.mark.parametrize("room", ROOMS)
@pytest.mark.parametrize("case", ["usual", "tall", "tiny"])
def test_pupil_jet_and_basin_have_one_scale(case: str, room: str) -> None:
    fountain, sheet = CASES[case], drawing.sheet(CASES[case], ROOMS[room])
    heads = [shape for shape in sheet.shapes if isinstance(shape, Circle) and shape.fill != SUN]
    head = max(heads, key=lambda circle: circle.radius)
    view = scene.scene(fountain, ROOMS[room])
    pupil = view.ground - (head.y - head.radius)
    scale = pupil / 1.375  # the hair stands 2.5 cm above the head
    column = next(shape for shape in sheet.shapes if isinstance(shape, Line) and shape.fill == WATER and shape.closed)
    jet = max(y for _, y in column.points) - min(y for _, y in column.points)
    assert jet / scale == pytest.approx(fountain.jet_now, abs=0.01)
    water = next(shape for shape in sheet.shapes if isinstance(shape, Rectangle) and shape.fill == POOL)
    assert water.width / scale == pytest.approx(view.sizes.basin, abs=0.02)
    assert water.height / scale == pytest.approx(fountain.water_depth, abs=0.01)


def test_now_and_best_are_written_and_the_best_is_dashed() -> None:
    for sheet in both(fountain_to_scale(USUAL)):
        assert {
            "now 62 cm",
            "top 88 cm",
            "55 cm",
            "above water",
            "1.6 m across",
            "1.40 m",
            "panel at 30°",
            "facing south",
        } <= set(said(sheet))
        assert any(shape.dash and shape.stroke == WATER for shape in sheet.shapes if isinstance(shape, Line))


@pytest.mark.parametrize("case", ["ring", "row"])
def test_a_crown_is_as_many_jets_apart_as_they_stand(case: str) -> None:
    for room in ROOMS.values():
        fountain, sheet = CASES[case], drawing.sheet(CASES[case], room)
        view = scene.scene(fountain, room)
        tips = [shape.points[1] for shape in sheet.shapes if isinstance(shape, Line) and shape.fill == WATER and shape.closed]
        assert len(tips) == len({round(x, 3) for x, _ in tips}) == fountain.jets
        assert len({y for _, y in tips}) == 1
        assert fountain.jets_across is not None
        across = max(x for x, _ in tips) - min(x for x, _ in tips)
        # The outermost of twelve on a ring, turned by a quarter of their distance, stand at cos 7.5° and cos 172.5°: 0.991.
        expected = fountain.jets_across * (0.991 if fountain.on_ring else 1.0)
        assert across / view.scale == pytest.approx(expected, rel=0.01)


def test_a_dry_moment_has_no_jet_but_keeps_its_best() -> None:
    for sheet in both(fountain_to_scale(CASES["dry"])):
        assert {"now dry", "top 88 cm"} <= set(said(sheet))
        assert not any(shape.fill == WATER for shape in sheet.shapes if isinstance(shape, Line))
    for sheet in both(fountain_to_scale(CASES["never plays"])):
        assert not any(text.startswith("top") for text in said(sheet))


def test_a_spillway_has_a_sheet_of_water_and_no_jet() -> None:
    for sheet in both(fountain_to_scale(CASES["spillway"])):
        assert "now 14.2 L/min" in said(sheet)
        assert any(shape.fill == RAMP[1] for shape in sheet.shapes if isinstance(shape, Line))
    for sheet in both(fountain_to_scale(CASES["high dry spillway"])):
        assert "now dry" in said(sheet)
        assert not any(shape.fill == RAMP[1] for shape in sheet.shapes if isinstance(shape, Line))


def test_what_is_not_given_is_dashed_and_said() -> None:
    chart = fountain_to_scale(CASES["nothing given"])
    assert plain(chart.finding) == (
        "Side view to scale. Top is the highest jet of the year. "
        "The design does not name a basin: the proposed one is drawn, 2.3 m across with 30 cm of water. "
        "The panel’s length is not given: drawn 60 cm long."
    )
    for sheet in both(chart):
        assert "proposed" in said(sheet)
        assert not any(
            shape.stroke == INK and len(shape.points) == 4 and shape.stroke_width == 3
            for shape in sheet.shapes
            if isinstance(shape, Line)
        )
    assert ("Basin across", "2.3 m") in [tuple(map(plain, row)) for row in chart.table.rows]
    assert plain(fountain_to_scale(replace(USUAL, moment="at noon in June")).finding) == (
        "Side view to scale, at noon in June. Top is the highest jet of the year."
    )


def test_a_pond_is_cut_and_says_so() -> None:
    for sheet in both(fountain_to_scale(CASES["pond"])):
        assert {"basin 12 m across", "not all shown"} <= set(said(sheet))


def test_the_pupil_reads_the_same_at_every_scale_in_table_and_words() -> None:
    chart = fountain_to_scale(CASES["surface pump, facing north"], name="sketch")
    assert chart.name == "sketch"
    assert "panel at 55 degrees facing north" in chart.description
    assert plain(chart.table.rows[-1][1]) == "1.40 m"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"outlet_height": -0.1}, r"^outlet height is -0.1 m; the drawing shows lengths from 0 to 100 m$"),
        ({"jet_best": 101.0}, r"^jet best is 101 m; the drawing shows lengths from 0 to 100 m$"),
        ({"panel_tilt": 91}, r"^panel tilt is 91 degrees; the drawing shows tilts from 0 to 90 degrees$"),
        ({"jet_now": math.nan}, r"^only finite numbers can be shown, not nan$"),
        ({"basin_width": math.inf}, r"^only finite numbers can be shown, not inf$"),
    ],
)
def test_impossible_sizes_are_refused(change: dict[str, float], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        fountain_to_scale(replace(USUAL, **change))  # type: ignore[arg-type]
