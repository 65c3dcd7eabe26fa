"""What leaves the saw, read back by libraries that know nothing of it.

Templates are read by ezdxf and svgpathtools and measured; weight and centre of gravity are compared with the same boxes
built anew from their finished sizes as meshes (trimesh, manifold3d); sheet layouts are checked by a program of its own
for overlap, kerf and edge-to-edge cuts. Usage: check.py REPORT, the path of the native program.
"""
import io
import json
import math
import subprocess
import sys
import warnings
import xml.etree.ElementTree as ET
from pathlib import Path

import ezdxf
import ezdxf.path
import manifold3d
import numpy as np
import svgpathtools
import trimesh
from manifold3d import CrossSection, Manifold

# A square corner is an arc without a radius to the library, and said so at length.
warnings.filterwarnings("ignore", message="Replacing degenerate")

REPORT = sys.argv[1]
ROOT = Path(__file__).resolve().parents[2]
results = []


def report(*arguments, text=None):
    done = subprocess.run([REPORT, *arguments], input=text, capture_output=True, text=True, check=True)
    return done.stdout


def near(actual, expected, tolerance, what):
    assert abs(actual - expected) <= tolerance, f"{what}: {actual}, expected {expected} ± {tolerance}"


def lines_of(shop):
    """What the lines of each name weigh together and how many pieces they are."""
    lines = {}
    for part in shop["bench"]["parts"]:
        line = lines.setdefault(part["part"], {"kg": 0.0, "count": 0})
        line["kg"] += part["kg"]
        line["count"] += part["count"]
    return lines


def check(name):
    def run(test):
        try:
            test()
            results.append(True)
            print(f"ok     {name}")
        except Exception as error:  # every fault is a failed check, with its reason
            results.append(False)
            print(f"FAILED {name}: {type(error).__name__}: {error}")
    return run


# Three boxes: the demo (double baffle, four corner strips, terminal hole); a vented one with two tubes and braces; one with a slot along the floor. All data invented.
DEMO = json.loads(report("--demo", "--file"))


def variant(**changes):
    design = json.loads(json.dumps(DEMO))
    design["enclosure"].update(changes)
    return design


FIXED = {"height": "420 mm", "deep": "480 mm", "net": "60 L"}
WIDE = {"width": "600 mm", **FIXED}
BOXES = {
    "closed, strips": DEMO,
    "tubes, braces": variant(kind="vented", strips="none", recess="on top", braces="2", ports="2",
                             **{"port diameter": "80 mm", "port length": "200 mm"}, **WIDE),
    "slot": variant(kind="vented", strips="none", port="slot", **{"slot height": "35 mm", "port length": "260 mm"}, **WIDE),
    "bent once": variant(kind="vented", strips="none", port="slot", **{"slot height": "35 mm", "port length": "650 mm",
                         "slot bends": "2"}, **WIDE),
    "bent twice": variant(kind="vented", strips="none", port="slot", **{"slot height": "35 mm", "port length": "980 mm",
                          "slot bends": "2"}, **WIDE),
    "two rooms": variant(kind="bandpass 6 outward", strips="none", **{"front net": "20 L", "port length": "220 mm",
                         "front port length": "180 mm"}, **FIXED, width="760 mm"),
    "two rooms, slots": variant(kind="bandpass 6 outward", strips="none", port="slot", **{"front port": "slot", "slot height": "30 mm",
                                "front slot height": "36 mm", "front net": "20 L", "port length": "250 mm",
                                "front port length": "190 mm"}, **FIXED, width="760 mm"),
}


# The same from three boards: a thick outer layer of the front, a thin inner one of heavy board, light inner parts, strips of the second.
BOARDS = {"second board": "24.6 mm", "second density": "690 kg/m³", "third board": "11.9 mm", "third density": "820 kg/m³"}
MIXED = {
    "three boards, strips": {**BOARDS, "front from": "second", "inner front from": "third", "strips from": "second"},
    "three boards, slot": {**BOARDS, "front from": "third", "inner front from": "second", "inside from": "third"},
    "three boards, two rooms": {**BOARDS, "front from": "second", "inside from": "third"},
}
for name, changes in MIXED.items():
    design = json.loads(json.dumps(BOXES[{"three boards, strips": "closed, strips", "three boards, slot": "slot",
                                          "three boards, two rooms": "two rooms"}[name]]))
    design["enclosure"].update(changes)
    BOXES[name] = design
    design["enclosure"].update({"port length": "340 mm"} if "slot" in name else {})


def board(design, group):
    """Thickness in mm and density in kg per mm³ of what a group of parts is cut from; the shell has no group."""
    which = design["enclosure"].get(f"{group} from", "first")
    if which == "first":
        return millimetres(design, "board", 18.0), 740e-9
    return millimetres(design, f"{which} board", 0), float(design["enclosure"][f"{which} density"].split()[0]) * 1e-9


def both(design):
    text = json.dumps(design)
    return json.loads(report("-", text=text)), json.loads(report("-", "--shop", text=text))


# Boxes whose sides are no rectangles, without strips and terminals.
def shaped(shape, **sizes):
    design = variant(shape=shape, strips="none", recess="on top", **sizes, width="700 mm", height="340 mm", deep="400 mm")
    for entry in ("terminal width", "terminal height"):
        design["enclosure"].pop(entry, None)
    return design


SHAPED = {
    "wedge": shaped("slanted back", **{"top depth": "270 mm"}),
    "wedge, back between": shaped("slanted back", **{"top depth": "270 mm", "back joint": "between"}),
    "wedge, front between": shaped("slanted back", **{"top depth": "270 mm", "front joint": "between"}),
    "double slant, all between": shaped("both slanted", **{"front setback": "60 mm", "top depth": "250 mm", "front joint": "between",
                                        "back joint": "between"}),
    "leaning front": shaped("slanted front", **{"front setback": "90 mm"}),
    "double slant": shaped("both slanted", **{"front setback": "70 mm", "top depth": "260 mm"}),
    "step above": shaped("step above", **{"step height": "140 mm", "step depth": "260 mm"}),
    "step below": shaped("step below", **{"step height": "110 mm", "step depth": "250 mm"}),
}
BOXES.update(SHAPED)
# The same with corner strips in all inside edges.
STRIPPED = {}
for name in ("wedge", "wedge, back between", "double slant", "leaning front"):
    design = json.loads(json.dumps(SHAPED[name]))
    design["enclosure"].update({"strips": "all", "strip face": "70 mm"})
    STRIPPED[name] = design
# Shaped boxes with passive radiators, and with two rooms.
RADIATORS = {"radiator area": "200 cm²", "radiator mass": "150 g", "radiator fs": "20 Hz", "radiator cut-out": "150 mm",
             "radiator outside": "170 mm", "radiator depth": "60 mm", "radiator displacement": "0.9 L"}
SIDES = {"kind": "passive radiator", "radiators": "2", "radiator place": "sides", **RADIATORS}
ROOMS = {"front net": "15 L", "front port diameter": "70 mm", "port diameter": "80 mm", "front port length": "120 mm",
         "port length": "130 mm", "net": "50 L"}
SMALL = {"cut-out": "180 mm", "outside": "205 mm", "depth": "90 mm", "magnet": "110 mm"}


def with_form(base, driver=None, **changes):
    design = json.loads(json.dumps(SHAPED[base]))
    design["enclosure"].update(changes)
    design["driver"].update(driver or {})
    return design


FORMS = {
    "wedge, radiators in its sides": with_form("wedge", **SIDES),
    "double slant, radiators in its sides": with_form("double slant, all between", **SIDES),
    "step, radiators in its sides": with_form("step above", **SIDES),
    "leaning front, radiator in it": with_form("leaning front", SMALL, **{**SIDES, "radiators": "1", "radiator place": "front"}),
    "wedge, fourth order": with_form("wedge", SMALL, kind="bandpass 4", **ROOMS),
    "wedge, sixth order": with_form("wedge", SMALL, kind="bandpass 6 outward", **ROOMS),
    "leaning front, sixth order": with_form("leaning front", SMALL, kind="bandpass 6 outward", **ROOMS),
    "double slant, port between": with_form("double slant", {**SMALL, "outside": "185 mm", "cut-out": "165 mm"}, kind="bandpass 6 inward",
                                            **{**ROOMS, "port diameter": "50 mm", "port length": "60 mm"}),
    "step, sixth order": with_form("step below", {**SMALL, "outside": "185 mm", "cut-out": "165 mm"}, kind="bandpass 6 outward", **ROOMS),
}
BOXES.update(FORMS)
# Shaped boxes with a slot that bends up the back and along the top as these lean.
SLOTTED = {"kind": "vented", "port": "slot", "slot height": "35 mm", "slot bends": "2"}
LITTLE = {"cut-out": "120 mm", "outside": "145 mm", "depth": "80 mm", "magnet": "100 mm"}
RUNS = {
    "wedge, bent once": with_form("wedge", LITTLE, **{**SLOTTED, "port length": "515 mm"}),
    "wedge, bent twice": with_form("wedge", LITTLE, **{**SLOTTED, "port length": "700 mm"}),
    "leaning front, bent once": with_form("leaning front", LITTLE, **{**SLOTTED, "port length": "480 mm"}),
    "double slant, bent twice": with_form("double slant", LITTLE, **{**SLOTTED, "port length": "730 mm"}),
}
BOXES.update(RUNS)
OUTPUT = {name: both(design) for name, design in BOXES.items()}


def millimetres(design, key, otherwise):
    entry = design["enclosure"].get(key) or design["driver"].get(key)
    return float(entry.split()[0]) if entry else otherwise


# ---- the same boxes as meshes ----

def block(low, high):
    """A block from corner to corner; coordinates are depth, width, height."""
    low, high = np.array(low, float), np.array(high, float)
    mesh = trimesh.creation.box(extents=high - low)
    mesh.apply_translation((low + high) / 2)
    return mesh


def cylinder(depth, width, height, diameter):
    mesh = trimesh.creation.cylinder(radius=diameter / 2, height=depth[1] - depth[0], sections=4096)
    mesh.apply_transform(trimesh.transformations.rotation_matrix(math.pi / 2, [0, 1, 0]))
    mesh.apply_translation([(depth[0] + depth[1]) / 2, width, height])
    return mesh


def sideways(width, depth, height, diameter):
    """A cylinder along the width."""
    mesh = trimesh.creation.cylinder(radius=diameter / 2, height=width[1] - width[0], sections=4096)
    mesh.apply_transform(trimesh.transformations.rotation_matrix(math.pi / 2, [1, 0, 0]))
    mesh.apply_translation([depth, (width[0] + width[1]) / 2, height])
    return mesh


def prism(points, low, high):
    """A prism over a polygon of (depth, width), upright."""
    vertices = [[d, w, h] for h in (low, high) for d, w in points]
    return trimesh.convex.convex_hull(np.array(vertices))


def minus(mesh, *holes):
    return trimesh.boolean.difference([mesh, *holes], engine="manifold") if holes else mesh


def template(shop, piece):
    return next(t for t in shop["templates"] if t["piece"] == piece)


def hole_at(shop, piece, use):
    return [hole for hole in template(shop, piece)["holes"] if hole["use"] == use]


