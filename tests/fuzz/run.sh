#!/usr/bin/env bash
# Fuzzes the core and the page's readers of foreign text:
#   bash tests/fuzz/run.sh [SECONDS] [TARGET...]
# SECONDS a target, 60 unless given. TARGET is one of brief, figures, lengths, path, photo, svg, dxf, pdf
# (libFuzzer, on the nightly compiler) and texts (links and saved files, in Node);
# all of them unless named. What was found stays under target/fuzz.
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/../../web/tools.sh"
cd "$root"

fuzz_version=0.13.2
seconds=60
if [[ ${1-} =~ ^[0-9]+$ ]]; then seconds=$1 && shift; fi
targets=("$@")
if [[ ${#targets[@]} == 0 ]]; then targets=(brief figures lengths path photo svg dxf pdf texts); fi
found=$root/target/fuzz
export CARGO_TARGET_DIR=$found/build

need_fuzzer() {
  need_command rustup 'install a nightly Rust and cargo-fuzz by other means'
  rustup toolchain list | grep -q '^nightly' || rustup toolchain install nightly --profile minimal
  [[ $("$root/target/tools/bin/cargo-fuzz" --version 2>/dev/null) == "cargo-fuzz $fuzz_version" ]] && return
  CARGO_TARGET_DIR=$found/tool cargo install cargo-fuzz --version "=$fuzz_version" --locked --root "$root/target/tools" --force
}

# What each target starts from: the worked briefs, the briefs that are refused, short seeds, and the pattern files of the checks.
seed() {
  local corpus=$found/corpus
  mkdir -p "$corpus"/{brief,figures,lengths,path,photo,svg,dxf,pdf}
  for kind in svg dxf pdf; do cp tests/brought/files/*."$kind" "$corpus/$kind/"; done
  cp tests/briefs/*.json tests/briefs/refused/*.json "$corpus/brief/"
  grep -oh '"path_mm": "[^"]*"' tests/briefs/*.json | cut -d'"' -f4 | split -l 1 - "$corpus/path/brief-"
  cp tests/fuzz/seeds/paths/* "$corpus/path/"
  cp tests/fuzz/seeds/photos/* "$corpus/photo/"
  split -l 1 tests/fuzz/seeds/lengths.txt "$corpus/lengths/line-"
}

# No sanitizer: the core has no unsafe code for one to watch, and is three times as quick without.
fuzz() {
  local target=$1
  mkdir -p "$found/artifacts/$target"
  local extra=()
  if [[ -f tests/fuzz/$target.dict ]]; then extra=("-dict=tests/fuzz/$target.dict"); fi
  PATH=$root/target/tools/bin:$PATH cargo +nightly fuzz run --fuzz-dir tests/fuzz --sanitizer none "$target" \
    "$found/corpus/$target" -- -max_total_time="$seconds" -timeout=5 -rss_limit_mb=1024 -print_final_stats=1 \
    -artifact_prefix="$found/artifacts/$target/" -verbosity=1 "${extra[@]}" 2>&1 | tee "$found/$target.log" | tail -n 14
}

for target in "${targets[@]}"; do
  printf '\n== %s, %d s\n' "$target" "$seconds"
  if [[ $target == texts ]]; then
    need_npm_packages web
    node tests/fuzz/texts.mjs --seconds "$seconds"
  else
    need_fuzzer
    seed
    fuzz "$target"
  fi
done
