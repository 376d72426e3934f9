#!/usr/bin/env bash
# How strips lie off the plane, by a thin shell in three dimensions beside the plans (some minutes; pip):
# bash tests/reference/stands.sh [--nu NU] [--size MM] [--only figures|invented|garments] [brief.json ...]
set -euo pipefail

# shellcheck source=tests/reference/venv.sh
source "$(dirname "${BASH_SOURCE[0]}")/venv.sh"

cargo build --quiet --manifest-path "$root/Cargo.toml" --package lieflat --example plan
# One thread: the systems are small, and others may be building.
export PYTHONDONTWRITEBYTECODE=1 OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1
nice "$python" "$reference/stands.py" "$root/target/debug/examples/plan" "$@"