def meshes(name):
    """The boards of a box, from its outside and its entries alone; only the places of holes are taken from the program."""
    full, shop = OUTPUT[name]
    design = BOXES[name]
    box = full["enclosure"]["current"]["outside"]
    W, H, D = box["width_mm"], box["height_mm"], box["depth_mm"]
    t = millimetres(design, "board", 18.0)
    layers = 1 if design["enclosure"].get("front") == "single" else 2
    thick = [board(design, "front")[0], board(design, "inner front")[0]][:layers]
    starts = [0, thick[0]]
    inner, strip = board(design, "inside")[0], board(design, "strips")[0]
    cutout = millimetres(design, "cut-out", 0)
    flush = design["enclosure"].get("recess", "flush") == "flush"
    slot = design["enclosure"].get("port") == "slot"
    high = millimetres(design, "slot height", 40)
    boards = {}
    # Front and back are cut to the tape and may stand over the rest by less than its step.
    over = template(shop, "back")["size_mm"]
    assert 0 <= over[0] - W < 1 and 0 <= over[1] - H < 1, (over, W, H)
    # Layers that are alike share a template.
    fronts = [next((t for t in shop["templates"] if t["piece"] == f"front {layer}"), template(shop, "front 0"))
              for layer in range(layers)]
    for layer, front in enumerate(fronts):
        depth = [starts[layer], starts[layer] + thick[layer]]
        holes = []
        for hole in front["holes"]:
            through = [depth[0] - 1, depth[1] + 1]
            width, height = hole["at_mm"]
            if hole["use"] == "driver":
                holes.append(cylinder(through, width, height, cutout))
            elif hole["use"] == "flange recess":
                assert flush and layer == 0
                holes.append(cylinder(through, width, height, millimetres(design, "outside", 0) + 2))
            elif "front_room" in full["enclosure"]["current"] and slot:
                holes.append(mouth_of_room(full, design, hole, (W, H, D, t, sum(thick)), through))
            elif slot:
                # The mouth stands on the bottom and is as wide as the inside.
                near(height, t + high / 2, 0.01, "middle of the slot")
                holes.append(block([through[0], t, t], [through[1], W - t, t + high]))
            elif hole["use"] == "port":
                holes.append(cylinder(through, width, height, millimetres(design, "port diameter", 100) + 2 * 3))
        boards.setdefault("front", []).append(minus(block([depth[0], 0, 0], [depth[1], *over]), *holes))
    bent = name.startswith("bent")
    terminal = hole_at(shop, "right" if bent else "back", "terminals")[0]["at_mm"]
    a, b = millimetres(design, "terminal width", 0) / 2, millimetres(design, "terminal height", 0) / 2
    hole = block([D - t - 1, terminal[0] - a, terminal[1] - b], [D + 1, terminal[0] + a, terminal[1] + b])
    boards["back"] = [minus(block([D - t, 0, 0], [D, *over]), *([] if bent else [hole]))]
    front = sum(thick)
    boards["top, bottom"] = [block([front, 0, 0], [D - t, W, t]), block([front, 0, H - t], [D - t, W, H])]
    boards["side"] = [block([front, 0, t], [D - t, t, H - t]), block([front, W - t, t], [D - t, W, H - t])]
    if design["enclosure"].get("strips") == "four":
        w = millimetres(design, "strip face", 70)
        leg, hidden = w / math.sqrt(2), (w - 2 * strip) / math.sqrt(2)
        boards["corner strip"] = []
        for depth, inwards in ((front, 1), (D - t, -1)):
            for width, towards in ((t, 1), (W - t, -1)):
                outline = [(depth + inwards * x, width + towards * y) for x, y in
                           ((leg, 0), (0, leg), (0, hidden), (hidden, 0))]
                boards["corner strip"].append(prism(outline, t, H - t))
    if "front_room" in full["enclosure"]["current"]:
        # The divider stands where the room left of it holds what the ledger says of it, empty.
        room = full["enclosure"]["current"]["front_room"]["gross_litres"] * 1e6 / ((H - 2 * t) * (D - front - t))
        divider = template(shop, "divider")
        assert [hole["use"] for hole in divider["holes"]] == ["driver"], divider["holes"]
        depth, height = divider["holes"][0]["at_mm"]
        made = block([front, t + room, t], [front + divider["size_mm"][0], t + room + inner, t + divider["size_mm"][1]])
        hole = sideways([room, room + 3 * t], front + depth, t + height, cutout)
        boards["divider"] = [minus(made, hole)]
    if bent:
        # In the right side, as the back belongs to the slot.
        depth, height = front + terminal[0], t + terminal[1]
        hole = block([depth - a, W - t - 1, height - b], [depth + a, W + 1, height + b])
        boards["side"][1] = minus(boards["side"][1], hole)
        boards.update(bent_boards(full, design, (front, W, H, D, t, high)))
    elif slot and "front_room" in full["enclosure"]["current"]:
        for part, (left, right, high, long) in room_slots(full, design, (W, H, D, t, front)).items():
            roof = next(entry for entry in full["enclosure"]["parts"] if entry["name"] == part)
            # Across it is cut to the tape, so that it slips in.
            across = max(roof["length_mm"], roof["width_mm"], key=lambda size: -abs(size - (right - left)))
            assert 0 <= right - left - across < 1 and long in (roof["length_mm"], roof["width_mm"]), (part, roof)
            boards[part] = [block([front, left, t + high], [front + long, right, t + high + inner])]
    elif slot:
        # Cut to the tape: what is cut is in the cut list, what was asked for is within a step of it.
        roof = next(part for part in full["enclosure"]["parts"] if part["name"] == "port roof")
        long = min(roof["length_mm"], roof["width_mm"])
        near(long, millimetres(design, "port length", 0) - front, 0.501, "length of the port's roof")
        boards["port roof"] = [block([front, t, t + high], [front + long, W - t, t + high + inner])]
    return boards


def room_slots(full, design, sizes):
    """Sides, height and length behind the front of the slots of both rooms, from the entries and where the divider stands."""
    W, H, D, t, front = sizes
    room = full["enclosure"]["current"]["front_room"]["gross_litres"] * 1e6 / ((H - 2 * t) * (D - front - t))
    inner = board(design, "inside")[0]
    def long(key):
        return round(millimetres(design, key, 0) - front)
    return {"port roof before the drivers": (t, t + room, millimetres(design, "front slot height", 40), long("front port length")),
            "port roof": (t + room + inner, W - t, millimetres(design, "slot height", 40), long("port length"))}


def mouth_of_room(full, design, hole, sizes, through):
    """The slot's mouth that a hole in the front is the template of: on the bottom, from wall to wall of its room."""
    t = sizes[3]
    for left, right, high, _ in room_slots(full, design, sizes).values():
        if left < hole["at_mm"][0] < right:
            near(hole["at_mm"][0], (left + right) / 2, 0.01, "middle of the mouth")
            near(hole["at_mm"][1], t + high / 2, 0.01, "middle of the slot")
            return block([through[0], left, t], [through[1], right, t + high])
    raise AssertionError("a mouth outside both rooms")


def bent_boards(full, design, sizes):
    """The boards of a slot that bends, from its entries: floor, up the back, and along the top."""
    front, W, H, D, t, high = sizes
    deep, tall = D - t - front, H - 2 * t
    cut = {part["name"]: part for part in full["enclosure"]["parts"]}

    def size(name):
        part = cut[name]
        return min((part["length_mm"], part["width_mm"]), key=lambda s: -abs(s - (W - 2 * t)))
    roof, up = size("port roof"), size("port upright")
    # One slot height before the back, to the tape.
    assert 0 <= deep - roof - high < 1, (deep, roof, high)
    floor = t + high
    boards = {"port roof": [block([front, t, floor], [front + roof, W - t, floor + t])],
              "port upright": [block([front + roof - t, t, floor + t], [front + roof, W - t, floor + t + up])]}
    gap, length = deep - roof, millimetres(design, "port length", 0)
    if "upper port board" in cut:
        along, over = size("upper port board"), tall - high - 2 * t - up
        assert 0 <= over - high < 1, (over, high)
        below = floor + t + up
        boards["upper port board"] = [block([front + roof - along, t, below], [front + roof, W - t, below + t])]
        # Centre line, each leg by the mass of its air.
        centre = D - t - gap / 2 + (tall - over / 2 - high / 2) * high / gap + (gap / 2 + along) * high / over
    else:
        centre = D - t - gap / 2 + (high / 2 + t + up) * high / gap
    near(centre, length, 0.51, "centre line of the slot")
    near(full["enclosure"]["port"]["length_mm"], centre, 1e-3, "length that counts")
    return boards


@check("weights and centres of gravity are those of meshes of the same boxes")
def _():
    seen = 0
    groups = {"corner strip": "strips", "divider": "inside", "port roof": "inside", "port roof before the drivers": "inside", "port upright": "inside", "upper port board": "inside"}
    for name in ("closed, strips", "slot", "bent once", "bent twice", "two rooms", "two rooms, slots", *MIXED):
        full, shop = OUTPUT[name]
        boards = meshes(name)
        # Layers of two boards are two lines of one name.
        parts = lines_of(shop)
        assert set(parts) == set(boards), (set(parts), set(boards))
        total, moment = 0.0, np.zeros(3)
        for part, made in boards.items():
            layers = [board(BOXES[name], group)[1] for group in ("front", "inner front")]
            densities = layers if part == "front" else [board(BOXES[name], groups.get(part, "shell"))[1]] * len(made)
            masses = [mesh.volume * density for mesh, density in zip(made, densities)]
            near(parts[part]["kg"], sum(masses), 1e-5 * sum(masses), f"{name}: {part}")
            assert parts[part]["count"] == len(made)
            total += sum(masses)
            moment += sum(mass * mesh.center_mass for mass, mesh in zip(masses, made))
            seen += 1
        near(shop["bench"]["wood_kg"], total, 1e-5 * total, f"{name}: all boards")
        near(full["enclosure"]["board_mass_kg"], total, 1e-5 * total, f"{name}: board mass of the plan")
        for axis, (actual, expected) in enumerate(zip(shop["bench"]["centre_depth_width_height_mm"], moment / total)):
            near(actual, expected, 0.01, f"{name}: centre of gravity, axis {axis}")
    assert seen >= 40


@check("a box with a bent slot holds what the mesh of its air holds")
def _():
    for name in ("bent once", "bent twice"):
        full, _ = OUTPUT[name]
        box = full["enclosure"]["current"]["outside"]
        W, H, D = (box[side] for side in ("width_mm", "height_mm", "depth_mm"))
        t, front, high = 18.1, 36.2, 35.0
        boards = bent_boards(full, BOXES[name], (front, W, H, D, t, high))
        # Air: the inside less the boards, cut in two where the port ends.
        air = minus(block([front, t, t], [D - t, W - t, H - t]), *(mesh for made in boards.values() for mesh in made))
        low, top = boards["port roof"][0].bounds, boards["port upright"][0].bounds
        roof = low[1][0]
        if name == "bent twice":
            upper = boards["upper port board"][0].bounds
            mouth = block([upper[0][0], t - 1, upper[1][2]], [D, W, H])
        else:
            mouth = block([roof, t - 1, 0], [D, W, top[1][2]])
        end = H if name == "bent twice" else top[1][2]
        port = [block([0, 0, 0], [D, W, low[0][2]]), block([roof, 0, 0], [D, W, end]), mouth]
        litres = minus(air, *port).volume * 1e-6
        design = BOXES[name]
        cutout, flush = millimetres(design, "cut-out", 0), t
        litres += cylinder([0, front - flush], 0, 0, cutout).volume * 1e-6
        litres -= float(design["driver"]["displacement"].split()[0])
        a, b = millimetres(design, "terminal width", 0), millimetres(design, "terminal height", 0)
        litres += a * b * (t - millimetres(design, "terminal depth", 45)) * 1e-6
        near(full["enclosure"]["current"]["net_litres"], litres, 1e-4 * litres, name)
        assert full["enclosure"]["port"]["bends"] == (2 if name == "bent twice" else 1)


