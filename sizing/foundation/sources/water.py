"""Sources of numbers and formulas: motor and pump, the water itself, pipe and outlet."""

from sizing.foundation.sources.publication import Source

SOURCES: dict[str, Source] = {
    "motor_equations": Source(
        "Analysis of Electric Machinery", "Krause, Wasynczuk & Sudhoff", 2002, "ch. 2, permanent-magnet dc machine", "secondary"
    ),
    "appelbaum_1986": Source(
        "Starting and steady-state characteristics of dc motors powered by solar cell generators",
        "Appelbaum, IEEE Trans. Energy Conversion EC-1(1)",
        1986,
        "pp. 17-25, a 1 kW motor",
        "memory",
    ),
    "appelbaum_1987": Source(
        "The quality of load matching in a direct-coupling photovoltaic system",
        "Appelbaum, IEEE Trans. Energy Conversion EC-2(4)",
        1987,
        "pp. 534-541, the load-matching factor",
        "memory",
    ),
    "kay_hatcho_1992": Source(
        "Small-scale pumped irrigation: energy and cost",
        "Kay & Hatcho, FAO",
        1992,
        "energy to lift water, as reproduced at tneutron.net/sipil/pump-energy-needs",
        "secondary",
    ),
    "iso_9906": Source(
        "ISO 9906 Rotodynamic pumps: hydraulic performance acceptance tests",
        "ISO",
        2012,
        "grade 3: head 7 %, flow 9 %; the standard itself was not read",
        "memory",
    ),
    "affinity_laws": Source(
        "DOE-HDBK-1012/3-92 Thermodynamics, heat transfer and fluid flow",
        "US Department of Energy",
        1992,
        "HT-03 p. 50, pump laws",
        "read",
    ),
    "hydrostatics": Source(
        "Definition of head, hydraulic power and mean velocity",
        "US Department of Energy, DOE-HDBK-1012/3-92 Thermodynamics, heat transfer and fluid flow",
        1992,
        "HT-03: head and mean velocity; hydraulic power follows from both",
        "read",
    ),
    "iapws_sr6": Source(
        "Revised supplementary release on properties of liquid water at 0.1 MPa, SR6-08", "IAPWS", 2011, "viscosity", "memory"
    ),
    "kell_1975": Source(
        "Density, thermal expansivity and compressibility of liquid water",
        "Kell, J. Chem. Eng. Data 20",
        1975,
        "pp. 97-105",
        "memory",
    ),
    "chaplin_water": Source(
        "Water structure and science: water data",
        "Martin Chaplin, London South Bank University",
        2021,
        "www1.lsbu.ac.uk/water/data1.html",
    ),
    "iapws_r12": Source(
        "Release on the IAPWS formulation 2008 for the viscosity of ordinary water substance",
        "IAPWS",
        2008,
        "R12-08 Table 4",
        "memory",
    ),
    "cengel_cimbala": Source(
        "Fluid Mechanics: Fundamentals and Applications",
        "Cengel & Cimbala, McGraw-Hill",
        2006,
        "examples 8-2 and 8-3, inputs as in a public collection of worked examples",
        "secondary",
    ),
    "darcy_weisbach": Source(
        "EPANET 2.2 User Manual", "US Environmental Protection Agency", 2020, "ch. 3, head loss formulas", "read"
    ),
    "clamond_2009": Source(
        "Efficient resolution of the Colebrook equation", "Clamond, Ind. Eng. Chem. Res. 48", 2009, "pp. 3665-3671", "secondary"
    ),
    "maurer_pipes": Source(
        "Vignette of the R package hydraulics: pipe friction measured in a laboratory", "Maurer", 2021, "section 3"
    ),
    "epanet_fittings": Source(
        "EPANET 2.2 User Manual", "US Environmental Protection Agency", 2020, "ch. 3, minor loss coefficients", "read"
    ),
    "epanet_roughness": Source(
        "EPANET 2.2 User Manual",
        "US Environmental Protection Agency",
        2020,
        "ch. 3, roughness coefficients for new pipe: plastic 0.005, galvanised iron 0.5 thousandths of a foot",
        "read",
    ),
    "hawthorne_1963": Source(
        "Fluid expansion theory computes flow in corrugated hose",
        "Hawthorne & von Helms, Product Engineering, 10 June",
        1963,
        "pp. 98-100, each ring a sudden expansion to D + 0.438 S, S apart; as a knowledge base of pipe engineers gives it",
        "secondary",
    ),
    "molesworth": Source(
        "Pocketbook of Useful Formulae and Memoranda for Civil and Mechanical Engineers",
        "Guilford L. Molesworth",
        1900,
        "p. 244, discharge from orifices: cylindrical tubes 0.81 to 3 bores long, 0.77 to 12; year from memory",
        "read",
    ),
    "rawn_1961": Source(
        "Diffusers for disposal of sewage in sea water",
        "Rawn, Bowerman & Brooks, Trans. ASCE 126 III",
        1961,
        "pp. 344-388, from the far end; ports of 0.63 - 0.58 V2/2gE (sharp), 0.975 (1 - V2/2gE)^(3/8) (rounded)",
        "memory",
    ),
    "munson_fittings": Source(
        "Fundamentals of Fluid Mechanics (loss coefficients of pipe components)",
        "Munson, Young & Okiishi, Wiley",
        2009,
        "Table 8.2; values read in a web table, title from memory",
        "secondary",
    ),
    "perry_fittings": Source(
        "Perry's Chemical Engineers' Handbook, 8th ed. (friction loss of fittings and valves)",
        "Green & Perry, McGraw-Hill",
        2008,
        "values read in a web table, title from memory",
        "secondary",
    ),
    "crane_tp410": Source(
        "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410M",
        "Crane",
        2009,
        "example 7.1, as in the documentation of the fluids library",
        "secondary",
    ),
    "usbr_pipe": Source(
        "Water Measurement Manual, 3rd ed.", "US Bureau of Reclamation", 2001, "section 14-13(a), vertical pipes", "read"
    ),
    "unwin_1911": Source(
        "Hydraulics (Unwin), Encyclopaedia Britannica 11th ed. vol. 14",
        "Encyclopaedia Britannica",
        1911,
        "sections 16-50",
        "read",
    ),
    "lueger_jet": Source(
        "Height of a jet in still air, Lueger's formula from memory",
        "publication looked for and not found",
        2026,
        "h = H/(1 + phi H), phi = 0.25/(d + (0.1 d)^3) with d in mm; tried against two other rules, from "
        "memory too: from 10 mm of bore at most 4 % below Freeman's to 3 m and 10 % to 10 m, 7 % below Mariotte's at 2 m",
        "memory",
    ),
    "ifsta_pumping": Source(
        "Pumping Apparatus Driver/Operator Handbook",
        "International Fire Service Training Association",
        2006,
        "ch. 7, flow of smooth-bore nozzles",
        "secondary",
    ),
    "francis_weir": Source(
        "Hydraulics (Unwin), Encyclopaedia Britannica 11th ed. vol. 14",
        "Encyclopaedia Britannica",
        1911,
        "section 42, Francis formula",
        "read",
    ),
    "rouse_1936": Source(
        "Discharge characteristics of the free overfall", "Rouse, Civil Engineering 6", 1936, "p. 257", "memory"
    ),
}
