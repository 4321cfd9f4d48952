#!/bin/sh
# Holds every include of src/ against src/FLOORS: no room reaches up or sideways, none includes
# another room's private header, reserved system headers stay in their rooms, rooms below the faces neither
# print nor exit nor read the environment, and every struct base_diag begins empty.
set -eu
cd "$(dirname "$0")/.."
LC_ALL=C awk '
    FILENAME == "src/FLOORS" {
        if ($0 ~ /^ *#/ || $0 !~ /:/) next
        room = $1; sub(":", "", room)
        for (i = 2; i <= NF; i++) { may[room, $i] = 1; if ($i ~ /^</) reserved[$i] = 1 }
        may[room, room] = 1; known[room] = 1
        next
    }
    FNR == 1 {
        n = split(FILENAME, part, "/")
        here = FILENAME ~ /^include/ ? part[3] : part[2]
        sub(/\.[ch]$/, "", here)
        if (!(here in known)) breach("is in no room that src/FLOORS names")
    }
    /^#include "/ {
        split($0, q, "\""); target = q[2]
        split(target, t, "/")
        room = t[1] == "diewright" ? t[2] : t[1]
        sub(/\.h$/, "", room)
        if (t[1] != "diewright" && room != here) breach("includes the private header " target)
        else if (!((here, room) in may)) breach("reaches " target)
    }
    /^#include </ {
        header = $2
        if (header in reserved && !((here, header) in may)) breach("includes the reserved " header)
    }
    here != "cli" && here != "tui" && here != "main" && FILENAME ~ /^src/ &&
    /(^|[^a-z_])(printf|puts|putchar|exit|_exit|getenv|secure_getenv|fgets|getchar)\(/ && !/^ *(\*|\/\*|\/\/)/ {
        breach("prints, exits or reads keys or the environment: " $0)
    }
    # A reason is read after a call that may not have written one. Members of structures begin with their structure.
    /^(static |typedef )*(struct|union)( [a-z_]+)? \{/ { inside = 1 }
    /^}/ || FNR == 1 { inside = 0 }
    FILENAME ~ /\.c$/ && !inside && /^ +struct base_diag [a-z_]+(, *[a-z_]+)*;/ { breach("a reason without = {0}: " $0) }
    function breach(what) { print FILENAME ":" FNR ": " what; bad = 1 }
    END { exit bad }
' src/FLOORS include/diewright/*.h src/main.c $(find src -mindepth 2 -name '*.[ch]') && echo "floors: every room keeps to its own"
