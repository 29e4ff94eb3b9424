"""Sizing a garden solar fountain, in the order the sun and the water travel.

Each folder is a room; a room looks only at rooms that stand before it in this list (``tests/test_rooms.py`` keeps it so):

foundation      what every room uses: errors, working, units, constants, tables, sources, numbers as they are shown
place           where the garden is: towns, coordinates, compass, skyline
sky             the year of sun and air over it
light           what of it falls on the panel and into its cells
electric        panel, cable and motor
hydraulic       water, pump, pipe and outlet
operation       where panel, pump and pipe agree, and the year of that
design          the design file: its fields, what is wrong with it, where
fountain        the parts that a design describes, in SI
answers         what an answer is made of
uncertainty     what is not known, and what it does to the year
report          one design sized, with its working, its verdict, and what changes would do
orientation     the year in every direction
comparison      every pump with every panel
basin           the basin, its water and frost
installation    cables, safety, care
money           parts, prices, budget, ten years
measured        what a class measured: logs, bench, day, trials, panel_check
"""
