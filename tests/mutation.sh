#!/usr/bin/env bash
# Changes the core in small ways, one at a time, and says which changes no check notices:
#   bash tests/mutation.sh [SHARD] [cargo-mutants arguments...]
# SHARD is k/n: every n-th change from the k-th on, 0/1 (all of them) unless given.
# There are some 2700, half a minute each: a few hundred tell the share. One file: -f core/src/knit.rs
# One after the other: two jobs would build into the same place, and each run what the other has built.
# The lists stay in target/mutation/mutants.out.
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/../web/tools.sh"
cd "$root"

mutants_version=27.1.0
shard=0/1
if [[ ${1-} =~ ^[0-9]+/[0-9]+$ ]]; then shard=$1 && shift; fi
export PATH=$root/target/tools/bin:$PATH

if [[ $(cargo mutants --version 2>/dev/null) != "cargo-mutants $mutants_version" ]]; then
  cargo install cargo-mutants --version "=$mutants_version" --locked --root "$root/target/tools" --force
fi

# The core's own tests and the one binary of checks: the printed sheets and the documentation's examples tell no more.
# The tree is copied; what is built for it is kept between runs. Fewer cases of the properties do: a check that
# notices a change only in its 250th case is no check to rely on.
export CARGO_TARGET_DIR=$root/target/mutation/build CARGO_PROFILE_DEV_DEBUG=0 PROPTEST_CASES=${PROPTEST_CASES:-32}
mkdir -p target/mutation
# Whether all holds unchanged is tried here: cargo-mutants would look for the checks in the core's own package.
cargo test --quiet --package lieflat --package lieflat-tests --lib --test checks
status=0
cargo mutants --package lieflat --test-package lieflat,lieflat-tests --shard "$shard" --sharding round-robin \
  --output target/mutation --baseline skip --timeout 120 --colors never --no-shuffle "$@" -- --lib --test checks || status=$?

# 2 says that some were missed: that is what the share below is for. Anything else is a failure of the run.
[[ $status == 0 || $status == 2 || $status == 3 ]] || exit "$status"
count() { wc -l <"target/mutation/mutants.out/$1.txt"; }
caught=$(($(count caught) + $(count timeout)))
missed=$(count missed)
printf '\nnoticed %d of %d changes (%d more do not compile): %d percent\n' \
  "$caught" $((caught + missed)) "$(count unviable)" $((caught + missed ? 100 * caught / (caught + missed) : 0))
printf 'not noticed:\n'
cat target/mutation/mutants.out/missed.txt
