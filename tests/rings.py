#!/usr/bin/env python3
"""Rings: which files of a room call each other round and round; and what nothing calls.

    rings.py BUILD [--table]

Reads the symbols of the object files below BUILD (made by `make`), so that what it tells is what the linker sees: file A
leans on file B when A uses a function or an object that B defines. A ring is a set of files of one room each of which leans
on each other, by way of others or at once. Calls through tables of functions are no leaning: the table is handed over, not
looked for. Includes of private headers are read as well: two headers that include each other are a ring too.

A function that the program never comes to, though tests may, is told as well: it goes, or gets its door. Those that let
tests look at what the program does are named below.

Exit 1 when there is one; with --table it only tells the figures.
"""
import os
import re
import subprocess
import sys


# rules that do not bind; how often formulas were run; words and sources that manual and data are held to; small handbooks
FOR_TESTS = {"findings_unbound", "model_evaluations", "handbook_vocabulary", "handbook_source", "handbook_source_count",
             "cli_commands", "handbook_read"}


def objects(build):
    for folder, _, names in os.walk(build):
        rest = os.path.relpath(folder, build)
        if rest.split(os.sep)[0] in ("tests", "said", "tmp"):
            continue
        for name in names:
            source = os.path.join("src", os.path.relpath(os.path.join(folder, name[:-2] + ".c"), build))
            if name.endswith(".o") and os.path.exists(source): # else it is left over from a file that is gone
                yield os.path.normpath(os.path.join(rest, name[:-2]))


def symbols(build, files):
    """What each file defines and what it looks for, from one call of nm."""
    defines, wants = {}, {}
    out = subprocess.run(["nm", "-A", "-P", "-g"] + [os.path.join(build, f + ".o") for f in files],
                         capture_output=True, text=True, check=True).stdout
    for line in out.splitlines():
        path, rest = line.split(".o: ", 1)
        file = os.path.relpath(path, build)
        name, sort = rest.split()[:2]
        if sort == "U":
            wants.setdefault(file, set()).add(name)
        else:
            defines[name] = file
    return defines, wants


def room(file):
    return file.split(os.sep)[0]


def rings(graph):
    """Tarjan's strongly connected components, those of more than one file."""
    index, low, on, stack, found = {}, {}, set(), [], []

    def visit(v):
        index[v] = low[v] = len(index)
        stack.append(v)
        on.add(v)
        for w in sorted(graph.get(v, ())):
            if w not in index:
                visit(w)
                low[v] = min(low[v], low[w])
            elif w in on:
                low[v] = min(low[v], index[w])
        if low[v] == index[v]:
            ring = []
            while True:
                w = stack.pop()
                on.discard(w)
                ring.append(w)
                if w == v:
                    break
            if len(ring) > 1:
                found.append(sorted(ring))

    for v in sorted(graph):
        if v not in index:
            visit(v)
    return found


def uncalled(defines, wants):
    """Functions and objects that no other file looks for, and that stand but once in their own."""
    wanted = set().union(*wants.values()) | FOR_TESTS | {"main"}
    for name, file in sorted(defines.items()):
        if name in wanted:
            continue
        with open(os.path.join("src", file + ".c"), encoding="utf-8") as text:
            if len(re.findall(r"\b%s\b" % re.escape(name), re.sub(r"/\*.*?\*/", "", text.read(), flags=re.S))) < 2:
                yield file, name


def header_graph():
    graph = {}
    for folder, _, names in os.walk("src"):
        for name in names:
            if not name.endswith(".h"):
                continue
            path = os.path.join(folder, name)
            with open(path, encoding="utf-8") as text:
                said = re.findall(r'^#include "([^"]+)"', text.read(), re.M)
            graph[os.path.relpath(path, "src")] = {s for s in said if os.path.exists(os.path.join("src", s))}
    return graph


def main():
    sys.setrecursionlimit(10000)
    words = sys.argv[1:]
    table = "--table" in words
    build = words[0]
    os.chdir(os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
    files = sorted(objects(build))
    if not files:
        sys.exit("rings: nothing is built in " + build)
    defines, wants = symbols(build, files)
    graph = {f: {defines[s] for s in wants.get(f, ()) if s in defines and defines[s] != f and room(defines[s]) == room(f)}
             for f in files}
    bad = 0
    for ring in rings(graph):
        total = sum(1 for f in files if room(f) == room(ring[0]))
        print("ring: %d of %d files of %s: %s" % (len(ring), total, room(ring[0]), " ".join(os.path.basename(f) for f in ring)))
        bad = 1
    for file, name in uncalled(defines, wants):
        print("never called: %s of %s.c" % (name, file))
        bad = 1
    for ring in rings(header_graph()):
        print("ring of headers: " + " ".join(ring))
        bad = 1
    if not bad:
        print("rings: none; all that is defined is called")
    return 0 if table else bad


sys.exit(main())
