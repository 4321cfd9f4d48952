#!/bin/sh
# Counts the sources of handbook and parts tables by class and by how their print was read, and holds data and papers to them: every factor,
# function, rule, example, word, caution and difference has a source of a class, no source is a host, a shared file's number, a seller or a
# calculator, and of all that cite a print at least 60 percent were seen.
#
# usage: sources.sh [--count]      --count: the figures alone, whatever they are
set -eu
cd "$(dirname "$0")/.."
LC_ALL=C; export LC_ALL
least=60
printless='own derivation|common practice'
read='seen|answer seen|seen quoted|memory'

status=0
awk -v printless="$printless" -v read="$read" -v least="$least" -v only_count="${1:-}" '
    function close_record() {
        if (kind ~ /^(factor|function|rule|example|word|differ|caution)$/ && !sources && !only_count) breach(place, kind " " name " has no source")
        close_caution()
        kind = ""
    }
    function close_caution() {
        if (warns && !sources && !only_count) breach(warns, "this caution has no source")
        warns = ""
    }
    function breach(where, what) { print where ": " what; bad = 1 }
    function no_class(line) {
        count["of no class"]++
        if (!only_count) breach(FILENAME ":" FNR, line)
    }
    function count_one(line,    head, seen) {
        lines++
        head = line
        if (match(line, "^(" printless ")([,:;]|$)")) {
            sub(/[,:;].*/, "", head)
            count[head]++
            return
        }
        sub(/,.*/, "", head)
        seen = line; sub(/^[^,]*, */, "", seen); sub(/:.*/, "", seen)
        if (head in class) head = class[head]
        if (line !~ /,/ || seen !~ ("^(" read ")$") || head !~ /^(standard|regulation|book|article|lecture)$/) {
            no_class(line)
            return
        }
        count[head]++; prints++; by[seen]++
        if (seen != "memory") was_seen++
    }
    /^[a-z]/ { close_record(); kind = $1; name = $2; sources = 0; place = FILENAME ":" FNR }
    kind == "work" && $1 == "class" { class[name] = $2 }
    kind == "work" { next }
    kind == "kind" && /^  [a-z]/ { close_caution() }
    kind == "kind" && /^  caution / { warns = FILENAME ":" FNR; sources = 0 }
    /^# source: / { n = split(substr($0, 11), part, /; */); for (i = 1; i <= n; i++) count_one(part[i]) }
    /^ +source / { sources++; line = $0; sub(/^ +source /, "", line); count_one(line) }
    END {
        close_record()
        n = split("standard,regulation,book,article,lecture,own derivation,common practice,of no class", order, ",")
        printf "%5d sources\n", lines
        for (i = 1; i <= n; i++) printf "%5d %s\n", count[order[i]], order[i]
        printf "%5d cite a print: %d seen, %d by their answer, %d quoted, %d from memory\n", prints, by["seen"], by["answer seen"], by["seen quoted"], by["memory"]
        share = prints ? 100 * was_seen / prints : 0
        printf "%5.1f percent of these were seen\n", share
        if (share < least && !only_count) breach("data/handbook", "less than " least " percent of the prints were seen")
        exit bad
    }
' data/handbook/*.txt data/parts/*.csv || status=1
[ "${1:-}" = --count ] && exit 0

# Hosts, shared files, sellers and calculators, where a source can stand.
foreign='https?:|www\.|[a-z0-9]\.(com|org|net|edu|info|co\.uk|in|de|ru|io)([^a-z0-9_.]|$)|[Ss]cribd|[Nn]ame left out|[Bb]logspot|[Ff]orum|([Pp]ress|[Rr]igging) (dealer|seller|supplier)'
foreign="$foreign|([Oo]nline|[Pp]ublic|[Tt]orque|[Bb]eam) calculator|simulator|teaching page|public page|public (press|rigging) (note|page)|lecture notes"
if grep -nE "$foreign" data/handbook/*.txt data/parts/*.csv data/practice/*.txt data/templates/*.txt data/demo/*.txt tests/outside/*.[ch] \
    man/*.[157] README.md DEVELOPERS.md | grep -vE 'example\.org|diewright-[a-z]+\.[157]'; then
    echo "these lines name a host, a shared file, a seller or a calculator"
    status=1
fi
# Figures and a layout that are common elsewhere: starts, demos, practice and the manual have their own.
if grep -nE 'lay six|usual [-+] 10 mm|turn = 45 deg|(left|right)_across = -8 mm' data/templates/*.txt data/demo/*.txt data/practice/*.txt man/*.[157]; then
    echo "these lines have figures that are not the program's own"
    status=1
fi
# Lines of records: a long one goes on in the next, deeper one.
if LC_ALL=C.UTF-8 grep -nE '.{141,}' data/*/*.txt; then
    echo "these lines are longer than 140 characters: let them go on in deeper ones"
    status=1
fi
exit $status
