#!/usr/bin/python3
"""Writes the drawings of this folder with ezdxf 0.18 (python3-ezdxf), and beside them true.json: where
every element of them lies in millimetres, computed here on its own with plain point transforms. Run it in this folder; the tests read what it wrote, nobody has to run it to run them."""

import json
from math import atan, atan2, cos, pi, radians, sin, sqrt

import ezdxf

RELEASES = ["R12", "R2000", "R2004", "R2007", "R2010", "R2018"]
INCH = float("25.4")


def place(steps, x, y):
    """Runs a point through plain transforms, innermost first."""
    x, y = float(x), float(y)
    for s in steps:
        kind, args = s[0], [float(a) for a in s[1:]]
        if kind == "move":
            x, y = x + args[0], y + args[1]
        elif kind == "scale":
            x, y = x * args[0], y * args[1]
        elif kind == "turn":
            a = radians(args[0])
            x, y = x * cos(a) - y * sin(a), x * sin(a) + y * cos(a)
        elif kind == "mirror":  # X of an entity whose normal points straight down
            x = -x
    return x, y


def line(layer, steps, a, b):
    p, q = place(steps, *a), place(steps, *b)
    return {"kind": "line", "layer": layer, "start": [float(v) for v in p], "end": [float(v) for v in q]}


def arc(layer, steps, centre, radius, begin, end):
    """Three places of the arc are put in place; where it lies follows from them, mirrored or not."""
    c = place(steps, *centre)
    sweep = (float(end) - float(begin)) % 360 or 360.0

    def at(deg):
        t = radians(float(deg))
        return place(steps, float(centre[0]) + float(radius) * cos(t), float(centre[1]) + float(radius) * sin(t))

    p, m, q = at(begin), at(float(begin) + sweep / 360), at(float(begin) + sweep)
    cross = (p[0] - c[0]) * (m[1] - c[1]) - (p[1] - c[1]) * (m[0] - c[0])
    if cross < 0:
        p, q = q, p
    start = atan2(p[1] - c[1], p[0] - c[0]) * 180 / pi % 360
    if sweep == 360:
        start = float(0)
    return {"kind": "arc", "layer": layer, "centre": [float(v) for v in c], "radius": float(sqrt((p[0] - c[0]) ** 2 + (p[1] - c[1]) ** 2)),
            "from": float(start), "sweep": float(sweep)}


def bulged(layer, steps, a, b, bulge):
    """Centre from the half chord and the angle swept, the other way round than the program does it."""
    if bulge == 0:
        return line(layer, steps, a[:2], b[:2])
    ax, ay, bx, by, k = map(float, (a[0], a[1], b[0], b[1], bulge))
    swept = 4 * atan(k)
    chord = sqrt((bx - ax) ** 2 + (by - ay) ** 2)
    radius = chord / (2 * sin(abs(swept) / 2))
    # From a towards the centre: the chord's bearing turned by (180° − swept)/2 to the side of the centre.
    turn = atan2(by - ay, bx - ax) + (pi - abs(swept)) / 2 * (1 if k > 0 else -1)
    c = ax + radius * cos(turn), ay + radius * sin(turn)
    ta = atan2(ay - c[1], ax - c[0]) * 180 / pi
    tb = atan2(by - c[1], bx - c[0]) * 180 / pi
    return arc(layer, steps, c, radius, *((ta, tb) if k > 0 else (tb, ta)))


def polyline(space, release, points, closed, attribs):
    if release == "R12":
        p = space.add_polyline2d([(x, y) for x, y, _ in points], dxfattribs=attribs)
        for v, (_, _, b) in zip(p.vertices, points):
            v.dxf.bulge = b
        if closed:
            p.close(True)
        return
    space.add_lwpolyline(points, format="xyb", close=closed, dxfattribs=attribs)


