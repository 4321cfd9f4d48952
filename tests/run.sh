#!/bin/sh
# Runs test programs and adds up what they say:
#     run.sh FOLDER PROGRAM... [-- FOLDER PROGRAM...]
# PROGRAM@CASE runs one case of it. FOLDER is where they were built. Temporary files go into memory where there is room for them, for
# what is saved must reach the disk each time and a test need not wait for that; else below FOLDER (RUN_IN=folder chooses).
# What a program says behind "told: " is a figure and stands under its line. The last line is the sum, in libcheck's words.
# Two more run at a time than there are processors, for some wait much (the screens for a terminal, the store for
# its disk); check_screen waits most and begins.
#
# The tests of a program run in one process (CK_FORK=no): a process for each of them takes ten times as long as what it
# tests, and with the sanitizers each costs a scan for leaks, which are looked for once, when all tests have run. What
# fails or dies on the way has failed with the sanitizers. Without them it runs once more with a process for each test,
# so that it is told which it was and how the others do; what that says counts.
set -u
# The tests are written for the system's own programs, not for what a user has put before them.
PATH=/usr/bin:/bin:$PATH
export PATH

# One program (run.sh --one FOLDER PROGRAM RUN): what it prints goes to RUN/said/NAME. Each run has a folder of its own below
# FOLDER/tmp, so that two at a time do not meet; the bounds on time end what hangs, and are no verdict on what is slow.
if [ "${1:-}" = --one ]; then
    B=$2
    DIEWRIGHT=$B/diewright-test
    export B DIEWRIGHT
    DIEWRIGHT_TMP=$4
    export DIEWRIGHT_TMP
    said=$4/said/$(basename "$3")
    started=$(date +%s)
    # Most of what a short command of the program takes is the machine handing out memory page by page: large
    # pages halve it. It changes nothing but time.
    GLIBC_TUNABLES=${GLIBC_TUNABLES:-glibc.malloc.hugetlb=1:glibc.malloc.top_pad=8388608}
    export GLIBC_TUNABLES
    case $3 in *@*) export CK_RUN_CASE="${3#*@}" ;; esac
    case $B in
    *-san) CK_FORK=${CK_FORK:-no} timeout 36000 "${3%@*}" >"$said" 2>&1 ;;
    *) CK_FORK=${CK_FORK:-no} timeout 3600 "${3%@*}" >"$said" 2>&1 ;;
    esac
    code=$?
    case $code/$B/${CK_FORK:-} in
    0/* | */*-san/* | */*/?*) ;;
    *)
        echo "${3%@*}: ended with $code in one process; once more with one for each test." | tee -a "$said" >&2
        CK_FORK=yes "${3%@*}" >>"$said" 2>&1
        code=$?
        ;;
    esac
    echo "$code $(($(date +%s) - started))" >"$said.end"
    exit 0
fi

room=$(df -Pk /dev/shm 2>/dev/null | awk 'NR == 2 { print $4 }')
[ "${room:-0}" -lt 4000000 ] || [ ! -w /dev/shm ] || RUN_IN=${RUN_IN:-/dev/shm}

list=''
runs=''
new=yes
# shellcheck disable=SC2086,SC2317
clean() { rm -rf $runs "${total:-}"; }
trap clean EXIT
trap 'exit 130' INT TERM HUP
for word in "$@"; do
    if [ "$word" = -- ]; then
        new=yes
    elif [ $new = yes ]; then
        folder=$word
        mkdir -p "${RUN_IN:-$folder/tmp}"
        run=$(mktemp -d "${RUN_IN:-$folder/tmp}/diewright.XXXXXX") || exit 1
        mkdir "$run/said"
        runs="$runs $run"
        new=no
    else
        list="$list$folder $word $run
"
    fi
done
{ printf '%s' "$list" | grep /check_screen; printf '%s' "$list" | grep -v /check_screen; } |
    xargs -P $(($(nproc) + 2)) -L 1 sh "$0" --one

failed=0
total=$(mktemp) || exit 1
while read -r _ program run; do
    [ -n "$program" ] || continue
    said=$run/said/$(basename "$program")
    read -r code seconds <"$said.end" || code=1 seconds=0
    [ "$code" = 0 ] || failed=1
    line=$(grep -aE '^[0-9]+%: Checks: ' "$said" | tail -n 1)
    if [ "$code" != 0 ] || [ -z "$line" ]; then
        grep -av '^Running suite' "$said" | tail -n 60
        failed=1
    fi
    printf '%-32s %s  (%d s)\n' "$program" "${line:-gave no result}" "$seconds"
    sed -n 's/^told: /    /p' "$said"
    echo "$line" >>"$total"
done <<LIST
$list
LIST
sed -n 's/^[0-9]*%: Checks: \([0-9]*\), Failures: \([0-9]*\), Errors: \([0-9]*\).*/\1 \2 \3/p' "$total" |
    awk '{ c += $1; f += $2; e += $3 }
         END { printf "%d%%: Checks: %d, Failures: %d, Errors: %d\n", c ? int(100 * (c - f - e) / c) : 0, c, f, e }'
exit $failed
