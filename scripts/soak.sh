#!/bin/sh
# Hours-long tests: a million spoiled toy files read, 20,000 proved, a program killed 1,000 times
# while it saves, and the fuzzers.
set -eu
cd "$(dirname "$0")/.."
DRYFIT_PARSES=${DRYFIT_PARSES:-1000000} DRYFIT_PROOFS=${DRYFIT_PROOFS:-20000} \
	go test ./app -run Soak -count=1 -v -timeout 6h
DRYFIT_KILLS=${DRYFIT_KILLS:-1000} go test ./app/desk -run Killed -count=1 -v -timeout 2h
DRYFIT_SOAK=1 go test ./prove/forgive -run 'Known|Full' -count=1 -v -timeout 2h
FUZZTIME=${FUZZTIME:-60s}
go test ./app -run '^$' -fuzz FuzzOpen -fuzztime "$FUZZTIME"
go test ./toy/file/tree -run '^$' -fuzz FuzzParse -fuzztime "$FUZZTIME"
go test ./toy/file/tree -run '^$' -fuzz FuzzEdit -fuzztime "$FUZZTIME"
go test ./measure/formula -run '^$' -fuzz Fuzz -fuzztime "$FUZZTIME"
go test ./geom/outline -run '^$' -fuzz FuzzParseSVG -fuzztime "$FUZZTIME"
go test ./geom/outline -run '^$' -fuzz FuzzConvexParts -fuzztime "$FUZZTIME"
go test ./oracle -count=1 -full
