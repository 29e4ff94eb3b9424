"""The designs that the description of the HTTP interface asks about; what is answered is computed."""

from typing import Any

EXAMPLE: dict[str, Any] = {
    "schema_version": 1,
    "title": "Reading garden jet (invented)",
    "note": "An invented school with an invented panel and pump.",
    "place": {"name": "Invented school", "latitude_deg": 44.9, "longitude_deg": 6.7, "elevation_m": 530},
    "sky": {"kind": "built_in"},
    "mounting": {"tilt_deg": 35, "azimuth_deg": 190, "soiling_pct": 3},
    "panels": [
        {"id": "p20", "name": "20 W panel (invented)", "vmp_v": 17.6, "imp_a": 1.14, "voc_v": 21.7, "isc_a": 1.22},
    ],
    "pumps": [
        {
            "id": "q12",
            "name": "12 V pump (invented)",
            "rated_voltage_v": 12,
            "lowest_voltage_v": 5,
            "highest_voltage_v": 24,
            "points": [
                {"flow_l_per_min": 0, "head_m": 2.4, "current_a": 0.5},
                {"flow_l_per_min": 4.5, "head_m": 1.8, "current_a": 0.66},
                {"flow_l_per_min": 9, "head_m": 0.2, "current_a": 0.8},
            ],
        }
    ],
    "chosen": {"panel": "p20", "pump": "q12"},
    "connection": {"kind": "direct"},
    "cable": {"length_m": 6, "area_mm2": 1.5},
    "pipe": {
        "length_m": 2.5,
        "inside_diameter_mm": 13,
        "fittings": [{"kind": "entrance", "count": 1}, {"kind": "elbow_90", "count": 2}],
    },
    "outlet": {"kind": "nozzle", "bore_mm": 5, "count": 1, "height_above_water_m": 0.4},
    "water_temperature_c": 15,
}
"""A whole design; place, panel and pump are invented."""

EXAMPLE_SITE: dict[str, Any] = {
    "place": {
        "name": "Invented school, walled yard",
        "latitude_deg": 52.3,
        "longitude_deg": 5.6,
        "time_zone": "Europe/Amsterdam",
        "compass_date": "2026-05-31",
        "skyline": [
            {"azimuth_deg": 80, "altitude_deg": 4},
            {"compass_deg": 118, "height_m": 7.5, "distance_m": 16},
            {"compass_deg": 151, "height_m": 7.5, "distance_m": 19},
            {"azimuth_deg": 165, "altitude_deg": 6},
            {"azimuth_deg": 262, "altitude_deg": 17},
        ],
    },
    "sky": {
        "kind": "monthly",
        "ghi_kwh_per_m2_day": [0.7, 1.4, 2.7, 4.1, 5.0, 5.3, 5.1, 4.3, 3.0, 1.6, 0.8, 0.5],
        "origin": "Invented figures",
    },
    "mounting": {"tilt_deg": 35, "compass_deg": 187},
}
"""A design file's first part; place, skyline and sun are invented."""

EXAMPLE_CHOICE: dict[str, Any] = EXAMPLE | {
    "panels": [
        EXAMPLE["panels"][0] | {"price": {"amount": 24, "currency": "EUR"}},
        EXAMPLE["panels"][0]
        | {
            "id": "p35",
            "name": "35 W panel (invented)",
            "imp_a": 1.99,
            "isc_a": 2.13,
            "price": {"amount": 41, "currency": "EUR"},
        },
    ],
    "pumps": [EXAMPLE["pumps"][0] | {"price": {"amount": 29.5, "currency": "EUR"}}],
    "goal": {"jet_height_m": 0.4, "from_hour": 10, "to_hour": 14, "months": [5, 6, 7], "days_out_of_ten": 6},
}
"""The example with two panels, prices and a goal, all invented."""
EXAMPLE_MISSED: dict[str, Any] = EXAMPLE_CHOICE | {"goal": EXAMPLE_CHOICE["goal"] | {"jet_height_m": 0.8}}
"""The same with a higher jet asked for."""
EXAMPLE_TEXTS = {
    "town": ("Towns of one name in several countries", "trujillo"),
    "coordinates": ("A pair of coordinates", "52° 18' N, 5° 36' E"),
}
"""What is looked for in the examples: in words, and as written in q."""
