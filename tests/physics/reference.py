"""Writes reference.csv: what published libraries make of the same questions.

    pip install -r requirements.txt && python reference.py > reference.csv

Each line: kind, inputs (separated by spaces), expected, tolerance, source.
The Rust test reads the file, so neither Python nor a network is needed to test.
"""

import math
from importlib.metadata import version

import ambiance
import fluids
import iapws
import numpy
from CoolProp.CoolProp import PropsSI
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.special import exp1, j0, j1, jn_zeros

IAPWS = f"iapws {version('iapws')}"
COOLPROP = f"CoolProp {version('CoolProp')}"
AMBIANCE = f"ambiance {version('ambiance')}"
FLUIDS = f"fluids {version('fluids')}"
SCIPY = f"scipy {version('scipy')}"
PSI = 6894.757293168361
FOOT = 0.3048


def row(kind, inputs, expected, tolerance, source):
    inputs = " ".join(repr(float(value)) for value in inputs)
    print(f"{kind},{inputs},{float(expected)!r},{float(tolerance):.3g},{source}")


def air(metres):
    """Standard pressure at a geometric height, Pa."""
    return fluids.ATMOSPHERE_1976(metres).P


def boiling(pascals):
    """Boiling temperature by IAPWS-IF97, degC."""
    return iapws.iapws97._TSat_P(pascals / 1e6) - 273.15


def boiling_pressure(celsius):
    return iapws.iapws97._PSat_T(celsius + 273.15) * 1e6


def atmosphere_rows():
    for metres in list(range(-4500, 11001, 500)) + [-457, -100, -10, 10, 305, 1219, 2438, 4000]:
        row("air_pressure", [metres], air(metres), 2e-3, FLUIDS)
        if metres >= -4900:
            value = ambiance.Atmosphere(metres).pressure[0]
            # Another gas constant: 1e-6 of the pressure.
            row("air_pressure", [metres], value, 0.2, AMBIANCE + " (ICAO 1993)")
    for pascals in range(25_000, 176_000, 10_000):
        metres = brentq(lambda z: air(z) - pascals, -4900, 11000, xtol=1e-9)
        row("air_height", [pascals], metres, 1e-3, f"{FLUIDS} + {SCIPY}")


def saturation_rows():
    for celsius in [0, 0.01, 1, 5] + list(range(10, 371, 10)) + [115.6, 121.1, 373.9]:
        value = boiling_pressure(celsius)
        row("boiling_pressure", [celsius], value, 1e-9 * value, IAPWS)
    for kpa in [0.6113, 1, 2, 5] + list(range(10, 260, 10)) + [500, 1000, 5000, 10000, 22000]:
        row("boiling_point", [kpa * 1e3], boiling(kpa * 1e3), 1e-7, IAPWS)
    for kpa in range(50, 260, 10):
        value = PropsSI("T", "P", kpa * 1e3, "Q", 0, "IF97::Water") - 273.15
        row("boiling_point", [kpa * 1e3], value, 1e-7, COOLPROP + " (IF97)")
        value = PropsSI("T", "P", kpa * 1e3, "Q", 0, "HEOS::Water") - 273.15
        row("boiling_point", [kpa * 1e3], value, 3e-3, COOLPROP + " (IAPWS-95)")


def steam_rows():
    for feet in [-1500, -400, 0, 1000, 2000, 4000, 6000, 8000, 10000, 13123, 20000, 30000]:
        for psi in [0, 5, 10.5, 11, 13, 15, 30]:
            for share in [0, 0.1, 0.5] if psi in (0, 11, 15) else [0]:
                steam = (air(feet * FOOT) + psi * PSI) * (1 - share)
                source = f"{FLUIDS} + {IAPWS}"
                row("steam", [psi, feet, share], boiling(steam), 1e-6, source)
    for celsius in range(65, 116, 5):
        metres = brentq(lambda z: boiling(air(z)) - celsius, -4900, 11000, xtol=1e-9)
        row("boiling_height", [celsius], metres, 1e-3, f"{FLUIDS} + {IAPWS} + {SCIPY}")


def water_rows():
    for celsius in range(5, 121, 5):
        state = ("T", celsius + 273.15, "P", 300e3, "Water")
        values = [PropsSI("L", *state), PropsSI("D", *state), PropsSI("C", *state) / 1e3]
        for kind, value in zip(["water_k", "water_rho", "water_cp"], values):
            # Choi & Okos is a fit: within 1.3 per cent of IAPWS up to 120 degC,
            # 2.1 in the conductivity of water near freezing.
            share = 0.013 if celsius >= 15 else 0.021
            row(kind, [celsius], value, share * value, COOLPROP)


def bessel_rows():
    for x in [0, 1e-6, 0.5, 1, 2, 3, 5, 8, 12, 20, 33.3, 50, 75.4, 88, 99.9, 100]:
        for sign in [1, -1]:
            row("j0", [sign * x], j0(sign * x), 1e-13, SCIPY)
            row("j1", [sign * x], j1(sign * x), 1e-13, SCIPY)
    for n, zero in enumerate(jn_zeros(0, 24), 1):
        row("j0_zero", [n], zero, 1e-11, SCIPY)


def slab_modes(biot, count):
    """Eigenvalues and centre weights of an endless slab; no biot: fixed surface."""
    if biot is None:
        roots = (numpy.arange(count) + 0.5) * math.pi
    else:
        f = lambda x: x * math.sin(x) - biot * math.cos(x)
        roots = numpy.array(
            [brentq(f, n * math.pi, (n + 0.5) * math.pi, xtol=1e-14) for n in range(count)]
        )
    return roots, 4 * numpy.sin(roots) / (2 * roots + numpy.sin(2 * roots))


