#!/usr/bin/env bash
# Builds the page into target/dist: the files of www/ and, under pkg/, the
# WebAssembly package. Installs what is missing, prints what every file weighs,
# and fails when the page is over its weight budget.
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/tools.sh"
cd "$root"

# Compressed bytes; a kB is 1000 of them.
wasm_budget=150000
first_visit_budget=250000

pkg=target/pkg
dist=target/dist

install_tools() {
  need_wasm_target
  need_bindgen
  need_npm_packages
}

# wasm-opt reads from the file which features rustc let itself use, all of them
# years old in Chromium, Firefox and Safari, and keeps to those. Told to use all
# that it knows (-all), it could pick some that a browser lacks.
build_package() {
  cargo build --release --target "$wasm_target" --target-dir target -p lieflat-web
  rm -rf "$pkg"
  "$bindgen" --target web --no-typescript --out-dir "$pkg" \
    "target/$wasm_target/release/lieflat_web.wasm"
  local wasm=$pkg/lieflat_web_bg.wasm
  "$npm_folder/node_modules/.bin/wasm-opt" -Oz --strip-debug --strip-producers \
    "$wasm" -o "$wasm"
}

assemble() {
  rm -rf "$dist"
  cp -R www "$dist"
  cp -R "$pkg" "$dist/pkg"
}

# Every file of target/dist counts towards the first visit. No visit can load
# more than that, so the sum is never too kind, and there is no list of loaded
# files to fall out of date.
weigh() {
  local file raw packed total_raw=0 total=0 wasm=0
  printf '%10s %10s  %s\n' bytes 'gzip -9' file
  while IFS= read -r -d '' file; do
    raw=$(wc -c <"$file")
    packed=$(gzip -9nc "$file" | wc -c)
    printf '%10d %10d  %s\n' "$raw" "$packed" "${file#"$dist"/}"
    total_raw=$((total_raw + raw))
    total=$((total + packed))
    if [[ $file == *.wasm ]]; then wasm=$((wasm + packed)); fi
  done < <(find "$dist" -type f -print0 | LC_ALL=C sort -z)
  printf '%10d %10d  all files\n' "$total_raw" "$total"
  within 'wasm' "$wasm" "$wasm_budget"
  within 'first visit' "$total" "$first_visit_budget"
}

within() {
  local what=$1 weight=$2 budget=$3
  echo "$what: $weight of $budget bytes, gzipped"
  ((weight <= budget)) || die "$what is over its budget by $((weight - budget)) bytes"
}

install_tools
build_package
assemble
weigh
