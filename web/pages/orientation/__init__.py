"""The page that says which way the panel should face, what the present orientation costs, and what seasons gain.

In come a search over all directions and what the reader asked the map to show; out comes the content of ``orientation.html``.

Read: ``orientation_page``.
"""
