#!/usr/bin/env python3
"""Compares the program with shapely and scipy:  reference.py PROGRAM FOLDER

Nothing of the program's own arithmetic is used: only what it prints as typed in (sizes, places, depths) goes into the
other reckoning, and what it prints as worked out is compared. Jobs are made in FOLDER. Run from the top of the tree.
"""
import csv
import io
import math
import random
import re
import subprocess
import sys

import numpy
import scipy.integrate
import scipy.linalg
import scipy.optimize
from shapely.affinity import translate
from shapely.geometry import LineString, MultiPoint, Point, Polygon, box

PROGRAM, FOLDER = sys.argv[1], sys.argv[2]
ROUND = 128  # corners of a quarter circle: the chord of a radius of 50 is off by 0.001
compared, different = 0, 0


def run(*words, ok=(0,)):
    done = subprocess.run([PROGRAM, *words, "--data", "data"], capture_output=True, text=True)
    if done.returncode not in ok:
        sys.exit("%s %s: %s" % (PROGRAM, " ".join(words), done.stderr.strip()))
    return done.stdout


def rows(*words, ok=(0,)):
    return list(csv.DictReader(io.StringIO(run(*words, "--format", "csv", ok=ok))))


def check(what, program, other, tolerance):
    """TOLERANCE is absolute; the line that is printed tells it."""
    global compared, different
    agrees = abs(program - other) <= tolerance
    compared += 1
    different += not agrees
    print("%-9s %-66s %12.6g %12.6g  within %.2g" % ("agrees" if agrees else "DIFFERENT", what, program, other, tolerance))


def heading(text):
    print("\n%s" % text)


# ---- the job as the program prints it ---------------------------------------------------------------------


class Job:
    """All values in mm, N and kg; inch jobs are turned to millimetres first."""

    factors = {"kN": 1000.0, "J": 1000.0, "kW": 1e6}
    made = 0

    def __init__(self, name, *settings, outline=None):
        """OUTLINE: item, lines, and the same as a polygon round the item's point."""
        Job.made += 1
        self.outline = outline
        self.path = "%s/%s-%d" % (FOLDER, name, Job.made)
        run("new", self.path, "--like", name)
        run("set", self.path, 'job.unit="mm"', ok=(0, 1))
        for setting in settings:
            run("set", self.path, setting, ok=(0, 1))
        if outline:
            run("outline", self.path, outline[0], *outline[1], ok=(0, 1))
        self.values = {}
        for row in rows("show", self.path):
            for state in [row["state"]] if row["state"] else ["new", "ground"]:
                self.values[row["name"], state] = (row["value"], row["unit"])
        # the sides of an outline stand under its hole, without a face
        self.holes = [self.hole(row) for row in rows("holes", self.path) if row["face"]]

    def text(self, name, state="new"):
        return self.values[name, state][0]

    def number(self, name, state="new"):
        value, unit = self.values[name, state]
        return float(value) * self.factors.get(unit, 1.0)

    def items(self, kind_mark):
        """Items that have the property KIND_MARK, in the job's order."""
        seen = []
        for name, _ in self.values:
            if name.endswith("." + kind_mark) and name.count(".") == 1:
                item = name.split(".")[0]
                if item not in seen:
                    seen.append(item)
        return seen

    def hole(self, row):
        plate = row["plate"]
        thickness = self.number(plate + ".thickness")
        x, y = float(row["x"]), float(row["y"])
        if " by its outline" in row["operation"]:
            return self.outlined(row, x, y, thickness)
        size = re.search(r" ([0-9.]+) x ([0-9.]+)(?: corner ([0-9.]+))?", row["operation"])
        begins = re.search(r" from ([0-9.]+)$", row["operation"])
        begin = float(begins.group(1)) if begins else 0.0
        end = float(row["depth"]) if row["depth"] else thickness
        low, high = (begin, end) if row["face"] == "bottom" else (thickness - end, thickness - begin)
        shape = rectangle(x, y, *[float(v or 0) for v in size.groups()]) if size else disc(x, y, float(row["diameter"]))
        least = math.hypot(float(size.group(1)), float(size.group(2))) if size else float(row["diameter"])
        title = row["operation"]
        title = title[:size.start()] if size else title[:begins.start()] if begins else title
        return {"plate": plate, "item": row["group"], "title": title, "x": x, "y": y, "shape": shape, "low": low, "high": high,
                "diameter": least, "round": not size}


    def outlined(self, row, x, y, thickness):
        """A hole by the outline: right through, as typed, grown as its title says."""
        title, plates = row["operation"].split(" by its")[0], self.items("moves")
        below = plates.index(row["plate"]) - plates.index(self.text("stack.die_plate")) - 1
        slug = (self.number("slug_room") + self.number("slug_growth") * below) / 2
        grow = {"die opening": 0, "slug hole": slug}.get(title, -self.number("strip.clearance"))
        shape = translate(self.outline[2].buffer(grow, ROUND), x, y)
        a, b, c, d = shape.bounds
        return {"plate": row["plate"], "item": row["group"], "title": title, "x": x, "y": y, "shape": shape, "low": 0, "high": thickness,
                "diameter": math.hypot(c - a, d - b), "round": False}


