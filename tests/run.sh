#!/usr/bin/env bash
# The one test command: bash tests/run.sh [core|page|all|thorough]
# Installs what is missing, then runs the checks of the Rust core, or those of the page and what it is built of, or both, or, as a
# longer work of its own, all that there is in browsers: tests/browser/thorough.txt says what the others leave to it. Stops at the first
# failure.
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/../web/tools.sh"
cd "$root"

timings=()
current=
build=
build_log=target/build.log
step_began=0

finish_step() {
  timings+=("$(printf '%6d s  %s%s' $((SECONDS - step_began)) "$current" "$1")")
  current=
}

step() {
  current=$1
  step_began=$SECONDS
  shift
  printf '\n== %s\n' "$current"
  "$@"
  finish_step ''
}

report() {
  local status=$?
  # Where a step has failed before the page was built, nobody waits for it.
  if [[ -n $build ]]; then kill "$build" 2>/dev/null || true; fi
  if [[ -n $current ]]; then finish_step '  FAILED'; fi
  printf '\n== seconds per step\n'
  printf '%s\n' "${timings[@]}"
  printf '%6d s  in all\n' "$SECONDS"
  exit "$status"
}

wasm_clippy() {
  cargo clippy --target "$wasm_target" -p lieflat -- -D warnings
  cargo clippy --target "$wasm_target" -p lieflat-web -p lieflat-sheets --all-targets -- -D warnings
  cargo clippy --target "$wasm_target" -p lieflat-sheets -p lieflat-photo -p lieflat-files -- -D warnings
}

docs() {
  RUSTDOCFLAGS=-Dwarnings cargo doc --no-deps --workspace "$@"
}

# The time limits are for a busy machine; the runner's own are for an idle one.
# Doctests run natively: the browser's runner takes only tests.
wasm_tests() {
  local log=target/wasm-tests.log
  CHROMEDRIVER=$(command -v chromedriver) \
    CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER=$bindgen_test_runner \
    WASM_BINDGEN_USE_BROWSER=1 \
    WASM_BINDGEN_TEST_WEBDRIVER_JSON=$root/tests/browser/webdriver.json \
    WASM_BINDGEN_TEST_DRIVER_TIMEOUT=60 \
    WASM_BINDGEN_TEST_TIMEOUT=120 \
    cargo test --target "$wasm_target" -p lieflat-web --tests 2>&1 | tee "$log"
  # The runner is content with no tests at all; this project is not.
  grep -Eq 'test result: ok\. [1-9]' "$log" || die 'no test ran in the browser'
}

page_types() {
  "$page_packages/.bin/tsc" -p web/tsconfig.json
  "$page_packages/.bin/tsc" -p tests/tsconfig.json
}

page_lint() {
  "$page_packages/.bin/biome" check --error-on-warnings .
}

# The page takes one core for minutes, to optimise its modules; the core's checks go on meanwhile.
begin_build() {
  mkdir -p target
  bash web/build.sh >"$build_log" 2>&1 &
  build=$!
}

page_build() {
  [[ -n $build ]] || begin_build
  local status=0
  wait "$build" || status=$?
  build=
  cat "$build_log"
  return "$status"
}

# The checks wait more than they work: three files at a time. A browser that is gone must not be waited for.
browser_tests() {
  node --test --test-concurrency=3 --test-timeout=600000 "$@"
}

# All but what is left to `thorough`: files by their names, checks by patterns.
main_browser_tests() {
  local file files=() left names
  left=$(grep -Ev '^(#|$)' tests/browser/thorough.txt)
  for file in tests/browser/*.test.mjs; do
    grep -qxF "${file##*/}" <<<"$left" || files+=("$file")
  done
  names=$(grep -v '\.test\.mjs$' <<<"$left" | paste -sd '|')
  # Node asks the same of what stands above a check, which is called <root>.
  browser_tests --test-name-pattern="^(?!<root>)(?!.*(?:$names))" "${files[@]}"
}

# All of them; and what thorough.txt names must be among them, or the test command would run what it was to leave.
all_browser_tests() {
  local name ran=target/browser-tests.tap
  browser_tests tests/browser/*.test.mjs | tee "$ran"
  while read -r name; do
    if [[ $name == *.test.mjs ]]; then
      [[ -f tests/browser/$name ]] || die "thorough.txt names a file that is not there: $name"
    else
      grep -qP "^ *(?:not )?ok \d+ - .*(?:$name)" "$ran" || die "thorough.txt names no check by: $name"
    fi
  done < <(grep -Ev '^(#|$)' tests/browser/thorough.txt)
}

core() {
  step 'format' cargo fmt --all --check
  step 'clippy' cargo clippy --workspace --all-targets -- -D warnings
  step 'clippy, core without its default features' \
    cargo clippy -p lieflat --no-default-features -- -D warnings
  step 'documentation' docs
  step 'tests' cargo test --workspace
}

page() {
  step 'page: types' page_types
  step 'page: lint and format' page_lint
  step "clippy, $wasm_target" wasm_clippy
  step "documentation, $wasm_target" docs --target "$wasm_target"
  step 'wasm tests in Chromium' wasm_tests
  step 'page: build and weight' page_build
  step 'page: logic' node --test tests/page/*.test.mjs
  step 'page: browser tests' main_browser_tests
}

part=${1:-all}
trap report EXIT
case $part in
  core)
    step 'setup' bash tests/setup.sh core
    core
    ;;
  page)
    step 'setup' bash tests/setup.sh
    page
    ;;
  all)
    step 'setup' bash tests/setup.sh
    begin_build
    core
    page
    ;;
  thorough)
    step 'setup' bash tests/setup.sh
    step 'page: build and weight' page_build
    step 'page: browser tests' all_browser_tests
    ;;
  *) die "tests/run.sh takes core, page, all or thorough, not $part" ;;
esac
