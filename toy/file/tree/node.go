// Package tree is the text of a toy file as a tree that knows the place of every
// key and value, and edits that change one of them and no other byte.
//
// [Parse] reads a strict subset of YAML 1.2: maps and lists in block and in flow
// style, plain and quoted texts on one line, a literal text after |, comments.
// What it accepts means the same to any YAML library; what different libraries
// may read differently, or what hides more than it shows (anchors, aliases, tags,
// merge keys, directives, several documents, plain texts over several lines) it
// refuses in words. Reading takes time and memory in proportion to the text.
//
// A [Node] is found by its path: [Node.At]("parts.frame.work[2].drill.dia").
// [Apply] makes one [Edit] and hands back the edit that undoes it to the byte.
package tree

import (
	"dryfit/measure/source"
)

// Limits of a text. They are far beyond any toy and keep a mistaken or hostile
// file from taking the machine down.
const (
	MaxBytes = 4 << 20 // of text
	MaxDepth = 32      // maps and lists inside each other
	MaxNodes = 200_000 // keys, values, maps and lists
	maxKey   = 1024    // bytes of a key and its colon: YAML 1.2.2, 7.4.2, implicit keys
)

// Kind is what a node is.
type Kind uint8

// The kinds of nodes.
const (
	Scalar Kind = iota // one text; what it means is for others to say
	Map
	List
)

func (k Kind) String() string { return [...]string{"text", "map", "list"}[k] }

// Node is a value of the file. Nodes are not changed once they are read.
type Node struct {
	Kind    Kind
	Range   source.Range // from the first byte to the last, quotes and brackets included
	Entries []Entry      // of a Map, in the order of the file
	Items   []*Node      // of a List
	Text    string       // of a Scalar, without quotes and escapes
	Quoted  bool         // a Scalar in quotes, or a literal
	Flow    bool         // a Map in braces, a List in brackets

	literal bool
	dashes  []int // of a block List: the offset of each item's dash
}

// Entry is a key of a map with its value.
type Entry struct {
	Key   *Node
	Value *Node
	Range source.Range // from the key to the end of the value

	colon int // offset just after the colon
}

// Empty tells whether nothing stands where a value could: "key:" and no more.
func (n *Node) Empty() bool {
	return n == nil || n.Kind == Scalar && n.Text == "" && !n.Quoted
}

// Get returns the value of a key of a map, nil if there is none.
func (n *Node) Get(key string) *Node {
	if n == nil {
		return nil
	}
	for i := range n.Entries {
		if n.Entries[i].Key.Text == key {
			return n.Entries[i].Value
		}
	}
	return nil
}

// Same tells whether two nodes mean the same, whatever their style: the same
// kinds, keys in the same order, and texts.
func Same(a, b *Node) bool {
	if a.Kind != b.Kind || a.Text != b.Text || a.Empty() != b.Empty() ||
		len(a.Entries) != len(b.Entries) || len(a.Items) != len(b.Items) {
		return false
	}
	for i := range a.Entries {
		if a.Entries[i].Key.Text != b.Entries[i].Key.Text || !Same(a.Entries[i].Value, b.Entries[i].Value) {
			return false
		}
	}
	for i := range a.Items {
		if !Same(a.Items[i], b.Items[i]) {
			return false
		}
	}
	return true
}