def disc(x, y, diameter):
    return Point(x, y).buffer(diameter / 2, ROUND)


def rectangle(x, y, along, across, corner=0.0):
    core = box(x - along / 2 + corner, y - across / 2 + corner, x + along / 2 - corner, y + across / 2 - corner)
    return core.buffer(corner, ROUND) if corner > 0 else core


# ---- walls and edges -----------------------------------------------------------------------------------------

LEAST, SHARE = 20.0, 2.0  # factors typed over, so that many walls are told


def one_axis(job, a, b):
    """Holes of one fastener on one axis are no wall; bushings stand on their posts' axes."""
    same = a["item"] == b["item"] or {a["item"], b["item"]} in [{p, q} for q in job.items("of") for p in [job.text(q + ".of")]]
    return same and math.hypot(a["x"] - b["x"], a["y"] - b["y"]) < 1e-6


def far(a, b):
    """Their frames are too far apart for a wall that is told."""
    p, q = a["shape"].bounds, b["shape"].bounds
    return max(p[0] - q[2], q[0] - p[2], p[1] - q[3], q[1] - p[3]) > LEAST


def wall(a, b):
    """Where they cut, how far the middle of a round one would have to go to come free, as a negative wall."""
    if not a["shape"].intersects(b["shape"]):
        return a["shape"].distance(b["shape"])
    hole, other = (a, b) if a["round"] else (b, a)
    middle, inside = Point(hole["x"], hole["y"]), other["shape"]
    apart = inside.exterior.distance(middle)
    return (-apart if inside.contains(middle) else apart) - hole["diameter"] / 2


def no_wall(a, b):
    """What is formed runs into what is formed, and lies in its opening: one opening with steps."""
    form = [h["title"].startswith("form in the") or h["title"].startswith("pocket for what is formed") for h in (a, b)]
    opening = [h["title"] == "die opening" for h in (a, b)]
    return all(form) or (any(form) and any(opening) and a["shape"].intersects(b["shape"]))


def walls_by_shapely(job):
    """How far the worst wall of each two groups, over all plates, is under what is wanted: one mistake is told once."""
    found = {}
    for i, a in enumerate(job.holes):
        for b in job.holes[i + 1:]:
            shared = min(a["high"], b["high"]) - max(a["low"], b["low"])
            if a["plate"] != b["plate"] or shared <= 1e-9 or far(a, b) or one_axis(job, a, b) or no_wall(a, b):
                continue
            apart = wall(a, b)
            wanted = min(LEAST, SHARE * min(a["diameter"], b["diameter"]))
            if apart < wanted and apart < LEAST:
                cuts = apart <= 0  # a fault, whose limit is none
                key = frozenset([a["item"], b["item"]]), cuts
                found[key] = min(found.get(key, math.inf), apart - (0 if cuts else wanted))
    return found


