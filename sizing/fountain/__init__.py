"""The parts that a design describes, in SI: between the design file and the computing.

In comes a ``Design``; out come a ``Fountain`` (panel with cable, pump, pipe with outlet) and a ``Setting`` (place, mounting,
sky), with notes on what was filled in.

Read: ``site_setup`` (place, true directions, the sky), ``components`` (panel, pump, pipe, outlet, goal),
``basin_under`` (the one basin that picture, splash, water, parts and safety read), ``pump_shape`` (which shape a pump was taken
to have), ``unknowns`` (what nobody said) and ``sentences`` (what to ask).

Units change here, once: litres per minute, millimetres and per cent come in, SI goes out. Compass readings become true
directions here, and an elevation that is not given is looked up. The rooms above, ``design`` apart, do not know the design file.
"""

from sizing.fountain.basin_under import BasinUnder
from sizing.fountain.components import CONTROLLER_NAMES, controller_words, outlet_of, pipe_of
from sizing.fountain.pump_shape import SHAPES, shape_known, shape_of
from sizing.fountain.sentences import question, strain_told
from sizing.fountain.site_setup import place_of

__all__ = [
    "CONTROLLER_NAMES",
    "SHAPES",
    "BasinUnder",
    "controller_words",
    "outlet_of",
    "pipe_of",
    "place_of",
    "question",
    "shape_known",
    "shape_of",
    "strain_told",
]
