# Sourced by ./run and ./check: builds the page of the workbench into web/dist, which the program then carries.

# build_page FOLDER: the core for the browser in FOLDER/wasm (where its test looks too), then the page around it. Says why
# and returns 1 when that is not possible.
build_page() {
    local core=$1/wasm
    if ! command -v node >/dev/null || ! command -v npm >/dev/null; then
        need_packages page
    fi
    say "Building the page (the core for the browser first) ..."
    mkdir -p "$core" web/public/core
    export NODE_PATH=${NODE_PATH:-/usr/share/nodejs}
    # As CMakeLists.txt does for the other compiler: objects made once are kept, where that is wished for.
    if command -v ccache >/dev/null; then
        export EM_COMPILER_WRAPPER=${EM_COMPILER_WRAPPER:-ccache}
    fi
    if ! emcmake cmake -S wasm -B "$core" -G Ninja >"$core/configure.log" 2>&1; then
        cat "$core/configure.log" >&2
        return 1
    fi
    NINJA_STATUS='  [%f/%t, %es] ' ninja -C "$core" -j "$(jobs_here)" spile_core || return 1
    local part
    for part in spile_core.mjs spile_core.wasm; do
        cmp -s "$core/$part" "web/public/core/$part" || cp "$core/$part" "web/public/core/$part"
    done
    if [ web/package-lock.json -nt web/node_modules/.package-lock.json ]; then
        (cd web && npm ci --no-audit --no-fund) || return 1
    fi
    if [ ! -f web/dist/index.html ] ||
        [ -n "$(find web/src web/public web/index.html web/package.json web/vite.config.ts web/tsconfig.json wasm/types \
            examples/cockpit.json -newer web/dist/index.html -print -quit)" ]; then
        (cd web && npm run --silent build) || return 1
    fi
}