def walls_by_program(job):
    """The same from its findings: "In PLATE a hole of ITEM (TITLE) and one of ITEM (TITLE) leave a wall of ..."."""
    names = {h["item"].replace("_", " "): h["item"] for h in job.holes}
    names.update({h["plate"].replace("_", " "): h["plate"] for h in job.holes})
    for item in set(names.values()):
        names.setdefault(item, item)
    found = {}
    for row in rows("check", job.path, ok=(0, 1)):
        if row["rule"] != "hole-wall" or row["state"] == "ground":
            continue
        m = re.match(r"In (.*) a hole of (.*) \((.*)\) (?:and one of|cuts one of) (.*) \((.*)\) (?:leave|by)", row["message"])
        key = frozenset([names[m.group(2)], names[m.group(4)]]), row["grade"] == "fault"
        found[key] = min(found.get(key, math.inf), float(row["margin"]))
    return found


def told(key):
    return " - ".join(sorted(key[0])) + (" cut" if key[1] else "")


def compare_walls(name, *settings, outline=None):
    global compared, different
    job = Job(name, "wall_least=%g mm" % LEAST, "wall_share=%g" % SHARE, *settings, outline=outline)
    heading("Walls between holes of %s, %d holes%s, in mm: program, shapely" % (name, len(job.holes), ", one an outline" if outline else ""))
    ours, theirs = walls_by_program(job), walls_by_shapely(job)
    for key in sorted(set(ours) | set(theirs), key=told):
        if key in ours and key in theirs:
            # circles are polygons here, and sizes of rectangles are printed to a hundredth
            check(told(key)[:66], ours[key], theirs[key], 0.006)
        elif abs(theirs.get(key, ours.get(key))) > 0.006:
            compared += 1
            different += 1
            print("DIFFERENT %s is told by %s only" % (told(key), "the program" if key in ours else "shapely"))
    if len(ours) < 15:
        sys.exit("only %d walls of %s were told" % (len(ours), name))
    heading("Holes inside their plates of %s, least distance to the edge in mm: program says whether" % name)
    outside = {row["item"] for row in rows("check", job.path, ok=(0, 1)) if row["rule"].startswith("hole-inside")}
    for plate in sorted({h["plate"] for h in job.holes}):
        edge = box(0, 0, job.number(plate + ".length"), job.number(plate + ".width"))
        here = [h for h in job.holes if h["plate"] == plate]
        out = {h["item"] for h in here if not edge.contains(h["shape"])}
        least = min(edge.exterior.distance(h["shape"]) for h in here)
        check("%s: %d holes, nearest to the edge %.2f; groups outside" % (plate, len(here), least), len(out & outside), len(out), 0)


# ---- load centre -----------------------------------------------------------------------------------------------


def outline(job, station, x, y):
    """The line that is cut, at the product's size."""
    half = job.number("strip.width") / 2
    strip = box(x - 1000, -half, x + 1000, half)
    return whole_outline(job, station, x, y).intersection(strip).difference(strip.boundary)


def whole_outline(job, station, x, y):
    shape = job.text(station + ".shape")
    if shape == "round":
        return disc(x, y, job.number(station + ".size")).exterior
    along, across = job.number(station + ".along"), job.number(station + ".across")
    return rectangle(x, y, along, across, job.number(station + ".corner")).exterior


def places(job, station, plate):
    """Its points, from the holes it makes in PLATE."""
    left, front = job.number(plate + ".left"), job.number(plate + ".front")
    return sorted({(round(h["x"] + left, 6), round(h["y"] + front, 6)) for h in job.holes if h["item"] == station and h["plate"] == plate})


