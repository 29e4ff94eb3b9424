"""Sizing, comparing and searching directions for people who compute: results that print, show and plot themselves."""

from dataclasses import dataclass
from functools import cached_property
from os import PathLike

import pandas as pd

from sizing.comparison import comparison
from sizing.comparison.answer import ComparisonAnswer, comparison_answer
from sizing.comparison.comparison import Comparison
from sizing.comparison.pairs import suits
from sizing.notebook.designs import DesignLike, folder_of, read_design
from sizing.notebook.frames import frame_of, pairs_frame, planes_frame, steps_frame
from sizing.notebook.shown import html_table, months_shown, pairs_shown, sides_shown
from sizing.orientation import orientation
from sizing.orientation.answer import OrientationAnswer, orientation_answer
from sizing.orientation.orientation import Orientation
from sizing.orientation.sentences import verdict
from sizing.report import report
from sizing.report.answer import Answer, sizing_answer
from sizing.report.report import Report

UNTITLED = "A garden fountain"


@dataclass(frozen=True, eq=False, repr=False)
class Sized:
    """One design sized: ``answer`` holds all that is written down, ``months`` and ``steps`` are DataFrames.

    ``report`` keeps the arrays in SI behind them.
    """

    report: Report

    @cached_property
    def answer(self) -> Answer:
        """Everything found, each field with its meaning and unit; what the HTTP interface gives as JSON."""
        return sizing_answer(self.report)

    @cached_property
    def months(self) -> pd.DataFrame:
        """The twelve months, January first, by their number; columns as in ``answer.months``."""
        return frame_of(self.answer.months).set_index("month")

    @cached_property
    def steps(self) -> pd.DataFrame:
        """Every step of the year (15 minutes, or those of a weather file): sun, cells, volts, amps, flow, head, jet, state."""
        return steps_frame(self.report)

    def __repr__(self) -> str:
        return f"<{self.report.design.title or UNTITLED}: {self.report.verdict.headline}>"

    def _repr_html_(self) -> str:
        return html_table(self.report.design.title or UNTITLED, self.report.verdict.headline, months_shown(self.answer))


@dataclass(frozen=True, eq=False, repr=False)
class Compared:
    """Every pump with every panel of one design: ``pairs`` is a DataFrame by rank; ``comparison`` keeps the records in SI."""

    comparison: Comparison

    @cached_property
    def answer(self) -> ComparisonAnswer:
        """Everything found, each field with its meaning and unit; what the HTTP interface gives as JSON."""
        return comparison_answer(self.comparison)

    @cached_property
    def pairs(self) -> pd.DataFrame:
        """Every pair: its year, its goal, its price, and why it does not do what is wanted."""
        return pairs_frame(self.comparison)

    def __repr__(self) -> str:
        return f"<{self.comparison.design.title or UNTITLED}: {self.sentence}>"

    def _repr_html_(self) -> str:
        return html_table(self.comparison.design.title or UNTITLED, self.sentence, pairs_shown(self.comparison))

    @property
    def sentence(self) -> str:
        """How many pairs do what is wanted, and the first of them."""
        pairs = self.comparison.pairs
        fit = [pair for pair in pairs if suits(pair)]
        first = f"; first is panel {fit[0].pair.panel} with pump {fit[0].pair.pump}" if fit else ""
        return f"{len(fit)} of {len(pairs)} pairs do what is wanted{first}."


@dataclass(frozen=True, eq=False, repr=False)
class Oriented:
    """The year in every direction: ``planes`` is a DataFrame; ``orientation`` keeps the records in SI."""

    orientation: Orientation

    @cached_property
    def answer(self) -> OrientationAnswer:
        """Everything found, each field with its meaning and unit; what the HTTP interface gives as JSON."""
        return orientation_answer(self.orientation)

    @cached_property
    def planes(self) -> pd.DataFrame:
        """Every plane of the search: tilt, azimuth, sun of the year, and the value of each thing to want."""
        return planes_frame(self.orientation)

    def __repr__(self) -> str:
        return f"<{self.orientation.design.title or UNTITLED}: {self.sentence}>"

    def _repr_html_(self) -> str:
        return html_table(self.orientation.design.title or UNTITLED, self.sentence, sides_shown(self.orientation))

    @property
    def sentence(self) -> str:
        """What today's direction gives up for what counts first."""
        return verdict(self.orientation, self.orientation.main)


def size(design: DesignLike, folder: str | PathLike[str] | None = None) -> Sized:
    """Size one design over a whole year.

    Parameters
    ----------
    design : a design, or what ``read_design`` takes
    folder : where a weather file named by the design is looked for; beside the design file where that is given by its name

    Raises
    ------
    SizingError
        with one sentence per cause.

    Examples
    --------
    >>> result = size("examples/quince_court_jet.json")
    >>> result.months.shape, len(result.steps)
    ((12, 16), 35040)
    >>> float(result.steps["flow_l_per_min"].sum() * 15 / result.answer.year.water_l)
    1.0
    """
    return Sized(report.size(read_design(design), folder_of(design, folder)))


def compare(design: DesignLike, folder: str | PathLike[str] | None = None, both_connections: bool = False) -> Compared:
    """Size every pump with every panel of a design over the same year.

    Parameters
    ----------
    design, folder : as ``size`` takes them
    both_connections : each pair joined directly and through a controller, not only as the design says

    Raises
    ------
    SizingError
        with one sentence per cause, if no pair at all can be sized.

    Examples
    --------
    >>> found = compare("examples/orchard_choice.json")
    >>> found.pairs.index[0], "water_l" in found.pairs.columns
    (1, True)
    """
    return Compared(comparison.compare(read_design(design), folder_of(design, folder), None, both_connections))


def orient(design: DesignLike, folder: str | PathLike[str] | None = None) -> Oriented:
    """Search all directions for one design: its chosen panel and pump, over a whole year.

    Parameters
    ----------
    design, folder : as ``size`` takes them

    Raises
    ------
    SizingError
        with one sentence per cause.

    Examples
    --------
    >>> planes = orient("examples/fern_bubbler.json").planes
    >>> planes.columns[:3].tolist(), len(planes)
    (['tilt_deg', 'azimuth_deg', 'sun_kwh_per_m2'], 649)
    """
    return Oriented(orientation.orient(read_design(design), folder_of(design, folder)))
