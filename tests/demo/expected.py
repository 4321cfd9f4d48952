#!/usr/bin/env python3
"""The two demo jobs worked out a second time, by plain arithmetic.

Nothing here reads the program or its data: the formulas are written out anew from the trade's
chain of heights, and the few stock sizes that a step needs stand below with their standards. Prints
name,state,value in mm, N, kg and plain numbers. A size list holds the sizes near the need.

    expected.py cover-plate
    expected.py cover-plate die_backing=16      a change, in mm
    expected.py spacer-plate
"""
import math
import sys

IN = 25.4
LBF = 4.4482216152605
PSI = LBF / IN ** 2

SCREW_M8 = [45, 50, 55, 60, 65, 70, 80]                                # ISO 4762
SCREW_3_8 = [v * IN for v in (1.5, 1.75, 2, 2.25, 2.5, 2.75, 3, 3.25)]  # ASME B18.3
DOWEL_10 = [40, 45, 50, 55, 60, 65, 70, 75, 80]                         # ISO 8734
DOWEL_3_8 = [v * IN for v in (1, 1.25, 1.5, 1.75, 2, 2.25, 2.5)]        # ASME B18.8.2
POST_R20 = [160, 180, 200, 224, 250, 280]                               # ISO 3
POST_HALF_INCH = [v * IN / 2 for v in range(2, 41)]
SHOULDER_10 = [50, 60, 70, 80, 90, 100]                                 # ISO 7379
# free length, rate: die springs, from memory (ISO 10243 housings); the demo has their hole, rod and greatest share
SPRING_HEAVY_32 = [(89, 146.0), (102, 126.0), (115, 110.0), (127, 99.3)]
SPRING_MEDIUM_25 = [(76, 44.5), (89, 37.8), (102, 32.8), (115, 28.9)]

# kg/mm3; steel, and the two tool steels that are lighter for their alloy
DENSITY = {"stripper": 7.83e-6, "die_plate": 7.70e-6}


def over(sizes, need):
    return min(s for s in sizes if s >= need - 1e-6)


def under(sizes, need):
    return max(s for s in sizes if s <= need + 1e-6)


class Sheet:
    def __init__(self):
        self.rows = []

    def add(self, name, value, state="both"):
        self.rows.append((name, state, value))

    def by_state(self, name, new, ground):
        if abs(new - ground) < 1e-12:
            self.add(name, new)
        else:
            self.add(name, new, "new")
            self.add(name, ground, "ground")

    def write(self, out):
        for name, state, value in self.rows:
            out.write("%s,%s,%.9g\n" % (name, state, value))


def chain(j):
    """Heights from the bottom up, in both states."""
    out = {}
    for state, worn in (("new", 0), ("ground", 1)):
        g_punch, g_die = worn * j["g_punch"], worn * j["g_die"]
        h = {}
        h["gap"] = j["punch_length"] - g_punch - j["punch_plate"] - j["entry"]
        die = j["die_plate"] - g_die
        h["die_face"] = j["lower_shoe"] + j["die_backing"] + die
        h["shut"] = h["die_face"] + h["gap"] + j["punch_plate"] + j["punch_backing"] + j["upper_shoe"]
        h["open"] = h["shut"] - j["lower_shoe"] - j["upper_shoe"]
        h["room"] = h["gap"] - j["t"] - j["stripper"]
        h["travel"] = j["lead"] + g_punch + j["t"] + j["entry"]
        h["hang"] = h["room"] + h["travel"]
        h["punch"] = j["t"] + j["entry"]
        touches = [h["travel"] + j["lift"], h["punch"]]
        if j["pilot_ahead"] is not None:
            h["pilot"] = j["t"] + j["entry"] + j["pilot_ahead"] + g_punch + j["lift"]
            touches.append(h["pilot"])
        h["first"] = max(touches)
        out[state] = h
    return out


def both(sheet, name, h, key):
    sheet.by_state(name, h["new"][key], h["ground"][key])


