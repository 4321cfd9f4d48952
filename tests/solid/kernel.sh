#!/bin/sh
# Solids of the demo, the starts and the openings of tests/solid against a kernel of solids from Debian: each has to be
# valid, and to need no healing. Exit 1 where one does not. The kernel is large, so nothing installs it: where it is not,
# that is said, and nothing is tried. The program is $DIEWRIGHT or
# build/diewright.
set -eu
cd "$(dirname "$0")/../.."

program=${DIEWRIGHT:-build/diewright}
headers=/usr/include/opencascade
[ -x "$program" ] || { echo "kernel.sh: there is no $program; make builds it." >&2; exit 1; }
if [ ! -r $headers/STEPControl_Reader.hxx ] || ! command -v c++ >/dev/null 2>&1; then
    echo "kernel.sh: solids are not held against a kernel, for none is here. To install one (370 MB):" >&2
    echo "  apt-get install --no-install-recommends g++ libocct-data-exchange-dev" >&2
    exit 0
fi

folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
c++ -O1 -w -I$headers -o "$folder/kernel" tests/solid/kernel.cc -lTKSTEP -lTKXSBase -lTKShHealing -lTKTopAlgo -lTKGeomAlgo -lTKBRep \
    -lTKGeomBase -lTKG3d -lTKG2d -lTKMath -lTKernel

cat tests/designs/bases/spring.txt tests/solid/jobs/openings.txt >"$folder/openings.txt"
sed '/^stack$/a\  relief = 6 deg' "$folder/openings.txt" >"$folder/leaning.txt"
for text in data/demo/cover-plate.txt data/templates/*.txt "$folder/openings.txt" "$folder/leaning.txt"; do
    name=$(basename "$text" .txt)
    "$program" --data data load "$folder/$name.diejob" "$text" >/dev/null 2>&1
    "$program" --data data solid "$folder/$name.diejob" >"$folder/$name.step"
    "$program" --data data solid "$folder/$name.diejob" --ram '50 mm' --ground >"$folder/$name-open.step"
done
"$folder/kernel" "$folder"/*.step
