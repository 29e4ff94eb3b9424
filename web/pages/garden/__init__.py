"""The pages before the sizing: the form, the sky over the garden, and a weather file sent with the form.

In come texts as they were typed; out come the form with a sentence beside each wrong box, the sky explained, or the results
with the file's own hours.

Read: ``form_page``, ``summaries`` (a panel or pump of several in one line), ``left_over`` (answers of an
example that must not stay in another garden), ``sky_page``, ``weather_upload`` (sizes by the file
and keeps twelve months of it for the design).
"""