def compare_load_centre(name):
    job = Job(name)
    heading("Cuts and load centre of %s: program, lines by shapely" % name)
    strength = job.number("strip.thickness") * job.number("strip.shear")
    slugs = 1 + job.number("stack.slugs") * job.number("push_share")  # pushed through where they are cut
    force = moment_x = moment_y = 0.0
    for station in job.items("does"):
        does = job.text(station + ".does")
        if does == "idle":
            continue
        if does == "form":
            points = MultiPoint(places(job, station, job.text("stack.punch_plate")))
            pushes = [(job.number(station + ".forming_force"), points.centroid)]
        else:
            lines = [outline(job, station, x, y) for x, y in places(job, station, job.text("stack.die_plate"))]
            check("%s.cut, mm" % station, job.number(station + ".cut"), lines[0].length, 0.002)
            pushes = [(line.length * strength * slugs, line.centroid) for line in lines]
            check("%s.cutting, N" % station, job.number(station + ".cutting"), sum(f for f, _ in pushes) / slugs, 2)
        for f, at in pushes:
            force, moment_x, moment_y = force + f, moment_x + f * at.x, moment_y + f * at.y
    for springs in job.items("force_shut"):
        at = places(job, springs, next(h["plate"] for h in job.holes if h["item"] == springs))
        for x, y in at:
            f = job.number(springs + ".force_shut") / len(at)
            force, moment_x, moment_y = force + f, moment_x + f * x, moment_y + f * y
    check("stack.centre_x, mm", job.number("stack.centre_x"), moment_x / force, 0.002)
    check("stack.centre_y, mm", job.number("stack.centre_y"), moment_y / force, 0.002)
    blanks = sum(rectangle(0, 0, job.number(s + ".along"), job.number(s + ".across"), job.number(s + ".corner")).area
                 if job.text(s + ".shape") == "rectangle" else disc(0, 0, job.number(s + ".size")).area
                 for s in job.items("does") if job.text(s + ".does") == "blank")
    check("strip.use", job.number("strip.use"), blanks / (job.number("strip.width") * job.number("strip.pitch")), 1e-5)


# ---- outlines of lines and arcs ---------------------------------------------------------------------------------


def arc_points(x0, y0, x1, y1, radius, left, steps=1500):
    """Places along the shorter arc that turns LEFT or right, without its beginning."""
    dx, dy = x1 - x0, y1 - y0
    chord = math.hypot(dx, dy)
    side = math.sqrt(radius ** 2 - chord ** 2 / 4) * (1 if left else -1) / chord
    cx, cy = (x0 + x1) / 2 - side * dy, (y0 + y1) / 2 + side * dx
    begin, sweep = math.atan2(y0 - cy, x0 - cx), 2 * math.asin(chord / 2 / radius) * (1 if left else -1)
    return [(cx + radius * math.cos(begin + sweep * i / steps), cy + radius * math.sin(begin + sweep * i / steps)) for i in range(1, steps + 1)]


def random_outline(seed):
    """Lines as they are typed, the polygon, and what of it is cut. None: it crosses itself, or has a narrow place."""
    draw = random.Random(seed)
    n = draw.randint(3, 9)
    corners = [(draw.uniform(7, 13) * math.cos(a), draw.uniform(7, 13) * math.sin(a))
               for a in [2 * math.pi * (i + draw.uniform(-0.25, 0.25)) / n for i in range(n)]]
    corners = [(round(x, 3), round(y, 3)) for x, y in corners]
    if draw.random() < 0.5:
        corners.reverse()
    lines, sides = ["at %g mm, %g mm" % corners[0]], []
    for (x0, y0), (x1, y1) in zip(corners, corners[1:] + corners[:1]):
        free, chord = draw.random() < 0.2, math.hypot(x1 - x0, y1 - y0)
        if draw.random() < 0.5:
            radius, left = round(chord * draw.uniform(0.6, 3), 3), draw.random() < 0.5
            lines.append("arc to %g mm, %g mm radius %g mm %s" % (x1, y1, radius, "left" if left else "right"))
            places = arc_points(x0, y0, x1, y1, radius, left)
        else:
            lines.append("line by %.6g mm, %.6g mm" % (round(x1 - x0, 3), round(y1 - y0, 3)))
            places = [(x1, y1)]
        lines[-1] += " no cut" if free else ""
        sides.append((LineString([(x0, y0)] + places), not free))
    polygon = Polygon([p for line, _ in sides for p in line.coords[1:]])
    whole = polygon.is_valid and all(polygon.buffer(g).buffer(-g).symmetric_difference(polygon).area < 1.5 for g in (-0.4, 0.4))
    return (lines, polygon, [line for line, cuts in sides if cuts]) if whole and any(cuts for _, cuts in sides) else None


