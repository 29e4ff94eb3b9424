"""Logs that people fill in: what has one reading is read, the rest is named by row and column, and the other rows are kept.

Conversions are exact by definition: the inch is 25.4 mm, the US gallon 231 cubic inches, the imperial gallon 4.54609 L
(Weights and Measures Act 1985; NIST Handbook 44, from memory).
"""

import datetime

import numpy as np
import pytest

from sizing.foundation.errors import InputError
from sizing.measured.logs.cells import UnclearCell, cell_clock, cell_day, cell_number
from sizing.measured.logs.columns import BENCH, TURNS, blanks
from sizing.measured.logs.logs import read_bench, read_panel, read_sheet, read_turns
from sizing.measured.logs.rows import MOST_ROWS, MOST_TOLD

HEAD = "voltage_v,current_a,head_m,volume_l,fill_time_s,team"
ROW = "12.1,0.83,1.25,5,41.7,blue"


def bench(*rows: str, head: str = HEAD) -> bytes:
    return "\n".join((head, *rows)).encode()


def told(raw: bytes) -> list[tuple[int, str]]:
    return [(each.row, each.column) for each in read_bench(raw).problems]


@pytest.mark.parametrize(
    ("head", "row"),
    [
        (HEAD, ROW),
        (HEAD.replace(",", ";"), "12,1;0,83;1,25;5;41,7;blue"),
        (HEAD.replace(",", "\t"), "12,1\t0,83\t1,25\t5,0\t41,7\tblue"),
        (HEAD, '"12,1","0,83","1,25","5,00","41,7",blue'),
        ("Voltage (V),Current (mA),Head (cm),Volume (mL),Fill time (min),Team", "12.1,830,125,5000,0.695,blue"),
        ("team,t / s,volume in mL,lift [mm],I [A],U [V]", "blue,41.7,5 000,1250,0.83,12.1"),
        ("supply volts,pump amps,height above water (m),bucket (L),stopwatch,group", "12.1 V,830 mA,125 cm,5 L,0:41.7,blue"),
        ("V,A,m,L,s,team", ROW),
        ("U/V,I/mA,h/cm,Volume/mL,time/min,group no.", "12.1,830,125,5000,0.695,blue"),
        ("Volts DC,current (µA),Head (cm),Volume (cm³),Fill time (mm:ss),team name", "12.1,830000,125,5 000,0:41.7,blue"),
        ("Voltage, V;Current, A;Head, m;Volume, L;Time taken, s;Team", "12,1;0,83;1,25;5;41,7;blue"),
        (HEAD.replace(",", "|"), ROW.replace(",", "|")),
        (HEAD, '"12.1", "0.83", "1.25", "5", "41.7", "blue"'),
        (HEAD, '="12.1",0.83,1.25,5,00:00:41.7,"blue'),
        ("volts,amps,head,volume,time,team", "V,mA,(cm),[mL],min,\n12.1,830,125,5’000,0.695,blue"),
        ("Bench of our pump\n\nvolts,amps,head,volume,time,team", ROW),
        ("Bench, done on a Monday, with blue\n" + HEAD.replace(",", ";"), "12,1;0,83;1,250;5;41,7;blue"),
        (HEAD, f"{HEAD}\n{ROW}"),
    ],
)
def test_one_reading_however_it_is_written(head: str, row: str) -> None:
    log = read_bench(bench(row, head=head))
    found = [float(values[0]) for values in (log.voltage, log.current, log.head, log.volume, log.fill_time)]
    assert found == pytest.approx([12.1, 0.83, 1.25, 0.005, 41.7])
    assert log.team == ("blue",)
    assert log.problems == ()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "cp1252"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_encodings_and_line_ends(encoding: str, end: str) -> None:
    log = read_bench(end.join((HEAD, "", ROW, ",,,,,", ROW.replace("blue", "grün"), "")).encode(encoding))
    assert log.team == ("blue", "grün")
    assert log.row.tolist() == [3, 5]  # as a spreadsheet counts them
    assert log.problems == ()


def test_gallons_feet_and_inches() -> None:
    log = read_bench(bench("12,0.8,40,2,61", head="volts,amps,head (in),volume (gal),time (s)"))
    assert float(log.head[0]) == pytest.approx(40 * 0.0254)
    assert float(log.volume[0]) == pytest.approx(2 * 231 * 0.0254**3)
    imperial = read_bench(bench("12,0.8,4,2,61", head="volts,amps,head (ft),volume (imp gal),time (s)"))
    assert float(imperial.volume[0]) == pytest.approx(2 * 4.54609e-3)
    assert float(imperial.head[0]) == pytest.approx(4 * 12 * 0.0254)


