#!/usr/bin/env python3
"""Mutants: one figure or one sign changed at a time; does the room's own suite notice?

    mutants.py [--count 240] [--seed 1] [--jobs 2] [--room ROOM ...]

Each mutant is one change of one number, comparison, sign or word of truth in a record of the handbook, a parts table or a
room's C. The suites that answer for that file are built and run on a copy of the tree; a mutant is noticed when one of them
fails (or the change does not build or load). What nobody notices is told with its line. Ends with the share noticed; exit 1
under 95 percent.

Comments, help texts, titles, sources and remarks are passed over: they are words, not figures. So is what no test can see:
how much memory is taken (what stands in brackets of a declaration, what is handed to base_alloc and its like, a constant
that sizes an array), and a change after which the compiler makes the same object file. Of two measured values (doubles)
that are compared, < becomes > and not <=: they are never the same to the last bit. A -1 that says "none" becomes 0, for any
number below 0 says so. How near two values are taken for one (1e-9) is passed over; where an order is told by -1 and 1, these change places.
"""
import argparse
import os
import queue
import random
import re
import shutil
import signal
import subprocess
import sys
import threading
import time

TOP = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..")

# What answers for a file: the first pattern that fits; None: the suite of its room.
SUITES = [
    (r"data/handbook/(30|20|10|80|15)", ["handbook", "outside", "findings"]),
    (r"data/handbook/(40|50)", ["handbook", "dieset", "outside", "findings"]),
    (r"data/handbook/7", ["findings", "outside"]),
    (r"data/handbook/6", ["dieset", "findings", "outside", "report", "job"]),
    (r"data/parts/", ["table", "outside", "handbook"]),
    (r"src/(base|unit|record|typed|shape|draw|formula|table|model|store|handbook|dieset|findings|explore|tolerance|compare|"
     r"review|job|place|start|report|sheet|solid|view|practice)/", None),
]
WORDS = re.compile(r"^\s*(help|title|source|note|says|say|caution|also|differ|instead|#|cure)\b")
NUMBER = re.compile(r"(?<![\w.\"])\d+(?:\.\d+)?(?![\w.])")
SIGNS = [(" + ", " - "), (" - ", " + "), (" * ", " / "), (" < ", " <= "), (" > ", " >= "), (" <= ", " < "), (" >= ", " > "),
         (" == ", " != "), (" && ", " || "), (" || ", " && "), ("at least", "at most"), (" and ", " or ")]
CC = "ccache gcc" if shutil.which("ccache") else "gcc"
TURNED = {" < ": " > ", " > ": " < ", " <= ": " >= ", " >= ": " <= "}
# What only tells how much memory is taken: the size of an array that is declared, a call that hands out memory.
SIZES = re.compile(r"(?<=\w)\[[^][]*\](?=[\[\]\w ,;=(){}+*]*;)|\b(?:base_alloc|base_arena_alloc|base_grow|malloc|calloc|realloc)\(.*?\)(?=;|,|$)|\bsizeof\b.*")
DECLARED = re.compile(r"^\s*(?:static |const |unsigned |struct |enum )*[a-z_][\w]* \**\w+\[")
ORDER = re.compile(r"(-1|1) : (-1|1)(?=[;,)])")
NOISE = re.compile(r"(?:\b[12] [-+] )?\b\d+(?:\.\d+)?e-(?:[6-9]|\d\d+)\b")
NONE = re.compile(r"(?:(?<=return )|(?<== )|(?<=[({])|(?<=, )|(?<=[?:] ))-1\b(?!\.)")


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
    sizing = set(re.findall(r"\w\[[^][\n]*?\b([A-Z][A-Z_0-9]+)\b[^][\n]*\][^\n;=]*;", text)) if code else set()
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
            if code:
                body = of_use(line, body, sizing)
                body = NOISE.sub(lambda m: " " * len(m.group()), body)
                for m in ORDER.finditer(body):
                    found.append((at + m.start(), at + m.end(), m.group(2) + " : " + m.group(1)))
                body = ORDER.sub(lambda m: " " * len(m.group()), body)
                for m in NONE.finditer(body):
                    found.append((at + m.start(), at + m.end(), "0"))
                body = NONE.sub("  ", body)
            for m in NUMBER.finditer(body):
                found.append((at + m.start(), at + m.end(), other(m.group())))
            for old, new in SIGNS:
                if not code and old.strip() in ("==", "&&", "||"):
                    continue
                for m in re.finditer(re.escape(old), body):
                    found.append((at + m.start(), at + m.end(), new))
        at += len(line) + 1
    return found


def of_use(line, body, sizing):
    """BODY of LINE without what only sizes memory."""
    for m in SIZES.finditer(body):
        if not m.group().startswith("[") or DECLARED.match(line):
            body = body[:m.start()] + " " * len(m.group()) + body[m.end():]
    if "enum {" in body:
        for name in sizing:
            body = re.sub(r"\b%s = \d+" % name, lambda m: " " * len(m.group()), body)
    return body


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


FLAGS = "-O1 -g0 -w"


