#!/bin/sh
# The benchmarks, with the machine's cores, for docs/measures.md.
set -eu
cd "$(dirname "$0")/.."
echo "cores: $(nproc), $(go version)"
go test ./prove ./assembly ./geom/... ./measure/... ./toy/... ./paper/... -run '^$' -bench . -benchtime "${BENCHTIME:-1s}"
go test ./oracle -run . -count=1 -v -full
