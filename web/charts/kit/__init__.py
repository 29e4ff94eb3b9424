"""Geometry, shapes, scales and SVG that all pictures share; nothing here knows a fountain.

Read: ``shapes`` (rectangle, line, circle, text, the palette, ``Chart`` and ``Table``), ``labels`` (places where words cover
nothing), ``axes`` (steps that read easily), ``crossing`` (two families of lines that meet), ``many_lines`` (lines that can be
told apart in grey), ``svg`` (writes the shapes and decides nothing).

``svg`` writes the shapes in Python; in the template it took half as long again. Every picture passes one macro, so
that title, description and table are never forgotten.
"""
