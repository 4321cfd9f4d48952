#!/usr/bin/env python3
"""What src/ reads of a handbook by name stands in the one list, src/dieset/contract.c.

Finds the names that are written out in calls which read a value of an item by its name, and tells each that the list lacks:
a handbook would be taken without it, and the paper or the screen that wants it would stay empty without a word.
"""
import glob
import os
import re
import sys

# Calls that take a property's name, or "kind.property", as one of their arguments.
READERS = "dieset_number|dieset_text|dieset_get|dieset_find|dieset_reference|dieset_measure|limit_note|text_note|or_job|put_amount|of"
CALL = re.compile(r"\b(?:%s)\(((?:[^()\"]|\"[^\"]*\"|\((?:[^()]|\([^()]*\))*\))*)\)" % READERS)


def main():
    os.chdir(os.path.join(os.path.dirname(os.path.abspath(__file__)), ".."))
    with open("src/dieset/contract.c", encoding="utf-8") as t:
        listed = set(re.findall(r'"([a-z_0-9]+)"', t.read()))
    with open("include/diewright/dieset.h", encoding="utf-8") as t:
        listed |= set(re.findall(r'#define DIESET_\w+ "([a-z_ ]+)"', t.read()))
    lacking = 0
    for path in sorted(glob.glob("src/**/*.c", recursive=True)):
        with open(path, encoding="utf-8") as t:
            text = t.read()
        for call in CALL.finditer(text):
            for name in re.findall(r'"([a-z_0-9.]+)"', call.group(1)):
                for part in name.split("."):
                    if part not in listed:
                        print("%s:%d: %s is read by name and is not in src/dieset/contract.c"
                              % (path, text.count("\n", 0, call.start()) + 1, name))
                        lacking += 1
    return lacking > 0


if __name__ == "__main__":
    sys.exit(main())