@pytest.mark.parametrize(
    ("row", "column", "said"),
    [
        ("12.1,0.83,1.25,5,0,blue", "fill_time_s", "zero seconds make no flow"),
        ("12.1,-0.83,1.25,5,41.7,blue", "current_a", "outside 0 to 60 A"),
        ("12.1,0.83,,5,41.7,blue", "head_m", "is empty"),
        ("12.1,abc,1.25,5,41.7,blue", "current_a", "“abc” is no number"),
        ("12.1,0.83 kA,1.25,5,41.7,blue", "current_a", "has a unit that is not known here"),
        ('12.1,0.83,1.25,"1,250",41.7,blue', "volume_l", "can be read in two ways; write 1.250 or 1250"),
        ("12.1,nan,1.25,5,41.7,blue", "current_a", "is no number"),
        ("12.1,1e999,1.25,5,41.7,blue", "current_a", "outside 0 to 60 A"),
        ("12 1,0.83,1.25,5,41.7,blue", "voltage_v", "“12 1” is not one number"),
        ("12.1 0.83,0.83,1.25,5,41.7,blue", "voltage_v", "is not one number"),
        ("12.1,0.83,6',5,41.7,blue", "head_m", "is not one number"),
        ("12.1,0.83?,1.25,5,41.7,blue", "current_a", "is no number"),
        ("12.1,n/a,1.25,5,41.7,blue", "current_a", "holds no reading"),
        ("12.1,0.83,1.25,5,00:42:00,blue", "fill_time_s", "what a spreadsheet made of them; write seconds"),
        ("battery changed here,,,,,", "", "has no reading in it"),
        (",,,,,total", "", "has no reading in it"),
        ("12.1,0.83,1.25,5,41.7,blue,7", "", "more cells than the table has columns"),
    ],
)
def test_what_has_no_reading_is_named_and_the_rest_is_kept(row: str, column: str, said: str) -> None:
    log = read_bench(bench(ROW, row, ROW))
    (problem,) = log.problems
    assert (problem.row, problem.column) == (3, column)
    assert said in problem.sentence
    assert "left out" in problem.sentence
    assert log.row.tolist() == [2, 4]


def test_leads_the_wrong_way_round_have_one_reading_and_a_single_minus_has_none() -> None:
    swapped = read_bench(bench("12.1,-0.83,1.25,5,41.7,a", "12.0,-0.79,1.4,5,47,a"))
    assert swapped.current.tolist() == [0.83, 0.79]
    assert told(bench("12.1,-0.83,1.25,5,41.7,a", "12.0,-0.79,1.4,5,47,a")) == [(0, "current_a")]
    assert told(bench("12.1,0.83,1.25,5,41.7,a", "12.0,-0.79,1.4,5,47,a")) == [(3, "current_a")]


def test_a_decimal_comma_decides_what_a_comma_before_three_digits_means() -> None:
    head = HEAD.replace(",", ";")
    assert told(bench("12,1;0,83;1.250;5;41,7;a", ROW.replace(".", "x").replace(",", ";").replace("x", ","), head=head)) == [
        (2, "head_m")  # 1,250 or 1250, where others write 12,1
    ]
    assert float(read_bench(bench("12,1;0,83;1.250,0 mm;5;41,7;a", head=head)).head[0]) == 1.25
    assert float(read_bench(bench("12,1;0.83;1,250.0 mm;5;41,7;a", head=head)).head[0]) == 1.25
    assert float(read_bench(bench("12,1;0,83;1,250;5;41,7;a", head=head)).head[0]) == 1.25
    assert float(read_bench(bench("12;1;1.250;5;41;a", head=head)).head[0]) == 1.25
    assert told(bench("12;1;1,250;5;41;a", ROW.replace(",", ";").replace("blue", "a"), head=head)) == [(2, "head_m")]


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "is no text"),
        (b"PK\x03\x04\x00\x00", "is no text"),
        (b"PK\x03\x04\x14", "is no text"),
        (b"\0\1", "is no text"),
        (ROW.encode(), "its first row must name the columns"),
        (bench(ROW, head=HEAD.replace("head_m", "pupil")), "column head_m is missing; begin with the blank table"),
        (bench(ROW, head=HEAD.replace("team", "height (m)")), "two columns for head"),
        (bench(ROW, head=HEAD.replace("volume_l", "volume (cups)")), "known for volume are l, ml"),
        (bench(ROW, head=HEAD.replace("volume_l", "volume (mL)") + "\n,,,L,,"), "row 2 gives volume in l and its heading in ml"),
        (bench(ROW + ",9"), "row 2: has more cells"),
        (bench("5 m", head="12 V,0.8 A,1.2 m,5 L,42 s"), "its first row must name the columns"),
        (bench(), "fill in the table"),
        (bench("12,0.8,1,5,0,a"), "row 2, fill_time_s: zero seconds"),
        (bench(*[ROW] * (MOST_ROWS + 1)), f"{MOST_ROWS + 1} rows; at most {MOST_ROWS} are read"),
        (bench(*[ROW] * 20_000), "about 20000 rows"),
        (bench('12,"0.8'), "row 2, head_m: is empty"),
    ],
)
def test_what_is_no_log_is_refused_with_one_sentence(raw: bytes, said: str) -> None:
    with pytest.raises(InputError) as caught:
        read_bench(raw)
    (problem,) = caught.value.problems
    assert said in problem.detail


