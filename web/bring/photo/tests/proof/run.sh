#!/usr/bin/env bash
# The photo's proof: bash web/bring/photo/tests/proof/run.sh [FIRST LAST]
# Makes photos with known truth (seeds 1 to 20 unless told), measures them, and OpenCV and scikit-image beside it; prints one
# table and fails where a bar is missed. Several minutes; everything stays under target/photo-proof.
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../../../../.." && pwd)
cd "$root"
venv=target/photo-venv
python=$venv/bin/python
out=target/photo-proof

if ! cmp -s "$here/requirements.txt" "$venv/installed.txt"; then
  python3 -m venv "$venv"
  "$python" -m pip install --quiet --disable-pip-version-check -r "$here/requirements.txt"
  cp "$here/requirements.txt" "$venv/installed.txt"
fi
cargo build -q --release -p lieflat-photo --example measure
# The photos change only with what makes them.
seeds=("${1:-1}" "${2:-20}")
made=$(cat "$here/make.py" "$here/requirements.txt" <(echo "${seeds[*]}") | sha256sum)
if [[ $(cat "$out/made" 2>/dev/null) != "$made" ]]; then
  rm -rf "$out"
  "$python" "$here/make.py" "$out" "${seeds[@]}"
  echo "$made" >"$out/made"
fi
target/release/examples/measure "$out" >"$out/results.json"
"$python" "$here/peers.py" "$out"
"$python" "$here/table.py" "$out"