@check("both rooms of a divided box hold what meshes of their air hold")
def _():
    full, shop = OUTPUT["two rooms"]
    box = full["enclosure"]["current"]
    W, H, D = (box["outside"][side] for side in ("width_mm", "height_mm", "depth_mm"))
    t, front = 18.1, 36.2
    room = box["front_room"]["gross_litres"] * 1e6 / ((H - 2 * t) * (D - front - t))
    # Tubes of 100 mm in walls of 3 mm: what lies behind the front is lost to the room. Cut to the tape of 1 mm.
    holes = sorted(hole["at_mm"] for hole in template(shop, "front 0")["holes"])
    assert len(holes) == 2 and holes[0][0] < t + room < holes[1][0], holes
    # The outside is fixed: 60 L and 20 L asked for are shared out, to half a step of the tape on the divider.
    near(box["net_litres"] / box["front_room"]["net_litres"], 3.0, 0.03, "the rooms' shares")
    rooms = [(t, t + room, 180.0, holes[0], box["front_room"]["net_litres"]),
             (t + room + t, W - t, 220.0, holes[1], box["net_litres"])]
    for number, (left, right, length, at, net) in enumerate(rooms):
        tube = cylinder([front, length], *at, 106.0)
        air = minus(block([front, left, t], [D - t, right, H - t]), tube)
        assert trimesh.boolean.intersection([tube, block([front, left, t], [D - t, right, H - t])], engine="manifold").volume \
            > 0.999999 * tube.volume, "the tube lies in its room"
        litres = air.volume * 1e-6
        if number:
            # The hole in the divider gains, the driver takes; the terminal's hole gains, its cup takes.
            terminal = [millimetres(BOXES["two rooms"], f"terminal {side}", 0) for side in ("width", "height")]
            cup = millimetres(BOXES["two rooms"], "terminal depth", 45)
            litres += sideways([0, t], 0, 0, millimetres(BOXES["two rooms"], "cut-out", 0)).volume * 1e-6
            litres -= float(BOXES["two rooms"]["driver"]["displacement"].split()[0])
            litres += terminal[0] * terminal[1] * (t - cup) * 1e-6
        near(net, litres, 1e-4, f"room {number}")


@check("both rooms of a divided box with slots hold what meshes of their air hold")
def _():
    name = "two rooms, slots"
    full, _ = OUTPUT[name]
    design, box = BOXES[name], full["enclosure"]["current"]
    W, H, D = (box["outside"][side] for side in ("width_mm", "height_mm", "depth_mm"))
    t, front = 18.1, 36.2
    slots = room_slots(full, design, (W, H, D, t, front))
    nets = {"port roof before the drivers": box["front_room"]["net_litres"], "port roof": box["net_litres"]}
    for part, (left, right, high, long) in slots.items():
        # Slot and roof together stand on the floor; what is left is the room's air.
        room = block([front, left, t], [D - t, right, H - t])
        litres = minus(room, block([0, left - 1, 0], [front + long, right + 1, t + high + t])).volume * 1e-6
        if part == "port roof":
            terminal = [millimetres(design, f"terminal {side}", 0) for side in ("width", "height")]
            litres += sideways([0, t], 0, 0, millimetres(design, "cut-out", 0)).volume * 1e-6
            litres -= float(design["driver"]["displacement"].split()[0])
            litres += terminal[0] * terminal[1] * (t - millimetres(design, "terminal depth", 45)) * 1e-6
        near(nets[part], litres, 1e-4, part)
    near(box["net_litres"] / box["front_room"]["net_litres"], 3.0, 0.03, "the rooms' shares")
    assert full["enclosure"]["port"]["length_mm"] == 36.2 + slots["port roof"][3], "length of the rear slot"


# ---- drivers and terminals in other faces, and a board that comes off: its battens ----

def faced(count, **entries):
    design = variant(strips="none", recess="on top", **entries, **FIXED, width="640 mm")
    design["driver"]["pole vent"] = "0 mm"
    design["enclosure"]["drivers"] = str(count)
    design["job"].pop("wiring")
    return design


FACED = {
    "one in the front, one in the back": faced(2, **{"driver face": "back", "driver face count": "half"}),
    "both sides": faced(2, **{"driver face": "sides", "terminal face": "front", "front": "double", "terminal window": "15 mm"}),
    "top, back off": faced(1, **{"driver face": "top", "loose board": "back", "batten": "22 mm", "terminal face": "left"}),
    "bottom and top, side off": faced(3, **{"driver face": "top and bottom", "driver face count": "2", "loose board": "right",
                                           "batten": "19 mm", "terminal face": "top", "braces": "1"}),
}


FACED["both sides, radiators beside them"] = faced(2, **{
    "driver face": "sides", **SIDES, "radiator cut-out": "180 mm", "radiator outside": "205 mm"})
FACED["both sides, radiators beside them"]["enclosure"].update({"deep": "620 mm"})


def along(axis, ends, at, diameter):
    """A cylinder along an axis: 0 depth, 1 width, 2 height; `at` along the two others in that order."""
    if axis == 0:
        return cylinder(ends, *at, diameter)
    if axis == 1:
        return sideways(ends, *at, diameter)
    mesh = trimesh.creation.cylinder(radius=diameter / 2, height=ends[1] - ends[0], sections=4096)
    mesh.apply_translation([*at, (ends[0] + ends[1]) / 2])
    return mesh


@check("drivers and terminals in other faces, battens: air, weights and centres of gravity are those of meshes")
def _():
    for name, design in FACED.items():
        full, shop = both(design)
        box = full["enclosure"]["current"]
        W, H, D = (box["outside"][side] for side in ("width_mm", "height_mm", "depth_mm"))
        t, cutout, entries = 18.1, 233.0, design["enclosure"]
        front = t if entries.get("front") == "single" else 2 * t
        inside = [[front, t, t], [D - t, W - t, H - t]]
        # Front and back run over everything, top and bottom over the sides; what is cut may stand over by less than a step.
        over = template(shop, "back")["size_mm"]
        panels = {"front 0": [[0, 0, 0], [t, *over]], "back": [[D - t, 0, 0], [D, *over]],
                  "left": [[front, 0, t], [D - t, t, H - t]], "right": [[front, W - t, t], [D - t, W, H - t]],
                  "bottom": [[front, 0, 0], [D - t, W, t]], "top": [[front, 0, H - t], [D - t, W, H]]}
        if front > t:
            panels["front 1"] = [[t, 0, 0], [front, *over]]
        thick = {"front 0": 0, "front 1": 0, "back": 0, "left": 1, "right": 1, "bottom": 2, "top": 2}
        # Directions on paper: across and up.
        paper = {0: (1, 2), 1: (0, 2), 2: (1, 0)}
        total, moment, gained, windows, cup = 0.0, np.zeros(3), [], 0, []
        drivers = radiators = 0
        for panel, (low, high) in panels.items():
            axis = thick[panel]
            x, y = paper[axis]
            holes = []
            same = [t for t in shop["templates"] if t["piece"] == panel]
            made = same[0]["holes"] if same else ([] if panel != "front 1" else template(shop, "front 0")["holes"])
            if not same and panel in ("right", "top"):
                # Alike with the one across: one template.
                made = template(shop, {"right": "left", "top": "bottom"}[panel])["holes"]
            for hole in made:
                middle = [0.0, 0.0, 0.0]
                middle[x], middle[y] = low[x] + hole["at_mm"][0], low[y] + hole["at_mm"][1]
                if hole["use"] in ("driver", "radiator's cut-out"):
                    drivers += panel != "front 1" and hole["use"] == "driver"
                    radiators += hole["use"] == "radiator's cut-out"
                    wide = hole["shape"]["diameter_mm"]
                    assert wide == (cutout if hole["use"] == "driver" else 180.0), (name, wide)
                    at = [middle[i] for i in range(3) if i != axis]
                    holes.append(along(axis, [low[axis] - 1, high[axis] + 1], at, wide))
                    gained.append(along(axis, [low[axis], high[axis]], at, wide))
                    continue
                more = 15.0 if hole["use"] == "window" else 0.0
                windows += hole["use"] == "window"
                size = [0.0, 0.0, 0.0]
                size[x], size[y] = 76 + 2 * more, 76 + 2 * more
                corner = lambda sign: [middle[i] + sign * size[i] / 2 for i in range(3)]
                begin, end = corner(-1), corner(1)
                begin[axis], end[axis] = low[axis], high[axis]
                wide = [list(begin), list(end)]
                wide[0][axis] -= 1
                wide[1][axis] += 1
                holes.append(block(*wide))
                if hole["use"] == "terminals":
                    gained.append(block(begin, end))
                    inner = [list(begin), list(end)]
                    # 45 mm from the face its plate lies on.
                    if panel in ("front 0", "front 1", "left", "bottom"):
                        inner[1][axis] = inner[0][axis] + 45
                    else:
                        inner[0][axis] = inner[1][axis] - 45
                    cup.append(block(*inner))
            mesh = minus(block(low, high), *holes)
            total += mesh.volume * 740e-9
            moment += mesh.volume * 740e-9 * mesh.center_mass
        braces = []
        if entries.get("braces") == "1":
            middle = W / 2
            frame = next(part for part in full["enclosure"]["parts"] if part["name"] == "brace")
            whole = block([front, middle - t / 2, t], [D - t, middle + t / 2, H - t])
            open_ = next(hole for hole in template(shop, "brace 0-0")["holes"])["shape"]
            a, b = open_["across_mm"] / 2, open_["up_mm"] / 2
            centre = [(front + D - t) / 2, H / 2]
            brace = minus(whole, block([centre[0] - a, middle - t, centre[1] - b], [centre[0] + a, middle + t, centre[1] + b]))
            # Corners of 10 mm radius stay in the wood.
            rounded = (4 - math.pi) * 100 * t
            braces.append(brace)
            assert frame["count"] == 1
            total += (brace.volume + rounded) * 740e-9
            moment += (brace.volume + rounded) * 740e-9 * np.array([centre[0], middle, centre[1]])
        # Battens: the frame of the inside less a smaller one.
        battens = []
        if "loose board" in entries:
            b = float(entries["batten"].split()[0])
            axis = 0 if entries["loose board"] == "back" else 1
            slab, hollow = [list(inside[0]), list(inside[1])], [list(inside[0]), list(inside[1])]
            slab[0][axis] = inside[1][axis] - b
            hollow[0][axis] = inside[1][axis] - b - 1
            hollow[1][axis] += 1
            for i in range(3):
                if i != axis:
                    hollow[0][i] += b
                    hollow[1][i] -= b
            battens.append(minus(block(*slab), block(*hollow)))
            total += battens[0].volume * 740e-9
            moment += battens[0].volume * 740e-9 * battens[0].center_mass
        assert drivers == int(entries["drivers"]), (name, drivers)
        assert windows == (1 if "terminal window" in entries else 0), name
        near(shop["bench"]["wood_kg"], total, 1e-5 * total, f"{name}: all boards")
        for axis, (actual, expected) in enumerate(zip(shop["bench"]["centre_depth_width_height_mm"], moment / total)):
            near(actual, expected, 0.01, f"{name}: centre of gravity, axis {axis}")
        air = trimesh.boolean.union([block(*inside), *gained], engine="manifold")
        air = minus(air, *cup, *battens, *braces)
        litres = air.volume * 1e-6 - 1.9 * drivers - 0.9 * radiators
        assert radiators == int(entries.get("radiators", 0)), (name, radiators)
        if braces:
            litres -= (4 - math.pi) * 100 * t * 1e-6
        near(box["net_litres"], litres, 1e-4 * litres, f"{name}: net")


