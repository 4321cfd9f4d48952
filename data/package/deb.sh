#!/bin/sh
# A Debian package out of what `make install` puts below a folder: deb.sh STAGE VERSION OUT
set -eu
stage=$1 version=$2 out=$3
arch=$(dpkg --print-architecture)
doc=$stage/usr/share/doc/diewright
mkdir -p "$stage/DEBIAN" "$doc"
{
    echo "Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/"
    echo "Upstream-Name: diewright"
    echo
    echo "Files: *"
    echo "Copyright: 2026 The diewright developers"
    echo "License: Expat"
    sed -n '/^Permission/,$p' LICENSE | sed 's/^$/./; s/^/ /'
} >"$doc/copyright"
when=$(date -R -d "@${SOURCE_DATE_EPOCH:-$(git log -1 --format=%ct 2>/dev/null || date +%s)}")
printf 'diewright (%s) unstable; urgency=medium\n\n  * See /usr/share/doc/diewright/CHANGES.gz.\n\n -- %s  %s\n' \
    "$version" "The diewright developers <diewright@localhost>" "$when" | gzip -9n >"$doc/changelog.gz"
gzip -9nc "$(dirname "$0")/CHANGES" >"$doc/CHANGES.gz"
gzip -9nf "$stage"/usr/share/man/man?/*.[157]
strip --strip-unneeded "$stage/usr/bin/diewright"
size=$(du -sk "$stage/usr" | cut -f1)
cat >"$stage/DEBIAN/control" <<END
Package: diewright
Version: $version
Architecture: $arch
Maintainer: The diewright developers <diewright@localhost>
Installed-Size: $size
Depends: libc6 (>= 2.34), libncursesw6 (>= 6), libtinfo6 (>= 6), libsqlite3-0 (>= 3.37)
Section: science
Priority: optional
Description: terminal workbench for the die sets of press tools
 Shoes, plates, screws, dowels, guide posts, bushings and springs are held
 together by formulas: when one thickness is changed, what hangs on it moves,
 standard sizes are picked anew, and rules of the trade tell what no longer
 holds.
END
find "$stage" -type d -exec chmod 755 {} +
dpkg-deb --root-owner-group --build "$stage" "$out"
