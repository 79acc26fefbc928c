// Package file reads the toy file: a strict subset of YAML (toy/file/tree) whose
// keys are the structs of this package (doc.go, by way of toy/file/shape), with
// every formula evaluated and every name looked up. Start with Read; ReadShop reads
// what tools a builder has. Edits of the
// text are in toy/file/tree.
package file

import (
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
)

// Version is the version of the toy file that this package reads.
const Version = 1

// Set gives a size of the file another value for this reading.
type Set struct{ Size, Value string }

// Read reads a toy. The toy is nil where problems are returned.
func Read(f *source.File, sets []Set) (*toy.Toy, source.Problems) {
	var d doc
	if probs := decode(f, "a toy file", &d); len(probs) > 0 {
		return nil, probs
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
