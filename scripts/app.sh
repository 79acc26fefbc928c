#!/bin/sh
# Tests of the app's pages: their types, their plain functions, and the pages in a real browser
# on the program as it is built. `scripts/app.sh unit` leaves out the browser.
set -eu
cd "$(dirname "$0")/.."
ui=app/ui
made=$(mktemp -d)
trap 'rm -rf "$made"' EXIT
scripts/ui.sh
(cd $ui && node node_modules/typescript/bin/tsc -p .)
go build -o "$made/dryfit" ./cmd/dryfit
export DRYFIT="$made/dryfit"
go tool esbuild $ui/test/unit/*.mjs --bundle --platform=node --format=esm --jsx=automatic --jsx-import-source=preact \
	--outdir="$made/unit" --out-extension:.js=.mjs --log-level=warning
node --test --test-reporter=dot "$made"/unit/*.mjs
[ "${1:-}" = unit ] || node --test --test-reporter=spec --test-concurrency=1 $ui/test/browser/*.test.mjs
