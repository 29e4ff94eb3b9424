"""What is asked, and the answer as bytes: the same bytes for the HTTP interface and for the command line.

In come a design file and parameters; out comes JSON, checked against its model: an answer that does not fit is a bug and never
leaves the service. The latest answers are kept (256 sizings).

Read: ``asked`` (the moment), ``sizings`` with ``models``; then each subject with its models: ``skies``, ``places`` and
``sky_models``; ``orientations`` and ``orientation_models``; ``comparisons`` and ``comparison_models``; ``buildings``;
``measurements`` with ``bench_models``, ``turned_models``, ``panel_models`` and ``class_models``.
"""
