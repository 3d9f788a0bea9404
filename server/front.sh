# What building needs from the system, and how everything is built. Sourced, not run, by `server/start` and
# `tests/run`, which stand in the repository's root. What is missing is installed: a compiler for wasm, and
# npm, with which the build fetches wasm-opt. How the app becomes what a browser loads is the business of
# `server/build`, a crate.

tools=$PWD/target/tools
wasm_target=wasm32-unknown-unknown

say() { printf '\033[1m%s\033[0m\n' "$*" >&2; }

# Does something that may fail because there is another way; what it said is shown only if there is none.
attempts=()
attempt() {
  local said
  if said=$("$@" 2>&1); then return 0; fi
  attempts+=("$*" "$said")
  return 1
}

fail() {
  if [ ${#attempts[@]} != 0 ]; then printf '%s\n' "${attempts[@]}" >&2; fi
  printf '%s\n' "$*" >&2
  exit 1
}

as_root() {
  if [ "$(id -u)" = 0 ]; then "$@"; elif command -v sudo >/dev/null; then sudo "$@"; else return 1; fi
}

# Installs the Debian packages that are not there yet.
apt_install() {
  command -v apt-get >/dev/null || return 1
  local missing=() package
  for package in "$@"; do
    dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' ||
      missing+=("$package")
  done
  [ ${#missing[@]} = 0 ] && return 0
  say "Installing ${missing[*]} ..."
  local install=(as_root env DEBIAN_FRONTEND=noninteractive
    apt-get install -qq -y --no-install-recommends "${missing[@]}")
  attempt "${install[@]}" || { attempt as_root apt-get update -qq && attempt "${install[@]}"; }
}

# Rust itself is the one thing we do not install unasked.
require_rust() {
  command -v cargo >/dev/null || fail \
    "Rust is missing. Install it from https://rustup.rs, then run this again."
  command -v cc >/dev/null || apt_install gcc libc6-dev || fail \
    "A C compiler is missing (Rust links with it). Install gcc, then run this again."
}

has_wasm_target() {
  local root
  root=$(rustc --print sysroot 2>/dev/null) && [ -d "$root/lib/rustlib/$wasm_target/lib" ]
}

# rustup fetches the target where its servers can be reached. A failure is remembered for the day,
# so that only the first run of a day waits for it.
fetch_wasm_target() {
  local note
  note=$tools/no-rustup-target-$(date +%F)
  if ! command -v rustup >/dev/null || [ -e "$note" ]; then return 1; fi
  say "Fetching the wasm target with rustup ..."
  if attempt timeout 40 rustup target add "$wasm_target" && has_wasm_target; then return 0; fi
  rm -f "$tools"/no-rustup-target-*
  touch "$note"
  return 1
}

find_wasm_linker() {
  local linker version
  version=$(/usr/bin/rustc -vV | sed -n 's/^LLVM version: \([0-9]*\).*/\1/p')
  for linker in "/usr/bin/wasm-ld-$version" /usr/bin/wasm-ld-*; do
    if [ -x "$linker" ]; then echo "$linker"; return 0; fi
  done
  return 1
}

# Debian's compiler has no wasm library either, but its packages bring the library's source, from
# which cargo builds one. It is used for the browser's half alone.
use_debian_toolchain() {
  apt_install rustc-web cargo-web rust-web-src || return 1
  find_wasm_linker >/dev/null || apt_install lld-22 || return 1
  local linker
  linker=$(find_wasm_linker) || return 1
  wasm_compiler=(RUSTC_BOOTSTRAP=1 RUSTC=/usr/bin/rustc
    "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER=$linker"
    EVENLOOP_WASM_CARGO=/usr/bin/cargo EVENLOOP_WASM_FLAGS=-Zbuild-std=std,panic_abort)
}

# Sets wasm_compiler, the environment in which the build finds a compiler for wasm.
find_wasm_compiler() {
  wasm_compiler=()
  if has_wasm_target || fetch_wasm_target || use_debian_toolchain; then return 0; fi
  fail "No compiler for $wasm_target. Either of these helps:
  rustup target add $wasm_target
  apt-get install rustc-web cargo-web rust-web-src lld-22    (Debian)"
}

# Has the build's own program do something, with all that it needs.
run_build() {
  mkdir -p "$tools"
  find_wasm_compiler
  if [ "$1" = release ]; then
    { command -v npm >/dev/null && command -v node >/dev/null; } || apt_install npm || fail \
      "The build needs npm to fetch wasm-opt. Install it, then run this again."
  fi
  cargo build --locked --release --package evenloop-build
  env "${wasm_compiler[@]}" target/release/evenloop-build "$@"
}

# Builds everything that is served. With nothing changed it does nothing.
#
#   target/wasm     cargo's folder for the browser's half, apart from the native one
#   target/tools    wasm-opt, and what it has made
#   target/front    the browser's half, ready to be packed
#   target/site     the packed site
#   target/evenloop server and site as one program
build_all() {
  say "Building the app ..."
  run_build release
  say "Building the server ..."
  cargo build --locked --release --package evenloop-server
  target/release/evenloop-server pack target/front style public target/site
  EVENLOOP_SITE=target/site target/release/evenloop-server bundle target/evenloop
}

# Installs what an npm lock file names, to the byte, into a folder of its own: `npm_locked WHAT LOCKED FOLDER`.
# Nothing else is taken where that cannot be had.
npm_locked() {
  local what=$1 locked=$2 folder=$3
  if cmp -s "$locked/package-lock.json" "$folder/installed"; then return 0; fi
  command -v npm >/dev/null || apt_install npm ||
    fail "$what comes from npm, which is missing. Install npm, then run this again."
  say "Fetching $what ..."
  mkdir -p "$folder"
  cp "$locked/package.json" "$locked/package-lock.json" "$folder"
  npm ci --silent --no-audit --no-fund --prefix "$folder" >&2 || fail \
    "$what could not be fetched as $locked/package-lock.json has it. Without signal, run this again later."
  cp "$locked/package-lock.json" "$folder/installed"
}
