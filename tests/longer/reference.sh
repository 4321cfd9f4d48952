#!/bin/sh
# The demo jobs and the handbook's functions against general-purpose numerics: distances by shapely, integration,
# eigenvalues and roots by scipy. Prints what it compared and with which tolerance; exit 1 on a difference, or without
# the packages. The program is $DIEWRIGHT or build/diewright.
set -eu

program=${DIEWRIGHT:-build/diewright}
[ -r tests/longer/reference.py ] || { echo "reference.sh: run it from the top of the tree." >&2; exit 1; }
[ -x "$program" ] || { echo "reference.sh: there is no $program; make builds it." >&2; exit 1; }

# Debian's packages belong to Debian's own interpreter, which need not be the first on the path.
for python in python3 /usr/bin/python3; do
    if "$python" -c 'import scipy, shapely' 2>/dev/null; then
        folder=$(mktemp -d)
        trap 'rm -rf "$folder"' EXIT
        "$python" tests/longer/reference.py "$program" "$folder"
        exit
    fi
done
echo "scipy and shapely are not here. To install them:" >&2
echo "  apt-get install --no-install-recommends python3-scipy python3-shapely" >&2
exit 1
