"""The pages, a room for each question that somebody asks of a design.

The rooms, in order: frame (what all pages share), garden (form and sky), results, compare, reach, orientation, report, measured.
A page is a function of the fields that were sent; ``web.routes`` gives it an address.

Each room prints templates of ``web/templates`` through ``frame``. Pages work without scripts, on a phone and on paper.
"""
