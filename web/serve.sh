#!/usr/bin/env bash
# Builds the page and serves it on this machine alone.
#   bash web/serve.sh [--no-build] [PORT]
# PORT is 8080 unless given; where it is taken, the next free one is used.
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/tools.sh"
cd "$root"

usage='usage: bash web/serve.sh [--no-build] [PORT]'
build=yes
port=8080
for argument in "$@"; do
  case $argument in
    --no-build) build=no ;;
    -h | --help) echo "$usage" && exit ;;
    *[!0-9]* | '') die "$usage" ;;
    *) port=$argument ;;
  esac
done

need_command python3 'install Python 3'
if [[ $build == yes ]]; then bash web/build.sh; fi
[[ -f target/dist/index.html ]] || die 'target/dist holds no page: run this without --no-build'
exec python3 web/serve.py "$port" target/dist
