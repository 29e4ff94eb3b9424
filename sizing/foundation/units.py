"""Exact conversions between the units of the design file and SI, each with its definition."""

MINUTE = 60.0
"""[s] ISO 80000-3."""
HOUR = 3600.0
"""[s] ISO 80000-3."""
LITRE = 1e-3
"""[m3] ISO 80000-3: one cubic decimetre."""
LITRE_PER_MINUTE = LITRE / MINUTE
"""[m3/s]"""
MILLIMETRE = 1e-3
"""[m]"""
SQUARE_MILLIMETRE = 1e-6
"""[m2]"""
INCH = 0.0254
"""[m] International inch, exact."""
FOOT = 0.3048
"""[m] International foot, exact."""
US_GALLON = 231 * INCH**3
"""[m3] 231 cubic inches, exact."""
IMPERIAL_GALLON = 4.54609e-3
"""[m3] Exact by its definition."""

SHOWN = {"deg": "°", "Cel": "°C", "mm2": "mm²", "Ohm": "ohm", "kWh/m2/d": "kWh/m² a day", "%/K": "% per °C"}
"""How a unit code is written for people, where it differs from the code."""