def build(copy, suites, more=(), jobs=1):
    return subprocess.run(["make", "-s", "-j%d" % jobs, "CC=" + CC, "CFLAGS=" + FLAGS] + list(more) + ["build/check_" + s for s in suites], cwd=copy,
                          timeout=3600, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode == 0


def of_measures(copy, file, text, start, end):
    """Whether what is compared from START to END is a double: gcc warns of == between such."""
    asked = text[:start] + " == " + text[end:]
    said = subprocess.run(["gcc", "-std=c17", "-fsyntax-only", "-Wfloat-equal", "-Iinclude", "-Isrc", "-Ibuild", "-D_GNU_SOURCE",
                           "-x", "c", "-iquote", os.path.dirname(file), "-"],
                          cwd=copy, input=asked, capture_output=True, text=True, timeout=300).stderr
    line, column = text.count("\n", 0, start) + 1, start - text.rfind("\n", 0, start)
    return any(int(m.group(1)) == line and column <= int(m.group(2)) <= column + 3
               for m in re.finditer(r":(\d+):(\d+): warning: .*float-equal", said))


def fails(copy, suite, limit):
    """How long the suite took, None: a test of it fails, or it hung beyond LIMIT seconds."""
    folder = os.path.join(copy, "build", "tmp")
    os.makedirs(folder, exist_ok=True)
    # As tests/run.sh has it: all tests of a suite in one process, the system's own programs first. The first that fails is enough.
    env = dict(os.environ, B="build", DIEWRIGHT="build/diewright-test", DIEWRIGHT_TMP=folder, CK_FORK="no", CK_TAP_LOG_FILE_NAME="-",
               MALLOC_PERTURB_="165",
               PATH="/usr/bin:/bin:" + os.environ["PATH"])
    began = time.monotonic()
    run = subprocess.Popen(["build/check_" + suite], cwd=copy, env=env, start_new_session=True, stdout=subprocess.PIPE,
                           stderr=subprocess.DEVNULL)
    def end():
        try:
            os.killpg(run.pid, signal.SIGKILL)
        except ProcessLookupError:
            pass
    late = threading.Timer(limit, end)
    late.start()
    for line in run.stdout:
        if line.startswith(b"not ok"):
            end()
            break
    code = run.wait()
    late.cancel()
    return None if code else time.monotonic() - began


def another(copy, number):
    """COPY once more for hand NUMBER, with what is built in it."""
    beside = os.path.join(TOP, "build-mutants", str(number))
    shutil.rmtree(beside, ignore_errors=True)
    subprocess.run(["cp", "-a", copy, beside], check=True)
    return beside


def copied(number, suites):
    """A copy of the tree for hand NUMBER, with its suites built; None: it does not build."""
    copy = os.path.join(TOP, "build-mutants", str(number))
    for name in subprocess.run(["git", "ls-files", "-z"], cwd=TOP, capture_output=True, text=True, check=True).stdout.split("\0"):
        here, there = os.path.join(TOP, name), os.path.join(copy, name)
        if name and not (os.path.isfile(there) and read(here) == read(there)): # what is the same is not compiled anew
            os.makedirs(os.path.dirname(there), exist_ok=True)
            shutil.copy(here, there)
    if not build(copy, suites, jobs=os.cpu_count() + 1):
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


def read(path):
    with open(path, "rb") as t:
        return t.read()


def work(copy, took, todo, said, lock, total):
    while True:
        try:
            file, (start, end, new) = todo.get_nowait()
        except queue.Empty:
            return
        path = os.path.join(copy, file)
        with open(path, encoding="utf-8") as t:
            text = t.read()
        code, suites, same = file.endswith(".c"), suites_of(file), False
        object_file = os.path.join(copy, "build", file[4:-2] + ".o")
        if code and text[start:end] in TURNED and of_measures(copy, file, text, start, end):
            new = TURNED[text[start:end]]
        before = read(object_file) if code else None
        with open(path, "w", encoding="utf-8") as t:
            t.write(text[:start] + new + text[end:])
        try:
            by = code and not build(copy, [], [os.path.relpath(object_file, copy)])
            same = code and not by and read(object_file) == before
            by = by or not same and (code and not build(copy, suites) or
                                     any(fails(copy, s, 60 + 10 * took[s]) is None for s in suites))
        finally:
            with open(path, "w", encoding="utf-8") as t:
                t.write(text)
            if code:
                with open(object_file, "wb") as t:
                    t.write(before)
        if same:
            continue
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
    p.add_argument("--count", type=int, default=240)
    p.add_argument("--seed", type=int, default=1)
    p.add_argument("--jobs", type=int, default=2)
    p.add_argument("--room", action="append", default=[])
    a = p.parse_args()
    todo, said, lock = queue.Queue(), [], threading.Lock()
    drawn = draw(a.count, a.seed, a.room)
    needed = sorted({s for f, _ in drawn for s in suites_of(f)})
    for m in drawn:
        todo.put(m)
    first = copied(0, needed)
    took = first and as_it_stands(first, needed)
    if not took:
        return 2
    copies = [first] + [another(first, i) for i in range(1, a.jobs)]
    hands = [threading.Thread(target=work, args=(c, took, todo, said, lock, len(drawn))) for c in copies]
    for h in hands:
        h.start()
    for h in hands:
        h.join()
    if len(said) < len(drawn):
        print("mutants: %d more change nothing that the compiler makes" % (len(drawn) - len(said)))
    share = 100.0 * sum(said) / max(1, len(said))
    print("mutants: %d of %d noticed, %.1f percent" % (sum(said), len(said), share))
    return share < 95


if __name__ == "__main__":
    sys.exit(main())
