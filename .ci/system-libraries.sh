#!/bin/sh
# Sees to what pip cannot bring: the libraries that lay out the PDF sheets and, for the tests, a
# browser and a PDF reader. Installs what is missing if it may, otherwise says what to install.
# Usage: sh .ci/system-libraries.sh run|test
set -eu
exec >&2
PATH=$PATH:/usr/sbin:/sbin

# Lists, in Debian's names, what is missing of what must be there and of what makes it faster.
look() {
    needed=
    helpful=
    library libpangoft2-1.0.so.0 || needed="$needed libpangoft2-1.0-0"
    # Without it sheets come out right, but take about twice as long.
    library libharfbuzz-subset.so.0 || helpful="$helpful libharfbuzz-subset0"
    if [ "$1" = test ]; then
        command -v chromium >/dev/null || command -v chromium-browser >/dev/null ||
            needed="$needed chromium"
        command -v pdftotext >/dev/null && command -v pdftoppm >/dev/null ||
            needed="$needed poppler-utils"
        # The checker of the pages' markup is a Java program.
        command -v java >/dev/null || needed="$needed default-jre-headless"
    fi
}

library() {
    printf '%s\n' "$libraries" | grep -qF "$1 "
}

install_as() {
    "$@" apt-get -q update
    # $needed and $helpful are lists of words.
    # shellcheck disable=SC2086
    "$@" env DEBIAN_FRONTEND=noninteractive apt-get -q -o DPkg::Lock::Timeout=300 \
        install -y --no-install-recommends $needed $helpful
}

if ! libraries=$(ldconfig -p 2>/dev/null); then
    echo "Cannot tell which libraries this system has. The PDF sheets need Pango 1.44 or newer."
    exit 0
fi
look "$1"
[ -n "$needed$helpful" ] || exit 0

echo "Missing on this system:$needed$helpful"
if command -v apt-get >/dev/null; then
    if [ "$(id -u)" = 0 ]; then
        install_as env
    elif command -v sudo >/dev/null && sudo -n true 2>/dev/null; then
        install_as sudo -n
    fi
    libraries=$(ldconfig -p)
    found=$needed$helpful
    look "$1"
    [ -n "$needed$helpful" ] || exit 0
    [ "$found" = "$needed$helpful" ] || echo "Still missing:$needed$helpful"
    echo "This gets them, with an administrator's rights:"
    echo "    apt-get update && apt-get install$needed$helpful"
else
    echo "Those are Debian's names. Install the same with this system's own package tool."
fi
[ -z "$needed" ] || exit 1
echo "Going on without: the PDF sheets take about twice as long."
