"""Pictures of a garden's sky: its months, three of its days as they run, and the sun's way past what stands around.

In come the records of the sky and the light; out come charts, as in ``web.charts``.

Read: ``sky_by_month``, ``day_courses``, ``sun_paths``.
"""