# ---- shaped boxes as solids: slabs along the edges of the side, those that cover taken from those that are covered ----

def solid(polygon, low, high):
    """A body across the width over a polygon of (depth, height)."""
    body = Manifold.extrude(CrossSection([[list(map(float, at)) for at in polygon]]), high - low)
    return body.translate([0, 0, low])


def slab(a, b, near, far, low, high):
    """What lies between two distances inwards from the line through a and b; the outline is anticlockwise."""
    a, b = np.array(a, float), np.array(b, float)
    along = (b - a) / np.linalg.norm(b - a)
    inwards = np.array([-along[1], along[0]])
    start, end = a - 5e3 * along, b + 5e3 * along
    return solid([start + near * inwards, end + near * inwards, end + far * inwards, start + far * inwards], low, high)


def weigh(body):
    mesh = body.to_mesh()
    mesh = trimesh.Trimesh(mesh.vert_properties[:, :3], mesh.tri_verts, process=False)
    d, h, w = mesh.center_mass
    return mesh.volume, np.array([d, w, h])


def weighed(parts, boards, density, name):
    """What boards weigh together and their moment; each name is held to its own."""
    assert set(parts) == set(boards), (name, set(parts), set(boards))
    total, moment = 0.0, np.zeros(3)
    for part, made in boards.items():
        bodies = [weigh(body) for body in made]
        mass = sum(volume for volume, _ in bodies) * density
        near(parts[part]["kg"], mass, 1e-5 * mass, f"{name}: {part}")
        assert parts[part]["count"] == len(made), (name, part)
        total += mass
        moment += sum(volume * centre for volume, centre in bodies) * density
    return total, moment


def shaped_boards(name):
    """Boards and inside of a shaped box from the corners of its side, its width and its entries."""
    full, shop = OUTPUT[name]
    design = BOXES[name]
    current = full["enclosure"]["current"]
    side, W = current["side_mm"], current["outside"]["width_mm"]
    t = millimetres(design, "board", 18.0)
    over = design["enclosure"].get("back joint") != "between"
    boards = {"side": [solid(side, 0, t), solid(side, W - t, W)]}
    inner = solid(side, t, W - t)
    names = ["bottom", "back", "top", "front"]
    edges = list(zip(side, side[1:] + side[:1]))
    lean = math.atan2(side[-1][0], side[-1][1])
    # Of a divided box the front carries none.
    hole_at_mm = next((hole["at_mm"] for hole in hole_at(shop, "front 0", "driver")), [-1e4, 0])
    cutout = millimetres(design, "cut-out", 0)
    # Square to the front: along its inward normal from a point on its outer face.
    hole = Manifold.cylinder(2000, cutout / 2, cutout / 2, 4096, True).rotate([0, 90, 0]).rotate([0, 0, -math.degrees(lean)])
    def placed(low):
        # The template counts from the board's own lower edge, which stands this far up the slope.
        up = hole_at_mm[1] + low
        return turned.translate([up * math.sin(lean), up * math.cos(lean), t + hole_at_mm[0]])
    turned = hole
    hole = placed(0)
    if len(side) == 4:
        slabs = {n: slab(a, b, 0, 2 * t if n == "front" else t, t, W - t) ^ inner for n, (a, b) in zip(names, edges)}
        front_over = design["enclosure"].get("front joint") != "between"
        rank = {"front": 0 if front_over else 3, "back": 1 if over else 3, "top": 2, "bottom": 2}
        order = sorted(rank, key=rank.get)
        layers = [slab(*edges[3], k * t, (k + 1) * t, t, W - t) ^ inner for k in (0, 1)]
        taken = Manifold()
        for n in order:
            if n == "front":
                bare = [layer - taken for layer in layers]
                corners = bare[0].to_mesh().vert_properties[:, :2]
                hole = placed(float((corners @ [math.sin(lean), math.cos(lean)]).min()))
                boards["front"] = [layer - hole for layer in bare]
                taken = taken + slabs["front"]
                continue
            boards[n] = [slabs[n] - taken]
            taken = taken + slabs[n]
    else:
        D, H = max(at[0] for at in side), side[-1][1]
        (low, _), (_, step), (high, _) = side[1], side[2], side[3]
        def part(x0, x1, z0, z1):
            return solid([(x0, z0), (x1, z0), (x1, z1), (x0, z1)], t, W - t)
        boards["front"] = [part(0, t, 0, H) - hole, part(t, 2 * t, 0, H) - hole]
        boards["bottom"], boards["top"] = [part(2 * t, low - t, 0, t)], [part(2 * t, high - t, H - t, H)]
        if low > high:
            boards["back"] = [part(D - t, D, 0, step)]
            boards["step board"] = [part(high - t, D - t, step - t, step)]
            boards["step riser"] = [part(high - t, high, step, H)]
        else:
            boards["step riser"] = [part(low - t, low, 0, step)]
            boards["step board"] = [part(low - t, D - t, step, step + t)]
            boards["back"] = [part(D - t, D, step, H)]
        taken = part(0, 2 * t, 0, H)
        for made in (boards["bottom"], boards["top"], boards["back"], boards["step board"], boards["step riser"]):
            for body in made:
                near((taken ^ body).volume(), 0, 1e-3, f"{name}: boards in one place")
                taken = taken + body
    inside = inner - taken
    return boards, inside, hole, t


@check("shaped boxes: inside, weights and centres of gravity are those of solids built from slabs")
def _():
    for name, design in SHAPED.items():
        full, shop = OUTPUT[name]
        boards, inside, hole, t = shaped_boards(name)
        current = full["enclosure"]["current"]
        gross = inside.volume() * 1e-6
        near(current["gross_litres"], gross, 2e-6 * gross, f"{name}: inside")
        cutout = millimetres(design, "cut-out", 0)
        displaced = float(design["driver"]["displacement"].split()[0])
        net = gross + math.pi / 4 * cutout**2 * 2 * t * 1e-6 - displaced
        near(full["enclosure"]["net_litres"], net, 2e-6 * net, f"{name}: net")
        near(full["sound"]["net_litres"], net, 2e-6 * net, f"{name}: net as the curves use it")
        parts = lines_of(shop)
        total, moment = weighed(parts, boards, 740e-9, name)
        near(shop["bench"]["wood_kg"], total, 1e-5 * total, f"{name}: all boards")
        near(full["enclosure"]["board_mass_kg"], total, 1e-5 * total, f"{name}: board mass of the plan")
        for axis, (actual, expected) in enumerate(zip(shop["bench"]["centre_depth_width_height_mm"], moment / total)):
            near(actual, expected, 0.02, f"{name}: centre of gravity, axis {axis}")
        # What was asked for, within the tape's step.
        side = current["side_mm"]
        asked = {"deep": max(at[0] for at in side), "height": max(at[1] for at in side)}
        for entry, found in asked.items():
            assert -1e-6 <= millimetres(design, entry, 0) - found < 1.001, (name, entry, found)


@check("battens of shaped boxes are what planes leave of the inside around a board, in air and in weight")
def _():
    b, density = 22.0, 740e-9
    for name, loose in (("wedge", "left"), ("wedge", "back"), ("wedge, back between", "top"), ("wedge", "bottom"),
                        ("double slant", "right"), ("double slant", "back"), ("leaning front", "back")):
        _, inside, _, t = shaped_boards(name)
        bare, bare_shop = OUTPUT[name]
        side = bare["enclosure"]["current"]["side_mm"]
        W = bare["enclosure"]["current"]["outside"]["width_mm"]
        walls = dict(zip(("bottom", "back", "top", "front"), zip(side, side[1:] + side[:1])))
        def near_wall(wall):
            thick = 2 * t if wall == "front" else t
            return slab(*walls[wall], thick, thick + b, 0, W)
        at_left, at_right = (solid([(-1e3, -1e3), (2e3, -1e3), (2e3, 2e3), (-1e3, 2e3)], *ends)
                             for ends in ((t, t + b), (W - t - b, W - t)))
        if loose in ("left", "right"):
            frame = inside ^ (at_left if loose == "left" else at_right)
            around = Manifold()
            for wall in walls:
                around = around + near_wall(wall)
        else:
            frame = inside ^ near_wall(loose)
            # Its ends on the board's inner face, where the inner faces beside it meet it, and 22 mm along it from there.
            inner = {}
            for wall, ends in walls.items():
                p, q = (np.array(at, float) for at in ends)
                u = (q - p) / np.linalg.norm(q - p)
                inner[wall] = p + (2 * t if wall == "front" else t) * np.array([-u[1], u[0]]), u
            order = list(walls)
            a, way = np.array(walls[loose][0], float), inner[loose][1]
            into = np.array([-way[1], way[0]])
            low, high = sorted(
                float((inner[loose][0] - a) @ way + np.linalg.solve(np.array([way, -v]).T, q - inner[loose][0])[0])
                for q, v in (inner[order[order.index(loose) - 1]], inner[order[(order.index(loose) + 1) % 4]]))
            around = at_left + at_right
            for start, end in ((low - 500, low + b), (high - b, high + 500)):
                corners = [a + s * way + d * into for s, d in ((start, -500), (end, -500), (end, 500), (start, 500))]
                around = around + solid(corners, 0, W)
        volume, centre = weigh(frame ^ around)
        design = json.loads(json.dumps(SHAPED[name]))
        design["enclosure"].update({"loose board": loose, "batten": f"{b} mm"})
        full, shop = both(design)
        lost = bare["enclosure"]["net_litres"] - full["enclosure"]["net_litres"]
        near(lost, volume * 1e-6, 2e-6 * volume * 1e-6 + 1e-9, f"{name}, {loose}: air")
        wood, before = shop["bench"]["wood_kg"], bare_shop["bench"]["wood_kg"]
        near(wood - before, volume * density, 2e-6 * volume * density + 1e-9, f"{name}, {loose}: weight")
        part = lines_of(shop)["batten"]
        near(part["kg"], wood - before, 1e-9, f"{name}, {loose}: its line")
        moments = [np.array(s["bench"]["centre_depth_width_height_mm"]) * s["bench"]["wood_kg"] for s in (shop, bare_shop)]
        for axis in range(3):
            near((moments[0] - moments[1])[axis] / (wood - before), centre[axis], 0.05, f"{name}, {loose}: centre {axis}")


