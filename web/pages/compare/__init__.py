"""The page that compares pumps and panels side by side: which pair, for how much, why the others fail.

In comes a comparison; out come a headline, tables by rank, and the neighbours of the chosen pair for the report.

Read: ``compare_page``, ``choice_words`` (the headline), ``pairs_tables`` (with the neighbours).

2026-11-25, a pair is a button, not a link, because 72 links would carry the design 72 times. 72 pairs with all tables take 124
    KB and 35 ms to print, 12 pairs 44 KB and 11 ms. Beyond 72 pairs (both connections) only the CSV has the months.
"""
