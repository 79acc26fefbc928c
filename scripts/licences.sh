#!/bin/sh
# Writes LICENCES.txt: whose work is built into dryfit beside our own, and on what terms. With -c it
# only says what is missing from it.
set -eu
cd "$(dirname "$0")/.."
ui=app/ui
made=$(mktemp -d)
trap 'rm -rf "$made"' EXIT
go tool esbuild $ui/src/main.tsx --bundle --format=esm --jsx=automatic --jsx-import-source=preact --outfile="$made/app.js" --metafile="$made/meta.json" --log-level=error
packages=$(grep -oE 'node_modules/(@[a-z0-9.-]+/)?[a-z0-9.-]+/' "$made/meta.json" | sort -u | sed 's#node_modules/##; s#/$##')
if [ "${1:-}" = -c ]; then
	for p in $packages; do
		grep -q "^== npm $p$" LICENCES.txt || { echo "licences: $p is built in and not in LICENCES.txt: run scripts/licences.sh" >&2; exit 1; }
	done
	exit 0
fi
{
	echo "What is built into dryfit beside our own work, each with its licence."
	for p in $packages; do
		printf '\n== npm %s\n\n' "$p"
		cat $ui/node_modules/"$p"/LICEN[SC]E* | tr -d '\r'
	done
	printf '\n== Go github.com/alecthomas/kong\n\n'
	cat "$(go list -m -f '{{.Dir}}' github.com/alecthomas/kong)/COPYING"
	printf '\n== Go, its library\n\n'
	cat "$(go env GOROOT)/LICENSE"
	printf '\n== DejaVu Sans\n\n'
	cat paper/font/LICENSE*
} > "$made/out"
mv "$made/out" LICENCES.txt
chmod 644 LICENCES.txt
