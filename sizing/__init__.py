"""Sizing a garden solar fountain, in the order the sun and the water travel.

The front door for people who compute: ``read_design``, ``size``, ``compare``, ``orient``, ``Design``, ``MODEL_VERSION``. They are
loaded when they are first asked for, so that a room can be used without the whole house.

Each folder is a room; a room looks only at rooms that stand before it in this list (``tests/test_rooms.py`` keeps it so):

foundation      what every room uses: errors, working, units, constants, tables, sources, numbers as they are shown
place           where the garden is: towns, coordinates, compass, skyline
sky             the year of sun and air over it
light           what of it falls on the panel and into its cells
electric        panel, cable and motor
hydraulic       water, pump, pipe and outlet
operation       where panel, pump and pipe agree, and the year of that
design          the design file: its fields, what is wrong with it, where
fountain        the parts that a design describes, in SI
answers         what an answer is made of
uncertainty     what is not known, and what it does to the year
report          one design sized, with its working, its verdict, and what changes would do
orientation     the year in every direction
comparison      every pump with every panel
reach           what would meet a goal that is missed
basin           the basin, its water and frost
installation    cables, safety, care
money           parts, prices, budget, ten years
measured        what a class measured: logs, bench, day, trials, panel_check
notebook        the front door: results that print, show and plot themselves
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sizing.design import Design
    from sizing.foundation import MODEL_VERSION
    from sizing.notebook import compare, orient, read_design, size

__all__ = ["MODEL_VERSION", "Design", "compare", "orient", "read_design", "size"]

OTHER_ROOMS = {"Design": "sizing.design", "MODEL_VERSION": "sizing.foundation"}
"""Where a name of the front door lives, if not in the room ``notebook``."""


def __getattr__(name: str) -> Any:
    """A name of the front door, from its room."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(OTHER_ROOMS.get(name, "sizing.notebook")), name)


def __dir__() -> list[str]:
    """What the front door offers."""
    return sorted({*globals(), *__all__})
