"""Published constants; each stands here once, with unit and source key."""

from sizing.foundation.working import Constant

STANDARD_GRAVITY = Constant(9.80665, "standard_gravity", "m/s2", "iso_80000_3")
SOLAR_CONSTANT = Constant(1361.0, "solar_constant", "W/m2", "kopp_lean_2011")
BOLTZMANN_EV = Constant(8.617333262e-5, "boltzmann_constant", "eV/K", "codata_2018")
BAND_GAP_SILICON = Constant(1.121, "band_gap_silicon_25c", "eV", "de_soto_2006")
BAND_GAP_TEMPERATURE_COEFFICIENT = Constant(-0.0002677, "band_gap_temperature_coefficient", "1/K", "de_soto_2006")
REFERENCE_IRRADIANCE = Constant(1000.0, "reference_irradiance", "W/m2", "iec_60904_3")
REFERENCE_CELL_TEMPERATURE = Constant(25.0, "reference_cell_temperature", "Cel", "iec_60904_3")
FAIMAN_U0 = Constant(25.0, "faiman_heat_loss", "W/(m2.K)", "faiman_2008")
FAIMAN_U1 = Constant(6.84, "faiman_wind_loss", "W/(m2.K)/(m/s)", "faiman_2008")
COPPER_TEMPERATURE_COEFFICIENT = Constant(0.00393, "copper_temperature_coefficient", "1/K", "iec_60228")
LAPSE_RATE = Constant(0.0065, "lapse_rate", "K/m", "standard_atmosphere")
TABLE_CORRECTION = Constant(0.88, "table_correction", "1", "table_comparison")
WARM_BASE = Constant(0.248, "warm_base", "1", "table_comparison")
WARM_SLOPE = Constant(0.515, "warm_slope", "1", "table_comparison")
CLEAREST_MONTH = Constant(0.75, "clearest_month", "1", "table_comparison")
SEA_LEVEL_PRESSURE = Constant(101300.0, "sea_level_pressure", "Pa", "fao_56")
PSYCHROMETER = Constant(0.000665, "psychrometer", "1/K", "fao_56")
LATENT_HEAT = Constant(2.45e6, "latent_heat", "J/kg", "fao_56")
FAO_STEFAN_BOLTZMANN = Constant(4.903e-3 / 86400, "fao_stefan_boltzmann", "W/(m2.K4)", "fao_56")
WATER_ALBEDO = Constant(0.08, "water_albedo", "1", "mcmahon_2013")
