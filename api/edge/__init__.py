"""What every request passes before it reaches a route, and how a refusal looks.

In comes raw ASGI; out goes a request with an id, whole and not too large, or one problem in the shape of RFC 9457, as a plain
page for people.

Read: ``problems`` (each kind with its status and its page), ``limits`` (``Front``, ``Body``, ``InFlight``), ``bodies``.

Nothing here repeats what a client sent; a crash becomes a page that says nothing of it, and one line in the log.
"""
