#!/usr/bin/env bash
# The one benchmark command: bash tests/bench/run.sh [--no-build]
# Measures the core, general-purpose peers, the page and its sheets in one run and
# prints one table. Rows and what they are made of stay in target/bench.
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/../../web/tools.sh"
cd "$root"

out=target/bench
python=target/bench-venv/bin/python
mkdir -p "$out"

need_peers() {
  local lock=tests/bench/package-lock.json installed=tests/bench/node_modules/.installed-lock.json
  if ! cmp -s "$lock" "$installed"; then
    (cd tests/bench && npm ci --no-fund --no-audit)
    cp "$lock" "$installed"
  fi
  cmp -s tests/bench/requirements.txt target/bench-venv/.installed && return
  python3 -m venv target/bench-venv
  "$python" -m pip install -q -r tests/bench/requirements.txt
  cp tests/bench/requirements.txt target/bench-venv/.installed
}

# The reference takes about half a minute and changes only with the outlines.
need_reference() {
  local made=$out/reference.json
  [[ $made -nt tests/bench/reference.py && $made -nt tests/bench/outlines.json ]] && return
  "$python" tests/bench/reference.py >"$made.new"
  mv "$made.new" "$made"
}

need_npm_packages web
need_npm_packages tests/browser
need_peers
need_reference
cargo build -q --profile bench -p lieflat-tests --example bench
if [[ ${1-} != --no-build ]]; then bash web/build.sh >"$out/build.log"; fi

# One after the other: nothing is measured while something else of ours runs.
target/release/examples/bench >"$out/native.json"
node tests/bench/peers.mjs >"$out/npm.json"
"$python" tests/bench/peers.py >"$out/pypi.json"
node tests/bench/wasm.mjs >"$out/wasm.json"
node tests/bench/page.mjs >"$out/page.json"
node tests/bench/table.mjs
