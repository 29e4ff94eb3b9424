"""The pages: words, charts as plain geometry, the drawing to scale, templates and one stylesheet."""
