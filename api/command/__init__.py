"""The command line: ``solar-fountain`` with size, orient, compare, reach, report, class, example, schema and serve.

In come files and options; out comes JSON, CSV or plain text of at most 80 columns. Exit codes: 0 done, 2 something given
cannot be used, 3 our fault, 130 interrupted.

Read: ``main`` (the parser, and what each command runs), ``files`` (read up to a limit, written without losing anything),
``starting_command``, ``reports``, ``class_command`` and ``class_options``; ``printed`` (text for a terminal) with
``printed_sure``, ``printed_orientation``, ``printed_comparison``, ``printed_reach``, ``printed_class`` (days and
directions), ``printed_bench`` and ``printed_panel``.

Heavy imports wait until a command needs them, so that ``--help`` answers at once.
"""
