# How a Leptos crate becomes what a browser loads. Sourced, not run: `server/build` makes the app
# with it, `tests/size` a minimal app to compare with. Callers stand in the repository's root.
#
#   front_build MANIFEST PACKAGE OUT    OUT/evenloop.js, OUT/evenloop_bg.wasm and, of an app with
#                                       parts, OUT/__wasm_split.js, split_*.wasm and chunk_*.wasm
#
# front_features and front_target name other features than hydrate and another folder for cargo, and
# front_small=no leaves out what only makes files smaller.
#
# Whatever is missing is installed: a compiler for wasm, wasm-split, wasm-bindgen, wasm-opt.

tools=$PWD/target/tools
wasm_target=wasm32-unknown-unknown
wasm_opt_version=132.0.0
wasm_split_version=0.2.4

say() { printf '\033[1m%s\033[0m\n' "$*" >&2; }
fail() { printf '%s\n' "$*" >&2; exit 1; }

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
  local install=(env DEBIAN_FRONTEND=noninteractive
    apt-get install -qq -y --no-install-recommends "${missing[@]}")
  as_root "${install[@]}" >&2 || { as_root apt-get update -qq >&2 && as_root "${install[@]}" >&2; }
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
  if timeout 40 rustup target add "$wasm_target" >&2 && has_wasm_target; then return 0; fi
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
  wasm_cargo=(env RUSTC_BOOTSTRAP=1 RUSTC=/usr/bin/rustc
    "CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER=$linker" /usr/bin/cargo)
  wasm_flags=(-Zbuild-std=std,panic_abort)
}

# Sets wasm_cargo, the command that can build for wasm, and wasm_flags, what to add to it.
find_wasm_cargo() {
  wasm_cargo=(cargo)
  wasm_flags=()
  if has_wasm_target || fetch_wasm_target || use_debian_toolchain; then return 0; fi
  fail "No compiler for $wasm_target. Either of these helps:
  rustup target add $wasm_target
  apt-get install rustc-web cargo-web rust-web-src lld-22    (Debian)"
}

# Sets wasm_bindgen. Its version must be that of the library, to the last digit.
find_wasm_bindgen() {
  local version
  version=$(grep -A1 '^name = "wasm-bindgen"$' Cargo.lock | sed -n 's/^version = "\(.*\)"/\1/p')
  for wasm_bindgen in "$tools/bin/wasm-bindgen" "$(command -v wasm-bindgen)"; do
    if [ "$("$wasm_bindgen" --version 2>/dev/null)" = "wasm-bindgen $version" ]; then return 0; fi
  done
  say "Building wasm-bindgen $version (once, some minutes) ..."
  # Its own lock may name a version that has been withdrawn since; newer ones do as well.
  cargo install --quiet --locked --root "$tools" --version "$version" wasm-bindgen-cli ||
    cargo install --quiet --root "$tools" --version "$version" wasm-bindgen-cli
  wasm_bindgen=$tools/bin/wasm-bindgen
}

# Sets wasm_split, which makes files of their own of what the app loads when it is needed.
find_wasm_split() {
  local root=$tools/wasm-split-$wasm_split_version
  wasm_split=$root/bin/wasm-split-cli
  if [ -x "$wasm_split" ]; then return 0; fi
  say "Building wasm-split $wasm_split_version (once, a minute or two) ..."
  cargo install --quiet --locked --root "$root" --version "$wasm_split_version" \
    --features build-binary wasm_split_cli_support
}

# Sets snip, which makes smaller what the tools before and after it leave large.
make_snip() {
  snip=$tools/bin/snip
  if [ "$snip" -nt server/snip.rs ]; then return 0; fi
  mkdir -p "$tools/bin"
  rustc -O --edition 2024 -o "$snip" server/snip.rs
}

