"""The service: JSON routes, the pages of ``web``, their description (OpenAPI 3.1), and running it.

In come requests; out go the bytes of ``api.answers`` and the pages.

Read: ``app`` (routes, refusals, start), ``class_routes`` (what a class measured), ``openapi`` with ``examples`` and
``class_examples`` (the description), ``serving`` (a free port, and the address once it answers).

2026-11-25, plain ``def`` routes, two threads. A sizing takes about 30 ms; more threads only wait for each other and for the
    health check.
"""
