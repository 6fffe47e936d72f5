#!/bin/sh
# Makes every picture in this folder from the running program: builds it, opens the real window on a virtual screen,
# drives it by keys and mouse and photographs what it shows.
#
# Needs: xvfb xdotool imagemagick poppler-utils, and Mesa's software OpenGL (libgl1-mesa-dri libegl1).
# HANDSPAN_BINARY=path takes a binary that is built already.
set -eu
cd "$(dirname "$0")/.."

binary=${HANDSPAN_BINARY:-}
if [ -z "$binary" ]; then
    cargo build --release -p handspan
    binary=${CARGO_TARGET_DIR:-target}/release/handspan
fi

export WINIT_X11_SCALE_FACTOR=1
screen=
program=
kept=$(mktemp -d)
opened=0

close() {
    for process in $program $screen; do
        kill "$process" 2>/dev/null || true
        wait "$process" 2>/dev/null || true
    done
    program=
    screen=
}
trap 'close; rm -rf "$kept"' EXIT INT TERM

# open WIDTH HEIGHT: a virtual screen of that size, filled by the window.
open() {
    number=90
    while [ -e "/tmp/.X$number-lock" ]; do number=$((number + 1)); done
    export DISPLAY=":$number"
    Xvfb "$DISPLAY" -screen 0 "$1x$2x24" -nolisten tcp >/dev/null 2>&1 &
    screen=$!
    until xdotool getdisplaygeometry >/dev/null 2>&1; do sleep 0.2; done
    # What the program keeps stays away from the user's own folders, and from what it kept before.
    opened=$((opened + 1))
    XDG_CONFIG_HOME=$kept/$opened XDG_STATE_HOME=$kept/$opened "$binary" &
    program=$!
    window=$(xdotool search --sync --onlyvisible --name 'Handspan$' | head -n 1)
    xdotool windowmove "$window" 0 0 windowsize "$window" "$1" "$2"
    sleep 1
    # Without a window manager nobody else gives the window the keyboard.
    xdotool windowfocus "$window"
    xdotool mousemove "$(($1 / 2))" 4
    sleep 1
}

press() {
    for key in "$@"; do
        xdotool key "$key"
        sleep 0.3
    done
}

click() {
    xdotool mousemove "$1" "$2" click 1
    sleep 0.4
}

# drag X1 X2 Y
drag() {
    xdotool mousemove "$1" "$3" mousedown 1
    for share in 1 2 3 4; do
        xdotool mousemove "$(($1 + ($2 - $1) * share / 4))" "$3"
        sleep 0.1
    done
    xdotool mouseup 1
    sleep 0.4
}

photograph() {
    sleep 0.8
    import -window root -strip -define png:compression-level=9 "screenshots/$1.png"
    echo "screenshots/$1.png"
}

# places SUFFIX: every place on the rail as it stands, as grips, route and so on.
places() {
    number=0
    for place in tune grips route pages; do
        number=$((number + 1))
        press "ctrl+$number"
        sleep 1.5
        photograph "$place$1"
    done
}

open 1280 800
photograph first-start
xdotool key slash
sleep 0.5
xdotool type --delay 60 'route'
photograph search
press Escape ctrl+g
photograph guitar
press Escape ctrl+comma
photograph preferences
press Escape question
photograph keys
press Escape Next Next Right Down Down
places -light
press shift+d
places -dark
press ctrl+2 Return m shift+d Next
drag 480 800 730
xdotool mousemove 640 4
press shift+r
sleep 4
photograph passage
close

# Where the tune lies best: every key, six tunings, five places for a capo.
open 1280 800
press shift+c
click 416 110
xdotool mousemove 640 4
# Half a minute where the binary is a release.
sleep 120
photograph lies-light
press shift+d
photograph lies-dark
close

open 2560 1440
press Next Right
places -wide-light
press shift+d
places -wide-dark
close

# The sheet as it prints: the first page, from the PDF.
paper=$(mktemp -d)
"$binary" arrange demo-data/lantern-on-the-quay.musicxml --out "$paper/sheet.pdf" >/dev/null 2>&1
pdftoppm -r 80 -f 1 -l 1 -singlefile -png "$paper/sheet.pdf" screenshots/sheet
rm -r "$paper"
echo "screenshots/sheet.png"
