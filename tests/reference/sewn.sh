#!/usr/bin/env bash
# What strips do once they are sewn, by a model in the plane beside the plans (some minutes; pip):
# bash tests/reference/sewn.sh [--nu NU] [--buckling] [--law log|green] [brief.json ...]
set -euo pipefail

# shellcheck source=tests/reference/venv.sh
source "$(dirname "${BASH_SOURCE[0]}")/venv.sh"

cargo build --quiet --manifest-path "$root/Cargo.toml" --package lieflat --example plan
# One thread: the systems are small, and others may be building.
export PYTHONDONTWRITEBYTECODE=1 OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1
nice "$python" "$reference/sewn.py" "$root/target/debug/examples/plan" "$@"
