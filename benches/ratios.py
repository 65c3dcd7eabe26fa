"""Times one vented response at 240 frequencies three ways in one run and prints the ratios.

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


if __name__ == "__main__":
    main()
