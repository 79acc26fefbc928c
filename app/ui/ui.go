// Package ui is the pages of the app. Their source is TypeScript in src; scripts/ui.sh bundles it
// into dist, which is built into the program and never committed.
package ui

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var dist embed.FS

// Files returns the built pages; there are none in a program that was built without them.
func Files() fs.FS {
	f, err := fs.Sub(dist, "dist")
	if err != nil {
		panic("ui: bug: " + err.Error())
	}
	return f
}
