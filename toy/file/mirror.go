package file

import (
	"strings"

	"dryfit/measure/source"
)

// images looks at the parts that mirror another before anything is worked out: what
// they lack would be missed all over the file.
func (r *resolver) images(d *doc) {
	var names []string // of the parts that have one
	for i := range d.Parts {
		if p := &d.Parts[i].Value; p.Mirrors.Text == "" && hasSides(d, p) {
			names = append(names, d.Parts[i].Key.Text)
		}
	}
	for i := range d.Parts {
		if p := &d.Parts[i].Value; p.Mirrors.Text != "" {
			r.image(d, d.Parts[i].Key.Text, p, names)
		}
	}
}

// image tells what is wrong with a part that mirrors another; names are those it could.
func (r *resolver) image(d *doc, name string, p *part, names []string) {
	word := p.Mirrors
	one := func(says string) *source.Problem {
		pr := r.problem("mirror", word.At, says)
		pr.Expected = "a part that has a blank or a disc itself"
		if len(names) > 0 {
			pr.Expected = "one of " + strings.Join(names, ", ")
		}
		return pr
	}
	switch other := partIn(d, word.Text); {
	case other == nil:
		pr := one("there is no part " + word.Text)
		pr.Code, pr.Nearest = "unknown-name", source.Nearest(word.Text, names)
	case word.Text == name:
		one("a part cannot be the mirror image of itself")
	case other.Mirrors.Text != "":
		one(word.Text + " is a mirror image as well")
	case !hasSides(d, other):
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
}

// mirror makes the parts that are the mirror image of another.
func (r *resolver) mirror(d *doc) {
	for i := range d.Parts {
		p, out := &d.Parts[i].Value, &r.toy.Parts[i]
		if p.Mirrors.Text == "" {
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

// hasSides tells whether a part is sawn from a board or a sheet, as far as it is written.
func hasSides(d *doc, p *part) bool {
	for i := range d.Stock {
		if form := d.Stock[i].Value.Form.Text; d.Stock[i].Key.Text == p.From.Text {
			return form == "board" || form == "sheet"
		}
	}
	return true // of no stock: that is said elsewhere
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