def mixed(release, unit):
    """Blocks in blocks, turned, mirrored, in rows; bulges; normals that point down; what is not read."""
    scale = INCH if unit == "in" else float(1)
    out = [("scale", scale, scale)]
    d = ezdxf.new(release, setup=False)
    d.header["$INSUNITS"] = 1 if unit == "in" else 4
    if release in ("R12", "R2000", "R2004"):
        d.encoding = "cp1252"
    for name, colour in (("rim", 1), ("slot", 2), ("Bögen", 3), ("hidden", -4), ("cold", 5)):
        d.layers.new(name, dxfattribs={"color": colour})
    d.layers.get("cold").freeze()
    m, true = d.modelspace(), []

    m.add_line((-70, -5), (-50, 5.5), dxfattribs={"layer": "rim"})
    true.append(line("rim", out, (-70, -5), (-50, 5.5)))
    m.add_arc((100.125, -40.0625), 21.3125, 350, 20, dxfattribs={"layer": "rim"})
    true.append(arc("rim", out, ("100.125", "-40.0625"), "21.3125", 350, 20))
    m.add_circle((150, 0), 7.5, dxfattribs={"layer": "Bögen"})
    true.append(arc("Bögen", out, (150, 0), 7.5, 0, 360))
    m.add_arc((30, 80), 12, 30, 100, dxfattribs={"layer": "cold", "extrusion": (0, 0, -1)})
    true.append(arc("cold", [("mirror",)] + out, (30, 80), 12, 30, 100))
    m.add_circle((-200, 10), 3.25, dxfattribs={"layer": "hidden"})
    true.append(arc("hidden", out, (-200, 10), 3.25, 0, 360))

    slot = [(0, 0, 0), (30, 0, 1), (30, 8, 0.25), (0, 8, -0.4375)]
    polyline(m, release, slot, True, {"layer": "slot"})
    true += [bulged("slot", out, slot[i], slot[(i + 1) % 4], slot[i][2]) for i in range(4)]
    down = [(200, 5, 0.5), (220, 9, 0), (240, 9, -0.75), (233, 30, 0)]
    polyline(m, release, down, False, {"layer": "slot", "extrusion": (0, 0, -1)})
    true += [bulged("slot", [("mirror",)] + out, down[i], down[i + 1], down[i][2]) for i in range(3)]

    # A lug of an arc, a line and a bulged polyline; a pair of lugs, one mirrored.
    lug = d.blocks.new("LUG", base_point=(2, 1))
    lug.add_arc((5, 5), 4, 20, 200)  # on layer 0: takes that of the INSERT
    lug.add_line((5, -5), (9, -7), dxfattribs={"layer": "rim"})
    bow = [(0, 20, 0.3), (10, 22, 0)]
    polyline(lug, release, bow, False, {"layer": "0"})
    lug.add_text("left out", dxfattribs={"layer": "rim"})
    pair = d.blocks.new("PAIR")
    pair.add_blockref("LUG", (40, 0), dxfattribs={"rotation": 33})
    pair.add_blockref("LUG", (-40, 3), dxfattribs={"xscale": -1, "rotation": -12.5, "layer": "slot"})

    def lugs(layer, steps):
        base = [("move", -2, -1)]
        return [arc(layer, base + steps, (5, 5), 4, 20, 200), line("rim", base + steps, (5, -5), (9, -7)),
                bulged(layer, base + steps, bow[0], bow[1], bow[0][2])]

    def pairs(layer, steps):
        return (lugs(layer, [("turn", 33), ("move", 40, 0)] + steps)
                + lugs("slot", [("scale", -1, 1), ("turn", -12.5), ("move", -40, 3)] + steps))

    # R12 knows rows and columns as well.
    grid = {"rotation": 15, "xscale": 1.5, "yscale": 1.5, "layer": "Bögen", "column_count": 2, "row_count": 3, "column_spacing": 400, "row_spacing": 150}
    m.add_blockref("PAIR", (500, 500), dxfattribs=grid)
    for column in range(2):
        for row in range(3):
            cell = [("move", column * 400, row * 150), ("turn", 15), ("move", 500, 500)]
            true += pairs("Bögen", [("scale", 1.5, 1.5)] + cell + out)
    m.add_blockref("LUG", (-300, -300), dxfattribs={"extrusion": (0, 0, -1), "rotation": 50, "yscale": -2, "xscale": 2, "layer": "slot"})
    true += lugs("slot", [("scale", 2, -2), ("turn", 50), ("move", -300, -300), ("mirror",)] + out)
    # Unequal scales: the line stays, the arc and the bulge become ellipses.
    m.add_blockref("LUG", (-500, 0), dxfattribs={"xscale": 1, "yscale": 3, "layer": "slot"})
    true.append(line("rim", [("move", -2, -1), ("scale", 1, 3), ("move", -500, 0)] + out, (5, -5), (9, -7)))

    m.add_text("not read", dxfattribs={"layer": "rim"})
    m.add_point((1, 1), dxfattribs={"layer": "rim"})
    m.add_circle((0, 900), 5, dxfattribs={"layer": "rim", "extrusion": (0, 1, 1)})
    left_out = {"TEXT rim": 1 + 2 * 6 + 2, "POINT rim": 1}
    if release != "R12":
        m.add_ellipse((0, 0), (10, 0), 0.5, dxfattribs={"layer": "slot"})
        m.add_spline([(0, 0), (1, 2), (3, 3)], dxfattribs={"layer": "slot"})
        left_out |= {"ELLIPSE slot": 1, "SPLINE slot": 1}
    d.layout("Layout1").add_circle((0, 0), 9, dxfattribs={"layer": "rim"}) if release != "R12" else None
    name = f"mixed-{release.lower()}-{unit}.dxf"
    d.saveas(name)
    return name, {"release": release, "unit": unit, "elements": true, "left_out": left_out, "stretched": 2, "tilted": 1, "paper": 0 if release == "R12" else 1}


