#!/bin/sh
# Finds every output beside the doors: the command line prints through src/cli/door.c alone, the screens draw through
# src/terminal/paint.c alone. What else writes stands in the list below, with what it may write.
set -eu
cd "$(dirname "$0")/.."
LC_ALL=C awk '
    BEGIN {
        may["src/cli/door.c", "fwrite"] = 1       # the door
        may["src/tui/kept.c", "write"] = 1       # what stays between runs, nothing that is shown
        may["src/practice/done.c", "write"] = 1  # names of what was done, likewise
        may["src/shop/files.c", "fwrite"] = 1   # papers: their writers show what would not be seen
        may["src/terminal/paint.c", "mvwadd_wch"] = 1 # the door
        may["src/terminal/signals.c", "write"] = 2    # fixed strings, and a signal to ourselves
        may["src/terminal/terminal.c", "write"] = 1   # signals to ourselves, put back
        may["src/terminal/terminal.c", "putp"] = 1    # the scroll region, put back
        may["src/store/fresh.c", "write"] = 1   # a job file, byte for byte
        may["src/store/guard.c", "write"] = 1   # likewise
        may["src/start/page.c", "write"] = 1    # a start, as the text that it is read as
        may["src/job/beside.c", "write"] = 1    # a remark, as record text, which holds nothing hidden
        may["src/terminal/field.c", "set_field_buffer"] = 1 # what field_set made visible
        may["src/terminal/field.c", "form_driver_w"] = 1    # one character that is not hidden
        may["src/terminal/pick.c", "new_item"] = 1          # what was made visible
        names = "v?f?w?printf|v?dprintf|f?put(s|c|ws|wc)|putc_unlocked|putw?char|fwrite|p?write|writev|perror|psignal|v?warnx?|v?errx?|syslog" \
            "|send|sendmsg|tputs|putp|vidputs|(mv)?w?(add|ins)(n?str|n?wstr|ch|_wch|chstr|chnstr|_wchstr|_wchnstr|_wch)" \
            "|(mv)?w?(ins_wstr|ins_nwstr|ins_wch|printw|echochar|echo_wchar)|set_field_buffer|form_driver_w|set_item_value|new_item|slk_w?set"
        call = "(^|[^A-Za-z0-9_.>])(" names ")\\("
    }
    /^ *(\*|\/\*|\/\/)/ { next }
    {
        line = $0
        gsub(/"([^"\\]|\\.)*"/, "\"\"", line)
        while (match(line, call)) {
            name = substr(line, RSTART, RLENGTH - 1)
            sub(/^[^A-Za-z0-9_]/, "", name)
            if (++seen[FILENAME, name] > may[FILENAME, name]) {
                print FILENAME ":" FNR ": prints beside the door (" name "): " $0
                bad = 1
            }
            line = substr(line, RSTART + RLENGTH)
        }
    }
    END { exit bad }
' src/main.c $(find src -mindepth 2 -name '*.[ch]') && echo "door: nothing is printed beside it"