def stack_rows(s, j, h):
    both(s, "stack.gap", h, "gap")
    both(s, "stack.die_face", h, "die_face")
    both(s, "stack.shut_height", h, "shut")
    s.by_state("stack.height_on_bolster", h["new"]["shut"] + j["risers"], h["ground"]["shut"] + j["risers"])
    both(s, "stack.open", h, "open")
    both(s, "stack.stripper_room", h, "room")
    both(s, "stack.travel", h, "travel")
    both(s, "stack.hang", h, "hang")
    both(s, "stack.punch_touch", h, "punch")
    both(s, "stack.first_touch", h, "first")
    s.add("press.least", j["press_high"] - j["press_adjust"] + 10)
    s.add("press.most", j["press_high"] - 5)


def force_rows(s, j, springs_shut):
    """Cuts are (name, count, cut length, x); forming (name, force, x). The springs stand even about the middle."""
    cutting, moment, whole = 0.0, 0.0, 0.0
    slugs = math.floor(j["land"] / j["t"] + 0.5)
    for name, count, cut, x in j["cuts"]:
        f = count * cut * j["t"] * j["tau"]
        s.add(name + ".cutting", f)
        cutting += f
        moment += f * x
    s.add("stack.strip_x", moment / cutting)
    moment *= 1 + slugs * 0.05
    whole = cutting * (1 + slugs * 0.05)
    forming = 0.0
    for name, f, x in j["forming"]:
        forming += f
        whole += f
        moment += f * x
    push = slugs * 0.05 * cutting
    s.add("stack.cut_force", cutting)
    s.add("stack.form_force", forming)
    s.add("stack.stripping", 0.10 * cutting)
    s.add("stack.slugs", slugs)
    s.add("stack.push", push)
    s.by_state("stack.need", 1.3 * (cutting + forming + push + springs_shut["new"]),
               1.3 * (cutting + forming + push + springs_shut["ground"]))
    s.by_state("stack.centre_x", moment / (whole + springs_shut["new"]), moment / (whole + springs_shut["ground"]))
    s.add("stack.centre_y", 0)
    # slider-crank: torque at the rated height, force at the height where cutting starts
    w, r, stroke = j["t"] + j["entry"], j["rated_at"], j["stroke"]
    held = max(w, r)
    s.add("stack.available_at_cut", j["rated"] * math.sqrt(r * (stroke - r)) / math.sqrt(held * (stroke - held)))
    # smallest thickness of a solid die plate: cube root of a tenth of the force in N
    s.add("wanted.die_plate", (cutting / 10) ** (1 / 3))


def screw_rows(s, name, sizes, q, d, pitch, plate, plate_ground):
    need = q + 1.5 * d + pitch
    length = over(sizes, need)
    s.add(name + ".grip", q)
    s.add(name + ".length_need", need)
    s.add(name + ".length", length)
    s.by_state(name + ".engagement", min(length - q, plate) - pitch, min(length - q, plate_ground) - pitch)
    s.by_state(name + ".end_room", plate - (length - q), plate_ground - (length - q))


def dowel_rows(s, name, sizes, first, between, second, first_plate, first_ground, second_plate):
    length = over(sizes, first + between + second)
    rest = length - between - first
    s.add(name + ".length_need", first + between + second)
    s.add(name + ".length", length)
    s.by_state(name + ".in_first", min(first, first_plate), min(first, first_ground))
    s.add(name + ".in_second", min(rest, second_plate))
    s.by_state(name + ".end_room", min(first_plate - first, second_plate - rest),
               min(first_ground - first, second_plate - rest))


def post_rows(s, j, h):
    seat = j["lower_shoe"] - j["post_sunk"]
    stands = j["bushing"] - j["bushing_seat"]
    reach = h["new"]["open"] + h["new"]["first"] - stands + 1.5 * j["post"] + j["post_lead"]
    length = over(j["post_sizes"], reach + seat)
    above = length - seat
    s.add("posts.seat_depth", seat)
    s.add("posts.stands", stands)
    s.add("posts.length_need", reach + seat)
    s.add("posts.length", length)
    entry, end = {}, {}
    for state in ("new", "ground"):
        engaged = above - h[state]["open"] - h[state]["first"] + stands - j["post_lead"]
        entry[state] = max(0, min(j["bushing"], engaged))
        end[state] = h[state]["open"] + j["upper_shoe"] - above
    s.by_state("posts.entry", entry["new"], entry["ground"])
    s.by_state("posts.end_room", end["new"], end["ground"])
    s.by_state("posts.enters", above + stands - h["new"]["open"], above + stands - h["ground"]["open"])
    s.by_state("posts.out_at_top", h["new"]["open"] + j["stroke"] - stands - above,
               h["ground"]["open"] + j["stroke"] - stands - above)