def cylinder_modes(biot, count):
    zeros = jn_zeros(0, count)
    if biot is None:
        roots = zeros
    else:
        f = lambda x: x * j1(x) - biot * j0(x)
        low = numpy.concatenate([[1e-12], jn_zeros(1, count - 1)])
        roots = numpy.array([brentq(f, a, b, xtol=1e-14) for a, b in zip(low, zeros)])
    return roots, 2 * j1(roots) / (roots * (j0(roots) ** 2 + j1(roots) ** 2))


def ratio(modes, fourier):
    roots, weights = modes
    # 400 terms carry the series down to a Fourier number of 1e-4; before 1e-3
    # nothing has reached the centre.
    return 1.0 if fourier < 1e-3 else float(numpy.sum(weights * numpy.exp(-(roots**2) * fourier)))


def mode_rows():
    for biot in [None, 0.01, 0.1, 1, 5, 23.75, 28.125, 100, 1000, 1e6]:
        for kind, modes in [("slab", slab_modes), ("cylinder", cylinder_modes)]:
            roots, weights = modes(biot, 24)
            for n in [1, 2, 3, 10, 24]:
                inverse = 0 if biot is None else 1 / biot
                row(f"{kind}_root", [inverse, n], roots[n - 1], 1e-11, SCIPY)
                row(f"{kind}_weight", [inverse, n], weights[n - 1], 1e-11, SCIPY)
            if biot is None or biot > 0.5:
                many = modes(biot, 400)
                for fourier in [1e-5, 1e-4, 3e-4]:
                    # Nothing has reached the centre; 25 modes know it to 6e-5.
                    row(f"{kind}_ratio", [inverse, fourier], 1, 6e-5, "exact limit")
                for fourier in [1e-3, 3e-3, 0.01, 0.03, 0.1, 0.3, 1, 3]:
                    row(f"{kind}_ratio", [inverse, fourier], ratio(many, fourier), 1e-5, SCIPY)


def run_rows():
    """Food at 5, 20 or 60 degC; steam rises, holds and falls in straight lines."""
    history = [(0, 20.0), (12, 100.0), (22, 100.0), (30, 115.6), (130, 115.6), (170, 95.0), (200, 30.0)]
    times = numpy.array([t for t, _ in history]) * 60.0
    steam = numpy.array([temperature for _, temperature in history])
    for radius, half, alpha, h, k, start in [
        (0.036, 0.029, 1.4e-7, None, 0.5, 5.0),
        (0.038, 0.045, 1.4e-7, None, 0.5, 20.0),
        (0.038, 0.055, 1.55e-7, 312.5, 0.5, 60.0),
        (0.042, 0.075, 1.3e-7, 300.0, 0.45, 5.0),
        (0.041, 0.070, 1.6e-7, None, 0.55, 20.0),
    ]:
        radial = cylinder_modes(None if h is None else h * radius / k, 400)
        axial = slab_modes(None if h is None else h * half / k, 400)
        theta = lambda t: ratio(radial, alpha * t / radius**2) * ratio(axial, alpha * t / half**2)
        for minutes in [1, 5, 12, 20, 30, 45, 60, 90, 130, 131, 140, 170, 185, 200]:
            now = minutes * 60.0
            # Duhamel's integral, by quadrature over each straight piece.
            value = numpy.interp(now, times, steam) - (steam[0] - start) * theta(now)
            for (t0, s0), (t1, s1) in zip(zip(times, steam), zip(times[1:], steam[1:])):
                end = min(t1, now)
                if end > t0 and s1 != s0:
                    slope = (s1 - s0) / (t1 - t0)
                    lag, _ = quad(lambda t: theta(now - t), t0, end, epsabs=1e-6, epsrel=1e-10, limit=400)
                    value -= slope * lag
            film = 0 if h is None else h
            row("run", [radius, half, alpha, film, k, start, minutes], value, 5e-4, SCIPY + " (Duhamel)")


def lethality_rows():
    rate = lambda celsius: 10 ** ((celsius - 121.1) / 10)
    for a, b, minutes in [
        (100, 121.1, 10), (115.6, 115.6, 100), (115.6, 115.6000001, 100), (115.6, 115.7, 1),
        (121.1, 30, 45), (20, 240, 3), (-20, 116, 60), (118.2, 118.2, 0),
    ]:
        value, _ = quad(lambda t: rate(a + (b - a) * t / minutes), 0, minutes, epsabs=1e-14, epsrel=1e-13, limit=500) if minutes else (0.0, 0)
        row("f0_segment", [a, b, minutes], value, max(1e-10 * value, 1e-12), SCIPY)
    ln10 = math.log(10)
    for retort, j, start, fh, minutes in [(115.6, 2.0, 15, 60, 100), (116, 2.04, 5, 75, 160), (121.1, 1.4, 20, 35, 75), (118, 1.8, 40, 50, 90)]:
        g = j * (retort - start) * 10 ** (-minutes / fh)
        value = rate(retort) * fh / ln10 * (exp1(ln10 * g / 10) - exp1(ln10 * j * (retort - start) / 10))
        row("f0_ball", [retort, j, start, fh, minutes], value, 1e-6, SCIPY + " (E1)")


print("# Written by reference.py; do not edit.")
print("kind,inputs,expected,tolerance,source")
for part in [
    atmosphere_rows, saturation_rows, steam_rows, water_rows,
    bessel_rows, mode_rows, run_rows, lethality_rows,
]:
    part()
