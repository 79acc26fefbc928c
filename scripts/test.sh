#!/bin/sh
# Runs all tests in groups and prints the time of each.
set -u
cd "$(dirname "$0")/.."
export CGO_ENABLED=0
failed=""
group() {
	name=$1
	shift
	echo "== $name"
	start=$(date +%s)
	"$@" || failed="$failed, $name"
	echo "== $name took $(($(date +%s) - start)) s"
}

formatted() {
	files=$(gofmt -l $(git ls-files '*.go'))
	[ -z "$files" ] || { echo "gofmt would change: $files"; return 1; }
}

builds() {
	for target in linux/amd64 darwin/arm64 windows/amd64; do
		GOOS=${target%/*} GOARCH=${target#*/} go build -o /dev/null ./cmd/dryfit || return 1
	done
	GOOS=js GOARCH=wasm go build $(go list -f '{{if .GoFiles}}{{.ImportPath}}{{end}}' ./... | grep -v '/cmd/dryfit$' | grep -v '/oracle') || return 1
	echo "linux, darwin, windows and js/wasm build"
}

# The same answers natively and in WebAssembly.
same() {
	toys="examples/quay-tram.yaml examples/tipping-wagon.yaml"
	dir=$(mktemp -d)
	trap 'rm -rf "$dir"' EXIT
	go run ./cmd/same $toys >"$dir/native" || return 1
	GOOS=js GOARCH=wasm go build -o "$dir/same.wasm" ./cmd/same || return 1
	node "$(go env GOROOT)/lib/wasm/wasm_exec_node.js" "$dir/same.wasm" $toys >"$dir/wasm" || return 1
	diff "$dir/native" "$dir/wasm" || { echo "native and WebAssembly builds differ"; return 1; }
	cat "$dir/native"
}

group "format" formatted
group "vet" go vet ./...
group "builds" builds
group "tests" go test ./...
group "app" scripts/app.sh
group "same answers in WebAssembly" same
if [ -n "$failed" ]; then
	echo "FAILED: ${failed#, }"
	exit 1
fi
echo "all groups passed"
