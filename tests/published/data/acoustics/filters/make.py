"""Writes filters.csv: magnitude, phase and group delay of the analogue filters by scipy. Run:  python3 make.py"""
import numpy as np
from scipy import signal

F = np.geomspace(10, 500, 24)
W = 2 * np.pi * F


def butter(order, kind, hz):
    return signal.butter(order, 2 * np.pi * hz, kind, analog=True)


def twice(ba):
    return np.polymul(ba[0], ba[0]), np.polymul(ba[1], ba[1])


def peak(hz, gain_db, q):
    a, w = 10 ** (gain_db / 40), 2 * np.pi * hz
    return [1 / w**2, a / (q * w), 1], [1 / w**2, 1 / (a * q * w), 1]


def low_shelf(hz, gain_db):
    # Cookbook: H = A (s² + √A/Q s + A)/(A s² + √A/Q s + 1), Q = 1/√2.
    a, w = 10 ** (gain_db / 40), 2 * np.pi * hz
    m = np.sqrt(a) * np.sqrt(2)
    return [a / w**2, a * m / w, a * a], [a / w**2, m / w, 1]


FILTERS = {
    "butterworth12_high_30": butter(2, "high", 30), "butterworth18_high_30": butter(3, "high", 30),
    "butterworth24_high_30": butter(4, "high", 30), "linkwitz12_high_30": twice(butter(1, "high", 30)),
    "linkwitz24_high_30": twice(butter(2, "high", 30)), "butterworth12_low_90": butter(2, "low", 90),
    "butterworth18_low_90": butter(3, "low", 90), "butterworth24_low_90": butter(4, "low", 90),
    "linkwitz12_low_90": twice(butter(1, "low", 90)), "linkwitz24_low_90": twice(butter(2, "low", 90)),
    "band_45_6_2": peak(45, 6, 2), "band_45_-9_4": peak(45, -9, 4), "shelf_40_5": low_shelf(40, 5),
    "shelf_40_-8": low_shelf(40, -8),
}
with open("filters.csv", "w", encoding="ascii") as out:
    out.write("filter,f_hz,gain_db,phase_deg,delay_ms\n")
    for name, (b, a) in FILTERS.items():
        _, h = signal.freqs(b, a, W)
        step = 1e-5
        _, up = signal.freqs(b, a, W * (1 + step))
        _, down = signal.freqs(b, a, W * (1 - step))
        delay = -np.angle(up / down) / (2 * step * W)
        for f, z, d in zip(F, h, delay):
            out.write(f"{name},{f:.10g},{20 * np.log10(abs(z)):.9g},{np.degrees(np.angle(z)):.9g},{1e3 * d:.9g}\n")
