package page

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/app"
	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

// describer tells of the steps of one list.
type describer struct {
	f      *source.File
	root   *tree.Node
	t      *app.Toy
	m      *assembly.Model
	inside string // what ids of pieces in a glue-up begin with in the toy
	count  map[string]int
	hand   hand
}

// id is the one that the next piece of a name gets, as toy/file gives it.
func (d *describer) id(name string) string {
	if d.count[name]++; d.count[name] > 1 {
		return fmt.Sprintf("%s.%d", name, d.count[name])
	}
	return name
}

// partKeys are where a step that is no put says which piece of dowel it is about, and what may be
// typed of it.
var partKeys = []struct {
	kind, part    string
	fields, holes []string
}{
	{"wheels", "axle", []string{"play", "proud", "gap", "length", "may-leave-out"}, []string{"in"}},
	{"peg", "use", []string{"as", "proud", "length", "may-leave-out"}, []string{"in"}},
	{"hinge", "pin", []string{"name", "as", "proud", "length", "may-leave-out"}, []string{"fixed", "runs"}},
}

func (d *describer) step(n *tree.Node, path string, first bool) BuildStep {
	s := BuildStep{Path: path, IDs: []string{}, Fields: []Field{}, Words: []WordList{}, Sits: []BuildSit{}, Yes: []Flag{}, GlueTo: []string{}, Body: path}
	s.Lines[0], _ = d.f.Position(n.Range.Start)
	s.Lines[1], _ = d.f.Position(max(n.Range.Start, n.Range.End-1))
	if n.Get("put") != nil {
		d.put(&s, n, first)
		return s
	}
	for _, keys := range partKeys {
		body := n.Get(keys.kind)
		if body == nil {
			continue
		}
		s.Kind, s.Body = keys.kind, path+"."+keys.kind
		s.Part, s.PartPath = textOf(body, keys.part), tree.Join(s.Body, keys.part)
		s.Fields = d.typed(body, s.Body, keys.fields)
		for _, key := range keys.holes {
			s.Words = append(s.Words, words(body, s.Body, key, "holes"))
		}
		switch keys.kind {
		case "wheels":
			s.Words = append(s.Words, words(body, s.Body, "outward", "discs"))
			s.IDs = append(s.IDs, d.id(s.Part))
			for range 2 { // ends of the axle
				for _, w := range s.Words[1].Items {
					if w != "gap" {
						s.IDs = append(s.IDs, d.id(w))
					}
				}
			}
			s.Says = "wheels on " + s.Part + " in " + strings.Join(s.Words[0].Items, " and ")
		case "peg":
			s.IDs = append(s.IDs, d.id(orElse(textOf(body, "as"), s.Part)))
			s.Says = s.IDs[0] + " in " + strings.Join(s.Words[0].Items, " and ") + ", glued"
		case "hinge":
			s.IDs = append(s.IDs, d.id(orElse(textOf(body, "as"), textOf(body, "name")+"-"+s.Part)))
			s.Yes = append(s.Yes, flag(body, s.Body, "lifts-off"))
			s.Says = fmt.Sprintf("hinge %s: %s turns on %s", textOf(body, "name"), strings.Join(s.Words[1].Items, " and "), strings.Join(s.Words[0].Items, " and "))
		}
	}
	return s
}

