# What the page's build needs, installed into this folder where it is missing.
# Sourced by web/build.sh and tests/setup.sh; every function is quick when there
# is nothing to do.
# shellcheck shell=bash

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
wasm_target=wasm32-unknown-unknown
bindgen=$root/target/tools/bin/wasm-bindgen
bindgen_test_runner=$root/target/tools/bin/wasm-bindgen-test-runner
page_packages=$root/web/node_modules

die() {
  echo "$*" >&2
  exit 1
}

need_command() {
  command -v "$1" >/dev/null || die "$1 is needed and was not found: $2"
}

# The standard library for the wasm target. The library's folder is looked for
# first, so that a Rust that came with it needs no rustup.
need_wasm_target() {
  need_command cargo 'install Rust'
  [[ -d $(rustc --print target-libdir --target "$wasm_target") ]] && return
  need_command rustup "install Rust's $wasm_target standard library by other means"
  rustup target add "$wasm_target"
}

locked_bindgen_version() {
  awk '$0 == "name = \"wasm-bindgen\"" { getline; gsub(/[^0-9.]/, "", $3); print $3 }' \
    "$root/Cargo.lock"
}

# The command must be exactly the version of the crate: the two share an
# undocumented format. No --locked: the command's own lock file names a crate
# version that was withdrawn.
need_bindgen() {
  local wanted have
  wanted=$(locked_bindgen_version)
  [[ -n $wanted ]] || die 'Cargo.lock names no version of wasm-bindgen'
  have=$("$bindgen" --version 2>/dev/null || true)
  [[ $have == "wasm-bindgen $wanted" && -x $bindgen_test_runner ]] && return
  echo "Installing wasm-bindgen-cli $wanted into target/tools (a few minutes)"
  cargo install wasm-bindgen-cli --version "=$wanted" --root "$root/target/tools" --force
}

# What a folder's package.json lists: web/ for the page and its build, tests/browser for its tests, tests/generated for
# those of the schemas. A copy of the
# lock file beside what was installed tells whether it is still current.
need_npm_packages() {
  local folder=$root/$1
  local lock=$folder/package-lock.json
  local installed=$folder/node_modules/.installed-lock.json
  need_command node 'install Node.js 20.11 or newer'
  node -e 'const [major, minor] = process.versions.node.split("."); process.exit(major > 20 || (major == 20 && minor >= 11) ? 0 : 1)' ||
    die "Node.js 20.11 or newer is needed, and this is $(node --version)"
  need_command npm 'install npm'
  cmp -s "$lock" "$installed" && return
  (cd "$folder" && npm ci --no-fund --no-audit)
  cp "$lock" "$installed"
}
