package shop

import (
	"regexp"
	"strings"

	"dryfit/assembly"
	"dryfit/toy"
)

// Names of the file as one speaks them: the guide and the patterns say trailer frame, where
// the file says trailer-frame.

var joined = regexp.MustCompile(`[A-Za-z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)+`)

// Spoken returns what writes the names of a toy that are in a text with blanks for their
// hyphens. Other words with hyphens stay.
func Spoken(m *assembly.Model) func(string) string {
	names := map[string]bool{}
	work := func(list []toy.Work) {
		for _, w := range list {
			var o toy.Outline
			switch w := w.(type) {
			case toy.Drill:
				for _, h := range w.Holes {
					names[h.Name] = true
				}
			case toy.Saw:
				o = w.Outline
			case toy.Cut:
				o = w.Outline
			}
			for _, n := range append(o.Flats[:len(o.Flats):len(o.Flats)], o.Points...) {
				names[n.Name] = true
			}
		}
	}
	for _, p := range m.Toy.Parts {
		names[p.Name] = true
		work(p.Work)
	}
	for _, s := range m.Toy.Stock {
		names[s.Name] = true
	}
	for _, g := range m.Toy.GlueUps {
		names[g.Name] = true
		work(g.Work)
	}
	for _, p := range m.Pieces {
		for _, part := range strings.Split(p.ID, "/") {
			names[plainID(part)] = true
		}
	}
	for _, g := range m.GlueUps {
		names[plainID(g.ID)] = true
	}
	for _, h := range m.Hinges {
		names[h.Name] = true
	}
	return func(text string) string {
		return joined.ReplaceAllStringFunc(text, func(s string) string {
			if names[s] {
				return strings.ReplaceAll(s, "-", " ")
			}
			return s
		})
	}
}