func orElse(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// typed returns fields that may be typed, those that are not said without a text.
func (d *describer) typed(body *tree.Node, path string, keys []string) []Field {
	out := []Field{}
	for _, key := range keys {
		f := Field{Name: key, Path: tree.Join(path, key), Text: textOf(body, key)}
		d.hand.field(&f, nil)
		out = append(out, f)
	}
	return out
}

func words(body *tree.Node, path, key, of string) WordList {
	w := WordList{Name: key, Path: tree.Join(path, key), Items: []string{}, Of: of}
	if n := body.Get(key); n != nil {
		if n.Kind == tree.Scalar {
			w.Items = append(w.Items, n.Text)
		}
		for _, it := range n.Items {
			w.Items = append(w.Items, it.Text)
		}
	}
	return w
}

func flag(body *tree.Node, path, key string) Flag {
	n := body.Get(key)
	return Flag{Name: key, Path: tree.Join(path, key), Said: n != nil, Yes: n != nil && slices.Contains([]string{"yes", "true"}, strings.ToLower(n.Text))}
}

func (d *describer) put(s *BuildStep, n *tree.Node, first bool) {
	s.Kind, s.Part, s.PartPath = "put", textOf(n, "put"), s.Path+".put"
	s.IDs = append(s.IDs, d.id(orElse(textOf(n, "as"), s.Part)))
	s.Fields = d.typed(n, s.Path, []string{"as", "may-leave-out"})
	s.Yes = append(s.Yes, flag(n, s.Path, "glued"))
	s.GlueTo = append(s.GlueTo, words(n, s.Path, "glue-to", "").Items...)
	if sits := n.Get("sits"); sits != nil {
		for _, e := range sits.Entries {
			b := BuildSit{Own: e.Key.Text, Path: tree.Join(s.Path+".sits", e.Key.Text), Text: e.Value.Text}
			b.Piece, b.Feature, b.Off, _ = file.SplitRef(b.Text)
			if b.Off != "" { // its sign stands apart
				b.Said, b.MM = b.Off[:1]+" "+d.hand.said(strings.TrimSpace(b.Off[1:])), d.hand.mm("0 "+b.Off, nil)
			}
			s.Sits = append(s.Sits, b)
		}
	}
	for i := range s.Sits {
		s.Sits[i].Axes = d.axes(d.inside+s.IDs[0], s.Sits, s.Sits[i].Own)
	}
	s.Says = s.IDs[0] + sitsOn(s, first)
	if s.Yes[0].Yes {
		s.Says += ", glued"
	} else if len(s.GlueTo) > 0 {
		s.Says += ", glued to " + strings.Join(s.GlueTo, " and ")
	}
	if d.root.At(tree.Join("glue-ups", s.Part)) == nil {
		s.Lies = d.lies(n, s)
	}
}

// sitsOn names what a piece is placed by.
func sitsOn(s *BuildStep, first bool) string {
	if first {
		return " comes first"
	}
	on, by := []string{}, []string{}
	for _, sit := range s.Sits {
		list := &by
		if sit.Own == "bottom" && sit.Feature != sit.Own {
			list = &on
		}
		if !slices.Contains(*list, sit.Piece) {
			*list = append(*list, sit.Piece)
		}
	}
	switch {
	case len(on) > 0:
		return " sits on " + strings.Join(on, " and ")
	case len(by) > 0:
		return " at " + strings.Join(by, " and ")
	}
	return ""
}

// axes are the directions that a line of sits settles: a side says it by itself, a middle or a hole
// where the piece stands.
func (d *describer) axes(id string, sits []BuildSit, own string) []int {
	if axis, ok := ownAxis(own); ok {
		return []int{axis}
	}
	out := []int{}
	if d.m == nil {
		return out
	}
	for axis := range 3 {
		said := slices.ContainsFunc(sits, func(s BuildSit) bool { a, ok := ownAxis(s.Own); return ok && a == axis })
		if !said && d.m.Fixes(id, axis) == own {
			out = append(out, axis)
		}
	}
	return out
}

// ownAxis tells which axis a word for a side, or for the middle in one direction, is about.
func ownAxis(word string) (int, bool) {
	if axis := slices.Index(toy.Middles, word); axis >= 0 {
		return axis, true
	}
	axis, _, ok := toy.SideAxis(word)
	return axis, ok
}

// ways are the words for the second direction in which a blank is laid.
var ways = []string{"up", "down", "left", "right", "forward", "back"}

// shopWords are the sides of a blank as a shop says them, in the order of toy.Side.
var shopWords = [...]string{"face", "other-face", "edge", "other-edge", "end", "other-end"}

func (d *describer) lies(n *tree.Node, s *BuildStep) *BuildLies {
	out := &BuildLies{Path: s.Path + ".lies", Length: toy.Natural.Length.String(), Way: toy.Natural.Faces.String(), Side: shopWords[toy.Natural.Side]}
	if d.t != nil {
		if p, ok := d.t.PartNamed(s.Part); ok {
			if p.Shape == toy.Sphere {
				return nil
			}
			out.Length, out.Way, out.Side = p.Lies.Length.String(), p.Lies.Faces.String(), shopWords[p.Lies.Side]
		}
	}
	own := n.Get("lies")
	if own == nil {
		return out
	}
	out.Said, out.Length = true, textOf(own, "length")
	for _, way := range ways {
		if side := own.Get(way); side != nil {
			out.Way, out.Side = way, side.Text
		}
	}
	for side, word := range shopWords { // the file may say either
		if out.Side == toy.Side(side).String() {
			out.Side = word
		}
	}
	return out
}
