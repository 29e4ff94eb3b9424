"""The page that says what would meet a goal that is missed; each offer is a button that takes it.

Read: ``reach_page``.

2026-12-01, a page of its own, one press away from a missed goal, because the search sizes up to some thousands of designs. An
    offer is a button that sends all answers and the offer's name; the changes are put into the answers and led on to the results.
"""
