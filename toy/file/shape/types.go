// Package shape reads the tree of a toy file into Go structs, strictly, and makes
// the JSON Schema and the reference tables from the same structs, so that the
// three cannot differ.
//
// A struct is a map of the file. Its fields carry tags:
//
//	key:"blank"          the key; a field without one is not read
//	need:"yes"           the key must be there
//	oneof:"face|edge"    the words that may stand there
//	most:"1000"          the largest whole number
//	pick:"one"           exactly one of the struct's keys with this tag is there;
//	                     on an embedded Place it goes for all its keys
//	says:"…"             a sentence for the reference and the schema
//
// A field is a [Formula], [Word], [Text], [Flag] or [Count], a struct, a pointer
// to one (nil where the key is absent), a slice, a [OneOrMany], a [Named], or a
// type with methods of its own ([Custom]). Each value keeps its place in the
// file; what is absent has the zero Range.
//
// Start with [Decode].
package shape

import (
	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// Place is embedded in a struct that wants to know where in the file it stands.
type Place struct{ At source.Range }

// Formula is a length, an angle or a number, or a formula for one, as written.
type Formula struct {
	Text string
	At   source.Range
}

// Word is a name: letters a to z, digits and hyphens, the first a letter; or one of the
// words of the field's oneof tag.
type Word struct {
	Text string
	At   source.Range
}

// Text is any text.
type Text struct {
	Text string
	At   source.Range
}

// Flag is yes or no, true or false.
type Flag struct {
	Is bool
	At source.Range
}

// Count is a whole number from 0 to the field's most tag.
type Count struct {
	N  int
	At source.Range
}

// Pair is an entry of a Named.
type Pair[T any] struct {
	Key   Word
	Value T
}

// Named is a map whose keys are names of the author's own, in the order of the
// file.
type Named[T any] []Pair[T]

// OneOrMany is one T, or a list of them.
type OneOrMany[T any] struct {
	Items []T
	At    source.Range
}

// Custom is a type that reads and describes itself: one that may be written in
// several ways. Both methods have pointer receivers.
type Custom interface {
	FromNode(n *tree.Node, r *Reader)
	Schema(g *Generator) map[string]any
}

func (Named[T]) isNamed()         {}
func (OneOrMany[T]) isOneOrMany() {}

type (
	named     interface{ isNamed() }
	oneOrMany interface{ isOneOrMany() }
)