def run_boards(name, inside, t):
    """Boards, air and mouth of a slot that bends in a shaped box, and the length of its centre line, from its boards as cut."""
    full, _ = OUTPUT[name]
    design = BOXES[name]
    side, W = full["enclosure"]["current"]["side_mm"], full["enclosure"]["current"]["outside"]["width_mm"]
    front, high, top = 2 * t, millimetres(design, "slot height", 0), side[-1][1] - t
    edges = {n: (np.array(a, float), np.array(b, float)) for n, a, b in
             zip(("bottom", "back", "top", "front"), side, side[1:] + side[:1])}
    cut = {part["name"]: part for part in full["enclosure"]["parts"]}

    def size(part):
        return min((cut[part]["length_mm"], cut[part]["width_mm"]), key=lambda s: -abs(s - (W - 2 * t)))

    def face(edge, off):
        """A point of the line so far inwards from an edge, and its direction."""
        a, b = edges[edge]
        along = (b - a) / np.linalg.norm(b - a)
        return a + off * np.array([-along[1], along[0]]), along

    def meet(edge, off, level):
        at, along = face(edge, off)
        return at + along * (level - at[1]) / along[1]

    def between(low, up):
        return solid([(-5e3, low), (5e3, low), (5e3, up), (-5e3, up)], t, W - t)

    def behind(x):
        return solid([(x, -5e3), (5e3, -5e3), (5e3, 5e3), (x, 5e3)], t, W - t)
    roof, up = size("port roof"), size("port upright")
    under, on = t + high, t + high + t
    at, along = face("back", t)
    inward = np.array([-along[1], along[0]])
    end = meet("front", front, under) + [roof, 0]
    gap = float((end - at) @ inward)
    # One slot height before the back, square to it; the tape takes off the roof what it takes.
    assert 0 <= gap - high < 1, (name, gap)
    beside = slab(*edges["back"], 0, t + gap, t, W - t)
    upright = slab(*edges["back"], t + gap, 2 * t + gap, t, W - t)
    boards = {"port roof": [(inside ^ between(under, on)) - beside]}
    corner = meet("back", t + gap / 2, t + high / 2)
    centre = corner[0] - meet("front", front, t + high / 2)[0]
    if "upper port board" in cut:
        # Of a parallelogram the blank is longer than its faces by t tan of the lean.
        lean = -along[0] / along[1]
        below = on + (up - t * lean) * along[1]
        over, long = top - below - t, size("upper port board")
        assert 0 <= over - high < 1.1, (name, over)
        start = meet("back", t + gap, below)[0] - long
        boards["port upright"] = [inside ^ upright ^ between(on, below)]
        boards["upper port board"] = [(inside ^ between(below, below + t) ^ behind(start)) - beside]
        air = (inside ^ between(t, under)) + (inside ^ beside) + (inside ^ between(below + t, top) ^ behind(start))
        second = meet("back", t + gap / 2, top - over / 2)
        centre += float((second - corner) @ along) * high / gap + (second[0] - start) * high / over
    else:
        foot = meet("back", t + gap, on)
        last = foot + up * along
        # Below the plane square to the back at the upright board's end.
        ended = solid([last + 5e3 * inward, last - 5e3 * inward, last - 5e3 * inward - 5e3 * along,
                       last + 5e3 * inward - 5e3 * along][::-1], t, W - t)
        boards["port upright"] = [inside ^ upright ^ between(on, top) ^ ended]
        air = (inside ^ between(t, under)) + (inside ^ beside ^ ended)
        centre += float((last - corner) @ along) * high / gap
    # Square through the front, from the floor to the roof at its inner face.
    ends = [meet("front", front, level) for level in (t, under)]
    way = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
    mouth = slab(ends[0], ends[0] + np.array([way[1], -way[0]]), 0, float(np.linalg.norm(ends[1] - ends[0])), t, W - t)
    return boards, air, mouth, front + centre


@check("slots that bend in shaped boxes: air, net, boards, weights and centre line are those of solids cut by planes")
def _():
    for name, design in RUNS.items():
        full, shop = OUTPUT[name]
        boards, inside, hole, t = shaped_boards(name)
        own, air, mouth, length = run_boards(name, inside, t)
        boards["front"] = [layer - mouth for layer in boards["front"]]
        taken = air
        for made in own.values():
            near((taken ^ made[0]).volume(), 0, 1e-3, f"{name}: boards in the slot")
            taken = taken + made[0]
        near((taken - inside).volume(), 0, 1e-3, f"{name}: slot outside the box")
        boards.update(own)
        twice = "upper port board" in own
        assert twice == name.endswith("twice") and full["enclosure"]["port"]["bends"] == (2 if twice else 1), name
        near(length, millimetres(design, "port length", 0), 0.51, f"{name}: centre line")
        near(full["enclosure"]["port"]["length_mm"], length, 2e-3, f"{name}: length that counts")
        cutout = millimetres(design, "cut-out", 0)
        net = (inside - taken).volume() * 1e-6 + math.pi / 4 * cutout**2 * 2 * t * 1e-6
        net -= float(design["driver"]["displacement"].split()[0])
        near(full["enclosure"]["net_litres"], net, 2e-6 * net, f"{name}: net")
        parts = lines_of(shop)
        total, moment = weighed(parts, boards, 740e-9, name)
        near(shop["bench"]["wood_kg"], total, 1e-5 * total, f"{name}: all boards")
        for axis, (actual, expected) in enumerate(zip(shop["bench"]["centre_depth_width_height_mm"], moment / total)):
            near(actual, expected, 0.02, f"{name}: centre of gravity, axis {axis}")
        # The leaning board's template is a rectangle of its blank.
        upright = next(part for part in full["enclosure"]["parts"] if part["name"] == "port upright")
        flat = template(shop, "port upright")
        assert sorted(flat["size_mm"]) == sorted([upright["length_mm"], upright["width_mm"]]), (name, flat["size_mm"])


@check("corner strips of shaped boxes close off what planes cut off the inside, and weigh what lies between two planes")
def _():
    density, w = 740e-9, 70.0
    for name, design in STRIPPED.items():
        full, shop = both(design)
        t = millimetres(design, "board", 18.0)
        W = full["enclosure"]["current"]["outside"]["width_mm"]
        left, right = t, W - t
        # The lines of bottom, back, top and front, each moved in by its boards, meet in the inside's corners.
        side = np.array(full["enclosure"]["current"]["side_mm"])
        lines = []
        for a, b, thick in zip(side, np.roll(side, -1, axis=0), (t, t, t, 2 * t)):
            along = (b - a) / np.linalg.norm(b - a)
            lines.append((a + thick * np.array([-along[1], along[0]]), along))
        corners = []
        for (p, u), (q, v) in zip(lines[-1:] + lines[:-1], lines):
            corners.append(p + u * np.linalg.solve(np.array([u, -v]).T, q - p)[0])
        corners = np.array(corners)
        inside = solid(corners, left, right)
        near(full["enclosure"]["current"]["gross_litres"], inside.volume() * 1e-6, 1e-4, f"{name}: inside")
        # Inside edges as a point, the two directions into the walls: across at each corner, along each wall at either side.
        edges = []
        for k in range(4):
            at, on, back = corners[k], corners[(k + 1) % 4], corners[k - 1]
            ways = [np.append((p - at) / np.linalg.norm(p - at), 0) for p in (on, back)]
            edges.append((np.append(at, left), *ways))
            inward = np.array([-(on - at)[1], (on - at)[0], 0]) / np.linalg.norm(on - at)
            edges.append((np.append(at, left), inward, np.array([0, 0, 1.0])))
            edges.append((np.append(at, right), inward, np.array([0, 0, -1.0])))
        air, wood, step_litres = inside, 0.0, 0.0
        for point, a, b in edges:
            half = math.acos(np.clip(a @ b, -1, 1)) / 2
            middle = (a + b) / np.linalg.norm(a + b)
            deep = w / 2 / math.tan(half)
            def beyond(by):
                return inside.trim_by_plane(tuple(middle), float(middle @ point + by))
            air = air.trim_by_plane(tuple(middle), float(middle @ point + deep))
            wood += beyond(max(deep - t, 0)).volume() - beyond(deep).volume()
            step_litres += w * w / 4 / math.tan(half) * 1e-6
        bare = json.loads(report("-", text=json.dumps(SHAPED[name])))["enclosure"]["net_litres"]
        taken = bare - full["enclosure"]["net_litres"]
        closed = (inside.volume() - air.volume()) * 1e-6
        # The tape takes up to a millimetre off each strip's length.
        assert -1e-4 * closed <= closed - taken <= step_litres, (name, closed, taken, step_litres)
        kg, count = (lines_of(shop)["corner strip"][key] for key in ("kg", "count"))
        assert count == 12, (name, count)
        assert -1e-4 * kg <= wood * density - kg <= step_litres * 1e6 * density, (name, kg, wood * density)


@check("a driver's weight moves the centre of gravity by its moment")
def _():
    design = json.loads(json.dumps(DEMO))
    design["driver"]["weight"] = "8000 g"
    _, heavy = both(design)
    _, bare = OUTPUT["closed, strips"]
    wood = bare["bench"]["wood_kg"]
    near(heavy["bench"]["total_kg"], wood + 8, 1e-9, "total")
    # The recess is one layer of 18.1 mm deep, the driver 140 mm behind its flange, its weight two thirds along.
    place = 18.1 + 140 * 2 / 3
    expected = (bare["bench"]["centre_depth_width_height_mm"][0] * wood + 8 * place) / (wood + 8)
    near(heavy["bench"]["centre_depth_width_height_mm"][0], expected, 1e-6, "centre")
    near(heavy["bench"]["crash_n"], 20 * 9.8 * (wood + 8), 1e-6, "20 g, FMVSS 207 S4.2")


