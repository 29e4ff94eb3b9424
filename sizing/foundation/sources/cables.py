"""Sources of numbers and formulas: wires, fuses and where they may lie."""

from sizing.foundation.sources.publication import Source

SOURCES: dict[str, Source] = {
    "ohms_law": Source(
        "Ohm's law",
        "US Department of Energy, DOE-HDBK-1011/1-92 Electrical science",
        1992,
        "ES-01: volts = amperes x ohms",
        "memory",
    ),
    "iec_60228": Source("IEC 60228 Conductors of insulated cables", "IEC", 2004, "Table 3 and annex", "secondary"),
    "astm_b258": Source(
        "ASTM B258 Standard nominal diameters and cross-sectional areas of AWG sizes of solid round wires",
        "ASTM International",
        2018,
        "definition of the gauge",
        "memory",
    ),
    "nec_table_8": Source(
        "NFPA 70 National Electrical Code", "NFPA", 2023, "chapter 9, Table 8, conductors at 75 degrees Celsius", "secondary"
    ),
    "nec_table_11": Source(
        "NFPA 70 National Electrical Code",
        "NFPA",
        2023,
        "chapter 9, Table 11, notes 2 and 4; same numbers as the low-voltage contact limit of 680.2, from memory",
        "secondary",
    ),
    "iec_62548": Source(
        "IEC 62548 Photovoltaic arrays: design requirements",
        "IEC",
        2016,
        "array maximum voltage from the maker's temperature coefficient",
        "memory",
    ),
    "iec_60364_7_702": Source(
        "IEC 60364-7-702 Low-voltage electrical installations: swimming pools and fountains",
        "IEC",
        2010,
        "zones 0 and 1, safety extra-low voltage; read in a text on its Italian edition, CEI 64-8",
        "secondary",
    ),
    "iec_62257_7_1": Source(
        "IEC 62257-7-1 Small renewable energy and hybrid systems: photovoltaic arrays",
        "IEC",
        2010,
        "definition 3.55: extra-low voltage is judged by the array's open-circuit voltage",
    ),
    "nec_690_7": Source(
        "NFPA 70 National Electrical Code", "NFPA", 2023, "Table 690.7(A), voltage correction for cold silicon modules", "memory"
    ),
    "nec_690_8": Source(
        "NFPA 70 National Electrical Code", "NFPA", 2023, "690.8(A) and (B), 1.25 x 1.25 x short-circuit current", "secondary"
    ),
    "nec_690_9": Source(
        "NFPA 70 National Electrical Code", "NFPA", 2023, "690.9(A), where no overcurrent protection is asked for", "secondary"
    ),
    "nec_210_19": Source(
        "NFPA 70 National Electrical Code",
        "NFPA",
        2023,
        "210.19(A), informational note: voltage drop; a recommendation, not a requirement",
        "secondary",
    ),
    "nec_240_6": Source("NFPA 70 National Electrical Code", "NFPA", 2023, "240.6(A), standard ratings of fuses", "secondary"),
}
