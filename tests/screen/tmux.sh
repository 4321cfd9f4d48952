#!/bin/sh
# A few whole stories in a real terminal multiplexer with a shell that does job control: stop and go on,
# and a terminal that goes away. Needs tmux. Run from the top of the tree; B is the build folder.
set -eu
B=${B:-build}
program=$(pwd)/$B/diewright
command -v tmux >/dev/null || { echo "tmux.sh: needs tmux (apt-get install tmux)"; exit 1; }
[ -x "$program" ] || { echo "tmux.sh: $program is not built"; exit 1; }
export ASAN_OPTIONS=detect_leaks=0

mkdir -p "$B/tmp"
folder=$(mktemp -d "$(pwd)/$B/tmp/XXXXXX")
job=$folder/cover.diejob
"$program" load "$job" data/demo/cover-plate.txt >/dev/null
story=0
t() { tmux -L "dw$$-$story" -f /dev/null -u "$@"; }
end() { t kill-server 2>/dev/null || true; }
trap end EXIT INT TERM

fail() {
    echo "tmux.sh: $1; the screen is"
    t capture-pane -p 2>/dev/null || true
    exit 1
}

# until the screen holds (or, with "no", no longer holds) a text; the bound only ends a run that hangs
wait_for() {
    for _ in $(seq 3000); do
        if t capture-pane -p | grep -qF -- "$1"; then [ "${2:-}" = no ] || return 0
        else [ "${2:-}" != no ] || return 0; fi
        sleep 0.1
    done
    fail "\"$1\" ${2:-never came}"
}

until_true() {
    for _ in $(seq 3000); do
        if eval "$1"; then return 0; fi
        sleep 0.1
    done
    fail "never true: $1"
}

# the program's number
process() {
    grep -slz "^$program\$" /proc/[0-9]*/cmdline | sed 's/[^0-9]*\([0-9]*\).*/\1/' | head -n 1
}

# it stands still, as stopped jobs do
stopped() {
    # shellcheck disable=SC2016
    until_true '[ -n "$(process)" ] && grep -q "^State:.T" "/proc/$(process)/status"'
}

start() {
    story=$((story + 1)) # a server of its own each: one that is going down takes no new session
    t new-session -d -x 80 -y 24 "env PS1='ready> ' HOME=$folder bash --norc --noprofile -i"
    wait_for 'ready>'
    t send-keys "stty -a > $folder/before; clear" Enter
    until_true "[ -s $folder/before ]"
    wait_for 'ready>'
}

# 1. Ctrl-Z gives the shell back whole, fg comes back to the same picture, q leaves all as before.
start
t send-keys "$program $job" Enter
wait_for '? help'
t send-keys Down
wait_for '>punch backing'
[ "$(t display -p '#{mouse_any_flag}')" = 0 ] || fail "the mouse is asked for unasked"
t send-keys C
wait_for 'mouse on'
[ "$(t display -p '#{mouse_any_flag}')" = 1 ] || fail "the mouse is not asked for"
t send-keys C-z
wait_for 'Stopped'
[ "$(t display -p '#{mouse_any_flag}')" = 0 ] || fail "stopped with the mouse on"
[ "$(t display -p '#{alternate_on}')" = 0 ] || fail "stopped on the alternate screen"
t send-keys "clear; stty -a > $folder/stopped" Enter
until_true "[ -s $folder/stopped ]"
cmp "$folder/before" "$folder/stopped" || fail "a stop leaves other modes"
t send-keys "fg" Enter
wait_for '>punch backing'
wait_for '? help'
[ "$(t display -p '#{alternate_on}')" = 1 ] || fail "not back on the alternate screen"
[ "$(t display -p '#{mouse_any_flag}')" = 1 ] || fail "back without the mouse"
t resize-window -x 120 -y 40
wait_for 'hangs on'
t send-keys C-z
wait_for 'Stopped'
t resize-window -x 90 -y 30
t send-keys "clear; fg" Enter
wait_for '? help'
wait_for 'hangs on' no
t send-keys q
wait_for 'ready>'
t send-keys "clear; stty -a > $folder/after" Enter
until_true "[ -s $folder/after ]"
# rows and columns differ, since the window does; nothing else may
sed 's/rows [0-9]*; columns [0-9]*//' "$folder/before" > "$folder/b"
sed 's/rows [0-9]*; columns [0-9]*//' "$folder/after" > "$folder/a"
cmp "$folder/b" "$folder/a" || fail "other modes after leaving"
[ "$(t display -p '#{mouse_any_flag}')" = 0 ] || fail "left with the mouse on"
end

# 2. In the background it stops until it is called back, however it came there; ended there it leaves the shell's modes alone.
start
t send-keys "$program $job &" Enter
stopped
t send-keys "clear; fg" Enter
wait_for '? help'
for key in q k; do
    t send-keys C-z
    stopped
    t send-keys "clear; bg; echo behind it" Enter
    wait_for 'behind it'
    stopped
    if [ $key = q ]; then
        t send-keys "clear; fg" Enter
        wait_for '? help'
        t send-keys q
    else
        t send-keys "clear; kill %1" Enter
    fi
    # shellcheck disable=SC2016
    until_true '[ -z "$(process)" ]'
    t send-keys "clear; stty -a > $folder/ended$key" Enter
    until_true "[ -s $folder/ended$key ]"
    cmp "$folder/before" "$folder/ended$key" || fail "back from the background it leaves other modes ($key)"
    [ $key = k ] || t send-keys "clear; $program $job" Enter
    [ $key = k ] || wait_for '? help'
done
end

# 3. A text pasted into a field, then the terminal goes away: the program ends, what was taken is in the file.
start
t send-keys "$program $job" Enter
wait_for '? help'
t send-keys -l ':go-to die_plate.thickness'
t send-keys Enter
wait_for '> thickness'
t send-keys Enter
wait_for 'Enter take'
t send-keys C-u
t set-buffer '36 mm'
t paste-buffer -p
wait_for 'not yet taken'
t send-keys Enter
wait_for 'taken: '
# shellcheck disable=SC2034
pid=$(process)
end
# shellcheck disable=SC2016
until_true '[ ! -e /proc/$pid ] || grep -q "^State:.Z" /proc/$pid/status'
"$program" dump "$job" | grep -q 'thickness = 36 mm' || fail "the edit is not in the file"
echo "tmux.sh: all stories end well"
