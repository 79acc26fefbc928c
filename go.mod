module dryfit

go 1.26

require (
	github.com/alecthomas/kong v1.17.0 // indirect
	github.com/evanw/esbuild v0.28.2 // indirect
	github.com/goccy/go-yaml v1.19.2 // indirect
	github.com/rogpeppe/go-internal v1.16.0 // indirect
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3 // indirect
	golang.org/x/sys v0.26.0 // indirect
	golang.org/x/text v0.14.0 // indirect
	golang.org/x/tools v0.26.0 // indirect
)

tool github.com/evanw/esbuild/cmd/esbuild
