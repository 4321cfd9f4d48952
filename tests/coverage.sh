#!/bin/sh
# coverage.sh BUILD: of each room, how many of its lines and branches some test has reached. Needs a build with --coverage whose
# tests have run; gcov (part of gcc) reads what they left.
set -eu
cd "$(dirname "$0")/.."
B=$1
printf '%-12s %8s %8s %8s %8s\n' room lines reached branches taken
for folder in src/*/; do
    room=$(basename "$folder")
    find "$B/$room" -name '*.gcda' 2>/dev/null | while read -r data; do
        gcov -b -n -o "$(dirname "$data")" "$data" 2>/dev/null
    done | awk -v room="$room" '
        /^File/ { own = $0 ~ ("src/" room "/") }
        own && /^Lines executed/ { split($0, p, /[:% ]+/); lines += $NF + 0; sub(/.* of /, ""); n = $0; hit += p[3] * n / 100 }
        own && /^Taken at least once/ { split($0, p, /[:% ]+/); b = $NF; taken += p[5] * b / 100; branches += b }
        END { if (lines) printf "%-12s %8d %7.1f%% %8d %7.1f%%\n", room, lines, 100 * hit / lines, branches,
              branches ? 100 * taken / branches : 0 }'
done
