"""Times responses at 240 frequencies in one run and prints the ratios: a vented box three ways, every type two ways.

Ours is the criterion benchmark `evaluate`, ngspice an AC analysis of the same circuit, numpy the same formulas on whole
arrays. Needs cargo, ngspice and numpy:  python3 benches/ratios.py
"""
import os
import re
import subprocess
import tempfile
import time
import timeit

import numpy as np

RHO, GAMMA_P = 1.20408475888, 1.4 * 101325.0
RE, LE, L2, R2 = 3.3, 0.8e-3, 1.9e-3, 4.7
BL, MMS, CMS, RMS, SD = 12.5, 0.125, 0.25e-3, 3.4, 0.033
CAB = 0.058 / GAMMA_P
AREA = np.pi * 0.051**2
MAP = RHO * (0.3643 + (0.6133 + 0.8217) * 0.051) / AREA
WB = 1 / np.sqrt(MAP * CAB)
RAL, RAB, RAP = 7 / (WB * CAB), 1 / (WB * CAB * 100), WB * MAP / 60
VOLTS = 25.0
FREQUENCIES = np.geomspace(10, 500, 240)

NETLIST = f"""vented box
Vg eg 0 dc 0 ac {VOLTS}
Re eg n1 {RE}
Le n1 n2 {LE}
L2 n2 n3 {L2}
R2 n2 n3 {R2}
Hemf n3 n4 Vu {BL}
Vie n4 0 0
Hf m1 0 Vie {BL}
Rms m1 m2 {RMS}
Lmms m2 m3 {MMS}
Cms m3 m4 {CMS}
Er m4 m5 out rear {SD}
Vu m5 0 0
Fq rear out Vu {SD}
Vtot out 0 0
Cab rear q0 {CAB}
Rab q0 0 {RAB}
Ral rear out {RAL}
Rdc rear 0 1e15
Lmap rear q1 {MAP}
Rap q1 q2 {RAP}
Vp q2 out 0
.control
let k = 0
while k < COUNT
  ac dec 140.7 10 500
  let const.level = db(frequency*i(vtot)*{RHO}/2e-5)
  destroy
  let k = k + 1
end
quit
.endc
.end
"""


def response():
    """Level, phase, excursion, impedance, port velocity and group delay, as `data/acoustics/circuits.md` defines them."""
    w = 2 * np.pi * FREQUENCIES
    s = 1j * w
    zvc = RE + s * LE + 1 / (1 / R2 + 1 / (s * L2))
    y_port = 1 / (s * MAP + RAP)
    y = 1 / (RAB + 1 / (s * CAB)) + 1 / RAL + y_port
    zm = RMS + s * MMS + 1 / (s * CMS) + SD**2 / y
    u = BL * VOLTS / (zvc * zm + BL**2)
    q = SD * u
    p_rear = -q / y
    total = q + p_rear * (y_port + 1 / RAL)
    p = s * RHO * total / (2 * np.pi)
    level = 20 * np.log10(np.abs(p) / 20e-6)
    phase = np.angle(p)
    excursion = np.sqrt(2) * np.abs(u / s)
    velocity = np.sqrt(2) * np.abs(p_rear * y_port) / AREA
    z = zvc + BL**2 / zm
    delay = -np.gradient(np.unwrap(phase), w)
    return level, np.degrees(phase), excursion, velocity, np.abs(z), np.degrees(np.angle(z)), delay


def ours():
    """Seconds by criterion, bench profile."""
    root = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    run = subprocess.run(["cargo", "bench", "--bench", "evaluate", "--", "vented response"], cwd=root,
                         stdout=subprocess.PIPE, text=True, check=True)
    value, unit = re.search(r"time:\s+\[\S+ \S+ (\S+) (\S+) ", run.stdout).groups()
    return float(value) * {"ns": 1e-9, "µs": 1e-6, "us": 1e-6, "ms": 1e-3, "s": 1.0}[unit]


def ngspice(count):
    """Seconds of a whole ngspice run with `count` AC analyses."""
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "vented.cir")
        with open(path, "w", encoding="ascii") as file:
            file.write(NETLIST.replace("COUNT", str(count)))
        begin = time.perf_counter()
        run = subprocess.run(["ngspice", "-b", path], cwd=folder, capture_output=True, text=True, check=False)
        seconds = time.perf_counter() - begin
    if "No. of Data Rows : 24" not in run.stdout:
        raise SystemExit("ngspice did not run as expected:\n" + run.stdout + run.stderr)
    return seconds


# Every type with two drivers in parallel, as benches/evaluate.rs builds it.
VAS1 = GAMMA_P * SD**2 * CMS
WS = 1 / np.sqrt(MMS * CMS)


def chamber(volume, tuned):
    """Compliance, absorption and leak of a chamber at its reference frequency."""
    cab = volume / GAMMA_P
    return cab, 1 / (tuned * cab * 100), 7 / (tuned * cab)


def closed_at(volume, vas):
    return chamber(volume, WS * np.sqrt(1 + vas / volume))


def vented_at(volume, length):
    mass = RHO * (length + (0.6133 + 0.8217) * 0.051) / AREA
    tuned = 1 / np.sqrt(mass * volume / GAMMA_P)
    return (*chamber(volume, tuned), mass, tuned * mass / 60)


def radiator_at(volume):
    area, mass, compliance, loss, count = 0.048, 0.4, 0.4e-3, 2.0, 2
    m, c, r = mass / (count * area**2), count * compliance * area**2, loss / (count * area**2)
    tuned = 1 / np.sqrt(m * c) * np.sqrt(1 + c * GAMMA_P / volume)
    return (*chamber(volume, tuned), m, r, c)