def compare_outlines(wanted):
    heading("Random outlines of lines and arcs, in mm: program, polygons of shapely")
    seed = found = 0
    while found < wanted:
        seed += 1
        drawn = random_outline(seed)
        if not drawn:
            continue
        found += 1
        lines, polygon, cut = drawn
        does = "blank" if found % 2 else "pierce"
        job = Job("cover-plate", 'blank.shape="outline"', 'blank.does="%s"' % does, outline=("blank", lines, polygon))
        gap, name = job.number("strip.clearance"), "outline %d, %d lines, %s: " % (seed, len(lines), does)
        opening, punch = polygon.buffer(0 if does == "blank" else gap, ROUND), polygon.buffer(-gap if does == "blank" else 0, ROUND)
        length = sum(line.length for line in cut)
        left, front, right, back = polygon.bounds
        for what, other in [("perimeter", polygon.length), ("cut_line", length), ("product_area", polygon.area),
                            ("middle_along", sum(l.length * l.centroid.x for l in cut) / length),
                            ("middle_across", sum(l.length * l.centroid.y for l in cut) / length),
                            ("size_along", right - left), ("size_across", back - front),
                            ("opening_length", opening.length), ("opening_area", opening.area),
                            ("punch_length", punch.length), ("punch_area", punch.area)]:
            check(name + what, job.number("blank." + what), other, 2e-4)


# ---- beams and columns --------------------------------------------------------------------------------------------


def value(expression):
    row = rows("eval", expression)[0]
    return float(row["value"]) * Job.factors.get(row["unit"], 1.0)


def beam_by_integration(load, span, width, thickness, modulus, spread):
    """Middle of a beam on two supports: E I y'' = M, shot from one end until it comes down at the other."""
    stiffness = modulus * width * thickness ** 3 / 12

    def moment(x):
        if spread:
            return load / 2 * x - load / span * x * x / 2
        return load / 2 * min(x, span - x)

    def deflect(slope):
        # up to the middle and from there on: the moment has a corner there
        first = scipy.integrate.solve_ivp(lambda x, y: [y[1], -moment(x) / stiffness], (0, span / 2), [0, slope], rtol=1e-10, atol=1e-12)
        middle = first.y[:, -1]
        second = scipy.integrate.solve_ivp(lambda x, y: [y[1], -moment(x) / stiffness], (span / 2, span), middle, rtol=1e-10, atol=1e-12)
        return middle[0], second.y[0, -1]

    slope = scipy.optimize.brentq(lambda s: deflect(s)[1], 0, 1, xtol=1e-14)
    return deflect(slope)[0]


def compare_beams():
    heading("Beams on two supports, sag in mm: program, integrated")
    for load, span, width, thickness in [(160e3, 200, 315, 50), (2000, 500, 40, 8), (400e3, 250, 400, 63)]:
        for spread, function in [(False, "beam_sag"), (True, "beam_sag_spread")]:
            program = value("%s(%g N, %g mm, %g mm, %g mm, 210 GPa)" % (function, load, span, width, thickness))
            other = beam_by_integration(load, span, width, thickness, 210e3, spread)
            check("%s of %g N over %g, %g x %g" % (function, load, span, width, thickness), program, other, 1e-6 * other + 1e-6)


