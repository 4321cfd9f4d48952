#!/usr/bin/env python3
"""Mutants: one figure or one sign changed at a time; does the room's own suite notice?

    mutants.py [--count 200] [--seed 1] [--jobs 2] [--room ROOM ...]

Each mutant is one change of one number, comparison, sign or word of truth in a record of the handbook, a parts table or a
room's C. The suites that answer for that file are built and run on a copy of the tree; a mutant is noticed when one of them
fails (or the change does not build or load). What nobody notices is told with its line: a hole in a test, or a change that
changes nothing. Ends with the share noticed; exit 1 under 95 percent.

Comments, help texts, titles, sources and remarks are passed over: they are words, not figures.
"""
import argparse
import os
import queue
import random
import re
import shutil
import subprocess
import sys
import threading
import time

TOP = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..")

# What answers for a file: the first pattern that fits.
SUITES = [
    (r"data/handbook/(30|20|10|80|15)", ["handbook", "outside", "findings"]),
    (r"data/handbook/(40|50)", ["handbook", "dieset", "outside", "findings"]),
    (r"data/handbook/7", ["findings", "outside"]),
    (r"data/handbook/6", ["dieset", "findings", "outside", "report", "job"]),
    (r"data/parts/", ["table", "outside", "handbook"]),
    (r"src/(base|unit|record|typed|shape|formula|table|model|store|handbook|dieset|findings|explore|compare|review|job|place|report|view|practice)/", None),
]
WORDS = re.compile(r"^\s*(help|title|source|note|says|say|caution|also|differ|instead|#|cure)\b")
NUMBER = re.compile(r"(?<![\w.\"])\d+(?:\.\d+)?(?![\w.])")
SIGNS = [(" + ", " - "), (" - ", " + "), (" * ", " / "), (" < ", " <= "), (" > ", " >= "), (" <= ", " < "), (" >= ", " > "),
         (" == ", " != "), (" && ", " || "), (" || ", " && "), ("at least", "at most"), (" and ", " or ")]


def suites_of(path):
    for pattern, suites in SUITES:
        if re.match(pattern, path):
            return suites or [path.split("/")[1]]
    return None


def places(path, text):
    """All (start, end, replacement) of a file that a mutant may change."""
    found, at, code = [], 0, path.endswith(".c")
    in_comment = words = False
    record = 0
    for line in text.split("\n"):
        body = line
        indent = len(line) - len(line.lstrip(" "))
        goes_on = path.endswith(".txt") and line.strip() and indent >= record + 4 and at > 0
        if line.strip() and not goes_on:
            record, words = indent, bool(WORDS.match(line))
        if code:
            if in_comment:
                body = "" if "*/" not in line else " " * (line.index("*/") + 2) + line[line.index("*/") + 2:]
                in_comment = "*/" not in line
            if "/*" in body:
                in_comment = "*/" not in body[body.index("/*"):]
                body = re.sub(r"/\*.*", "", body)
            body = re.sub(r'"(?:\\.|[^"\\])*"', lambda m: " " * len(m.group()), body)
            if body.lstrip().startswith("#"):
                body = ""
        elif words or line.lstrip().startswith("#") or path.endswith(".csv") and (body.startswith("#") or at == 0):
            body = ""
        else:
            body = re.sub(r'"[^"]*"', lambda m: " " * len(m.group()), body) if not path.endswith(".csv") else body
        if path.endswith(".csv"):
            for m in re.finditer(r"(?<=,)\d+(?:\.\d+)?(?=,|$)", body):
                found.append((at + m.start(), at + m.end(), other(m.group())))
        else:
            for m in NUMBER.finditer(body):
                found.append((at + m.start(), at + m.end(), other(m.group())))
            for old, new in SIGNS:
                if not code and old.strip() in ("==", "&&", "||"):
                    continue
                for m in re.finditer(re.escape(old), body):
                    found.append((at + m.start(), at + m.end(), new))
        at += len(line) + 1
    return found


