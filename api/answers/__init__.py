"""What is asked, and the answer as bytes: the same bytes for the HTTP interface and for the command line.

In come a design file and parameters; out comes the JSON of the typed answer that a room of ``sizing`` builds. The latest
answers are kept (256 sizings).

Read: ``asked`` (the moment), ``sizings``, ``skies``, ``places``, ``orientations``, ``comparisons``, ``reaches``, ``buildings``;
``measurements``.
"""