def quadrant():
    """The quadrant plate of a bench-drill belt tensioner, of corners, centres and radii alone."""
    d = ezdxf.new("R2010", setup=False)
    d.header["$INSUNITS"] = 4
    for name in ("rim", "slot", "boss", "bore"):
        d.layers.new(name)
    m, true = d.modelspace(), []

    def add_arc(layer, centre, radius, begin, end):
        m.add_arc([float(v) for v in centre], float(radius), float(begin), float(end), dxfattribs={"layer": layer})
        true.append(arc(layer, [], centre, radius, begin, end))

    def deg(p, c=(0, 0)):
        return atan2(p[1] - c[1], p[0] - c[0]) * 180 / pi

    # The flank from the heel (radius 20) to the rim (radius 52) runs from (16,−12) to (48,−20); the
    # other one is its mirror image about the line x = y. Foot: the flank's point nearest the origin.
    u = (4 / sqrt(float(17)), -1 / sqrt(float(17)))  # along the flank, outwards
    n = (1 / sqrt(float(17)), 4 / sqrt(float(17)))  # to the left of it
    foot = 16 * n[0] - 12 * n[1]
    hollow = -25 + foot, sqrt(float(45) ** 2 - (foot - 25) ** 2)  # across, along: beside the heel, radius 25
    corner = 16 + foot, sqrt(float(36) ** 2 - (foot + 16) ** 2)  # inside the rim, radius 16

    def at(across, along):
        return across * n[0] + along * u[0], across * n[1] + along * u[1]

    c25, c16 = at(*hollow), at(*corner)
    t1, t2 = at(foot, hollow[1]), at(foot, corner[1])
    heel = tuple(v * 20 / 45 for v in c25)
    rim = tuple(v * 52 / 36 for v in c16)

    def swap(p):
        return p[1], p[0]

    m.add_line([float(v) for v in t1], [float(v) for v in t2], dxfattribs={"layer": "rim"})
    true.append(line("rim", [], t1, t2))
    add_arc("rim", c16, 16, deg(t2, c16), deg(rim, c16))
    add_arc("rim", (0, 0), 52, deg(rim), deg(swap(rim)))
    add_arc("rim", swap(c16), 16, deg(swap(rim), swap(c16)), deg(swap(t2), swap(c16)))
    m.add_line([float(v) for v in swap(t2)], [float(v) for v in swap(t1)], dxfattribs={"layer": "rim"})
    true.append(line("rim", [], swap(t2), swap(t1)))
    add_arc("rim", swap(c25), 25, deg(heel[::-1], swap(c25)), deg(swap(t1), swap(c25)))
    add_arc("rim", (0, 0), 20, deg(swap(heel)), deg(heel))
    add_arc("rim", c25, 25, deg(t1, c25), deg(heel, c25))
    # The slot: centre line 36, width 8, round ends at 20° and 70°.
    add_arc("slot", (0, 0), 40, 20, 70)
    add_arc("slot", (0, 0), 32, 20, 70)
    for b, begin in ((20, 200), (70, 70)):
        add_arc("slot", (36 * cos(radians(float(b))), 36 * sin(radians(float(b)))), 4, begin, begin + 180)
    m.add_circle((0, 0), 16, dxfattribs={"layer": "boss"})
    true.append(arc("boss", [], (0, 0), 16, 0, 360))
    m.add_circle((0, 0), 6, dxfattribs={"layer": "bore"})
    true.append(arc("bore", [], (0, 0), 6, 0, 360))
    d.saveas("quadrant-plate.dxf")
    return "quadrant-plate.dxf", {"release": "R2010", "unit": "mm", "elements": true}


def main():
    all_true = {"source": "make.py with ezdxf " + ezdxf.__version__}
    files = dict(mixed(release, unit) for release in RELEASES for unit in ("mm", "in"))
    files |= dict([quadrant()])
    all_true["files"] = files
    with open("true.json", "w", encoding="utf-8") as f:
        json.dump(all_true, f, indent=1, ensure_ascii=False)
        f.write("\n")


main()
