#!/usr/bin/env bash
# Installs what the tests need where it is missing, with `core` only what those of the Rust core need. Quick when all is there.
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/../web/tools.sh"

# Older ones lack commands that the pinned driver gives.
least_firefox=150

as_root() {
  if [[ $(id -u) == 0 ]]; then "$@"; else sudo "$@"; fi
}

# With today's package lists: a new machine's own may name browsers of long ago.
apt_install() {
  need_command apt-get "install $* by other means"
  as_root apt-get update -qq
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@"
}

# A command, and the package that brings it.
need() { command -v "$1" >/dev/null || missing+=("$2"); }

# Poppler and qpdf draw, measure and check the printed sheets.
need_core_packages() {
  local missing=()
  need pdftoppm poppler-utils
  need qpdf qpdf
  ((${#missing[@]} == 0)) || apt_install "${missing[@]}"
}

# Reads the pieces that are written as DXF.
need_ezdxf() {
  need_command python3 'install Python 3'
  local wanted=$root/tests/dxf/requirements.txt venv=$root/target/dxf-venv
  cmp -s "$wanted" "$venv/installed.txt" && return
  python3 -m venv "$venv"
  "$venv/bin/python" -m pip install --quiet --disable-pip-version-check -r "$wanted"
  cp "$wanted" "$venv/installed.txt"
}

# Firefox and WebKit on a virtual screen are the other two engines; zbar reads a printed code.
need_packages() {
  local missing=()
  need chromium chromium
  need chromium-headless-shell chromium-headless-shell
  need chromedriver chromium-driver
  firefox_will_do || missing+=(firefox-esr)
  need WebKitWebDriver webkit2gtk-driver
  need zbarimg zbar-tools
  need xvfb-run xvfb
  need xauth xauth
  need dbus-daemon dbus
  ((${#missing[@]} == 0)) || apt_install "${missing[@]}"
  firefox_will_do || die "Firefox $least_firefox or newer is needed"
}

firefox_will_do() {
  local version
  version=$(firefox-esr --version 2>/dev/null | grep -Eo '[0-9]+' | head -1)
  ((${version:-0} >= least_firefox))
}

# A pared-down Rust comes without these two.
need_rust_component() {
  local component=$1 command=$2
  cargo "$command" --version >/dev/null 2>&1 && return
  need_command rustup "install cargo $command by other means"
  rustup component add "$component"
}

need_command cargo 'install Rust'
need_rust_component rustfmt fmt
need_rust_component clippy clippy
need_core_packages
need_ezdxf
need_npm_packages tests/generated
[[ ${1:-} != core ]] || exit 0
need_wasm_target
need_packages
need_npm_packages web
need_npm_packages tests/browser
need_bindgen

chromium --version
chromedriver --version
firefox-esr --version
"$bindgen" --version
echo "node $(node --version)"
