"""Writes flares.csv: end correction of a quarter-circle flare on a pipe, by adaptive integration. Run:  python3 make.py"""
import numpy as np
from scipy.integrate import quad

with open("flares.csv", "w", encoding="ascii") as out:
    out.write("radius_m,flare_m,correction_m\n")
    for a in (0.03, 0.05, 0.075):
        for r in (0.0, 0.006, 0.012, 0.025, 0.05):
            # Area of the opening at depth x behind the mouth's plane counted from the throat: pi (a + r - sqrt(r² - x²))².
            inside = quad(lambda x: a**2 / (a + r - np.sqrt(r * r - x * x)) ** 2, 0, r, limit=200)[0] if r else 0.0
            out.write(f"{a},{r},{inside - r + 0.8217 * a * a / (a + r):.9g}\n")
