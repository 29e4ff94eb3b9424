"""One file a picture: from numbers of the computing to shapes, a sentence that says what they show, and a table.

In come arrays and records; out comes a ``Chart``. A page hands it to the one macro of ``templates/charts.html``. A picture
computes no physics of its own.

Read: ``path_strip`` (the way of sun and water), ``water_by_month``, ``month_and_hour``, ``curves`` (panel and pump, pump and
pipe), ``causes``, ``direction_map``; ``pair_names``, ``pumps``, ``load_lines``, ``pairs_by_month``,
``pictures_of_pairs`` (the pictures of a comparison); ``experiments``, ``panel_readings`` (what a class measured).

2026-11-25, pages without scripts, charts as SVG of our own. Refused: plotting libraries (28 to 82 ms a chart against 2 ms, or
    scripts in the browser). The geometry is plain Python and tested.
2026-11-25, twelve pumps in one picture. Chosen: a pump has one look in both pictures (two blues, six kinds of dashes, so that
    it reads in grey); panels are orange, pipe and outlet ink; each line carries its number on a white plate, with a key of
    names below. Refused: twelve colours; a key of dashes; ranks as colours. Pumps are drawn at rated voltage, through the very
    points that their makers print.
"""
