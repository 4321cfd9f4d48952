#!/bin/sh
# The fine clear holes M3 to M8 of the parts table (ISO 273) against the mounting holes of the Debian
# package kicad-footprints, whose file names carry the hole and its thread: MountingHole_3.2mm_M3.kicad_mod.
# Prints each pair; exit 1 on a difference, on a missing size, or without the package.
set -eu

table=data/parts/screw-holes-metric.csv
[ -r "$table" ] || { echo "footprints.sh: run it from the top of the tree, where $table is." >&2; exit 1; }

files=$(dpkg -L kicad-footprints 2>/dev/null | grep '/MountingHole_[0-9.]*mm_M[0-9]*\.kicad_mod$') || {
    echo "The mounting holes of kicad-footprints are not here. To install it:" >&2
    echo "  apt-get install --no-install-recommends kicad-footprints" >&2
    exit 1
}

# THREAD HOLE for each file, then the table itself, whose column is found by its name
{
    echo "$files" | sed 's|.*/MountingHole_\([0-9.]*\)mm_\(M[0-9]*\)\.kicad_mod$|\2 \1|'
    echo table
    grep -v '^#' "$table"
} | awk '
    $0 == "table" { in_table = 1; FS = ","; next }
    !in_table { hole[$1] = $2; next }
    !column {
        for (i = 1; i <= NF; i++)
            if ($i == "clear_fine_mm")
                column = i
        if (!column) { print "the table has no column clear_fine_mm"; exit 1 }
        next
    }
    $1 ~ /^M[34568]$/ {
        compared++
        if (!($1 in hole))
            verdict = "DIFFERENT: the package has no such hole"
        else
            verdict = hole[$1] + 0 == $column + 0 ? "agree" : "DIFFERENT"
        different += verdict != "agree"
        printf "%-3s clear_fine %s mm, mounting hole %s mm: %s\n", $1, $column, hole[$1], verdict
    }
    END {
        if (compared != 5) { printf "%d sizes compared, 5 wanted\n", compared; exit 1 }
        exit different > 0
    }'
