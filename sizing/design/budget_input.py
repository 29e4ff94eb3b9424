"""What a design file may say of the basin and of money: the water's bed, prices that somebody read, and what is added to them."""

import datetime
from typing import Literal

from pydantic import model_validator

from sizing.design.fields import Strict, Whole, number, part, rows, text
from sizing.design.site import clash

PartKey = Literal[
    "panel_mount",
    "cable",
    "connectors",
    "switch",
    "fuse",
    "pipe",
    "entrance",
    "elbow_90",
    "elbow_45",
    "tee_run",
    "tee_branch",
    "check_valve",
    "ball_valve",
    "gate_valve",
    "hose_barb",
    "outlet",
    "fixings",
    "strainer",
    "basin",
    "liner",
    "cover",
]
"""Parts of the list whose price stands there; panels, pumps and the controller carry their own."""
Build = Literal["liner", "tub"]
Wind = Literal["sheltered", "open", "exposed"]


class Price(Strict):
    amount: float = number("price", "1", 0, 100000, "write it without a currency sign", 24.9)
    currency: str = text("currency", 3, pattern=r"^[A-Z]{3}$", advice="write three capital letters, such as EUR")
    source: str = text("price source", 120, "")
    date: str = text("price date", 10, "", r"^(\d{4}-\d{2}-\d{2})?$", "write it like 2026-05-31")

    @model_validator(mode="after")
    def day_exists(self) -> "Price":
        try:
            datetime.date.fromisoformat(self.date or "2026-05-31")
        except ValueError:
            sentence = f"price date is {self.date}, which no calendar has; write a day like 2026-05-31"
            raise clash("no_such_day", "date", sentence) from None
        return self


PRICE = part("price", "amount, currency, where it was read and when", None)


class PartPrice(Price):
    part: PartKey = part("part", "its key in the parts list")


class BasinInput(Strict):
    """The basin under the fountain: round or rectangular, how deep the water stands, and how open it lies."""

    diameter_m: float | None = number("basin diameter", "m", 0.2, 20, "measure the water, not the rim", 1.6, None)
    length_m: float | None = number("basin length", "m", 0.2, 50, "measure the water, not the rim", 1.8, None)
    width_m: float | None = number("basin width", "m", 0.2, 50, "measure the water, not the rim", 1.2, None)
    depth_m: float = number("water depth", "m", 0.05, 1.5, "measure from the water to the bottom", 0.3)
    build: Build = part("kind of basin", "liner for one that is dug or built, tub for one that is bought", "liner")
    wind: Wind = part("wind", "sheltered, open or exposed", "open")
    dry_spell_days: Whole = number("longest dry spell", "d", 1, 200, "days without rain that the basin must last", 21, 21)

    @model_validator(mode="after")
    def one_shape(self) -> "BasinInput":
        sides = (self.length_m, self.width_m)
        if self.diameter_m is not None and any(side is not None for side in sides):
            told = (
                f"basin diameter is {self.diameter_m:g} m, and a length or width is given too; a basin is round or rectangular; "
            )
            raise clash("given_twice", "diameter_m", f"{told}keep the diameter, or length and width")
        if self.diameter_m is None and any(side is None for side in sides):
            name = "length_m" if self.length_m is None and self.width_m is not None else "width_m"
            name = "diameter_m" if self.length_m is None and self.width_m is None else name
            label = {"length_m": "basin length", "width_m": "basin width", "diameter_m": "basin diameter"}[name]
            other = "; or give length_m and width_m in its place" if name == "diameter_m" else ""
            raise clash("missing", name, f"{label} is missing; add it, in metres{other}")
        return self


class BudgetInput(Strict):
    """Prices of the parts list and what is added to their sum."""

    contingency_pct: float = number("contingency", "%", 0, 50, "10 for what nobody thought of", 10, 10.0)
    tax_pct: float = number("tax", "%", 0, 50, "0 if the prices hold it already", 0, 0.0)
    delivery: Price | None = PRICE
    water_per_m3: Price | None = part("price of water", "for a cubic metre from the tap", None)
    parts: tuple[PartPrice, ...] = rows("prices of parts", "part", 0, 40, "one row for each part that has a price", ())

    @model_validator(mode="after")
    def each_part_once(self) -> "BudgetInput":
        keys = [row.part for row in self.parts]
        for index, key in enumerate(keys):
            if key in keys[:index]:
                raise clash("part_doubled", f"parts/{index}/part", f"part {key} has two prices; keep one of them")
        return self
