#!/bin/sh
# Bundles the pages of the app into app/ui/dist, which is built into the program.
set -eu
cd "$(dirname "$0")/.."
if ! command -v npm >/dev/null 2>&1; then
	if command -v apt-get >/dev/null 2>&1 && [ "$(id -u)" = 0 ]; then
		apt-get update -qq
		DEBIAN_FRONTEND=noninteractive apt-get install -y -qq npm >/dev/null
	else
		echo "ui: npm is missing, which fetches the libraries of the pages; install it and run again" >&2
		exit 1
	fi
fi
ui=app/ui
if ! [ $ui/node_modules/.package-lock.json -nt $ui/package-lock.json ]; then
	npm ci --prefix $ui --ignore-scripts --no-audit --no-fund --loglevel=error
fi
mkdir -p $ui/dist
go tool esbuild $ui/src/main.tsx --bundle --minify --format=esm --target=es2022 --jsx=automatic --jsx-import-source=preact \
	--legal-comments=none --outfile=$ui/dist/app.js --log-level=warning
go tool esbuild $ui/src/style.css --bundle --minify --outfile=$ui/dist/app.css --log-level=warning
scripts/licences.sh -c
cp $ui/src/index.html $ui/src/icon.svg LICENCES.txt $ui/dist/
