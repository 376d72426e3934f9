#!/usr/bin/env bash
# Installs what the tests need where it is missing. Quick when all is there.
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/../web/tools.sh"

as_root() {
  if [[ $(id -u) == 0 ]]; then "$@"; else sudo "$@"; fi
}

apt_install() {
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "$@"
}

# Package lists are fetched only when the ones at hand do not do: none yet, or
# too old to name files that still exist.
need_browser() {
  command -v chromium >/dev/null && command -v chromedriver >/dev/null && return
  need_command apt-get 'install chromium and chromedriver by other means'
  apt_install chromium chromium-driver && return
  as_root apt-get update -qq
  apt_install chromium chromium-driver
}

# The other two engines: Firefox, and WebKit on a virtual screen.
need_other_browsers() {
  local missing=()
  command -v firefox-esr >/dev/null || missing+=(firefox-esr)
  command -v WebKitWebDriver >/dev/null || missing+=(webkit2gtk-driver)
  command -v xvfb-run >/dev/null || missing+=(xvfb)
  command -v xauth >/dev/null || missing+=(xauth)
  command -v dbus-daemon >/dev/null || missing+=(dbus)
  ((${#missing[@]})) || return 0
  need_command apt-get "install ${missing[*]} by other means"
  apt_install "${missing[@]}" && return
  as_root apt-get update -qq
  apt_install "${missing[@]}"
}

# What draws, measures and checks the printed sheets.
need_sheet_tools() {
  local command missing=()
  for command in pdftoppm pdfinfo pdftotext; do
    command -v "$command" >/dev/null || missing=(poppler-utils)
  done
  command -v qpdf >/dev/null || missing+=(qpdf)
  ((${#missing[@]})) || return 0
  need_command apt-get 'install poppler-utils and qpdf by other means'
  apt_install "${missing[@]}" && return
  as_root apt-get update -qq
  apt_install "${missing[@]}"
}

# A pared-down Rust comes without these two.
need_rust_component() {
  local component=$1 command=$2
  cargo "$command" --version >/dev/null 2>&1 && return
  need_command rustup "install cargo $command by other means"
  rustup component add "$component"
}

need_wasm_target
need_rust_component rustfmt fmt
need_rust_component clippy clippy
need_browser
need_other_browsers
need_sheet_tools
need_command python3 'install Python 3'
need_npm_packages
need_bindgen

chromium --version
chromedriver --version
firefox-esr --version
"$bindgen" --version
echo "node $(node --version)"