@check("boxes joined edge by edge: parts, weights and centres of gravity are those of slabs less what covers them")
def _():
    walls = {"front": (0, 0), "back": (0, 1), "left": (1, 0), "right": (1, 1), "bottom": (2, 0), "top": (2, 1)}
    cases = {
        "left past the top": ["left top left"],
        "back let in": ["back left left", "back right right", "back bottom bottom", "back top top"],
        "front past the top only": ["front top front"],
        "left over everything": ["front left left", "back left left", "left bottom left", "left top left"],
    }
    orders = {"front past the top only": "sides, top, front"}
    ranks = {"front, top, sides": (0, 2, 1), "sides, top, front": (2, 0, 1)}
    for name, edges in cases.items():
        order = orders.get(name, "front, top, sides")
        design = variant(strips="none", joints=order, board="18 mm", recess="on top", width="600 mm", height="420 mm", deep="450 mm",
                         **{f"edge {edge.rsplit(' ', 1)[0]}": edge.rsplit(" ", 1)[1] for edge in edges})
        for entry in ("terminal width", "terminal height"):
            design["enclosure"].pop(entry, None)
        full, shop = both(design)
        size, t = np.array([450.0, 600.0, 420.0]), 18.0
        rank = ranks[order]
        owner = {frozenset((a, b)): a if rank[walls[a][0]] < rank[walls[b][0]] else b
                 for a in walls for b in walls if walls[a][0] != walls[b][0]}
        for edge in edges:
            a, b, own = edge.split()
            owner[frozenset((a, b))] = own

        def of(board, near_side, far):
            axis, end = walls[board]
            low, high = np.zeros(3), size.copy()
            if end:
                low[axis], high[axis] = size[axis] - far, size[axis] - near_side
            else:
                low[axis], high[axis] = near_side, far
            return Manifold.cube(high - low).translate(low)
        thick = {board: 2 * t if board == "front" else t for board in walls}
        whole = {board: of(board, 0, thick[board]) for board in walls}
        taken = {board: sum((whole[other] for other in walls if owner.get(frozenset((board, other))) == other), Manifold())
                 for board in walls}
        made = {board: whole[board] - taken[board] for board in walls}
        inside = Manifold.cube(size)
        for board in walls:
            inside = inside - whole[board]
        near(sum(body.volume() for body in made.values()) + inside.volume(), float(size.prod()), 1.0, f"{name}: no corner open")
        near(full["enclosure"]["current"]["gross_litres"], inside.volume() * 1e-6, 1e-5, f"{name}: inside")
        # The driver's hole, from its template.
        front = made["front"].bounding_box()
        at = hole_at(shop, "front 0", "driver")[0]["at_mm"]
        cutout = millimetres(design, "cut-out", 0)
        hole = Manifold.cylinder(100, cutout / 2, cutout / 2, 4096, True).rotate([0, 90, 0]).translate([0, front[1] + at[0], front[2] + at[1]])
        made["front"] = made["front"] - hole
        total, moment = 0.0, np.zeros(3)
        names = {"front": "front", "back": "back", "left": "side", "right": "side", "bottom": "top, bottom", "top": "top, bottom"}
        masses = {}
        for board, body in made.items():
            mesh = body.to_mesh()
            mesh = trimesh.Trimesh(mesh.vert_properties[:, :3], mesh.tri_verts, process=False)
            masses[names[board]] = masses.get(names[board], 0.0) + mesh.volume * 740e-9
            total += mesh.volume * 740e-9
            moment += mesh.volume * 740e-9 * mesh.center_mass
        for part, line in lines_of(shop).items():
            near(line["kg"], masses[part], 1e-5 * total, f"{name}: {part}")
        for axis, (actual, expected) in enumerate(zip(shop["bench"]["centre_depth_width_height_mm"], moment / total)):
            near(actual, expected, 0.01, f"{name}: centre of gravity, axis {axis}")
        # Each board's two sizes, as the slab came out.
        for part in full["enclosure"]["parts"]:
            for piece in part["pieces"]:
                board = "front" if piece.startswith("front") else piece
                low, high = np.array(made[board].bounding_box()).reshape(2, 3)
                sides = [round(float(s), 3) for axis, s in enumerate(high - low) if axis != walls[board][0]]
                assert sorted(sides) == sorted([part["length_mm"], part["width_mm"]]), (name, piece, sides, part)


# ---- templates ----

def area(points):
    x, y = np.array(points)[:, 0], np.array(points)[:, 1]
    return abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def hole_area(shape):
    if "diameter_mm" in shape:
        return math.pi / 4 * shape["diameter_mm"] ** 2
    a, b, r = shape["across_mm"], shape["up_mm"], shape["radius_mm"]
    return a * b - (4 - math.pi) * r * r


def front_hole(side, boards, t, at_mm, diameter, deep=200.0):
    """A cylinder square to the front, at a place on its template, from its outer face inwards."""
    lean = math.atan2(side[-1][0], side[-1][1])
    up = np.array([math.sin(lean), math.cos(lean)])
    low = float((boards["front"][0].to_mesh().vert_properties[:, :2] @ up).min())
    body = Manifold.cylinder(deep, diameter / 2, diameter / 2, 1024).rotate([0, 90, 0])
    body = body.rotate([0, 0, -math.degrees(lean)])
    return body.translate([*((at_mm[1] + low) * up), t + at_mm[0]])


def side_hole(corner, at_mm, diameter, low, high):
    """A cylinder along the width at a place on the template of a board whose lower corner at the front lies at `corner`."""
    body = Manifold.cylinder(high - low, diameter / 2, diameter / 2, 1024)
    return body.translate([corner[0] + at_mm[0], corner[1] + at_mm[1], low])


def has_most_room(section, at, radius, what):
    """The circle lies in the section, and no circle in it is larger by more than the rounding to whole millimetres."""
    inscribed = CrossSection.circle(radius, 2048).translate(at)
    near((inscribed ^ section).area(), inscribed.area(), 1e-3 * inscribed.area(), f"{what}: within the section")
    low, high = 0.0, 1000.0
    while high - low > 1e-3:
        middle = (low + high) / 2
        shrunk = section.offset(-middle, manifold3d.JoinType.Round, circular_segments=512)
        low, high = (middle, high) if shrunk.area() > 1e-9 else (low, middle)
    grown = CrossSection.circle(low - 0.75, 2048).translate(at)
    near((grown ^ section).area(), grown.area(), 1e-3 * grown.area(), f"{what}: as much room as there is, {low}")


@check("shaped boxes with radiators and with two rooms: air, weights, places and outlines are those of solids built from slabs")
def _():
    density = 740e-9
    for name, design in FORMS.items():
        full, shop = OUTPUT[name]
        boards, inside, hole, t = shaped_boards(name)
        current = full["enclosure"]["current"]
        side, W = current["side_mm"], current["outside"]["width_mm"]
        # Without the slivers that planes in one place leave.
        section = max(inside.slice(W / 2).decompose(), key=lambda piece: piece.area())
        corner = np.array(section.bounds()[:2])
        litres = float(design["driver"]["displacement"].split()[0])
        cutout = millimetres(design, "cut-out", 0)
        front_before = sum(layer.volume() for layer in boards["front"])
        gained, lost = 0.0, litres
        if design["enclosure"]["kind"] == "passive radiator":
            gross = inside.volume()
            gained += math.pi / 4 * cutout**2 * 2 * t
            wide = millimetres(design, "radiator cut-out", 0)
            count = int(design["enclosure"]["radiators"])
            lost += count * 0.9
            if design["enclosure"]["radiator place"] == "sides":
                gained += 2 * math.pi / 4 * wide**2 * t
                for number, (piece, low) in enumerate((("left", 0), ("right", W - t))):
                    # Left and right share a template.
                    (found,) = hole_at(shop, "left", "radiator's cut-out")
                    near(found["shape"]["diameter_mm"], wide, 1e-6, name)
                    boards["side"][number] -= side_hole((0, 0), found["at_mm"], wide, low - 1, low + t + 1)
                has_most_room(section, found["at_mm"], wide / 2, name)
            else:
                (found,) = hole_at(shop, "front 0", "radiator's cut-out")
                body = front_hole(side, boards, t, found["at_mm"], wide)
                boards["front"] = [layer - body for layer in boards["front"]]
                gained += front_before - sum(layer.volume() for layer in boards["front"])
            nets = {"net_litres": (gross + gained) * 1e-6 - lost}
        else:
            across = section.area()
            room = current["front_room"]["gross_litres"] * 1e6 / across
            rear = W - 3 * t - room
            near(current["gross_litres"], across * rear * 1e-6, 2e-6 * across * rear * 1e-6, f"{name}: room behind")
            # The divider: the section, cut to the tape at the top and at the back.
            cut = template(shop, "divider")
            low, size = corner, np.array(cut["size_mm"])
            tape = CrossSection([[low, low + [size[0], 0], low + size, low + [0, size[1]]]])
            outline = section ^ tape
            assert all(-1e-3 <= more < 1 for more in np.array(section.bounds()[2:]) - low - size), (name, size)
            element = next(e for e in ET.fromstring(cut["svg"]).iter() if e.get("class") == "outline")
            near(abs(svgpathtools.parse_path(element.get("d")).area()), outline.area(), 2e-5 * outline.area(), f"{name}: divider in the SVG")
            edge = next(e for e in ezdxf.read(io.StringIO(cut["dxf"].replace("\r\n", "\n"))).modelspace() if e.dxf.layer == "OUTLINE")
            drawn = [(v.dxf.location.x, v.dxf.location.y) for v in edge.vertices]
            near(area(drawn), outline.area(), 2e-5 * outline.area(), f"{name}: divider in the DXF")
            divider = Manifold.extrude(outline, t).translate([0, 0, t + room])
            (found,) = hole_at(shop, "divider", "driver")
            divider -= side_hole(corner, found["at_mm"], cutout, room, room + 3 * t)
            inward = design["enclosure"]["kind"] == "bandpass 6 inward"
            if not inward:
                has_most_room(section, corner + found["at_mm"], cutout / 2, name)
            rear_port = design["enclosure"]["kind"] != "bandpass 4"
            tube = millimetres(design, "port diameter", 0) + 6
            own = millimetres(design, "front port diameter", 0) + 6
            length, own_length = millimetres(design, "port length", 0), millimetres(design, "front port length", 0)
            mouths = hole_at(shop, "front 0", "port")
            before = [m for m in mouths if m["at_mm"][0] < room]
            behind = [m for m in mouths if m["at_mm"][0] > room + t]
            assert len(before) == 1 and len(behind) == (1 if rear_port and not inward else 0), (name, mouths)
            body = front_hole(side, boards, t, before[0]["at_mm"], own, own_length)
            box = solid([(-500, -500), (2000, -500), (2000, 2000), (-500, 2000)], t, t + room)
            near((body ^ box).volume(), body.volume(), 1e-6 * body.volume(), f"{name}: tube in its room")
            air = across * room - (body ^ inside).volume()
            near((body ^ inside).volume(), math.pi / 4 * own**2 * (own_length - 2 * t), 2e-5 * body.volume(), f"{name}: tube's inside")
            nets = {"front": air * 1e-6}
            taken = 0.0
            holes = [front_hole(side, boards, t, before[0]["at_mm"], own)]
            if behind:
                body = front_hole(side, boards, t, behind[0]["at_mm"], tube, length)
                taken = (body ^ inside).volume()
                holes.append(front_hole(side, boards, t, behind[0]["at_mm"], tube))
            if inward:
                (found,) = hole_at(shop, "divider", "port")
                divider -= side_hole(corner, found["at_mm"], tube, room, room + 3 * t)
                body = side_hole(corner, found["at_mm"], tube, t + room + t, t + room + length)
                near((body ^ inside).volume(), body.volume(), 1e-6 * body.volume(), f"{name}: tube through the divider")
                taken = body.volume()
            boards["front"] = [Manifold.batch_boolean([layer, *holes], manifold3d.OpType.Subtract) for layer in boards["front"]]
            boards["divider"] = [divider]
            nets["net_litres"] = (across * rear + math.pi / 4 * cutout**2 * t - taken) * 1e-6 - lost
            near(current["front_room"]["net_litres"], nets["front"], 2e-5 * nets["front"], f"{name}: room before the drivers")
        near(full["enclosure"]["net_litres"], nets["net_litres"], 1e-5 * nets["net_litres"], f"{name}: net")
        near(full["sound"]["net_litres"], nets["net_litres"], 1e-5 * nets["net_litres"], f"{name}: net as the curves use it")
        parts = lines_of(shop)
        total, moment = weighed(parts, boards, density, name)
        near(shop["bench"]["wood_kg"], total, 1e-5 * total, f"{name}: all boards")
        for axis, (actual, expected) in enumerate(zip(shop["bench"]["centre_depth_width_height_mm"], moment / total)):
            near(actual, expected, 0.02, f"{name}: centre of gravity, axis {axis}")
        failed = [warning for warning in full.get("warnings", []) if "does not fit" in json.dumps(warning)]
        assert not failed, (name, failed)


