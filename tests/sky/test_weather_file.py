"""Weather files: the two forms agree on one year, and every way a file can be wrong has its sentence."""

import os
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from sizing.foundation.errors import SizingError
from sizing.sky.solar_position import DAYS_IN_MONTH, month_mean
from sizing.sky.weather_file import LARGEST_FILE, WeatherFile, noon_shift, read_file, steps_per_hour, weather_file

GREENSBORO = "pvlib/data/723170TYA.CSV"
SAND_POINT = "pvlib/data/703165TY.csv"
GREENSBORO_SUN = (2.41, 3.06, 4.25, 5.41, 5.64, 6.25, 6.08, 5.61, 4.43, 3.59, 2.43, 2.24)
GREENSBORO_AIR = (0.3, 5.0, 11.4, 14.7, 19.0, 23.6, 25.4, 24.8, 20.1, 13.1, 10.8, 4.2)
"""[kWh/m2 a day], [Cel] Means of the file read apart from this project (published/sky.toml)."""


@lru_cache
def tmy3_text() -> str:
    return (files("pvlib") / "data" / "723170TYA.CSV").read_text()


@lru_cache
def epw_lines() -> tuple[str, ...]:
    """The Greensboro year as an EPW file, by the column list of that open format: 8 lines of heading, hours 1 to 24."""
    heading = ["LOCATION,Greensboro Piedmont Triad Int,NC,USA,TMY3,723170,36.100,-79.950,-5.0,273"]
    heading += [f"{word},0" for word in ("DESIGN CONDITIONS", "TYPICAL/EXTREME PERIODS", "GROUND TEMPERATURES")]
    heading += ["HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", "COMMENTS 1,", "COMMENTS 2,", "DATA PERIODS,1,1,Data,Sunday,1/1,12/31"]
    rows = []
    for line in tmy3_text().splitlines()[2:]:
        cell = line.split(",")
        month, day, year = cell[0].split("/")
        clock = [year, month, day, cell[1][:2], "60", "?"]
        air, dew, humid, pressure = cell[31], cell[34], cell[37], "98000"
        sun = [cell[2], cell[3], "0", cell[4], cell[7], cell[10]]
        rest = ["0"] * 4 + [cell[43], cell[46]] + ["0"] * 13
        rows.append(",".join([*clock, air, dew, humid, pressure, *sun, *rest]))
    return (*heading, *rows)


def epw(*changes: tuple[int, int, str]) -> bytes:
    """The EPW file with single cells changed: (row of data from 0, column from 0, text)."""
    lines = list(epw_lines())
    for row, column, text in changes:
        cells = lines[8 + row].split(",")
        cells[column] = text
        lines[8 + row] = ",".join(cells)
    return "\n".join(lines).encode()


GHI, DNI, DHI, AIR, WIND = 13, 14, 15, 6, 21


def read_tmy3(text: str) -> WeatherFile:
    return weather_file(text.encode(), "garden.csv")


def sentence(raw: bytes, name: str = "garden.epw") -> str:
    with pytest.raises(SizingError) as caught:
        weather_file(raw, name)
    assert caught.value.problems[0].pointer == "#/sky/path"
    return str(caught.value)


def test_months_of_the_file_as_read_elsewhere() -> None:
    file = weather_file(read_file(GREENSBORO), GREENSBORO)
    assert np.allclose(month_mean(file.ghi.reshape(365, 24).sum(axis=1)) / 1000, GREENSBORO_SUN, atol=0.006)
    assert np.allclose(month_mean(file.air_temperature.reshape(365, 24).mean(axis=1)), GREENSBORO_AIR, atol=0.06)
    assert (file.latitude, file.longitude, file.elevation, file.utc_offset) == (36.1, -79.95, 273.0, -5.0)
    assert (file.name, file.form, file.steps_per_day) == ("Greensboro Piedmont Triad Int", "TMY3", 24)
    assert file.years[1] > file.years[0]
    assert not file.leap_day_left_out


def test_the_two_forms_of_one_year_agree() -> None:
    first, second = read_tmy3(tmy3_text()), weather_file(epw(), "garden.epw")
    for name in ("ghi", "dhi", "dni", "air_temperature", "wind_speed"):
        assert np.array_equal(getattr(first, name), getattr(second, name)), name
    assert second.form == "EPW"
    assert np.array_equal(first.times.month, second.times.month)
    assert np.array_equal(first.times.hour, second.times.hour)


def test_values_stand_at_the_middle_of_their_hour_in_utc() -> None:
    file = read_tmy3(tmy3_text())
    assert str(file.times.tz) == "UTC"
    local = file.times + pd.Timedelta(hours=-5)
    assert np.array_equal(local.hour, np.tile(np.arange(24), 365))
    assert set(local.minute) == {30}
    assert np.array_equal(np.bincount(local.month)[1:], np.array(DAYS_IN_MONTH) * 24)