def batched(kind):
    """The matrix of each type (current, velocity, pressures, radiator flow) solved at all frequencies at once.

    The same unknowns as our solver's; group delay by a difference. Returns a function to be timed.
    """
    w = 2 * np.pi * FREQUENCIES
    s = 1j * w
    n = 2.0

    def y_chamber(c):
        return 1 / (c[1] + 1 / (s * c[0])) + 1 / c[2]

    def solve():
        size = {"infinite_baffle": 2, "closed": 3, "vented": 3, "push_pull": 3}.get(kind, 4)
        pair = kind == "push_pull"
        re, bl, mms, cms, rms, cones = (2.0, 2.0, 2.0, 0.5, 2.0, 1.0) if pair else (1.0, 1.0, 1.0, 1.0, 1.0, n)
        coil = re * (RE + s * LE + 1 / (1 / R2 + 1 / (s * L2)))
        zm = rms * RMS + s * mms * MMS + 1 / (s * cms * CMS)
        a = np.zeros((len(w), size, size), dtype=complex)
        a[:, 0, 0], a[:, 0, 1], a[:, 1, 0], a[:, 1, 1] = coil, bl * BL, bl * BL, -zm
        vas = VAS1 * (0.5 if pair else n)

        def back(at, sign=1.0):
            a[:, 1, at] += sign * SD
            a[:, at, 1] += sign * cones * SD

        openings = []
        if kind in ("closed", "push_pull"):
            c = closed_at(0.02 if pair else 0.04, vas)
            a[:, 2, 2] = y_chamber(c)
            back(2)
            openings.append((2, 1 / c[2]))
        elif kind == "vented":
            c = vented_at(0.058, 0.3643)
            y = 1 / (s * c[3] + c[4])
            a[:, 2, 2] = y_chamber(c) + y
            back(2)
            openings.append((2, y + 1 / c[2]))
        elif kind == "passive_radiator":
            c = radiator_at(0.04)
            a[:, 2, 2], a[:, 2, 3], a[:, 3, 2] = y_chamber(c), 1.0, -1.0
            a[:, 3, 3] = s * c[3] + c[4] + 1 / (s * c[5])
            back(2)
            openings += [(2, 1 / c[2]), (3, 1.0)]
        elif kind != "infinite_baffle":
            rear = closed_at(0.04, vas) if kind == "bandpass4" else vented_at(0.058, 0.3643)
            front = vented_at(0.03, 0.12)
            y_front = 1 / (s * front[3] + front[4])
            a[:, 2, 2], a[:, 3, 3] = y_chamber(rear), y_chamber(front) + y_front
            y_rear = 0.0
            if kind != "bandpass4":
                y_rear = 1 / (s * rear[3] + rear[4])
                a[:, 2, 2] += y_rear
                if kind == "bandpass6_series":
                    a[:, 2, 3] -= y_rear
                    a[:, 3, 2] -= y_rear
                    a[:, 3, 3] += y_rear
            back(2)
            back(3, -1.0)
            openings += [(2, 1 / rear[2] + (y_rear if kind == "bandpass6_parallel" else 0.0)), (3, y_front + 1 / front[2])]
        b = np.zeros((len(w), size, 1), dtype=complex)
        b[:, 0, 0] = VOLTS * (2.0 if pair else 1.0)
        x = np.linalg.solve(a, b)[:, :, 0]
        total = 0.0 if kind.startswith("bandpass") else cones * SD * x[:, 1]
        for at, y in openings:
            total = total + y * x[:, at]
        p = s * RHO * total / (2 * np.pi)
        phase = np.unwrap(np.angle(p))
        z = (coil + bl * BL * x[:, 1] / x[:, 0]) / (4.0 if pair else n)
        return (20 * np.log10(np.abs(p) / 20e-6), np.degrees(phase), np.sqrt(2) * np.abs(x[:, 1] / s), np.abs(z),
                np.degrees(np.angle(z)), -np.gradient(phase, w))

    return solve


def every_type():
    """Seconds of our solver by type, from criterion."""
    root = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    run = subprocess.run(["cargo", "bench", "--bench", "evaluate", "--", "type "], cwd=root, stdout=subprocess.PIPE,
                         text=True, check=True)
    found = re.findall(r"type (\S+) at 240 frequencies\s+time:\s+\[\S+ \S+ (\S+) (\S+) ", run.stdout)
    scale = {"ns": 1e-9, "µs": 1e-6, "us": 1e-6, "ms": 1e-3, "s": 1.0}
    return {name: float(value) * scale[unit] for name, value, unit in found}


def main():
    native = ours()
    once = min(ngspice(1) for _ in range(5))
    many = min(ngspice(201) for _ in range(3))
    analysis = (many - once) / 200
    vectorised = min(timeit.repeat(response, number=200, repeat=7)) / 200
    print("one vented response at 240 frequencies")
    for name, seconds in [("ours", native), ("numpy, vectorised", vectorised),
                          ("ngspice, AC analysis alone", analysis), ("ngspice, whole run", once)]:
        print(f"  {name:28s}{seconds * 1e6:10.1f} µs   {seconds / native:8.1f} times ours")
    print("every type with two drivers, 240 frequencies, numpy solving the same matrices in one batch")
    for name, seconds in every_type().items():
        solve = batched(name)
        theirs = min(timeit.repeat(solve, number=50, repeat=7)) / 50
        print(f"  {name:28s}{seconds * 1e6:10.1f} µs   numpy {theirs * 1e6:9.1f} µs   {theirs / seconds:6.1f} times ours")


if __name__ == "__main__":
    main()
