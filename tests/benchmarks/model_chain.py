"""The yardstick: one year of 8760 hours through pvlib's ModelChain, from shipped weather to power."""

import warnings
from pathlib import Path

import pandas as pd
import pvlib
from pvlib.iotools import read_tmy3
from pvlib.location import Location
from pvlib.modelchain import ModelChain
from pvlib.pvsystem import Array, FixedMount, PVSystem, retrieve_sam

WEATHER = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
MODULE = "A10Green_Technology_A10J_S72_175"


def weather_year() -> tuple[pd.DataFrame, Location]:
    """The TMY3 file that pvlib ships, as one year."""
    data, about = read_tmy3(WEATHER, coerce_year=1990, map_variables=True)
    return data[["ghi", "dhi", "dni", "temp_air", "wind_speed"]], Location.from_tmy(about, data)


def plain_chain(place: Location) -> ModelChain:
    """One module, De Soto's diode, Faiman's cells, glass, no spectrum, a plain inverter."""
    module = retrieve_sam("CECMod")[MODULE].to_dict()
    array = Array(
        FixedMount(35.0, 180.0),
        albedo=0.2,
        module_parameters=module,
        temperature_model_parameters={"u0": 25.0, "u1": 6.84},
    )
    system = PVSystem(arrays=[array], inverter_parameters={"pdc0": 180.0, "eta_inv_nom": 0.96})
    return ModelChain(
        system,
        place,
        transposition_model="haydavies",
        dc_model="desoto",
        ac_model="pvwatts",
        aoi_model="physical",
        spectral_model="no_loss",
        temperature_model="faiman",
    )


def run_year(chain: ModelChain, weather: pd.DataFrame) -> ModelChain:
    """The year's power; pvlib's own warnings about weather of several years are no matter here."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return chain.run_model(weather)
