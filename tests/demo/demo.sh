#!/bin/sh
# The demo job, on a copy:  demo.sh PROGRAM FOLDER
# In a terminal it opens in the screens; otherwise the main job is printed, step by step.
set -eu
program=$1
folder=$2
rm -rf "$folder"
mkdir -p "$folder"
job=$folder/cover-plate
"$program" new "$job" --like cover-plate 2>/dev/null
if [ -t 0 ] && [ -t 1 ]; then
    echo "The demo job: an invented die set for a cover plate. q leaves, ? helps."
    exec "$program" "$job"
fi
say() { printf '\n--- %s\n' "$*"; }
run() {
    say "diewright $*"
    "$program" "$@" || [ $? = 1 ] # findings that are open are no failure of the demo
}
run check "$job"
run plan "$job" die_plate
run section "$job"
run set "$job" 'die_backing.thickness=16 mm'
run show "$job" die_screws.length --why
run order "$job"
run holes "$job" die_plate