def test_joined_logs_with_other_columns_are_never_mixed() -> None:
    other = "team,voltage_v,current_a,head_m,volume_l,fill_time_s"
    log = read_bench(bench(ROW, HEAD, ROW, other, "1,12,3,4,5,6"))
    assert log.row.tolist() == [2, 4]
    assert [(each.row, each.sentence[:19]) for each in log.problems] == [(5, "names other columns")]


def test_volts_under_amperes_are_pointed_out() -> None:
    (problem,) = read_bench(bench("0.83,12.1,1.25,5,41.7,a", "0.8,12,1.25,5,41,a")).problems
    assert (problem.row, problem.column) == (0, "current_a")
    assert "exchange these" in problem.sentence


def test_an_open_quotation_mark_costs_no_other_row() -> None:
    log = read_bench(bench('12.1,0.83,1.25,5,41.7,"blue', ROW, ROW.replace("blue", 'red"'), ROW))
    assert log.row.tolist() == [2, 3, 4, 5]
    assert log.team == ("blue", "blue", "red", "blue")


def test_a_row_of_a_million_commas_costs_no_more_than_its_letters() -> None:
    """Laid out as a table of equal rows it would be a thousand million cells."""
    log = read_bench(bench(*[ROW] * 1000, ROW + "," * 1_000_000, ROW))
    assert len(log.row) == 1002


def test_many_sentences_end_in_one() -> None:
    log = read_bench(bench(*[ROW + ",1"] * 300, *[",,,,,x"] * 300, ROW))
    assert len(log.problems) == MOST_TOLD + 1
    assert log.problems[0].sentence.startswith("more rows")


def test_other_columns_are_neither_used_nor_kept() -> None:
    log = read_bench(bench(ROW + ",Anybody", head=HEAD + ",pupil"))
    assert [(each.row, each.column) for each in log.problems] == [(1, "pupil")]
    assert "Anybody" not in repr(log)


@pytest.mark.parametrize(
    ("text", "hour"),
    [
        ("9:05", 9 + 1 / 12),
        ("09:05:30", 9 + 5.5 / 60),
        ("9.05 am", 9 + 1 / 12),
        ("9:05 PM", 21 + 1 / 12),
        ("12:10 am", 1 / 6),
        ("14h30", 14.5),
        ("9,05 a.m.", 9 + 1 / 12),
        ("9:05\u2009pm", 21 + 1 / 12),
        ("0905", 9 + 1 / 12),
        ("2026-05-31T09:05:00", 9 + 1 / 12),
        ("31.5.2026 9:05", 9 + 1 / 12),
    ],
)
def test_times_of_day(text: str, hour: float) -> None:
    assert cell_clock(text) == pytest.approx(hour)


@pytest.mark.parametrize("text", ["9.05", "25:00", "9:75", "9.65", "24:00", "09:05Z", "905", "noon", "13:00 pm", "7"])
def test_times_without_one_reading(text: str) -> None:
    with pytest.raises(UnclearCell, match="two ways" if text == "9.05" else "no time of day"):
        cell_clock(text)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-05-31", (2026, 5, 31)),
        ("31/05/2026", (2026, 5, 31)),
        ("5/31/2026", (2026, 5, 31)),
        ("7.6.2026", (2026, 6, 7)),
        ("20260607", (2026, 6, 7)),
        ("7-Jun-2026", (2026, 6, 7)),
        ("Sunday, June 7th, 2026", (2026, 6, 7)),
        ("7.6.2026\u00a009:05", (2026, 6, 7)),
    ],
)
def test_days(text: str, day: tuple[int, int, int]) -> None:
    assert cell_day(text) == datetime.date(*day)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("5/6/2026", "two ways"),
        ("2026-02-30", "no calendar"),
        ("today", "is no day"),
        ("0001-01-01", "no year from 2000"),
        ("12.5.26", "no year from 2000"),
    ],
)
def test_days_without_one_reading(text: str, said: str) -> None:
    with pytest.raises(UnclearCell, match=said):
        cell_day(text)


