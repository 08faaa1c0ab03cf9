"""Flow through a siphon, with the friction factor of a library of fluid mechanics.

A smooth round tube, full, with an entrance loss of 0.5. The head is used up by the speed at the outlet, the entrance and
friction: h = v^2 / (2 g) (1 + 0.5 + f L / D). Where the friction factor jumps from laminar to turbulent, heads between the
two give the speed at the jump: the head needed rises with the speed everywhere, so there is one answer.

Viscosity and density of fresh water at 0.1 MPa are not the library's. They are the closed forms of IAPWS SR6-08(2011)
(viscosity) and Kell 1975 (density), both from memory; against the library iapws 1.5.5 they were within 3e-5 and 2e-5 from
0.5 to 50 C.
"""

import math

SOURCE = ("Friction factors of smooth tubes", ["fluids"])

GRAVITY = 9.80665
ENTRANCE = 0.5


def viscosity(celsius):
    """Pa s."""
    reduced = (celsius + 273.15) / 300.0
    terms = ((280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0))
    return 1e-6 * sum(factor * reduced**power for factor, power in terms)


def density(celsius):
    """kg/m^3."""
    t = celsius
    above = 999.83952 + 16.945176 * t - 7.9870401e-3 * t**2 - 46.170461e-6 * t**3
    above += 105.56302e-9 * t**4 - 280.54253e-12 * t**5
    return above / (1.0 + 16.879850e-3 * t)


def speed(diameter, length, head, celsius):
    """m/s, by bisection."""
    from fluids.friction import friction_factor

    nu = viscosity(celsius) / density(celsius)
    low, high = 0.0, math.sqrt(2.0 * GRAVITY * head)
    for _ in range(200):
        v = (low + high) / 2.0
        f = friction_factor(Re=v * diameter / nu, eD=0.0)
        needed = v * v / (2.0 * GRAVITY) * (1.0 + ENTRANCE + f * length / diameter)
        if needed > head:
            high = v
        else:
            low = v
    return (low + high) / 2.0, nu


def tables():
    """A few hundred tubes that a person could hold."""
    header = ["diameter_mm", "length_m", "head_m", "celsius", "reynolds", "litres_per_minute"]
    rows = []
    for diameter_mm in (4, 6, 9, 12, 16, 20):
        for length in (0.5, 1.0, 1.5, 2.5, 4.0):
            for head in (0.1, 0.3, 0.6, 0.9, 1.2):
                if head > length:
                    continue
                for celsius in (15, 20, 25, 30):
                    diameter = diameter_mm / 1000.0
                    v, nu = speed(diameter, length, head, celsius)
                    flow = v * math.pi / 4.0 * diameter**2 * 60000.0
                    row = [diameter_mm, length, head, celsius, f"{v * diameter / nu:.1f}", f"{flow:.6g}"]
                    rows.append(row)
    return {"siphon": (SOURCE, header, rows)}
