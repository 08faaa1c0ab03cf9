"""Reference grids of moist air, from independent libraries.

Cells are printed already.
"""

import csv
import pathlib

import CoolProp.CoolProp as coolprop
import psychrolib
import pvlib

# The weather file that pvlib ships: Sand Point, Alaska.
TMY3 = "703165TY.csv"
# Dry-bulb and dew point in °C, relative humidity in %.
TMY3_COLUMNS = ("Dry-bulb (C)", "Dew-point (C)", "RHum (%)")


def saturation():
    """Saturation pressure and latent heat of water, IAPWS-95, 0.01 to 60 °C."""
    rows = []
    for t in [0.01] + [half / 2 for half in range(1, 121)]:
        at = ("T", t + 273.15)
        pressure = coolprop.PropsSI("P", *at, "Q", 0, "Water")
        heat = [coolprop.PropsSI("H", *at, "Q", q, "Water") for q in (0, 1)]
        rows.append((f"{t:g}", f"{pressure:.4f}", f"{(heat[1] - heat[0]) / 1000:.3f}"))
    return ("IAPWS-95", ["CoolProp"]), ["t_c", "pressure_pa", "latent_kj_kg"], rows


def psychrometry():
    """Dew point and humidity ratio at 101325 Pa, ASHRAE's equations. Dew points below freezing are left out: there
    the library goes over to ice."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    rows = []
    for t in [half / 2 for half in range(10, 81, 5)]:
        for percent in range(10, 101, 5):
            dew = psychrolib.GetTDewPointFromRelHum(t, percent / 100)
            ratio = psychrolib.GetHumRatioFromRelHum(t, percent / 100, 101325)
            if dew >= 0.02:
                rows.append((f"{t:g}", f"{percent}", f"{dew:.4f}", f"{ratio:.7f}"))
    header = ["t_c", "rh_percent", "dew_point_c", "humidity_ratio"]
    return ("Equations of ASHRAE (Hyland and Wexler)", ["psychrolib"]), header, rows


def tmy3():
    """Every hour of a typical year: dry-bulb, dew point, relative humidity, as the file prints them."""
    path = pathlib.Path(pvlib.__file__).parent / "data" / TMY3
    with path.open(newline="") as file:
        lines = list(csv.reader(file))
    columns = [lines[1].index(name) for name in TMY3_COLUMNS]
    rows = [tuple(line[column] for column in columns) for line in lines[2:]]
    source = "NREL Typical Meteorological Year 3, station 703165 Sand Point, Alaska; public domain; as shipped"
    return (source, ["pvlib"]), ["dry_bulb_c", "dew_point_c", "rh_percent"], rows


def tables():
    """All grids of this file."""
    return {"saturation": saturation(), "psychrometry": psychrometry(), "tmy3": tmy3()}