def column_by_elements(stiffness, length, held):
    """Least eigenvalue of a beam of cubic elements under a thrust; HELD: what is held at the foot and at the top."""
    n = 40
    step = length / n
    stiff, thrust = numpy.zeros((2 * n + 2, 2 * n + 2)), numpy.zeros((2 * n + 2, 2 * n + 2))
    bend = stiffness / step ** 3 * numpy.array([[12, 6 * step, -12, 6 * step], [6 * step, 4 * step ** 2, -6 * step, 2 * step ** 2],
                                               [-12, -6 * step, 12, -6 * step], [6 * step, 2 * step ** 2, -6 * step, 4 * step ** 2]])
    push = 1 / (30 * step) * numpy.array([[36, 3 * step, -36, 3 * step], [3 * step, 4 * step ** 2, -3 * step, -step ** 2],
                                          [-36, -3 * step, 36, -3 * step], [3 * step, -step ** 2, -3 * step, 4 * step ** 2]])
    for e in range(n):
        at = slice(2 * e, 2 * e + 4)
        stiff[at, at] += bend
        thrust[at, at] += push
    fixed = {"pinned": [0, 2 * n], "fixed, free": [0, 1], "fixed, guided": [0, 1, 2 * n], "fixed, fixed": [0, 1, 2 * n, 2 * n + 1]}[held]
    free = [i for i in range(2 * n + 2) if i not in fixed]
    return scipy.linalg.eigh(stiff[numpy.ix_(free, free)], thrust[numpy.ix_(free, free)], eigvals_only=True, subset_by_index=[0, 0])[0]


def compare_columns():
    heading("Columns, load in N: program, eigenvalue of forty elements")
    for diameter, length in [(6, 43), (10, 60), (3, 25)]:
        for ends, held, share in [(1, "pinned", 1e-5), (2, "fixed, free", 1e-5), (0.5, "fixed, fixed", 1e-4),
                                  (0.7, "fixed, guided", 0.003)]:  # 0.7 stands for 0.6992
            program = value("buckling_force(round_moment(%g mm), %g mm, %g, 210 GPa)" % (diameter, length, ends))
            other = column_by_elements(210e3 * math.pi * diameter ** 4 / 64, length, held)
            check("round %g, %g long, %s" % (diameter, length, held), program, other, share * other)


# ---- press ----------------------------------------------------------------------------------------------------------


def crank_height(stroke, angle, rod=None):
    """Height over the bottom; ROD in cranks, without one it is endless."""
    r = stroke / 2
    if rod is None:
        return r * (1 - math.cos(angle))
    length = rod * r
    return r * (1 - math.cos(angle)) + length - math.sqrt(length ** 2 - (r * math.sin(angle)) ** 2)


def crank_force(rated, rated_height, stroke, height, rod=None):
    """The torque that gives the rating at its height, turned into force by the way for a small turn."""
    def turn(h):
        return scipy.optimize.brentq(lambda a: crank_height(stroke, a, rod) - h, 1e-9, math.pi - 1e-9, xtol=1e-13)

    def way(h):
        a, small = turn(h), 1e-5
        return (crank_height(stroke, a + small, rod) - crank_height(stroke, a - small, rod)) / (2 * small)

    return rated * way(rated_height) / way(height)


