#!/usr/bin/env bash
# Works the reference values out again (a few minutes): bash tests/reference/make.sh
# With --check the committed values stay, and any difference from them fails.
set -euo pipefail

# shellcheck source=tests/reference/venv.sh
source "$(dirname "${BASH_SOURCE[0]}")/venv.sh"

export PYTHONDONTWRITEBYTECODE=1
if [[ ${1:-} == --check ]]; then
  "$python" "$reference/make.py" "$root/target/reference-values.json" "$reference/values.json"
else
  "$python" "$reference/make.py" "$reference/values.json"
fi
