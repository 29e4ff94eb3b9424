"""The fountain to scale, seen from the side, with a pupil of 1.40 m for size.

In come the measures of a design and its jet; out comes a ``Chart`` in a wide and a narrow form. The basin is the
one that all sums use, dashed where it is only proposed; a panel without a length is drawn at an assumed one and said to be.

Read: ``scene`` (what is drawn, at which scale, and where), ``garden`` (pupil, sun, panel, basin, pump, measures), ``fountain``
(puts it together, with jet, column or sheet).
"""
