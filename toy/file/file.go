// Package file reads the toy file: a strict subset of YAML (toy/file/tree) whose
// keys are the structs of this package (doc.go, by way of toy/file/shape), with
// every formula evaluated and every name looked up. Start with Read. Edits of the
// text are in toy/file/tree.
package file

import (
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
	"dryfit/toy/file/tree"
)

// Version is the version of the toy file that this package reads.
const Version = 1

// Set gives a size of the file another value for this reading.
type Set struct{ Size, Value string }

// Read reads a toy. The toy is nil where problems are returned.
func Read(f *source.File, sets []Set) (*toy.Toy, source.Problems) {
	n, probs := tree.Parse(f)
	if len(probs) > 0 {
		return nil, probs.Sorted()
	}
	if n.Empty() {
		return nil, source.Problems{f.Problem("empty", f.Whole(), "this file is empty").Expect("a toy file, which starts with dryfit: 1")}
	}
	var d doc
	if probs = shape.Decode(f, n, &d); len(probs) > 0 {
		return nil, probs.Sorted()
	}
	t, probs := resolve(f, &d, sets)
	if len(probs) > 0 {
		return nil, probs.Sorted()
	}
	return t, nil
}

// Schema returns the JSON Schema (2020-12) of the toy file.
func Schema() ([]byte, error) { return shape.Schema(doc{}, "dryfit toy file") }

// Reference returns the keys of the toy file as Markdown tables.
func Reference() string { return shape.Reference(doc{}) }