def other(number):
    if "." in number:
        digits = len(number.split(".")[1])
        return "%.*f" % (digits + 1, float(number) * 1.13 + 0.001)
    value = int(number)
    return str(value + max(1, value // 8))


def draw(count, seed, rooms):
    files = subprocess.run(["git", "ls-files", "src", "data"], cwd=TOP, capture_output=True, text=True, check=True).stdout.split()
    files = [f for f in files if f.endswith((".c", ".txt", ".csv")) and suites_of(f)]
    if rooms:
        files = [f for f in files if any(r in f.split("/")[:2] + [os.path.basename(f)] for r in rooms)]
    pool = []
    for f in files:
        with open(os.path.join(TOP, f), encoding="utf-8") as t:
            text = t.read()
        pool += [(f, p) for p in places(f, text)]
    # Files have equal chances by their square root, so that the long tables do not drown the rest.
    by = {}
    for f, p in pool:
        by.setdefault(f, []).append(p)
    dice, drawn = random.Random(seed), set()
    names = sorted(by)
    weights = [len(by[f]) ** 0.5 for f in names]
    while len(drawn) < min(count, len(pool)):
        f = dice.choices(names, weights)[0]
        drawn.add((f, dice.choice(by[f])))
    return sorted(drawn)


def build(copy, suites):
    return subprocess.run(["make", "-s", "CFLAGS=-O1 -w", "build/diewright-test"] + ["build/check_" + s for s in suites], cwd=copy, timeout=1800,
                          stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode == 0


def fails(copy, suite, limit):
    """How long the suite took, None: it failed, or hung beyond LIMIT seconds."""
    folder = os.path.join(copy, "build", "tmp")
    os.makedirs(folder, exist_ok=True)
    # As tests/run.sh has it: all tests of a suite in one process, the system's own programs first.
    env = dict(os.environ, B="build", DIEWRIGHT="build/diewright-test", DIEWRIGHT_TMP=folder, CK_FORK="no",
               PATH="/usr/bin:/bin:" + os.environ["PATH"])
    began = time.monotonic()
    try:
        code = subprocess.run(["build/check_" + suite], cwd=copy, env=env, timeout=limit,
                              stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode
    except subprocess.TimeoutExpired:
        code = 1
    return None if code else time.monotonic() - began


def copied(number, suites):
    """A copy of the tree for hand NUMBER, with its suites built; None: it does not build."""
    copy = os.path.join(TOP, "build-mutants", str(number))
    if not os.path.isdir(copy):
        subprocess.run(["git", "worktree", "prune"], cwd=TOP)
        os.makedirs(copy)
    subprocess.run("git ls-files -z | xargs -0 cp --parents -t '%s'" % copy, cwd=TOP, shell=True, check=True)
    if not build(copy, suites):
        print("mutants: the tree does not build", file=sys.stderr)
        return None
    return copy


def as_it_stands(copy, suites):
    """How long each suite takes on the tree as it stands; None: one fails, and would notice everything, so nothing."""
    took = {}
    for suite in suites:
        took[suite] = fails(copy, suite, 3600)
        if took[suite] is None:
            print("mutants: check_%s fails on the tree as it stands" % suite, file=sys.stderr)
            return None
    return took


def work(copy, took, todo, said, lock, total):
    while True:
        try:
            file, (start, end, new) = todo.get_nowait()
        except queue.Empty:
            return
        path = os.path.join(copy, file)
        with open(path, encoding="utf-8") as t:
            text = t.read()
        with open(path, "w", encoding="utf-8") as t:
            t.write(text[:start] + new + text[end:])
        suites = suites_of(file)
        try:
            by = file.endswith(".c") and not build(copy, suites)
            by = by or any(fails(copy, s, 120 + 20 * took[s]) is None for s in suites)
        finally:
            with open(path, "w", encoding="utf-8") as t:
                t.write(text)
        line = text.count("\n", 0, start) + 1
        with lock:
            said.append(by)
            if len(said) % 20 == 0:
                print("mutants: %d of %d done, %d noticed" % (len(said), total, sum(map(bool, said))), flush=True)
            if not by:
                print("unnoticed  %s:%d  %r -> %r  %s" % (file, line, text[start:end], new, text.split("\n")[line - 1].strip()[:90]))
            sys.stdout.flush()


def main():
    p = argparse.ArgumentParser()
    p.add_argument("--count", type=int, default=200)
    p.add_argument("--seed", type=int, default=1)
    p.add_argument("--jobs", type=int, default=2)
    p.add_argument("--room", action="append", default=[])
    a = p.parse_args()
    todo, said, lock = queue.Queue(), [], threading.Lock()
    drawn = draw(a.count, a.seed, a.room)
    needed = sorted({s for f, _ in drawn for s in suites_of(f)})
    for m in drawn:
        todo.put(m)
    copies = [copied(i, needed) for i in range(a.jobs)]
    took = None if None in copies else as_it_stands(copies[0], needed)
    if took is None:
        return 2
    hands = [threading.Thread(target=work, args=(c, took, todo, said, lock, len(drawn))) for c in copies]
    for h in hands:
        h.start()
    for h in hands:
        h.join()
    share = 100.0 * sum(said) / max(1, len(said))
    print("mutants: %d of %d noticed, %.1f percent" % (sum(said), len(said), share))
    return share < 95


if __name__ == "__main__":
    sys.exit(main())
