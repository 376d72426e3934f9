#!/usr/bin/env bash
# Looks over what the project depends on: bash tests/audit.sh
# Licences, versions that come twice and sources of the crates; crates that are named and not used; licences of the
# npm packages. Known advisories too, where their database can be fetched.
set -euo pipefail

# shellcheck source=web/tools.sh
source "$(dirname "${BASH_SOURCE[0]}")/../web/tools.sh"
cd "$root"

export PATH=$root/target/tools/bin:$PATH
npm_allowed='^(MIT|MIT-0|ISC|0BSD|BSD-2-Clause|BSD-3-Clause|Apache-2.0|MPL-2.0|BlueOak-1.0.0|Python-2.0|CC0-1.0|\(MIT OR .*\)|MIT OR .*)$'

# VERSION after NAME: installed into target/tools where it is not there yet.
need_tool() {
  grep -q "\"$1 $2 " target/tools/.crates2.json 2>/dev/null && return
  cargo install "$1" --version "=$2" --locked --root target/tools --force
}

npm_licences() {
  node -e '
    const { readFileSync, readdirSync, existsSync } = require("node:fs");
    const allowed = new RegExp(process.argv[2]);
    // Read in its LICENSE: its package.json says so in an older field alone.
    const read = { "parse-cache-control 1.0.1": "BSD-3-Clause" };
    const strays = [];
    let count = 0;
    const look = (folder) => {
      for (const { name } of readdirSync(folder, { withFileTypes: true }).filter((one) => one.isDirectory())) {
        const at = folder + "/" + name;
        if (name.startsWith("@")) { look(at); continue; }
        if (!existsSync(at + "/package.json")) continue;
        const { license, version } = JSON.parse(readFileSync(at + "/package.json", "utf8"));
        count++;
        if (!allowed.test(license ?? read[name + " " + version] ?? "")) strays.push(name + " " + version + ": " + license);
        if (existsSync(at + "/node_modules")) look(at + "/node_modules");
      }
    };
    look(process.argv[1]);
    console.log(process.argv[1] + ": " + count + " packages");
    if (strays.length) { console.error("licences not on the list:\n" + strays.join("\n")); process.exit(1); }
  ' "$1" "$npm_allowed"
}

need_tool cargo-deny 0.20.2
need_tool cargo-machete 0.9.2
status=0
check() {
  printf '\n== %s\n' "$1"
  shift
  "$@" || status=1
}
# Those of other systems too, which no build here has fetched.
cargo fetch --locked --quiet
check 'licences, versions and sources of crates' cargo deny --log-level warn --config .deny.toml --offline check licenses bans sources
check 'crates that are named and not used' cargo machete --skip-target-dir core web tests
need_npm_packages web
need_npm_packages tests/browser
need_npm_packages tests/generated
check 'licences of the npm packages of page and build' npm_licences web/node_modules
check 'licences of the npm packages of the browser tests' npm_licences tests/browser/node_modules
check 'licences of the npm packages of the schemas' npm_licences tests/generated/node_modules
if [[ -d tests/bench/node_modules ]]; then check 'licences of the npm peers' npm_licences tests/bench/node_modules; fi

# The database lives on a host that not every machine reaches: then this is said, and is no failure.
printf '\n== known advisories\n'
if cargo deny --config .deny.toml fetch db >target/advisories.log 2>&1; then
  cargo deny --config .deny.toml check advisories || status=1
else
  echo 'not looked up: the database of advisories cannot be reached from here'
fi
exit "$status"
