package file

import (
	"strings"

	"dryfit/measure/source"
	"dryfit/toy"
)

// mirrors makes the parts that are the mirror image of another.
func (r *resolver) mirrors(d *doc) {
	var names []string // of the parts that have one
	for i, p := range d.Parts {
		if shape := r.toy.Parts[i].Shape; p.Value.Mirrors.Text == "" && (shape == toy.Block || shape == toy.Disc) {
			names = append(names, p.Key.Text)
		}
	}
	for i := range d.Parts {
		p, out := &d.Parts[i].Value, &r.toy.Parts[i]
		if p.Mirrors.Text == "" || !r.mirrored(d, p, out, names) {
			continue
		}
		other, _ := r.toy.PartNamed(p.Mirrors.Text)
		at := out.At
		*out = other.MirrorImage(out.Name)
		out.Spare, out.At = p.Spare.N, at
		if p.Lies != nil {
			out.Lies = r.liesOf(p.Lies)
		}
	}
}

// mirrored tells whether a part can be the mirror image that it says it is.
func (r *resolver) mirrored(d *doc, p *part, out *toy.Part, names []string) bool {
	word := p.Mirrors
	before := len(*r.probs)
	one := func(says string) *source.Problem {
		pr := r.problem("mirror", word.At, says)
		pr.Expected = "a part that is a blank or a disc itself"
		if len(names) > 0 {
			pr.Expected = "one of " + strings.Join(names, ", ")
		}
		return pr
	}
	other, otherOut := partIn(d, word.Text), (*toy.Part)(nil)
	if other != nil {
		otherOut, _ = r.toy.PartNamed(word.Text)
	}
	switch {
	case other == nil:
		pr := one("there is no part " + word.Text)
		pr.Code, pr.Nearest = "unknown-name", source.Nearest(word.Text, names)
	case word.Text == out.Name:
		one("a part cannot be the mirror image of itself")
	case other.Mirrors.Text != "":
		one(word.Text + " is a mirror image as well")
	case otherOut.Shape == toy.Rod || otherOut.Shape == toy.Sphere:
		one("a piece of dowel and a ball look the same in a mirror; only a blank or a disc has a left and a right")
	}
	for _, k := range []struct {
		has bool
		at  source.Range
		key string
	}{
		{len(p.Blank) > 0, first(p.Blank).At, "blank"},
		{p.Disc.Text != "", p.Disc.At, "disc"},
		{p.Bore.Text != "", p.Bore.At, "bore"},
		{p.Length.Text != "", p.Length.At, "length"},
		{p.Made.Text != "", p.Made.At, "made"},
		{len(p.Work) > 0, first(p.Work).At, "work"},
	} {
		if k.has {
			r.problem("unwanted", k.at, "a mirror image has no "+k.key+" of its own: all is as with "+word.Text).Expected = "lies, spare, or nothing more"
		}
	}
	return len(*r.probs) == before
}

func first[T any](list []T) (one T) {
	if len(list) > 0 {
		one = list[0]
	}
	return one
}

// partIn returns a part as it is written, nil if there is none.
func partIn(d *doc, name string) *part {
	for i := range d.Parts {
		if d.Parts[i].Key.Text == name {
			return &d.Parts[i].Value
		}
	}
	return nil
}
