#!/bin/sh
# Installs what the tests need beside Go and make, or names it in one line.
set -eu
cd "$(dirname "$0")/.."

# need COMMAND PACKAGE WHAT-FOR
missing=""
need() {
	command -v "$1" >/dev/null 2>&1 && return
	missing="$missing $2"
	echo "tools: $1 is missing ($3); package $2"
}
need mutool mupdf-tools "reads the coordinates of printed lines"
need qpdf qpdf "checks the syntax of PDF"
need pdftoppm poppler-utils "renders pages and reads their text"
need node nodejs "runs the geometry oracle and the WebAssembly build"
need npm npm "installs the geometry oracle, the validator of glTF and the libraries of the pages"
need chromium chromium "shows the pages of the app to their tests"
need rsvg-convert librsvg2-bin "turns SVG into PDF by another reading of it"
need admesh admesh "looks for gaps in exported solids"
need xmllint libxml2-utils "checks the syntax of SVG and 3MF"
need /usr/bin/python3 python3 "runs the reader of DXF"
if ! /usr/bin/python3 -c 'import ezdxf' 2>/dev/null; then
	missing="$missing python3-ezdxf"
	echo "tools: ezdxf of /usr/bin/python3 is missing (reads exported DXF); package python3-ezdxf"
fi

if [ -n "$missing" ]; then
	if command -v apt-get >/dev/null 2>&1 && [ "$(id -u)" = 0 ]; then
		apt-get update -qq
		# shellcheck disable=SC2086
		DEBIAN_FRONTEND=noninteractive apt-get install -y -qq $missing >/dev/null
	else
		echo "tools: install these packages and run again:$missing" >&2
		exit 1
	fi
fi
for at in oracle exchange/validator app/ui; do
	if ! [ $at/node_modules/.package-lock.json -nt $at/package-lock.json ]; then
		npm ci --prefix $at --omit=optional --ignore-scripts --no-audit --no-fund --loglevel=error
	fi
done
