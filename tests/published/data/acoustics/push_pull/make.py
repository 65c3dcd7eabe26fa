"""Writes pp1 (stiff coupling) and the deviation of a real coupling volume. Needs ngspice. Run:  python3 make.py"""
import json
import re
import subprocess

import numpy as np

BASE = open("../cases/closed/cb2.cir", encoding="ascii").read()
GP, VB = 1.4 * 101325.0, 0.016
RE, BL, MMS, CMS, RMS, SD = 3.4, 15.8, 0.19, 0.00019, 5.2, 0.049
QL, QA = 10.0, 30.0
cab = VB / GP
# One pair: twice the mass, half the compliance; its resonance in the box is where the Qs are given.
w0 = np.sqrt(1 / (MMS * CMS)) * np.sqrt(1 + GP * SD**2 * CMS / 2 / VB)
rab, ral = 1 / (w0 * cab * QA), QL / (w0 * cab)


def netlist(coupling_m3, name, parallel):
    text = BASE.replace("cb2", name)
    text = re.sub(r"^Xd0_0.*$", "Xd0_0 et2 0 out mid driver\nXd0_1 et2 0 mid rear driver" if parallel else
                  "Xd0_0 et2 em out mid driver\nXd0_1 em 0 mid rear driver", text, flags=re.M)
    text = re.sub(r"^Cab_rear.*$", f"Cab_mid mid 0 {coupling_m3 / GP:.14g}\nRdc_mid mid 0 1e15\nCab_rear rear c_rear {cab:.14g}",
                  text, flags=re.M)
    text = re.sub(r"^Rab_rear.*$", f"Rab_rear c_rear 0 {rab:.14g}", text, flags=re.M)
    text = re.sub(r"^Ral_rear.*$", f"Ral_rear rear out {ral:.14g}", text, flags=re.M)
    text = re.sub(r"^\* .*: closed box.*$", f"* {name}: a push-pull pair, two drivers with a chamber between them", text, flags=re.M)
    return text


def run(coupling, name, parallel):
    open(f"{name}.cir", "w", encoding="ascii").write(netlist(coupling, name, parallel))
    subprocess.run(["ngspice", "-b", f"{name}.cir"], check=True, capture_output=True)
    return np.loadtxt(f"{name}.out", skiprows=1)


def main():
    case = json.load(open("../cases/closed/cb2.json", encoding="utf-8"))
    for name, parallel in (("pp1", False), ("pp2", True)):
        rows = run(1e-8, name, parallel)
        real = run(0.003, name + "_real", parallel)
        below = rows[:, 0] < 80
        print(name, "with 3 l between the cones: largest deviation below 80 Hz",
              np.abs(real[below, 1] - rows[below, 1]).max(), "dB")
        keep = [rows[:, i] for i in range(rows.shape[1])]
        with open(f"{name}.csv", "w", encoding="ascii") as out:
            out.write("f_hz,spl_db,p_phase_deg,x_peak_mm,z_ohm,z_phase_deg,gd_ms\n")
            for row in zip(*keep):
                out.write(",".join(f"{v:.9g}" for v in row) + "\n")
        new = {k: case[k] for k in ("air", "driver", "source")}
        new["air"] = {k: case["air"][k] for k in ("temperature_c", "pressure_pa")}
        new["wiring"] = {"n_series": 1, "n_parallel": 2} if parallel else {"n_series": 2, "n_parallel": 1}
        new["enclosure"] = {"type": "push_pull", "rear": {"volume_m3": VB, "ql": QL, "qa": QA}}
        json.dump(new, open(f"{name}.json", "w", encoding="ascii"), indent=1)


main()
