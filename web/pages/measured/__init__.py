"""The pages of what a class measured: bench, directions, panel, the sheet of a day, the first clear day.

In come a log as it was sent and the answers of its boxes; out come sentences, pictures and tables, or the log again with what
could not be read.

Read: ``boxes`` (made from the request models, and read), ``log_page`` (what the pages of all logs share), ``bench_page``,
``directions_page``, ``panel_page``, ``sheet_page``, ``class_page`` (the first page, the first clear day, the routes of all).
"""
