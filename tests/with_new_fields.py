"""Run as a program: the models of pump and panel get new fields, nothing else is changed, and a design that has them is carried.

It takes a folder to write to; it ends with an error where a field gets lost.
"""

import importlib.abc
import importlib.machinery
import importlib.util
import json
import sys
from pathlib import Path
from types import CodeType
from typing import Any
from urllib.parse import parse_qsl, urlencode

ROOT = Path(__file__).resolve().parent.parent
MODELS = "sizing.design.design"
PUMP = """
    tail_mm: float | None = number("hose tail", "mm", 1, 100, "measure it outside", 13, None)
    least_depth_m: float = number("least depth", "m", 0, 5, "read it from the label", 0.1, 0.1)
    blades: Whole | None = number("blades", "1", 1, 12, "count them", 5, None)
    maker: str | None = text("maker", 40, None)
    seal: Literal["plain", "ceramic"] = part("seal", "what keeps the water out", "plain")
"""
PANEL = """
    weight_kg: float | None = number("weight", "kg", 0.1, 60, "weigh it", 1.9, None)
    cells: Whole = number("number of cells", "1", 1, 200, "count them", 36, 36)
"""
NEW = {
    "pumps": {"tail_mm": 19.5, "least_depth_m": 0.2, "blades": 7, "maker": "Brook & Sons, 12 V", "seal": "ceramic"},
    "panels": {"weight_kg": 2.3, "cells": 40},
}


class Longer(importlib.machinery.SourceFileLoader):
    """Loads the module of the models with the new lines at the beginning of both classes."""

    def get_code(self, fullname: str) -> CodeType:
        source = Path(self.path).read_text(encoding="utf-8")
        for name, lines in (("PanelInput", PANEL), ("PumpInput", PUMP)):
            head = f"class {name}(Strict):\n"
            assert source.count(head) == 1
            source = source.replace(head, head + lines.lstrip("\n"))
        return compile(source, self.path, "exec")


class Finder(importlib.abc.MetaPathFinder):
    """Finds the longer models in place of the project's own."""

    def find_spec(self, fullname: str, path: Any, target: Any = None) -> Any:
        if fullname != MODELS:
            return None
        return importlib.util.spec_from_loader(
            fullname, Longer(fullname, str(ROOT / Path(*MODELS.split(".")).with_suffix(".py")))
        )


def new_of(data: dict[str, Any], at: int = 0) -> dict[str, Any]:
    """What a design file says of the new fields."""
    return {key: {name: data[key][at].get(name) for name in names} for key, names in NEW.items()}


def lost_on_no_way(folder: Path) -> None:
    """A design goes through form, address, copies, a file and a bench test."""
    from sizing.design.reading import parse_design, read_design
    from sizing.report.report import size
    from tests.asking import ask
    from web.forms.form import texts_of, tidy, understand
    from web.forms.several import added, copied, is_blank

    data = json.loads((ROOT / "examples" / "quince_court_jet.json").read_text(encoding="utf-8"))
    for key, values in NEW.items():
        data[key][0] |= values
    design = read_design(data)
    assert new_of(design.model_dump(mode="json")) == NEW

    texts = tidy(dict(parse_qsl(urlencode(texts_of(design)))))
    found = understand(texts)
    assert found.errors == {}
    assert found.design is not None
    assert new_of(found.design.model_dump(mode="json")) == NEW
    assert size(found.design).year.water == size(design).year.water

    twice = understand(copied(copied(texts, "pumps", 0), "panels", 0)).design
    assert twice is not None
    assert new_of(twice.model_dump(mode="json"), 1) == NEW
    more = added(texts, "pumps")
    assert is_blank(more | {"pumps.1.position": "submersible", "pumps.1.seal": ""}, "pumps.1")

    page = ask("GET", f"/?{urlencode(texts)}").text
    for said in ("Hose tail", "in millimetres", "Least depth", "Blades", "Maker", "Seal", "Weight", "Number of cells"):
        assert said in page, said
    for key, values in NEW.items():
        assert all(f'name="{key}.0.{name}"' in page for name in values)
    wrong = understand(texts | {"pumps.0.tail_mm": "900", "pumps.0.blades": "2.5", "panels.0.cells": "x"})
    assert set(wrong.errors) >= {"pumps.0.tail_mm", "pumps.0.blades", "panels.0.cells"}
    assert "between 1 and 100 mm" in wrong.errors["pumps.0.tail_mm"]

    given = folder / "given.json"
    given.write_text(json.dumps(data), encoding="utf-8")
    assert new_of(json.loads(given.read_bytes())) == NEW
    into_a_design(given, folder / "measured.json", texts)
    kept = parse_design((folder / "measured.json").read_bytes()).model_dump(mode="json")
    assert kept["pumps"][0]["measured"] is not None
    assert new_of(kept) == NEW


def into_a_design(given: Path, made: Path, texts: dict[str, str]) -> None:
    """Put a bench test into the design, by the command line and by the page."""
    from api.command.main import DONE, main
    from sizing.design.design import PumpInput
    from sizing.design.reading import parse_design, read_as
    from sizing.measured.bench.measured_pump import design_with_pump

    log = ROOT / "examples" / "bench_heron_pump.csv"
    assert main(["class", "bench", str(log), "--design", str(given), "--into", str(made)]) == DONE
    measured = json.loads(made.read_bytes())["pumps"][0]
    plain = {name: value for name, value in measured.items() if name not in NEW["pumps"]}
    again = design_with_pump(parse_design(given.read_bytes()), read_as(PumpInput, plain))
    assert new_of(again.model_dump(mode="json")) == NEW


if __name__ == "__main__":
    sys.meta_path.insert(0, Finder())
    lost_on_no_way(Path(sys.argv[1]))
