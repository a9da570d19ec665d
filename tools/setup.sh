# Sourced by ./run and ./check: installing what is missing, configuring, building.

say() { printf '%s\n' "$*"; }

fail() {
    printf '\n%s\n' "$*" >&2
    exit 1
}

# need_packages KIND...: the packages of tools/packages.txt of these kinds, by apt where any is missing.
# With nothing missing it needs neither the network nor root.
need_packages() {
    local kinds wanted missing name
    kinds=$(printf '%s|' "$@")
    wanted=$(sed -nE "s/^(${kinds%|}) +([^ ]+).*/\\2/p" tools/packages.txt)
    if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
        say "This is no Debian, so nothing is installed. These are needed by their Debian names:" $wanted
        return
    fi
    missing=()
    for name in $wanted; do
        [ "$(dpkg-query -W -f '${db:Status-Status}' "$name" 2>/dev/null)" = installed ] || missing+=("$name")
    done
    if [ ${#missing[@]} -eq 0 ]; then
        say "Packages: all there."
        return
    fi
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null ||
            fail "Packages are missing and this needs root. As root, run:  apt-get install ${missing[*]}"
        as_root=(sudo)
    fi
    say "Packages: installing ${missing[*]}"
    mkdir -p build
    apt_get update
    apt_get install -y --no-install-recommends "${missing[@]}"
    say "Packages: installed."
}

# Runs apt-get with its chatter in a log and one line of progress now and then.
apt_get() {
    local log=build/apt.log
    if ! "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -o Dpkg::Use-Pty=0 "$@" </dev/null 2>&1 |
        tee "$log" | awk '/^Need to get/ { print "  " $0 } /newly installed/ { of = $3 }
                          /^Setting up/ { if (++n % 25 == 0) print "  set up " n " of " of; fflush() }'; then
        tail -n 20 "$log" >&2
        fail "apt-get $1 did not work: its last lines stand above, all of it in $log."
    fi
}

# configure PRESET FOLDER
configure() {
    local preset=$1 folder=$2
    # A folder that was made for this source somewhere else cannot be used again.
    if [ -f "$folder/CMakeCache.txt" ] && ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$PWD" "$folder/CMakeCache.txt"; then
        rm -rf "$folder"
    fi
    mkdir -p "$folder"
    if ! cmake --preset "$preset" >"$folder/configure.log" 2>&1; then
        cat "$folder/configure.log" >&2
        fail "Configuring did not work: see above."
    fi
}

# build FOLDER [target...]
build() {
    local folder=$1
    shift
    NINJA_STATUS='  [%f/%t, %es] ' ninja -C "$folder" -j "$(jobs_here)" "$@" || fail "Building did not work: see above."
}

# As many compilers at once as there are processors, but not more than one for each 1.5 GB of memory.
jobs_here() {
    local processors memory_kb
    processors=$(nproc)
    memory_kb=$(sed -n 's/^MemAvailable: *\([0-9]*\).*/\1/p' /proc/meminfo 2>/dev/null || true)
    local jobs=$((${memory_kb:-99999999} / 1500000))
    [ "$jobs" -ge 1 ] || jobs=1
    [ "$jobs" -le "$processors" ] || jobs=$processors
    echo "$jobs"
}