@check("DXF files open in ezdxf as release 12 and measure as the cut list says")
def _():
    seen, bulges = 0, 0
    for name, (full, shop) in OUTPUT.items():
        sizes = {key: {round(part["length_mm"], 3), round(part["width_mm"], 3)}
                 for part in full["enclosure"]["parts"] if part["stock"] == "board" for key in part["pieces"]}
        for entry in shop["templates"]:
            document = ezdxf.read(io.StringIO(entry["dxf"].replace("\r\n", "\n")))
            assert document.dxfversion == "AC1009", document.dxfversion
            assert not document.audit().has_errors
            shapes = {"OUTLINE": [], "HOLE": [], "REBATE": []}
            for entity in document.modelspace():
                assert entity.dxftype() in ("POLYLINE", "CIRCLE"), entity.dxftype()
                if entity.dxftype() == "POLYLINE":
                    assert entity.is_closed
                    bulges += sum(1 for vertex in entity.vertices if vertex.dxf.bulge)
                curve = entity if entity.dxftype() == "CIRCLE" else ezdxf.path.make_path(entity)
                shapes[entity.dxf.layer].append(np.array([[p.x, p.y] for p in curve.flattening(0.0005)])[:-1])
            (outline,) = shapes["OUTLINE"]
            extent = outline.max(axis=0) - outline.min(axis=0)
            if entry["piece"] in sizes:
                assert {round(float(side), 3) for side in extent} == sizes[entry["piece"]], (name, entry["piece"])
                seen += 1
            expected = sorted(hole_area(hole["shape"]) for hole in entry["holes"])
            found = sorted(area(points) for points in shapes["HOLE"] + shapes["REBATE"])
            assert len(found) == len(expected)
            for actual, wanted in zip(found, expected):
                near(actual, wanted, 2e-4 * wanted, f"{name} {entry['file']}: hole")
            for hole in entry["holes"]:
                middles = [(p.max(axis=0) + p.min(axis=0)) / 2 for p in shapes["HOLE"] + shapes["REBATE"]]
                assert min(np.linalg.norm(m - hole["at_mm"]) for m in middles) < 0.01, "a hole's place"
    assert seen >= 15, seen
    assert bulges > 0 or not any(h["shape"].get("radius_mm") for _, s in OUTPUT.values() for t in s["templates"] for h in t["holes"])


@check("the side of a shaped box is its polygon in both formats")
def _():
    for name in SHAPED:
        full, shop = OUTPUT[name]
        side = template(shop, "left")
        corners = np.array(full["enclosure"]["current"]["side_mm"])
        expected = area(corners)
        element = next(e for e in ET.fromstring(side["svg"]).iter() if e.get("class") == "outline")
        edge = next(e for e in ezdxf.read(io.StringIO(side["dxf"].replace("\r\n", "\n"))).modelspace() if e.dxf.layer == "OUTLINE")
        drawn = [(v.dxf.location.x, v.dxf.location.y) for v in edge.vertices]
        assert len(drawn) == len(corners), name
        # Corner for corner where the boards around it come to; the SVG is written to a hundredth of a millimetre.
        assert np.abs(np.array(drawn) - corners).max() < 1e-3, (name, drawn, corners)
        path = svgpathtools.parse_path(element.get("d"))
        high = side["size_mm"][1]
        points = np.array([(line.start.real, high - line.start.imag) for line in path])
        assert np.abs(points - corners).max() < 0.0061, (name, points, corners)
        assert abs(abs(path.area()) - expected) < 0.005 * path.length(), (name, path.area(), expected)
        assert side["count"] == 2, "left and right share a template"


@check("sides with feet measure as the formula of geometry.md section 8 in both formats")
def _():
    leg, window, radius = 90.0, 200.0, 30.0
    design = variant(**{"test box": "legs", "leg height": "90 mm", "leg window": "200 mm"})
    _, shop = both(design)
    side = template(shop, "left")
    deep, high = side["size_mm"]
    expected = deep * high - (window * leg - (2 - math.pi / 2) * radius**2)
    element = next(e for e in ET.fromstring(side["svg"]).iter() if e.get("class") == "outline")
    near(abs(svgpathtools.parse_path(element.get("d")).area(chord_length=0.05)), expected, 1e-4 * expected, "area in the SVG")
    edge = next(e for e in ezdxf.read(io.StringIO(side["dxf"].replace("\r\n", "\n"))).modelspace() if e.dxf.layer == "OUTLINE")
    points = [(v.x, v.y) for v in ezdxf.path.make_path(edge).flattening(0.001)]
    near(area(points), expected, 1e-4 * expected, "area in the DXF")


@check("the driver's hole, its recess and the tubes are as wide as entered")
def _():
    def diameters(name, piece, use):
        return [hole["shape"]["diameter_mm"] for hole in hole_at(OUTPUT[name][1], piece, use)]
    assert diameters("closed, strips", "front 1", "driver") == [233]
    assert diameters("closed, strips", "front 0", "flange recess") == [262 + 2]
    assert diameters("tubes, braces", "front 0", "port") == [80 + 2 * 3] * 2
    window = hole_at(OUTPUT["tubes, braces"][1], "brace 0-0", "window")[0]["shape"]
    size = template(OUTPUT["tubes, braces"][1], "brace 0-0")["size_mm"]
    near(window["across_mm"], size[0] - 2 * 60, 1.0, "window within rims of 60 mm, cut to the tape")
    near(window["up_mm"], size[1] - 2 * 60, 1.0, "window within rims of 60 mm, cut to the tape")


STACKS = {
    "rectangle": {"ring shape": "rectangle", "ring width": "420 mm", "ring depth": "380 mm", "ring radius": "80 mm"},
    "D": {"ring shape": "D", "ring width": "420 mm", "ring depth": "360 mm", "ring radius": "40 mm"},
    "ellipse": {"ring shape": "ellipse", "ring width": "480 mm", "ring depth": "380 mm"},
    "polygon": {"ring shape": "polygon", "ring sides": "5", "ring width": "450 mm", "ring depth": "430 mm", "ring radius": "30 mm"},
    "traced": {"ring shape": "traced", "ring radius": "50 mm",
               "ring stations": "0 150 160; 150 220 190; 320 210 240; 480 150 200"},
    "widening": {"ring shape": "rectangle", "ring width": "400 mm", "ring depth": "380 mm", "ring top width": "440 mm"},
}


# The driver's hole in every stack, its recess in the outer of two plates; here in half a single one, on top, and tubes in
# either end.
BORED = {
    "flush in one plate": {**STACKS["rectangle"], "recess": "flush", "ring baffle": "1"},
    "on top": {**STACKS["D"], "recess": "on top", "ring baffle": "3"},
    "tube below": {**STACKS["rectangle"], "kind": "vented", "port length": "90 mm", "port diameter": "80 mm"},
    "tubes above": {**STACKS["rectangle"], "ring width": "900 mm", "kind": "vented", "ports": "2", "port length": "90 mm",
                    "port diameter": "80 mm"},
}


def flat(entity):
    curve = entity if entity.dxftype() == "CIRCLE" else ezdxf.path.make_path(entity)
    return [(p.x, p.y) for p in curve.flattening(0.002)]


@check("rings: DXF and SVG measure as stated, and a polygon library insets each outline to the same opening")
def _():
    for name, entries in STACKS.items():
        design = variant(construction="rings", rings="12", **entries)
        shop = json.loads(report("-", "--shop", text=json.dumps(design)))
        rings = [t for t in shop["templates"] if t["file"].startswith("ring-")]
        assert len(rings) == (12 if name == "widening" else 1), (name, len(rings))
        for entry, stated in zip(rings, shop["rings"] if len(rings) > 1 else shop["rings"][:1]):
            drawing = ezdxf.read(io.StringIO(entry["dxf"].replace("\r\n", "\n"))).modelspace()
            lines = [e for e in drawing if e.dxftype() == "POLYLINE"]
            (outer,) = [flat(e) for e in lines if e.dxf.layer == "OUTLINE"]
            (inner,) = [flat(e) for e in lines if e.dxf.layer == "HOLE"]
            near(area(outer) - area(inner), stated["ring_mm2"], 2e-4 * stated["ring_mm2"], f"{name}: ring in the DXF")
            near(area(inner), stated["inner_mm2"], 1e-4 * stated["inner_mm2"], f"{name}: opening in the DXF")
            # Clipper's offset, by way of manifold3d: inwards, then out and in again for the bit's round corners.
            section = manifold3d.CrossSection([outer])
            inset = section.offset(-shop["wall_mm"], manifold3d.JoinType.Round, circular_segments=720)
            bit = 12.7 / 2
            inset = inset.offset(-bit, manifold3d.JoinType.Round, circular_segments=720)
            inset = inset.offset(bit, manifold3d.JoinType.Round, circular_segments=720)
            near(stated["inner_mm2"], inset.area(), 2e-4 * inset.area(), f"{name}: opening by the library")
            paths = [e for e in ET.fromstring(entry["svg"]).iter() if e.get("class") in ("outline", "hole") and e.get("d")]
            areas = sorted(abs(svgpathtools.parse_path(e.get("d")).area(chord_length=0.1)) for e in paths)
            near(areas[-1] - areas[-2], stated["ring_mm2"], 5e-4 * stated["ring_mm2"], f"{name}: ring in the SVG")
        air = sum(ring["inner_mm2"] for ring in shop["rings"]) * shop["thickness_mm"] * 1e-6
        near(shop["air_litres"], air, 1e-9 * air, f"{name}: air by area and thickness")


