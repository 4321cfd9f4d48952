#!/usr/bin/env python3
"""Remakes every plate of a job from its papers alone, the hole charts and the inspection list as they were
written for the shop, and holds what comes of it against the plates' solids in the same folder: each round hole
of a chart is a wall of the solid of that radius at that place, to the depth that the chart says, with land
and relief where it has them; each upright round wall of the solid is a hole of the chart or the corner of a
shaped one. Ends with 1 and says what differs.

usage: remake.py FOLDER      (written by: diewright papers JOB FOLDER --solids)
"""
import csv
import glob
import math
import os
import re
import sys

NEAR = 2e-3  # mm; charts are written to 0.001 mm, or 0.0001 in


def rows(folder, name):
    (path,) = glob.glob(os.path.join(folder, "*-%s-*.csv" % name))
    with open(path, newline="", encoding="utf-8") as f:
        return list(csv.DictReader(f))


def unit(folder):
    """mm in one of the papers' units, as the chart's head tells it."""
    (path,) = glob.glob(os.path.join(folder, "*-holes-*.txt"))
    with open(path, encoding="utf-8") as f:
        return 25.4 if re.search(r"\bx and y in in\b", f.read()) else 1.0


def solid(path):
    """The walls (x, y, radius) and the level circles (x, y, radius, z) of a plate."""
    records = {}
    with open(path, encoding="ascii") as f:
        for m in re.finditer(r"#(\d+)=([A-Z0-9_]+)\((.*)\);\n", f.read()):
            records[int(m[1])] = (m[2], m[3])

    def place(ref):
        axes = records[ref][1]
        point = records[int(re.findall(r"#(\d+)", axes)[0])][1]
        return [float(v) for v in re.search(r"\(([^()]*)\)", point)[1].split(",")]

    walls, circles = [], []
    for kind, text in records.values():
        if kind in ("CYLINDRICAL_SURFACE", "CIRCLE"):
            ref, radius = re.match(r"'',#(\d+),(.*)", text).groups()
            x, y, z = place(int(ref))
            (walls if kind == "CYLINDRICAL_SURFACE" else circles).append((x, y, float(radius), z))
    return walls, circles


def near(a, b):
    return all(abs(p - q) <= NEAR for p, q in zip(a, b))


SIZES = re.compile(r"(\d[\d.]*) x (\d[\d.]*)(?: corner (\d[\d.]*))?$")


def rectangle(row, mm):
    """Half extents and corner radius of a hole that its row tells as "28.0 x 40.0 corner 6.0"; None: an outline."""
    m = SIZES.search(row["operation"])
    return m and (float(m[1]) * mm / 2, float(m[2]) * mm / 2, float(m[3] or 0) * mm)


def main(folder):
    mm, wrong, seen, shapes, lands = unit(folder), [], 0, 0, 0
    high = {r["plate"]: float(r["nominal"]) * mm for r in rows(folder, "inspection") if r["what"] == "thickness"}
    plates = {}
    for r in rows(folder, "holes"):
        plates.setdefault(r["plate"], []).append(r)
    for plate, holes in plates.items():
        (path,) = glob.glob(os.path.join(folder, "*-%s-*.step" % plate))
        walls, circles = solid(path)
        told, boxes, outlined = [], [], False
        for h in holes:
            x, y = float(h["x"]) * mm, float(h["y"]) * mm
            if not h["diameter"]:
                box = rectangle(h, mm)
                outlined = outlined or not box
                boxes += [(x, y) + box] if box else []
                continue
            r = float(h["diameter"]) * mm / 2
            told.append((x, y, r))
            seen += 1
            if not any(near((x, y, r), w) for w in walls):
                wrong.append("%s %s: no wall of diameter %s at %s, %s"
                             % (plate, h["mark"], h["diameter"], h["x"], h["y"]))
            if h["land"]:
                lands += 1
                wall = high[plate] - float(h["land"]) * mm
                wide = r + wall * math.tan(math.radians(float(h["relief"])))
                end, foot = (wall, 0.0) if h["face"] == "top" else (high[plate] - wall, high[plate])
                if not all(any(near(at, c) for c in circles) for at in ((x, y, r, end), (x, y, wide, foot))):
                    wrong.append("%s %s: the solid has no land of %s with a relief of %s"
                                 % (plate, h["mark"], h["land"], h["relief"]))
            if h["thread"] and float(h["thread_depth"]) * mm > (float(h["depth"] or 1e9)) * mm + NEAR:
                wrong.append("%s %s: its thread is deeper than its drill" % (plate, h["mark"]))
            if not h["depth"]:
                continue
            depth = float(h["depth"]) * mm
            z = high[plate] - depth if h["face"] == "top" else depth
            if not any(near((x, y, r, z), c) for c in circles):
                wrong.append("%s %s: the solid does not end %s below the %s face"
                             % (plate, h["mark"], h["depth"], h["face"]))
        for x, y, a, b, c in boxes:
            shapes += 1
            corners = [(x + i * (a - c), y + k * (b - c), c) for i in (1, -1) for k in (1, -1)] if c else []
            if not all(any(near(at, w) for w in walls) for at in corners):
                wrong.append("%s: no corners of %g round the shape at %g, %g" % (plate, c, x, y))
        for w in walls:
            inside = any(abs(w[0] - x) <= a and abs(w[1] - y) <= b for x, y, a, b, _ in boxes)
            if not outlined and not inside and not any(near(at, w) for at in told):
                wrong.append("%s: a wall of diameter %g at %g, %g is in no chart" % (plate, 2 * w[2], w[0], w[1]))
    for line in wrong:
        print(line)
    print("%d plates, %d round holes and %d shaped ones, %d lands with relief, remade from the papers, %d differ"
          % (len(plates), seen, shapes, lands, len(wrong)))
    return 1 if wrong or not seen else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
