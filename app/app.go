// Package app has the verbs that the command line, and later the browser page,
// share: open a toy, prove it, list what it takes, draw it. It works on texts and
// bytes; files are the caller's.
package app

import (
	"slices"

	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy"
	"dryfit/toy/file"
)

// Version is the version of the program.
const Version = "0.1.0"

// Toy is an opened toy with what has been derived from it so far.
type Toy struct {
	*toy.Toy
	cache      *assembly.Cache
	name, text string
	sets       []file.Set
}

// Open reads a toy file. sets gives sizes other values for this reading. cache may
// be nil; given the cache of an earlier opening, only parts that changed are made
// again.
func Open(name, text string, sets []file.Set, cache *assembly.Cache) (*Toy, source.Problems) {
	t, probs := file.Read(source.New(name, text), sets)
	if len(probs) > 0 {
		return nil, probs
	}
	if cache == nil {
		cache = &assembly.Cache{}
	}
	return &Toy{Toy: t, cache: cache, name: name, text: text, sets: sets}, nil
}

// Model returns the toy in space, whole and as drawn.
func (t *Toy) Model() (*assembly.Model, source.Problems) {
	return assembly.Derive(t.Toy, assembly.Options{Cache: t.cache})
}

// With reads the toy again with one size at another value.
func (t *Toy) With(size, value string) (*toy.Toy, source.Problems) {
	sets := append(slices.Clone(t.sets), file.Set{Size: size, Value: value})
	return file.Read(source.New(t.name, t.text), sets)
}

// Prove makes all checks.
func (t *Toy) Prove() (*prove.Report, source.Problems) { return prove.Run(t.Toy, t.cache) }