@check("SVG files are at full size and measure like the DXF files")
def _():
    seen = 0
    for _, shop in OUTPUT.values():
        for entry in shop["templates"]:
            root = ET.fromstring(entry["svg"])
            width, height = entry["size_mm"]
            near(float(root.get("width").removesuffix("mm")), width, 0.005, "width in mm")
            near(float(root.get("height").removesuffix("mm")), height, 0.005, "height in mm")
            box = [float(x) for x in root.get("viewBox").split()]
            assert box[:2] == [0, 0] and abs(box[2] - width) < 0.005 and abs(box[3] - height) < 0.005
            paths, attributes = svgpathtools.svgstr2paths(entry["svg"])
            classes = [one.get("class") for one in attributes]
            outline = paths[classes.index("outline")].bbox()
            near(outline[1] - outline[0], width, 0.005, "outline across")
            near(outline[3] - outline[2], height, 0.005, "outline up")
            holes = [path for path, cls in zip(paths, classes) if cls in ("hole", "rebate")]
            assert len(holes) == len(entry["holes"])
            seen += len(holes)
            # Circles and rectangles come in another order than they were written: compared as sets of areas.
            found = sorted(abs(path.area(chord_length=0.5)) for path in holes)
            for actual, wanted in zip(found, sorted(hole_area(h["shape"]) for h in entry["holes"])):
                near(actual, wanted, 1e-3 * wanted, "hole in SVG")
            for hole in entry["holes"]:
                middle = [hole["at_mm"][0], height - hole["at_mm"][1]]
                boxes = [path.bbox() for path in holes]
                assert min(math.hypot((b[0] + b[1]) / 2 - middle[0], (b[2] + b[3]) / 2 - middle[1]) for b in boxes) < 0.02
    assert seen >= 8, seen


@check("pages to print are at full size, overlap, and together show every board")
def _():
    papers = {"A4": (210, 297), "letter": (215.9, 279.4)}
    for _, shop in OUTPUT.values():
        for paper, (width, height) in papers.items():
            text = shop["pages"][paper]
            assert f"size:{paper} portrait" in text
            body = text[text.index("<body>") + 6:text.index("</body>")]
            pages = list(ET.fromstring(f"<all>{body}</all>"))
            ns = "{http://www.w3.org/2000/svg}"
            shown = {}
            for page in pages:
                w, h = (float(page.get(side).removesuffix("mm")) for side in ("width", "height"))
                box = [float(x) for x in page.get("viewBox").split()]
                near(w, box[2], 0.005, "scale across")
                near(h, box[3], 0.005, "scale up")
                assert w <= width - 24 + 0.01 and h <= height - 24 + 0.01, "within the margins"
                clip = page.find(f"{ns}clipPath/{ns}rect")
                x, y, cw, ch = (float(clip.get(k)) for k in ("x", "y", "width", "height"))
                title = page.find(f"{ns}text").text.split(", page")[0]
                shown.setdefault(title, []).append((x, y, x + cw, y + ch))
                bars = [p.get("d") for p in page.iter(f"{ns}path") if "h100" in (p.get("d") or "")]
                assert len(bars) == 1
                bar = svgpathtools.parse_path(bars[0]).bbox()
                near(bar[1] - bar[0], 100, 1e-6, "the bar that shows the scale")
            assert len(shown) == len(shop["templates"])
            for entry, tiles in zip(shop["templates"], shown.values()):
                w, h = entry["size_mm"]
                for px in np.linspace(0, w, 25):
                    for py in np.linspace(0, h, 25):
                        assert any(a <= px <= c and b <= py <= d for a, b, c, d in tiles), (entry["file"], px, py)
                columns = sorted({tile[0] for tile in tiles})
                right = {tile[0]: tile[2] for tile in tiles}
                for one, next_ in zip(columns, columns[1:]):
                    near(right[one] - next_, 10, 0.01, "overlap")


# ---- sheet layouts ----

def cuttable(rects):
    """Whether edge-to-edge cuts alone separate the rectangles."""
    if len(rects) <= 1:
        return True
    for axis in (0, 1):
        ordered = sorted(rects, key=lambda r: r[axis])
        reach = ordered[0][axis] + ordered[0][axis + 2]
        groups, now = [], [ordered[0]]
        for rect in ordered[1:]:
            if rect[axis] >= reach - 1e-6:
                groups.append(now)
                now = []
            now.append(rect)
            reach = max(reach, rect[axis] + rect[axis + 2])
        groups.append(now)
        if len(groups) > 1:
            return all(cuttable(group) for group in groups)
    return False


def sound(layout, sheet, kerf, panels, turn):
    left = list(panels)
    for rects in layout:
        assert cuttable([tuple(r) for r in rects]), "not edge to edge"
        for number, (x, y, w, h) in enumerate(rects):
            assert x >= -1e-6 and y >= -1e-6 and x + w <= sheet[0] + 1e-6 and y + h <= sheet[1] + 1e-6, "off the sheet"
            for a, b, c, d in rects[:number]:
                apart = x >= a + c + kerf - 1e-6 or a >= x + w + kerf - 1e-6 or y >= b + d + kerf - 1e-6 or b >= y + h + kerf - 1e-6
                assert apart, "closer than a kerf"
            found = next((p for p in left if abs(p[0] - w) < 1e-6 and abs(p[1] - h) < 1e-6
                          or turn and abs(p[1] - w) < 1e-6 and abs(p[0] - h) < 1e-6), None)
            assert found is not None, f"no panel of {w} × {h} is wanted"
            left.remove(found)
    assert not left, f"missing: {left}"


@check("rings: layers weigh and balance as the meshes of a library, and their blanks can be cut from the sheets")
def _():
    for name, entries in {**STACKS, **BORED}.items():
        design = variant(construction="rings", rings="12", **entries)
        shop = json.loads(report("-", "--shop", text=json.dumps(design)))
        thick, low, volume, moment = shop["thickness_mm"], 0.0, 0.0, np.zeros(3)
        # In one frame: the outlines of the files begin at their own corners, all shapes but the traced are even about
        # their bottom's middle across, and all keep their outline's lower left corner or their middle; so the layers
        # are put back by the pins, which run straight through.
        pins, bored = None, set()
        for entry in shop["templates"]:
            drawing = ezdxf.read(io.StringIO(entry["dxf"].replace("\r\n", "\n"))).modelspace()
            lines = [e for e in drawing if e.dxftype() == "POLYLINE"]
            outer = [flat(e) for e in lines if e.dxf.layer == "OUTLINE"]
            inner = [flat(e) for e in lines if e.dxf.layer == "HOLE"]
            shift = np.zeros(2)
            if entry["file"].startswith("ring-"):
                here = np.array([h["at_mm"] for h in entry["holes"]])
                pins = here if pins is None else pins
                shift = pins[0] - here[0]
                assert np.allclose(here + shift, pins, atol=0.002), name
                entry["shift"] = shift
            body = manifold3d.CrossSection(outer)
            for opening in inner:
                body -= manifold3d.CrossSection([opening])
            circles = [e for e in drawing if e.dxftype() == "CIRCLE"]
            if not entry["file"].startswith("ring-"):
                # Pins fill their holes again.
                for circle in (e for e in circles if e.dxf.layer == "HOLE"):
                    body -= manifold3d.CrossSection([flat(circle)])
                bored |= {hole["use"] for hole in entry["holes"]}
            body = body.extrude(thick * entry["count"])
            for circle in (e for e in circles if e.dxf.layer == "REBATE"):
                (deep,) = {hole["depth_mm"] for hole in entry["holes"] if "depth_mm" in hole}
                body -= manifold3d.CrossSection([flat(circle)]).extrude(deep).translate([0, 0, thick * entry["count"] - deep])
            mesh = body.to_mesh()
            solid = trimesh.Trimesh(mesh.vert_properties[:, :3], mesh.tri_verts)
            if name == "widening" and entry["file"] in ("baffle-plate", "baffle-plate-outer", "bottom-plate"):
                # Plates have no pins; both ends are even, about the same middle as the rings.
                first = shop["templates"][1]
                shift = np.array(first["size_mm"]) / 2 - np.array(entry["size_mm"]) / 2
            volume += solid.volume
            moment += solid.volume * (solid.center_mass + np.array([*shift, low]))
            low += thick * entry["count"]
        if name == "widening":
            # Counted from the bottom plate's own corner.
            first, bottom = shop["templates"][1], shop["templates"][0]
            moment[:2] -= volume * (np.array(first["size_mm"]) - np.array(bottom["size_mm"])) / 2
        assert {"driver"} <= bored and ("port" in bored) == ("tube" in name), (name, bored)
        near(shop["kg"], volume * 1e-9 * 740, 3e-4 * shop["kg"], f"{name}: weight")
        for axis in range(3):
            near(shop["centre_width_depth_height_mm"][axis], moment[axis] / volume, 0.05, f"{name}: centre of gravity")
        placed = [p for sheet in shop["layout"]["sheets"] for p in sheet["placed"]]
        assert len(placed) == sum(t["count"] for t in shop["templates"]), name
        wanted = [tuple(math.ceil(x - 0.05) for x in t["size_mm"]) for t in shop["templates"] for _ in range(t["count"])]
        for sheet in shop["layout"]["sheets"]:
            assert sheet["size_mm"] == shop["layout"]["sheets"][0]["size_mm"], name
        rects = [[(*p["at_mm"], *p["size_mm"]) for p in sheet["placed"]] for sheet in shop["layout"]["sheets"]]
        sound(rects, shop["layout"]["sheets"][0]["size_mm"], 3.0, wanted, True)
        glue = next(row for row in shop["layout"]["bill"] if row[0] == "wood glue")
        assert float(glue[1]) > 0 and len(shop["order"]) == 4, name


@check("layouts of the reference jobs can be cut and reach the proved optimum")
def _():
    path = ROOT / "tests/published/data/cutting/enclosure_jobs.json"
    file = json.loads(path.read_text())
    answers = json.loads(report("--layout", str(path)))
    assert len(answers) == len(file["jobs"])
    for job, answer in zip(file["jobs"], answers):
        panels = [(p["w"], p["h"]) for p in job["panels"] for _ in range(p["qty"])]
        for regime, best in job["used_length_last_sheet_mm"].items():
            found = answer[regime]
            assert found["sheets"] == best["sheets"], (job["id"], regime)
            near(found["used_mm"], best["used_mm"], 1e-6, f"{job['id']} {regime}")
            sound(found["layout"], (1220, 2440), 3.2, panels, True)


@check("layouts of published instances can be cut")
def _():
    path = ROOT / "tests/published/data/cutting/bpp.json"
    file = json.loads(path.read_text())
    some = {**file, "instances": [i for i in file["instances"] if i["n"] <= 20][::3]}
    answers = json.loads(report("--layout", "-", text=json.dumps(some)))
    for instance, answer in zip(some["instances"], answers):
        for way in ("fixed", "rotated"):
            sound(answer[way]["layout"], instance["bin"], 0, [tuple(i) for i in instance["items"]], way == "rotated")


@check("the checker itself sees an overlap, a missing kerf and a layout that is not edge to edge")
def _():
    def fails(*arguments):
        try:
            sound(*arguments)
        except AssertionError:
            return True
        return False
    assert fails([[[0, 0, 10, 10], [5, 5, 10, 10]]], (30, 30), 0, [(10, 10), (10, 10)], False)
    assert fails([[[0, 0, 10, 10], [11, 0, 10, 10]]], (30, 30), 3, [(10, 10), (10, 10)], False)
    wheel = [[0, 0, 2, 1], [2, 0, 1, 2], [1, 2, 2, 1], [0, 1, 1, 2]]
    assert fails([wheel], (3, 3), 0, [(2, 1), (1, 2), (2, 1), (1, 2)], False)
    assert not fails([[[0, 0, 10, 10], [13, 0, 10, 10]]], (30, 30), 3, [(10, 10), (10, 10)], False)


print(f"{sum(results)} passed, {len(results) - sum(results)} failed")
sys.exit(0 if all(results) else 1)