def spring_rows(s, j, h):
    room = j["pocket"] + j["punch_backing"] + j["punch_plate"] + h["new"]["hang"]
    free = j["spring_free"] or over([f for f, _ in j["springs"]], room + 10)
    rate = dict(j["springs"])[free]
    x0, n = free - room, j["spring_count"]
    s.add("stripper_springs.open_length", room)
    s.add("stripper_springs.free_length", free)
    s.add("stripper_springs.rate", rate)
    s.add("stripper_springs.preload", x0)
    pressed = {k: x0 + h[k]["travel"] for k in h}
    s.by_state("stripper_springs.share", pressed["new"] / free, pressed["ground"] / free)
    s.add("stripper_springs.force_touch", n * rate * x0)
    s.by_state("stripper_springs.force_leave", n * rate * (x0 + j["lead"]), n * rate * (x0 + j["lead"] + j["g_punch"]))
    shut = {k: n * rate * pressed[k] for k in h}
    s.by_state("stripper_springs.force_shut", shut["new"], shut["ground"])
    return shut


def shoulder_rows(s, j, h):
    reach = j["upper_shoe"] + j["punch_backing"] + j["punch_plate"] + h["new"]["hang"]
    head = 7
    length = j["shoulder"] or under(SHOULDER_10, reach - (head + h["ground"]["travel"] + 1))
    seat = reach - length
    s.add("stripper_bolts.length", length)
    s.add("stripper_bolts.seat", seat)
    s.by_state("stripper_bolts.room", seat - head - h["new"]["travel"], seat - head - h["ground"]["travel"])


def mass_rows(s, j):
    for name, length, width in j["plates"]:
        m = length * width * j[name] * DENSITY.get(name, 7.85e-6)
        s.add(name + ".mass", m)
    hole, rod, most = j["spring"]
    free = j["spring_free"] or dict((n, v) for n, _, v in s.rows)["stripper_springs.free_length"]
    each = math.pi / 4 * (hole ** 2 - rod ** 2) * free * (1 - most) * 7.85e-6
    s.add("stripper_springs.mass", j["spring_count"] * each)


def work_out(j):
    s, h = Sheet(), chain(j)
    stack_rows(s, j, h)
    shut = spring_rows(s, j, h)
    force_rows(s, j, shut)
    shoulder_rows(s, j, h)
    post_rows(s, j, h)
    for name, head_plate, depth, backing, plate, ground in j["screws"]:
        q = j[head_plate] - depth + j[backing]
        screw_rows(s, name, j["screw_sizes"], q, j["screw_d"], j["screw_pitch"], j[plate], j[plate] - ground)
    for name, first, second, first_depth, second_depth, backing, ground in j["dowels"]:
        dowel_rows(s, name, j["dowel_sizes"], first_depth, j[backing], second_depth, j[first], j[first] - ground, j[second])
    mass_rows(s, j)
    return s


