#!/usr/bin/env bash
# Builds the site into target/dist: www/ and web/page/ bundled, with the
# WebAssembly packages. Installs what is missing, prints what every file weighs,
# and fails when the page is over its weight budget.
#   bash web/build.sh [--no-wasm] [--one-file]
# --no-wasm keeps the packages built last; --one-file makes target/lieflat.html too, the whole page in one file.
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/tools.sh"
cd "$root"

pkg=target/pkg

install_tools() {
  need_wasm_target
  need_bindgen
  need_npm_packages web
}

# wasm-opt reads from the file which features rustc let itself use, all of them
# years old in Chromium, Firefox and Safari, and keeps to those. Told to use all
# that it knows (-all), it could pick some that a browser lacks.
#
# --low-memory-unused: nothing lies in the first kilobyte, where rustc puts the
# stack. --traps-never-happen: a trap would be a panic, and the core has none.
#
# -Os: rustc has made everything small already; by -O3 it would weigh nearly a kilobyte more.
#
# --crate-type: a package that is also a library for its tests is linked without optimising across crates.
#
# --remap-path-prefix: where a library would panic, its file is named, and not the builder's home before it.
without_homes() {
  local folder
  for folder in "${CARGO_HOME:-$HOME/.cargo}"/registry/src/*/; do printf ' --remap-path-prefix=%s=' "$folder"; done
}

# build_package PACKAGE NAME [FEATURE FLAG...]: the one feature that it has then or '', and flags that go to the compiler for this package
# alone. One that limits memory traps where it runs out, so nothing is left out of it for a trap that never happens.
build_package() {
  local no_traps=(--traps-never-happen) features=()
  if [[ ${3-} ]]; then
    no_traps=()
    features=(--no-default-features --features "$3")
  fi
  local crate=$1 name=$2 built=target/$wasm_target/release/${1//-/_}.wasm wasm=$pkg/${2}_bg.wasm
  RUSTFLAGS="${RUSTFLAGS-}$(without_homes)" \
    cargo rustc --release --target "$wasm_target" --target-dir target -p "$crate" "${features[@]}" --crate-type cdylib -- "${@:4}"
  # Packing takes longer than all the rest: what was packed last is kept while nothing has changed.
  local made stamp=$pkg/.$name.made
  made=$(cat "$built" "$bindgen" web/package-lock.json web/build.sh | sha256sum)
  if [[ -f $wasm && $(cat "$stamp" 2>/dev/null) == "$made" ]]; then return; fi
  "$bindgen" --target web --no-typescript --out-dir "$pkg" --out-name "$name" "$built"
  "$page_packages/.bin/wasm-opt" -Os --converge --low-memory-unused "${no_traps[@]}" \
    --strip-debug --strip-producers "$wasm" -o "$wasm"
  echo "$made" >"$stamp"
}

build_packages() {
  cargo fetch --quiet --target "$wasm_target"
  # Short functions are put where they are called more readily than by opt-level `z` alone: a plan takes a quarter less time, and
  # no more room. From 45 on it takes more.
  build_package lieflat-web lieflat_web '' -C llvm-args=--inline-threshold=40
  # Fetched when they are asked for.
  build_package lieflat-sheets lieflat_sheets
  build_package lieflat-photo lieflat_photo
  # A file that unpacks to gigabytes ends its Worker, not the page: no more memory than messages.rs says.
  # In two, of which a file needs one.
  build_package lieflat-files lieflat_pdf pdf -C link-arg=--max-memory=268435456
  build_package lieflat-files lieflat_text text -C link-arg=--max-memory=268435456
  node web/example-plan.mjs
}

wasm=yes
one_file=no
for argument in "$@"; do
  case $argument in
    --no-wasm) wasm=no ;;
    --one-file) one_file=yes ;;
    *) die 'usage: bash web/build.sh [--no-wasm] [--one-file]' ;;
  esac
done

install_tools
if [[ $wasm == no ]]; then
  [[ -f $pkg/lieflat_web.js ]] || die 'no package is built yet: run this without --no-wasm'
else
  build_packages
fi
node web/bundle.mjs
node web/weigh.mjs
if [[ $one_file == yes ]]; then node web/one-file.mjs; fi