def test_days_of_a_log_decide_about_each_other() -> None:
    rows = [f"{day},9:05,12,0.8" for day in ("5/6/2026", "13/6/2026", '"""', "6/13/2026")]
    log = read_panel("\n".join(("day,time,voltage,current", *rows[:3])).encode())
    assert [day.isoformat() for day in log.day] == ["2026-06-05", "2026-06-13", "2026-06-13"]
    mixed = read_panel("\n".join(("day,time,voltage,current", *rows)).encode())
    assert [(each.row, each.column) for each in mixed.problems] == [(2, "day")]


@pytest.mark.parametrize("head", ["Date/Time", "timestamp", "Date and time"])
def test_day_and_time_may_share_a_cell(head: str) -> None:
    raw = f"{head};Flow (l·min⁻¹);sun elevation (º);predicted;time of filling\n7.6.2026 9.05 am;7,5;41;8;\n"
    log = read_sheet(raw.encode())
    assert (log.day, log.hour.tolist()) == ((datetime.date(2026, 6, 7),), [pytest.approx(9 + 1 / 12)])
    assert float(log.flow[0]) == pytest.approx(0.0075 / 60)
    assert log.problems == ()


@pytest.mark.parametrize(
    ("head", "unit"),
    [("flow (gal (US)/min)", 231 * 0.0254**3 / 60), ("flow in litres per minute", 1e-3 / 60), ("flow/m³/h", 1 / 3600)],
)
def test_units_of_a_flow(head: str, unit: float) -> None:
    log = read_sheet(f"day,time of day,{head}\n2026-06-07,9:05,2\n".encode())
    assert float(log.flow[0]) == pytest.approx(2 * unit)


def test_fahrenheit_has_an_offset() -> None:
    units = {"f": (5 / 9, -160 / 9)}
    assert cell_number("68", units, "f") == pytest.approx(20)  # 68 °F is 20 °C by definition
    assert cell_number("−40", units, "f") == pytest.approx(-40)


@pytest.mark.parametrize("text", ["1e-300", "-0.0", "0,000000000001 mV", "5e-324"])
def test_what_no_instrument_shows_is_zero(text: str) -> None:
    assert cell_number(text, {"v": (1.0, 0.0), "mv": (1e-3, 0.0)}, "v") == 0.0


def test_directions_by_compass_letters_and_degrees() -> None:
    head = "day,time,compass_deg,direction_deg,tilt_deg,current (mA),sky,team"
    raw = f"{head}\n2026-05-31,9:05,170,,30,810,sunny,a\n,9:20 am,,south-east,30,640,thin cloud,b\n,10:05,,,30,500,,a\n"
    log = read_turns(raw.encode(), lambda day: 4.5 if day.year == 2026 else 0.0)
    assert log.direction.tolist() == [174.5, 135.0]
    assert log.hour.tolist() == pytest.approx([9 + 1 / 12, 9 + 1 / 3])
    assert log.day == (datetime.date(2026, 5, 31),) * 2  # an empty day is that of the row above
    assert log.sky == ("clear", "clouds")
    assert np.all(np.isnan(log.voltage))
    assert [(each.row, each.column) for each in log.problems] == [(4, "direction_deg")]
    with pytest.raises(InputError, match="no place is known"):
        read_turns(raw.encode())


def test_flow_may_come_from_a_bucket_and_a_height_from_a_shadow() -> None:
    head = "day,time,direction_deg,tilt_deg,volume_l,fill_time_s,stick_cm,shadow_cm"
    log = read_turns(f"{head}\n31.5.2026,13:30,180,35,10,82,100,57.7\n".encode())
    assert float(log.flow[0]) == pytest.approx(0.010 / 82)
    assert (float(log.stick[0]), float(log.shadow[0])) == pytest.approx((1.0, 0.577))
    assert np.isnan(log.sun_height[0])


def test_panel_logs_in_mixed_units() -> None:
    log = read_panel(
        b"date;clock;volts;amps;air temperature (\xb0F);remark\n2026-05-31;12:40;21,3;0;68;cloudless\n;12:42;0;1,18;;\n"
    )
    assert log.voltage.tolist() == [21.3, 0.0]
    assert log.current.tolist() == [0.0, 1.18]
    assert float(log.air_temperature[0]) == pytest.approx(20)
    assert np.isnan(log.air_temperature[1])
    assert log.sky == ("clear", "")


def test_the_blank_tables_are_read_again() -> None:
    assert set(blanks()) == {"bench", "directions", "panel"}
    for raw, columns in ((blanks()["bench"], BENCH), (blanks()["directions"], TURNS)):
        assert raw.strip().split(",") == [column.key for column in columns]
    with pytest.raises(InputError, match="fill in the table"):
        read_bench(blanks()["bench"].encode())
