#!/usr/bin/env bash
# Some thousands of random necklines through the core and through numpy, scipy and shapely, compared:
# bash tests/reference/differential.sh [how many] [seed]
set -euo pipefail

# shellcheck source=tests/reference/venv.sh
source "$(dirname "${BASH_SOURCE[0]}")/venv.sh"

cd "$root"
cargo build --quiet --package lieflat-tests --example plan_lines
PYTHONDONTWRITEBYTECODE=1 "$python" "$reference/differential.py" target/debug/examples/plan_lines "${1:-3000}" "${2:-1}"
