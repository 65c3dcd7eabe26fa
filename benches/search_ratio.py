"""Times the solution of the same vented and band-pass networks two ways in one run and prints the ratio.

Ours is the criterion benchmark `search` on one thread: every candidate checked, described as a network, solved at 32
frequencies, and its five figures read off. numpy solves the bare matrices of as many networks at as many frequencies in
batches, three unknowns for a vented box and four for a band-pass (current, velocity, pressures; the network's own rows),
without filling them in or reading anything off. Needs cargo and numpy:  python3 benches/search_ratio.py
"""
import os
import re
import subprocess
import timeit

import numpy as np

POINTS = 32
RHO, GAMMA_P = 1.20408475888, 1.4 * 101325.0
RE, LE, BL, MMS, CMS, RMS, SD = 3.3, 1.5e-3, 12.5, 0.125, 0.25e-3, 3.4, 0.033
FREQUENCIES = np.geomspace(10, 80, POINTS)


def matrices(networks, chambers):
    """Filled matrices of boxes with one (vented) or two (band-pass) chambers; 2 + chambers unknowns."""
    w = 2 * np.pi * FREQUENCIES[None, :]
    s = 1j * w
    volume = np.linspace(0.025, 0.065, networks)[:, None]
    size = 2 + chambers
    a = np.zeros((networks, POINTS, size, size), dtype=complex)
    a[..., 0, 0] = RE + s * LE
    a[..., 0, 1] = a[..., 1, 0] = BL
    a[..., 1, 1] = -(RMS + s * MMS + 1 / (s * CMS))
    for chamber in range(chambers):
        part = volume * (1.0 if chambers == 1 else (0.6, 0.4)[chamber])
        cab = part / GAMMA_P
        y = s * cab + 0.1 * 200 * cab
        if chamber == chambers - 1:
            y = y + 1 / (s * RHO * 0.3 / 0.00785 + 50)
        a[..., 2 + chamber, 2 + chamber] = y / SD**2
        sign = 1.0 if chamber == 0 else -1.0
        a[..., 1, 2 + chamber] = sign
        a[..., 2 + chamber, 1] = sign
    b = np.zeros((networks, POINTS, size, 1), dtype=complex)
    b[..., 0, 0] = 1
    return a, b


def ours():
    """Seconds for one candidate by criterion, on one and on two threads."""
    root = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    run = subprocess.run(["cargo", "bench", "--bench", "search", "--", "candidates"], cwd=root,
                         stdout=subprocess.PIPE, text=True, check=True)
    found = re.findall(r"thrpt:\s+\[\S+ \S+ (\S+) ([KM])elem/s ", run.stdout)
    return [1 / (float(rate) * {"K": 1e3, "M": 1e6}[unit]) for rate, unit in found]


def main():
    one, two = ours()
    seconds = 0.0
    for chambers in (1, 2):
        a, b = matrices(500, chambers)
        assert np.isfinite(np.linalg.solve(a, b)).all()
        seconds += min(timeit.repeat(lambda: np.linalg.solve(a, b), number=3, repeat=7)) / 3 / 1000
    print(f"one candidate at {POINTS} frequencies, half of them vented, half band-pass")
    print(f"  ours, figures and all   {one * 1e6:8.2f} µs   {1 / one:10.0f} a second on one thread")
    print(f"  ours on two threads     {two * 1e6:8.2f} µs   {1 / two:10.0f} a second")
    print(f"  numpy, batched solve    {seconds * 1e6:8.2f} µs   {seconds / one:8.1f} times ours on one thread")


if __name__ == "__main__":
    main()
