// Package assemblytest makes models of the texts of toy files. It is for tests only.
package assemblytest

import (
	"testing"

	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/toy/file"
)

// Derive reads and derives a toy, which must be without problems.
func Derive(t testing.TB, name, text string, opt assembly.Options) *assembly.Model {
	t.Helper()
	ty, probs := file.Read(source.New(name, text), nil)
	if len(probs) > 0 {
		t.Fatal(name, probs)
	}
	m, probs := assembly.Derive(ty, opt)
	if len(probs) > 0 {
		t.Fatal(name, probs)
	}
	return m
}