def compare_press():
    heading("Slider-crank press, force in N: program, numeric differentiation")
    for rated, rated_height, stroke in [(630e3, 4, 100), (1000e3, 12.7, 203.2), (160e3, 2.5, 60)]:
        for height in [rated_height, 2 * rated_height, 0.15 * stroke, 0.3 * stroke, 0.5 * stroke]:
            expression = "force_at_height(%g N, %g mm, %g mm, %g mm)" % (rated, rated_height, stroke, height)
            check(expression, value(expression), crank_force(rated, rated_height, stroke, height), 1e-5 * rated)
    heading("The same with a rod of eight cranks: the long rod may be off by a twelfth")
    for height in [8, 15, 30, 50]:
        other = crank_force(630e3, 4, 100, height, 8)
        check("force_at_height, 630 kN at 4 mm, stroke 100, height %g" % height,
              value("force_at_height(630 kN, 4 mm, 100 mm, %g mm)" % height), other, other / 12)
    for name in ["cover-plate", "spacer-plate"]:
        job = Job(name)
        heading("Feed window of %s in degrees: program, crank solved" % name)
        for state in ["new", "ground"]:
            stroke, touch = job.number("press.stroke", state), job.number("stack.first_touch", state)
            half = scipy.optimize.brentq(lambda a: crank_height(stroke, a) - touch, 0, math.pi)
            check("stack.feed_window, %s, first touch at %g" % (state, touch), job.number("stack.feed_window", state),
                  360 - 2 * math.degrees(half), 1e-6)


# ---- the stroke, moved plate by plate ---------------------------------------------------------------------------------


def compare_stroke(name):
    """Plates moved as solid bodies: what the stroke sheet says at each of its heights. Groups that the sheet names by
    other words than these are left alone."""
    job = Job(name)
    heading("Stroke of %s, in mm and N: program, plates moved as bodies" % name)
    event = None
    for row in rows("stroke", job.path):
        if not row["what"]:
            event = row["event"]
            continue
        state, item, what, height = row["state"], row["item"], row["what"], float(row["height"])
        other = moved(job, state, item, what, height)
        if other is not None:
            check("%s, %s: %s, %s" % (state, event, item, what), float(row["value"]) * Job.factors.get(row["unit"], 1.0), other,
                  0.001)  # the rows carry so much of a figure


def moved(job, state, item, what, height):
    def of(name):
        return job.number(name, state)

    def plate(role):
        return job.text("stack." + role)

    slide_up = {p: of(p + ".bottom") + height for p in job.items("moves") if job.text(p + ".moves") == "with the slide"}
    if what == "between the shoes":
        return slide_up[plate("upper_shoe")] - of(plate("lower_shoe") + ".top")
    tips = slide_up[plate("punch_plate")] + of(plate("punch_plate") + ".thickness") - of("stack.punch_now")
    if what == "punch tips over the strip":
        return tips - (of(plate("die_plate") + ".top") + of("strip.thickness"))
    sprung = job.text(plate("stripper") + ".moves") == "stripper"
    face = of(plate("stripper") + ".bottom")
    if sprung:  # it hangs a lead below the tips until the strip on the die face stops it
        lead = of("stack.lead") + of("stack.ground_off")
        face = max(face, tips - lead)
    if what == "punch plate to stripper":
        top = face + of("stack.stripper_height")
        return slide_up[plate("punch_plate")] - top
    if what == "pressed together":  # the room from the pocket's bottom to the stripper
        pocket = slide_up[job.text(item + ".seat_in")] + of(item + ".pocket_depth")
        foot = face + of(job.text(item + ".stands_on") + ".thickness") - (of(item + ".foot_depth") if job.text(item + ".sits") == "in a pocket" else 0)
        return of(item + ".free_length") - (pocket - foot)
    if what == "in the bushings":
        end = of(job.text(item + ".seat_in") + ".top") + of(item + ".above_shoe") - of(item + ".lead")
        mouth = slide_up[job.text(item + ".runs_in")] - of(item + ".stands")
        return min(max(end - mouth, 0), of(item + ".bushing_length"))
    return None


for demo in ["cover-plate", "spacer-plate"]:
    compare_walls(demo)
    compare_load_centre(demo)
    compare_stroke(demo)
compare_outlines(16)
for outline_seed in [3, 8]:
    typed = next(o for o in map(random_outline, range(outline_seed, 1000)) if o)
    compare_walls("cover-plate", 'blank.shape="outline"', outline=("blank", typed[0], typed[1]))
compare_beams()
compare_columns()
compare_press()
print("\n%d compared, %d different" % (compared, different))
sys.exit(different > 0 or compared < 150)
