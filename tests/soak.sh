#!/usr/bin/env bash
# An hour's use in some minutes: bash tests/soak.sh [EDITS]
# 10,000 edits, 200 saves and 50 PDFs in Chromium. Prints what the page takes up meanwhile, and fails where
# it grows without end, where anything is logged as an error, or where figures differ from a fresh page's.
# Run `bash web/build.sh` first.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
exec node tests/browser/soak.mjs "$@"
