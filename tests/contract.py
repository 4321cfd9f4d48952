#!/usr/bin/env python3
"""What src/ reads of a handbook by name stands in the one list, src/dieset/contract.c.

Finds the names that are written out in calls which read a value of an item by its name, and tells each that the list lacks:
a handbook would be taken without it, and the paper or the screen that wants it would stay empty without a word.
"""
import glob
import os
import re
import sys

# Calls that take a property's name, or "kind.property", as one of their arguments; and functions of a file that hand a
# parameter of theirs on to one of these.
READERS = {"dieset_number", "dieset_text", "dieset_get", "dieset_reference", "dieset_measure", "limit_note"}
FINDER = {"dieset_find"}
ARGUMENTS = r"((?:[^()\"]|\"[^\"]*\"|\((?:[^()]|\([^()]*\))*\))*)"
FUNCTION = re.compile(r"^(?:static )?[a-z][\w ]*[ *](\w+)\(([^)]*)\)\s*\{(.*?)(?:^| )\}$", re.M | re.S)
# A choice that a value is held against.
CHOICE = re.compile(r"strcmp\(dieset_text\([^()]*\"([a-z_]+)\"\), \"([^\"]*)\"\)")


def calls(names):
    return re.compile(r"\b(?:%s)\(%s\)" % ("|".join(sorted(names)), ARGUMENTS))


def with_wrappers(text):
    """READERS and the functions of TEXT that read by a name which they are given."""
    readers = set(READERS)
    for _ in range(3):
        call = calls(readers)
        for name, takes, body in FUNCTION.findall(text):
            given = re.findall(r"const char \*(\w+)", takes)
            if any(g in re.split(r"\W+", c) for c in call.findall(body) for g in given):
                readers.add(name)
    return readers


def main():
    os.chdir(os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
    with open("src/dieset/contract.c", encoding="utf-8") as t:
        terms = t.read()
    listed = set(re.findall(r'"([a-z_0-9]+)"', terms))
    with open("include/diewright/dieset.h", encoding="utf-8") as t:
        listed |= set(re.findall(r'#define DIESET_\w+ "([a-z_ ]+)"', t.read()))
    choices = {}
    for name, words in re.findall(r'"([a-z_]+)", CHOICE, [^"{}]*"([^"{}]*)"', terms):
        choices.setdefault(name, set()).update(words.split("|"))
    lacking = 0
    for path in sorted(glob.glob("src/**/*.c", recursive=True)):
        with open(path, encoding="utf-8") as t:
            text = t.read()
        said = []
        for call in calls(with_wrappers(text) | FINDER).finditer(text):
            said += [(call.start(), name) for name in re.findall(r'"([a-z_0-9.]+)"', call.group(1))
                     if not set(name.split(".")) <= listed]
        said += [(m.start(), "the choice %s of %s" % (m.group(2), m.group(1))) for m in CHOICE.finditer(text)
                 if m.group(2) not in choices.get(m.group(1), ())]
        for at, name in said:
            print("%s:%d: %s is read by name and is not in src/dieset/contract.c" % (path, text.count("\n", 0, at) + 1, name))
        lacking += len(said)
    return lacking > 0


if __name__ == "__main__":
    sys.exit(main())
