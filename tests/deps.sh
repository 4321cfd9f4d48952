#!/bin/sh
# Looks for what building, running or testing needs and installs what is missing from the system's
# packages. Words on the command line say what for: run, check, long.
#
# On a terminal it asks; without one it goes ahead as root (a container), else it stops with the line to
# run. DEPS=no never installs.
set -eu

run='gcc make pkg-config libc6-dev libncurses-dev libsqlite3-dev'
check='check libvterm-dev tmux units bc python3-minimal'
long='python3-scipy python3-shapely'

wanted=''
for what in "$@"; do
    case $what in
    run) wanted="$wanted $run" ;;
    check) wanted="$wanted $check" ;;
    long) wanted="$wanted $long" ;;
    *) echo "deps.sh: for what? run, check or long, not \"$what\"." >&2; exit 2 ;;
    esac
done

installed() { dpkg-query -W -f '${Status}' "$1" 2>/dev/null | grep -q 'ok installed'; }

# What is there by another road counts too (a compiler of one's own, a tool built by hand).
present() {
    case $1 in
    gcc) command -v "${CC:-cc}" >/dev/null 2>&1 || command -v gcc >/dev/null 2>&1 ;;
    make) command -v make >/dev/null 2>&1 ;;
    pkg-config) command -v pkg-config >/dev/null 2>&1 ;;
    tmux | units | bc) command -v "$1" >/dev/null 2>&1 ;;
    python3-minimal) command -v python3 >/dev/null 2>&1 ;;
    *) installed "$1" ;;
    esac
}

missing=''
for package in $wanted; do
    present "$package" || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

line="apt-get install --no-install-recommends$missing"
[ "$(id -u)" = 0 ] || line="sudo $line"
stop() {
    echo "Missing:$missing" >&2
    echo "To install it:  $line" >&2
    exit 1
}

[ "${DEPS:-yes}" != no ] || stop
command -v apt-get >/dev/null 2>&1 || stop
if [ -t 0 ] && [ -t 1 ]; then
    printf 'Missing:%s\nInstall it with "%s"? [Y/n] ' "$missing" "$line"
    read -r answer || answer=n
    case $answer in
    '' | [Yy]*) ;;
    *) stop ;;
    esac
elif [ "$(id -u)" != 0 ]; then
    stop
fi
if [ "$(id -u)" = 0 ]; then
    export DEBIAN_FRONTEND=noninteractive
    apt-get update -q >/dev/null 2>&1 || true
    # shellcheck disable=SC2086 # a list of names
    apt-get install -y -q --no-install-recommends $missing >/dev/null || stop
else
    # shellcheck disable=SC2086
    sudo apt-get install --no-install-recommends $missing || stop
fi
