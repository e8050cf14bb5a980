# Sourced by ./midframe and ./check: a virtual environment that holds what a lock says, no more often than needed.

say() { printf 'midframe: %s\n' "$*" >&2; }

# find_python: prints the first interpreter that is Python 3.11 or newer.
find_python() {
    for candidate in ${MIDFRAME_PYTHON:-} python3 python3.14 python3.13 python3.12 python3.11; do
        if "$candidate" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
            command -v "$candidate"
            return 0
        fi
    done
    found=$(python3 -V 2>&1) || found="no python3 on the path"
    say "Python 3.11 or newer is needed; found: $found."
    say "Install one, or name it: MIDFRAME_PYTHON=/path/to/python3.12 ./midframe"
    return 1
}

# environment FOLDER LOCK: brings FOLDER to what LOCK says. A copy of the lock inside it marks a finished set-up.
environment() {
    [ -x "$1/bin/python" ] && cmp -s "$2" "$1/installed.lock" && return 0
    python=$(find_python) || return 1
    if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
        say "$python lacks the venv module. On Debian or Ubuntu: apt-get install python3-venv"
        return 1
    fi
    mkdir -p "$1" || return 1
    (
        # Two first runs at once: the second waits, then finds the work done.
        if command -v flock >/dev/null 2>&1; then flock 9; fi
        [ -x "$1/bin/python" ] && cmp -s "$2" "$1/installed.lock" && exit 0
        say "setting up $1 from ${2##*/} (once; a minute at most on a usual connection)"
        rm -f "$1/installed.lock"
        if ! "$1/bin/python" -m pip --version >/dev/null 2>&1; then
            rm -rf "$1/bin" "$1/lib" "$1/lib64" "$1/include" "$1/pyvenv.cfg"
            "$python" -m venv "$1" || exit 1
        fi
        "$1/bin/python" -m pip install --quiet --disable-pip-version-check --no-input \
            --require-hashes --requirement "$2" >"$1/install.log" 2>&1 || {
            cat "$1/install.log" >&2
            say "the packages of ${2##*/} could not be installed; the lines above say why. Run the command again to go on."
            exit 1
        }
        cp "$2" "$1/installed.lock"
    ) 9>"$1/.wait"
}
