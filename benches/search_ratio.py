"""Times the solution of the same networks of every kind two ways in one run and prints the ratios.

Ours is the criterion benchmark `search` on one thread: every candidate checked, described as a network, solved at 32
frequencies, and its five figures read off. numpy solves the bare matrices of as many networks at as many frequencies in
batches, three unknowns for a closed or vented box and four for the others (current, velocity, pressures, a radiator's
flow; the network's own rows), without filling them in or reading anything off. Needs cargo and numpy:
python3 benches/search_ratio.py
"""
import os
import re
import subprocess
import timeit

import numpy as np

POINTS = 32
KINDS = ("Closed", "Vented", "PassiveRadiator", "Bandpass", "Bandpass6Outward", "Bandpass6Inward")
RHO, GAMMA_P = 1.20408475888, 1.4 * 101325.0
RE, LE, BL, MMS, CMS, RMS, SD = 3.3, 1.5e-3, 12.5, 0.125, 0.25e-3, 3.4, 0.033
FREQUENCIES = np.geomspace(10, 80, POINTS)


def matrices(networks, kind):
    """Filled matrices of boxes of a kind: current, velocity, pressures, radiator flow."""
    w = 2 * np.pi * FREQUENCIES[None, :]
    s = 1j * w
    volume = np.linspace(0.040, 0.070, networks)[:, None]
    chambers = 2 if kind.startswith("Bandpass") else 1
    radiator = kind == "PassiveRadiator"
    size = 2 + chambers + radiator
    a = np.zeros((networks, POINTS, size, size), dtype=complex)
    a[..., 0, 0] = RE + s * LE
    a[..., 0, 1] = a[..., 1, 0] = BL
    a[..., 1, 1] = -(RMS + s * MMS + 1 / (s * CMS))
    pipe = 1 / (s * RHO * 0.3 / 0.00785 + 50) / SD**2
    for chamber in range(chambers):
        part = volume * (1.0 if chambers == 1 else (0.6, 0.4)[chamber])
        cab = part / GAMMA_P
        y = (s * cab + 0.1 * 200 * cab) / SD**2
        vented = kind == "Vented" or chambers == 2 and (chamber == 1 or kind == "Bandpass6Outward")
        a[..., 2 + chamber, 2 + chamber] = y + (pipe if vented else 0.0)
        sign = 1.0 if chamber == 0 else -1.0
        a[..., 1, 2 + chamber] = sign
        a[..., 2 + chamber, 1] = sign
    if kind == "Bandpass6Inward":
        for i, j, sign in ((2, 2, 1), (3, 3, 1), (2, 3, -1), (3, 2, -1)):
            a[..., i, j] += sign * pipe
    if radiator:
        a[..., 2, 3], a[..., 3, 2] = 1.0, -1.0
        a[..., 3, 3] = (s * 0.12 + 3.0 + 1 / (s * 0.3e-3)) * (SD / 0.034) ** 2
    b = np.zeros((networks, POINTS, size, 1), dtype=complex)
    b[..., 0, 0] = 1
    return a, b


def ours():
    """Seconds for one candidate by criterion: of each kind on one thread, and of all together, by name."""
    root = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    run = subprocess.run(["cargo", "bench", "--bench", "search", "--", "kind|candidates"], cwd=root,
                         stdout=subprocess.PIPE, text=True, check=True)
    found = re.findall(r"^(?:kind|candidates)/(.+?)\s+time:.*?thrpt:\s+\[\S+ \S+ (\S+) ([KM])elem/s ", run.stdout, re.S | re.M)
    return {name: 1 / (float(rate) * {"K": 1e3, "M": 1e6}[unit]) for name, rate, unit in found}


def main():
    times = ours()
    both = [0.0, 0.0]
    print(f"one candidate at {POINTS} frequencies on one thread, figures and all, beside numpy's batched solve")
    for kind in KINDS:
        a, b = matrices(500, kind)
        assert np.isfinite(np.linalg.solve(a, b)).all()
        seconds = min(timeit.repeat(lambda: np.linalg.solve(a, b), number=3, repeat=7)) / 3 / 500
        mine = times[kind]
        both = [both[0] + mine, both[1] + seconds]
        print(f"  {kind:18s}{mine * 1e6:8.2f} µs   numpy {seconds * 1e6:8.2f} µs   {seconds / mine:6.1f} times ours")
    print(f"  all together                     {both[1] / both[0]:20.1f} times ours")
    for name, seconds in times.items():
        if name not in KINDS:
            print(f"  all kinds, {name:30s}{1 / seconds:10.0f} candidates a second")


if __name__ == "__main__":
    main()
