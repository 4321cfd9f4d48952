#!/bin/sh
# Reckons the kept figures of plane geometry anew with shapely: exit 1 when one of them has become another.
set -eu
cd "$(dirname "$0")/../.."

# Debian's packages belong to Debian's own interpreter, which need not be the first on the path.
for python in python3 /usr/bin/python3; do
    if "$python" -c 'import shapely' 2>/dev/null; then
        "$python" tests/shape/judge.py --against tests/shape/kept.txt
        exit
    fi
done
echo "shapely is not here. To install it: apt-get install --no-install-recommends python3-shapely" >&2
exit 1
