#!/usr/bin/env bash
# Line coverage of the core by its own tests and all checks: bash tests/coverage.sh [cargo llvm-cov options]
# Installs the tool and the compiler's part of it where they are missing. Fails under 95 percent of lines.
set -euo pipefail

cd "$(dirname "${BASH_SOURCE[0]}")/.."
version=0.6.21
tools=$PWD/target/tools

if [[ $("$tools/bin/cargo-llvm-cov" llvm-cov --version 2>/dev/null) != "cargo-llvm-cov $version" ]]; then
  cargo install cargo-llvm-cov --version "=$version" --locked --root "$tools" --force
fi
if ! rustup component list --installed | grep '^llvm-tools' >/dev/null; then
  rustup component add llvm-tools
fi

export PATH=$tools/bin:$PATH
cargo llvm-cov clean --workspace
# The command line's checks run the built examples, which are looked for beside the checks.
cargo build --quiet --package lieflat --examples --target-dir target/llvm-cov-target
cargo llvm-cov --no-clean --package lieflat --package lieflat-tests --lib --tests \
  --ignore-filename-regex '(^|/)(tests|web|examples)/' --fail-under-lines 95 "$@"
