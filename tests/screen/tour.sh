#!/bin/sh
# The screens shown in man/diewright-screens.7 are those of tests/screen/cases/tour.txt, in order; KEEP=1 writes them in anew.
set -eu
cd "$(dirname "$0")/../.."
page=man/diewright-screens.7 tour=tests/screen/cases/tour.txt
new=$(mktemp)
trap 'rm -f "$new"' EXIT
awk '
    FNR == NR { if ($0 == "screen") n++; else if (sub(/^\|/, "")) screen[n] = screen[n] quoted($0) "\n"; next }
    /^\.Bd -literal$/ { print; printf "%s", screen[++shown]; skip = 1; next }
    /^\.Ed$/ { skip = 0 }
    !skip
    END { if (shown != n) { print "tour: " n " screens, " shown " places" > "/dev/stderr"; exit 1 } }
    function quoted(s) { gsub(/\\/, "\\e", s); gsub(/-/, "\\-", s); return (s ~ /^[.'"'"']/ ? "\\\\&" : "") s }
' "$tour" "$page" > "$new"
[ -z "${KEEP:-}" ] || cp "$new" "$page"
cmp -s "$new" "$page" || { echo "tour: $page shows other screens than $tour (make goldens)"; diff "$page" "$new" | head -20; exit 1; }
echo "tour: the manual's screens are the program's"
