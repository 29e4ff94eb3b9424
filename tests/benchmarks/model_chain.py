"""The yardstick: one year of 8760 hours through pvlib's ModelChain, from shipped weather to power."""

import warnings
from pathlib import Path

import pandas as pd
import pvlib
from pvlib.iotools import read_tmy3
from pvlib.location import Location
from pvlib.modelchain import ModelChain
from pvlib.pvsystem import Array, FixedMount, PVSystem

WEATHER = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
MODULE = {"alpha_sc": 0.003, "a_ref": 1.9, "I_L_ref": 5.2, "I_o_ref": 3e-10, "R_s": 0.35, "R_sh_ref": 300.0}
"""An invented module of 72 cells and about 170 watts; open at 45 volts, 5.2 amperes in short circuit."""
INVERTER_EFFICIENCY = 0.96


def weather_year() -> tuple[pd.DataFrame, Location]:
    """The TMY3 file that pvlib ships, as one year."""
    data, about = read_tmy3(WEATHER, coerce_year=1990, map_variables=True)
    return data[["ghi", "dhi", "dni", "temp_air", "wind_speed"]], Location.from_tmy(about, data)


def plain_chain(place: Location) -> ModelChain:
    """One module, De Soto's diode, Faiman's cells, glass, no spectrum, and a fixed share lost on the way to the socket."""
    array = Array(
        FixedMount(35.0, 180.0),
        albedo=0.2,
        module_parameters=MODULE,
        temperature_model_parameters={"u0": 25.0, "u1": 6.84},
    )
    return ModelChain(
        PVSystem(arrays=[array]),
        place,
        transposition_model="haydavies",
        dc_model="desoto",
        ac_model=fixed_share,
        aoi_model="physical",
        spectral_model="no_loss",
        temperature_model="faiman",
    )


def fixed_share(chain: ModelChain) -> None:
    """The module's best power times one efficiency, where pvlib asks for an inverter."""
    chain.results.ac = INVERTER_EFFICIENCY * chain.results.dc["p_mp"]


def run_year(chain: ModelChain, weather: pd.DataFrame) -> ModelChain:
    """The year's power; pvlib's own warnings about weather of several years are no matter here."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return chain.run_model(weather)