# Sets wasm_opt, to nothing where there is no way to have one. That of a system may be years old, and what
# such a one makes of an app with two tables does not run (108 did so): older than ours is not taken.
find_wasm_opt() {
  wasm_opt=$tools/node_modules/.bin/wasm-opt
  if [ -x "$wasm_opt" ]; then return 0; fi
  if is_new_wasm_opt; then return 0; fi
  if command -v npm >/dev/null || apt_install npm; then
    say "Installing wasm-opt ..."
    wasm_opt=$tools/node_modules/.bin/wasm-opt
    npm install --silent --no-audit --no-fund --no-save --prefix "$tools" \
      "binaryen@$wasm_opt_version" >&2 && return 0
  fi
  wasm_opt=
  say "wasm-opt $wasm_opt_version is nowhere to be had: the app will be larger than it need be."
}

# Sets wasm_opt to the system's, where that is as new as ours.
is_new_wasm_opt() {
  local version
  wasm_opt=$(command -v wasm-opt) || return 1
  version=$("$wasm_opt" --version | sed -n 's/^wasm-opt version \([0-9]*\).*/\1/p')
  [ "${version:-0}" -ge "${wasm_opt_version%%.*}" ]
}

# What every browser that can run the app can do (they are what rustc assumes, too).
wasm_features=(--enable-bulk-memory --enable-multivalue --enable-mutable-globals
  --enable-nontrapping-float-to-int --enable-reference-types --enable-sign-ext)

# Sets wasm_nowhere, which keeps out of the app where on this machine its crates lie: a message of an
# error names them, and so would differ from machine to machine.
find_wasm_nowhere() {
  local folder
  # They have a folder once they are here.
  "${wasm_cargo[@]}" fetch --locked --target "$wasm_target" --manifest-path "$1"
  wasm_nowhere=
  for folder in "${CARGO_HOME:-$HOME/.cargo}"/registry/src/*; do
    wasm_nowhere+="${wasm_nowhere:+, }\"--remap-path-prefix=$folder=crates\""
  done
}

front_build() {
  local manifest=$1 package=$2 out=$3 wasm stamp made whole word
  local features=${front_features:-hydrate} cargo_target=${front_target:-target/wasm}
  mkdir -p "$tools" "$out"
  find_wasm_cargo
  find_wasm_split
  make_snip
  find_wasm_bindgen
  wasm_opt=
  [ "${front_small:-yes}" = no ] || find_wasm_opt
  find_wasm_nowhere "$manifest"
  # The relocations tell wasm-split what needs what.
  "${wasm_cargo[@]}" rustc "${wasm_flags[@]}" --config "build.rustflags=[$wasm_nowhere]" --locked --manifest-path "$manifest" \
    --package "$package" --lib --crate-type cdylib --features "$features" \
    --profile wasm-release --target "$wasm_target" --target-dir "$cargo_target" \
    -- -C link-arg=--emit-relocs
  wasm=$cargo_target/$wasm_target/wasm-release/${package//-/_}.wasm
  stamp="$(sha256sum <"$wasm") $(cat server/snip.rs server/front.sh | sha256sum) $("$wasm_bindgen" --version) $wasm_split $wasm_opt"
  made=$out/.made-from
  if [ -e "$made" ] && [ "$(<"$made")" = "$stamp" ]; then return 0; fi
  rm -rf "$out"
  mkdir -p "$out"
  whole=$out/whole.wasm
  cp "$wasm" "$whole"
  # A page is taken over in one go: what would do it piece by piece is never called. Nor is what lists
  # the routes, which is a server's business, or what makes streams.
  for word in hydrate_async new_with_async_value_erased generate_routes intounderlying; do
    "$snip" empty "$word" "$whole" >&2
  done
  "$wasm_split" --target web --out-name evenloop "$whole" "$out"
  rm "$whole"
  whole=$out/evenloop.wasm
  # What the linker exports is what the parts hold on to.
  "$wasm_bindgen" --target web --no-typescript --omit-default-module-path --keep-lld-exports \
    --out-name evenloop --out-dir "$out" "$whole"
  rm "$whole"
  "$snip" shorten "$out/evenloop_bg.wasm" "$out/evenloop.js" >&2
  if [ -n "$wasm_opt" ]; then
    for wasm in "$out"/*.wasm; do
      "$wasm_opt" -Oz "${wasm_features[@]}" --strip-debug --strip-producers \
        "$wasm" -o "$wasm.smaller"
      mv "$wasm.smaller" "$wasm"
    done
  fi
  printf '%s' "$stamp" >"$made"
}
