"""Sea water: the exact Gibbs function of TEOS-10, PSS-78 with its extension, and the EOS-80 library."""

import warnings

import gsw
import numpy as np

with warnings.catch_warnings():
    # It says that it is old, which is what it is asked for.
    warnings.simplefilter("ignore")
    import seawater

SALINITIES = [0, 0.5, 1, 2, 5, 10, 15, 20, 25, 30, 33, 35, 37, 40, 42, 45]
LOW = [0.02, 0.1, 0.3, 0.7, 1.3, 1.9, 1.99]
TEMPERATURES = [-1, 0, 4, 10, 15, 18, 20, 22, 25, 27, 30, 33, 35]
# J/kg/K, of water vapour: IAPWS.
GAS_CONSTANT = 461.52364


def reference(practical):
    return practical * 35.16504 / 35


def density():
    rows = [
        [s, t, f"{gsw.rho_t_exact(reference(s), t, 0):.8f}", f"{seawater.dens0(s, t):.8f}"]
        for s in SALINITIES
        for t in TEMPERATURES
    ]
    source = ("Density by the exact Gibbs function and by EOS-80", ["gsw", "seawater"])
    return source, ["salinity", "t90", "teos10_kg_m3", "eos80_kg_m3"], rows


def conductivity():
    rows = [
        [s, t, f"{gsw.C_from_SP(s, t, 0):.10f}"] for s in LOW + SALINITIES[3:] for t in TEMPERATURES
    ]
    return ("PSS-78 with its extension", ["gsw"]), ["salinity", "t90", "ms_cm"], rows


def activity():
    def at(s, t):
        less = gsw.chem_potential_water_t_exact(reference(s), t, 0) - gsw.chem_potential_water_t_exact(0, t, 0)
        return np.exp(less * 1000 / (GAS_CONSTANT * (t + 273.15)))

    rows = [
        [s, t, f"{at(s, t):.8f}"] for s in SALINITIES if s <= 42 for t in TEMPERATURES if 15 <= t
    ]
    return ("From the chemical potential of water", ["gsw"]), ["salinity", "t90", "activity"], rows


def tables():
    return {
        "seawater_density": density(),
        "seawater_conductivity": conductivity(),
        "seawater_activity": activity(),
    }