def test_clock_of_honest_files_stands_at_noon() -> None:
    assert abs(noon_shift(read_tmy3(tmy3_text()))) < 0.07
    assert abs(noon_shift(weather_file(read_file(SAND_POINT), SAND_POINT))) < 0.07


def test_letters_of_other_alphabets_in_the_heading() -> None:
    text = epw().decode().replace("Greensboro Piedmont", "Málaga Península")
    for coding in ("utf-8", "utf-8-sig", "latin-1"):
        assert weather_file(text.encode(coding), "m.epw").name == "Málaga Península Triad Int"


def test_windows_line_ends() -> None:
    assert weather_file(epw().replace(b"\n", b"\r\n"), "w.epw").ghi.sum() == read_tmy3(tmy3_text()).ghi.sum()


def doubled(lines: list[str]) -> list[str]:
    """Each hour twice, as two half-hours."""
    return [half for line in lines for half in (line, line)]


def test_half_hours() -> None:
    lines = list(epw_lines())
    file = weather_file("\n".join([*lines[:8], *doubled(lines[8:])]).encode(), "half.epw")
    assert file.steps_per_day == 48
    assert np.array_equal(file.ghi[::2], file.ghi[1::2])
    assert list(file.times[:3].minute) == [15, 45, 15]


def leap_year_lines() -> list[str]:
    lines = list(epw_lines())
    end_of_february = 8 + (31 + 28) * 24
    leap = [
        line.replace(",2,28,", ",2,29,").replace(",02,28,", ",02,29,") for line in lines[end_of_february - 24 : end_of_february]
    ]
    return [",".join(["2004", *line.split(",")[1:]]) for line in [*lines[8:end_of_february], *leap, *lines[end_of_february:]]]


def test_leap_year_loses_its_29_february() -> None:
    file = weather_file("\n".join([*epw_lines()[:8], *leap_year_lines()]).encode(), "leap.epw")
    assert file.leap_day_left_out
    assert file.years == (2004, 2004)
    assert file.ghi.sum() == read_tmy3(tmy3_text()).ghi.sum()
    assert len(file.ghi) == 8760


def test_midnight_of_28_february_in_a_leap_year_belongs_to_that_day() -> None:
    text = tmy3_text()
    day = next(line[:10] for line in text.splitlines() if line.startswith("02/28/"))
    moved = text.replace(f"{day},24:00", "02/29/2000,00:00")
    assert moved != text
    assert np.array_equal(read_tmy3(moved).ghi, read_tmy3(text).ghi)


def test_rows_in_any_order() -> None:
    lines = list(epw_lines())
    turned = [*lines[:8], *lines[8 + 5000 :], *lines[8 : 8 + 5000]]
    assert np.array_equal(weather_file("\n".join(turned).encode(), "t.epw").ghi, read_tmy3(tmy3_text()).ghi)


@pytest.mark.parametrize("rows", [0, 1000, 4337, 8759, 8761, 17519])
def test_anything_but_a_whole_year_of_rows_is_refused(rows: int) -> None:
    with pytest.raises(SizingError) as caught:
        steps_per_hour(rows, "part.epw")
    assert str(caught.value) == (
        f"weather file 'part.epw' holds {rows:,} rows; a whole year has 8,760 hours or 17,520 half-hours "
        "(8,784 or 17,568 in a leap year); fetch the whole file again."
    )


def test_rows_counted_as_whole_years() -> None:
    assert [steps_per_hour(rows, "x") for rows in (8760, 8784, 17520, 17568)] == [1, 1, 2, 2]


def test_a_heading_one_line_short_is_noticed() -> None:
    lines = list(epw_lines())
    assert "holds 8,759 rows" in sentence("\n".join(lines[:2] + lines[3:]).encode())


def test_a_cut_file_is_noticed() -> None:
    assert "holds 4,337 rows" in sentence("\n".join(epw_lines()[: 8 + 4337]).encode())


@pytest.mark.filterwarnings("ignore::pandas.errors.DtypeWarning")
@pytest.mark.parametrize(
    ("column", "text", "words"),
    [
        (GHI, "9999", "global sun '9999' in line 4,009; it must be a number from 0 to 1500 W/m2"),
        (GHI, "cloudy", "global sun 'cloudy' in line 4,009"),
        (GHI, "", "global sun 'nan' in line 4,009"),
        (GHI, "-7", "global sun '-7' in line 4,009"),
        (DNI, "1501", "beam sun '1501' in line 4,009"),
        (DHI, "inf", "diffuse sun 'inf' in line 4,009"),
        (AIR, "99.9", "air temperature '99.9' in line 4,009; it must be a number from -90 to 60 degrees C"),
    ],
)
def test_a_value_that_cannot_be_is_named_with_its_line(column: int, text: str, words: str) -> None:
    found = sentence(epw((4000, column, text)))
    assert words in found
    assert found.startswith("weather file 'garden.epw' has ")
    assert found.endswith("(9999 or 99.9 marks a missing value); choose a complete file.")


