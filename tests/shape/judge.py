#!/usr/bin/env python3
"""The figures that tests/shape/kept.txt keeps, reckoned by shapely (python3-shapely of Debian, over GEOS).

    judge.py > tests/shape/kept.txt         makes the file anew
    judge.py --against tests/shape/kept.txt tells whether it would become another one: exit 1

Nothing of the program is used. Outlines are drawn at random with a fixed seed; an arc is handed to shapely as ARC lines,
so that what it reckons is off by less than the tolerance that stands behind each figure. What one outline is:

    outline N                         N sides follow
    line X0 Y0 X1 Y1
    arc X0 Y0 X1 Y1 RADIUS WAY        the short one; WAY 1: turns left, -1: right
    length, area FIGURE TOLERANCE
    box LEFT RIGHT FRONT BACK TOLERANCE
    offset GROW LENGTH AREA TOLERANCE
    place X Y INSIDE FROM TOLERANCE   is it inside, how far is the rim
    apart X Y DISTANCE TOLERANCE      to the outline before, itself unmoved, the other shifted by X, Y
    taken X Y CUT AREA TOLERANCE      of a strip from -STRIP to STRIP across, after the outline before, shifted by X, Y,
                                      has been cut out of it: how much of the rim cuts, how much metal it takes
"""
import math
import random
import sys

from shapely.affinity import translate
from shapely.geometry import Point, Polygon, box

ARC, ROUND, OUTLINES, STRIP = 2000, 256, 60, 20
dice = random.Random(20260101)


def arc_of(a, b, radius, way):
    """Its middle, and the places along it, the first left out."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    chord = math.hypot(dx, dy)
    rise = math.sqrt(radius * radius - chord * chord / 4)
    cx, cy = (a[0] + b[0]) / 2 - way * rise * dy / chord, (a[1] + b[1]) / 2 + way * rise * dx / chord
    start, sweep = math.atan2(a[1] - cy, a[0] - cx), 2 * math.asin(min(1, chord / 2 / radius))
    turns = (start + way * sweep * i / ARC for i in range(1, ARC + 1))
    return [(cx + radius * math.cos(t), cy + radius * math.sin(t)) for t in turns]


def draw():
    """Corners round a middle, anticlockwise; some of the sides between them bent."""
    n = dice.randint(4, 9)
    corners = []
    for i in range(n):
        turn, far = 2 * math.pi * (i + dice.uniform(-0.2, 0.2)) / n, dice.uniform(14, 30)
        corners.append((round(far * math.cos(turn), 3), round(far * math.sin(turn), 3)))
    sides, rim = [], []
    for a, b in zip(corners, corners[1:] + corners[:1]):
        chord = math.dist(a, b)
        if dice.random() < 0.4:
            side = (a, b, round(chord * dice.uniform(0.7, 2), 3), dice.choice((1, -1)))
            rim += arc_of(*side)
        else:
            side = (a, b)
            rim.append(b)
        sides.append(side)
    return sides, Polygon(rim)


def whole(shape):
    """Of one piece, without a hole."""
    return shape.geom_type == "Polygon" and not shape.is_empty and not shape.interiors


def figures():
    before = None
    made = 0
    while made < OUTLINES:
        sides, outline = draw()
        grows = (0.05, 0.3, -0.05, -0.3)
        offsets = [outline.buffer(g, ROUND) for g in grows]
        if not outline.is_valid or min(math.dist(s[0], s[1]) for s in sides) < 5 or \
                not all(whole(o) for o in offsets):
            continue
        made += 1
        bent = any(len(s) > 2 for s in sides)
        near = 2e-5 if bent else 1e-9
        yield "outline %d" % len(sides)
        for s in sides:
            ends = "%g %g %g %g" % (s[0] + s[1])
            yield "arc %s %g %d" % (ends, s[2], s[3]) if len(s) > 2 else "line %s" % ends
        yield "length %.9f %.1g" % (outline.length, near * 10)
        yield "area %.9f %.1g" % (outline.area, near * 100)
        left, front, right, back = outline.bounds
        yield "box %.9f %.9f %.9f %.9f %.1g" % (left, right, front, back, near)
        for g, o in zip(grows, offsets):
            yield "offset %g %.6f %.6f %.1g" % (g, o.length, o.area, 2e-3)
        for _ in range(6):
            x, y = round(dice.uniform(-30, 30), 3), round(dice.uniform(-30, 30), 3)
            from_rim = outline.exterior.distance(Point(x, y))
            if from_rim > 1e-3:
                yield "place %g %g %d %.9f %.1g" % (x, y, outline.contains(Point(x, y)), from_rim, near)
        if before is not None:
            x, y = round(dice.uniform(55, 70), 3), round(dice.uniform(-40, 40), 3)
            yield "apart %g %g %.9f %.1g" % (x, y, outline.distance(translate(before, x, y)), near)
            x, y = round(dice.uniform(-30, 30), 3), round(dice.uniform(-20, 20), 3)
            metal = box(-200, -STRIP, 200, STRIP).difference(translate(before, x, y))
            yield "taken %g %g %.9f %.9f %.1g" % (x, y, outline.exterior.intersection(metal).length,
                                                  outline.intersection(metal).area, max(near, near_before) * 100)
        before, near_before = outline, near


def same(one, other):
    """Two lines, word by word; figures of two releases of the library may differ in the last places."""
    a, b = one.split(), other.split()
    if len(a) != len(b) or a[0] != b[0]:
        return False
    near = max(float(a[-1]), 1e-9) if a[0] not in ("outline", "line", "arc") else 0
    return all(abs(float(x) - float(y)) <= near for x, y in zip(a[1:], b[1:]))


def main():
    made = list(figures())
    if sys.argv[1:2] != ["--against"]:
        print("# Made by tests/shape/judge.py, which tells what a line means; not by hand.")
        print("\n".join(made))
        return
    kept = [l.rstrip("\n") for l in open(sys.argv[2]) if not l.startswith("#")]
    bad = sum(not same(a, b) for a, b in zip(made, kept)) + abs(len(made) - len(kept))
    print("%s: %d lines, %d of them differ" % (sys.argv[2], len(kept), bad))
    sys.exit(bad > 0)


main()