def cover_plate():
    small, wide = (6 * 34 + 2 * 30, 60 + 2 * 55), (6 * 34 + 2 * 30 + 2 * 68, 60 + 2 * 55 + 2 * 68)
    j = dict(t=1.2, tau=0.8 * 410, entry=0.8, lead=0.6, punch_length=66, g_punch=3, g_die=4.5, land=7, lift=7, pilot_ahead=2.5,
             upper_shoe=50, punch_backing=12, punch_plate=22, stripper=18, die_plate=34, die_backing=12, lower_shoe=51,
             risers=55, press_high=310, press_adjust=70, rated=630e3, rated_at=4, stroke=100)
    blank = 2 * (28 + 40) - 8 * 6 + 2 * math.pi * 6
    j["cuts"] = [("pilot_holes", 2, math.pi * 5, -85), ("middle_hole", 1, math.pi * 11, -51),
                 ("small_holes", 2, math.pi * 4.5, -51), ("notches", 2, 10 + 2 * 4, 0), ("blank", 1, blank, 85)]
    j["forming"] = [("dimples", 7e3, 51)]
    j["plates"] = [(n,) + (wide if n.endswith("shoe") else small) for n in
                   ("upper_shoe", "punch_backing", "punch_plate", "stripper", "die_plate", "die_backing", "lower_shoe")]
    j["screws"] = [("punch_screws", "upper_shoe", 10, "punch_backing", "punch_plate", 0),
                   ("die_screws", "lower_shoe", 10, "die_backing", "die_plate", j["g_die"])]
    j.update(screw_sizes=SCREW_M8, screw_d=8, screw_pitch=1.25)
    j["dowels"] = [("punch_dowels", "punch_plate", "upper_shoe", 18, 22, "punch_backing", 0),
                   ("die_dowels", "die_plate", "lower_shoe", 20, 20, "die_backing", j["g_die"])]
    j["dowel_sizes"] = DOWEL_10
    j.update(post=32, post_sunk=2, post_lead=3, post_sizes=POST_R20, bushing=80, bushing_seat=40)
    j.update(pocket=27, springs=SPRING_HEAVY_32, spring=(32, 16, .30), spring_count=6, spring_free=None, shoulder=None)
    return j


def spacer_plate():
    small, wide = (5.75 * IN, 3.75 * IN), (10 * IN, 7 * IN)
    j = dict(t=.048 * IN, tau=40000 * PSI, entry=.03 * IN, lead=.025 * IN, punch_length=2.6 * IN, g_punch=.1 * IN,
             g_die=.1 * IN, land=.1875 * IN, lift=0, pilot_ahead=None,
             upper_shoe=1.75 * IN, punch_backing=.3125 * IN, punch_plate=.8125 * IN, stripper=.6875 * IN,
             die_plate=.9375 * IN, die_backing=.3125 * IN, lower_shoe=1.9375 * IN,
             risers=0, press_high=230, press_adjust=50, rated=250e3, rated_at=3, stroke=70)
    j["cuts"] = [("small_holes", 2, math.pi * .1875 * IN, -1.375 * IN), ("large_hole", 1, math.pi * .6875 * IN, 0),
                 ("blank", 1, 2 * (1.875 + 1.125) * IN, 1.375 * IN)]
    j["forming"] = []
    j["plates"] = [(n,) + (wide if n.endswith("shoe") else small) for n in
                   ("upper_shoe", "punch_backing", "punch_plate", "stripper", "die_plate", "die_backing", "lower_shoe")]
    j["screws"] = [("punch_screws", "upper_shoe", .5 * IN, "punch_backing", "punch_plate", 0),
                   ("die_screws", "lower_shoe", .4375 * IN, "die_backing", "die_plate", j["g_die"])]
    j.update(screw_sizes=SCREW_3_8, screw_d=.375 * IN, screw_pitch=IN / 16)
    j["dowels"] = [("punch_dowels", "punch_plate", "upper_shoe", .6875 * IN, .75 * IN, "punch_backing", 0),
                   ("die_dowels", "die_plate", "lower_shoe", .75 * IN, .75 * IN, "die_backing", j["g_die"])]
    j["dowel_sizes"] = DOWEL_3_8
    j.update(post=1.25 * IN, post_sunk=.0625 * IN, post_lead=0, post_sizes=POST_HALF_INCH, bushing=2.25 * IN,
             bushing_seat=1.25 * IN)
    j.update(pocket=1 * IN, springs=SPRING_MEDIUM_25, spring=(25, 12.5, .375), spring_count=6, spring_free=None, shoulder=None)
    return j


JOBS = {"cover-plate": cover_plate, "spacer-plate": spacer_plate}


def main(arguments):
    if not arguments or arguments[0] not in JOBS:
        sys.stderr.write("usage: expected.py %s [name=mm ...]\n" % " | ".join(JOBS))
        return 2
    j = JOBS[arguments[0]]()
    for change in arguments[1:]:
        name, value = change.split("=")
        assert name in j, name
        j[name] = float(value)
    work_out(j).write(sys.stdout)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