def test_missing_wind_is_taken_as_calm_and_counted() -> None:
    file = weather_file(epw((10, WIND, "999"), (11, WIND, "-9900")), "w.epw")
    assert file.windless_rows == 2
    assert list(file.wind_speed[10:12]) == [1.0, 1.0]


def test_an_hour_twice_is_noticed() -> None:
    # Row 1 is the hour from 01:00 to 02:00 on 1 January; writing hour 1 in it makes the first hour stand twice.
    assert sentence(epw((1, 3, "1"))) == (
        "weather file 'garden.epw' holds the hour from 00:00 on 1 January 2 times; each hour of the year must stand in it once; "
        "fetch the file again."
    )


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (b"", "is neither EPW (first line begins with LOCATION) nor TMY3 (second line begins with Date)"),
        (b"<html><body>404</body></html>", "is neither EPW"),
        (bytes(range(256)) * 40, "is neither EPW"),
        (b"LOCATION,", "cannot be read as EPW: its heading, a date or an hour is damaged; fetch it again."),
        (epw_lines()[0].encode(), "holds 0 rows"),
        (epw().replace(b",36.100,", b",N36,"), "cannot be read as EPW"),
        (epw().replace(b",", b";").replace(b"LOCATION;", b"LOCATION,"), "cannot be read as EPW"),
        (epw((3, 3, "0")), "cannot be read as EPW"),
        (epw((3, 2, "32")), "cannot be read as EPW"),
        (epw((3, 1, "x")), "cannot be read as EPW"),
        (tmy3_text().replace("24:00", "xx:00").encode(), "cannot be read as TMY3"),
        (tmy3_text().replace("GHI (W/m^2)", "sun").encode(), "has no column for global sun; choose another file."),
        (epw().replace(b",36.100,", b",136.1,"), "states latitude 136.1; it must be -90 to 90; correct it."),
        (epw().replace(b",-5.0,273", b",-20,273"), "states time zone -20; it must be -14 to 14"),
        (epw().replace(b",-5.0,273", b",-5.0,nan"), "states elevation nan; it must be -500 to 9000"),
    ],
)
@pytest.mark.filterwarnings("ignore::pandas.errors.DtypeWarning")
def test_damaged_files_each_have_a_sentence(raw: bytes, words: str) -> None:
    assert words in sentence(raw)


def test_a_file_without_sun_is_refused() -> None:
    lines = [",".join([*line.split(",")[:GHI], "0", "0", "0", *line.split(",")[DHI + 1 :]]) for line in epw_lines()[8:]]
    assert "holds no global sun or no diffuse sun at all" in sentence("\n".join([*epw_lines()[:8], *lines]).encode())


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (
            "https://example.org/x.epw",
            "weather file 'https://example.org/x.epw' is a web address; nothing is fetched from the web",
        ),
        ("garden/https:/example.org/x.epw", "is a web address"),
        ("no/such/file.epw", "weather file 'no/such/file.epw' is not there; give the path of an EPW or TMY3 file"),
        ("", "weather file '' is a folder"),
        ("pvlib/data/nothing.csv", "weather file 'pvlib/data/nothing.csv' is not there"),
        ("pvlib/data/../../../etc/passwd", "is not there"),
        ("bad\0name.epw", "weather file 'bad?name.epw' "),
        ("x" * 5000, "weather file '..."),
        ("/dev/null", "weather file '/dev/null' is not there"),
    ],
)
def test_paths_that_are_no_weather_file(path: str, words: str) -> None:
    with pytest.raises(SizingError) as caught:
        read_file(path)
    assert words in str(caught.value)
    assert caught.value.problems[0].pointer == "#/sky/path"
    assert "\n" not in str(caught.value)


def test_folder_too_large_and_unreadable(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(SizingError, match=r"is a folder; name the EPW or TMY3 file in it\."):
        read_file(str(tmp_path))
    large = tmp_path / "large.epw"
    large.write_bytes(b"L" * (LARGEST_FILE + 1))
    with pytest.raises(SizingError, match="is over 5 MB; a year of hours is about 2 MB; give one year only"):
        read_file(str(large))
    small = tmp_path / "small.epw"
    small.write_bytes(epw())
    assert read_file(str(small)) == epw()

    def closed(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", closed)
    with pytest.raises(SizingError, match="cannot be read; check its name and who may read it"):
        read_file(str(small))


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    if not hasattr(os, "mkfifo"):
        pytest.skip("this system has no named pipes")
    os.mkfifo(tmp_path / "pipe.epw")
    with pytest.raises(SizingError, match="is not there"):
        read_file(str(tmp_path / "pipe.epw"))
