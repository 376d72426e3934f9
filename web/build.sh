#!/usr/bin/env bash
# Builds the site into target/dist: www/ and web/page/ bundled, with the
# WebAssembly packages. Installs what is missing, prints what every file weighs,
# and fails when the page is over its weight budget.
#   bash web/build.sh [--no-wasm]     --no-wasm keeps the packages built last
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/tools.sh"
cd "$root"

pkg=target/pkg

install_tools() {
  need_wasm_target
  need_bindgen
  need_npm_packages
}

# wasm-opt reads from the file which features rustc let itself use, all of them
# years old in Chromium, Firefox and Safari, and keeps to those. Told to use all
# that it knows (-all), it could pick some that a browser lacks.
#
# --low-memory-unused: nothing lies in the first kilobyte, where rustc puts the
# stack. --traps-never-happen: a trap would be a panic, and the core has none.
build_package() {
  local crate=$1 name=$2 built=${1//-/_}
  shift 2
  cargo build --release --target "$wasm_target" --target-dir target -p "$crate" "$@"
  "$bindgen" --target web --no-typescript --out-dir "$pkg" --out-name "$name" \
    "target/$wasm_target/release/$built.wasm"
  local wasm=$pkg/${name}_bg.wasm
  "$npm_folder/node_modules/.bin/wasm-opt" -Oz --low-memory-unused --traps-never-happen \
    --strip-debug --strip-producers "$wasm" -o "$wasm"
}

build_packages() {
  rm -rf "$pkg"
  build_package lieflat-web lieflat_web
  # Fetched when they are asked for: the working and all sizes; the sheets.
  build_package lieflat-web lieflat_whole --features whole
  build_package lieflat-sheets lieflat_sheets
  node web/example-plan.mjs
}

install_tools
if [[ ${1-} == --no-wasm ]]; then
  [[ -f $pkg/lieflat_web.js ]] || die 'no package is built yet: run this without --no-wasm'
else
  build_packages
fi
node web/bundle.mjs
node web/weigh.mjs
