// Package page is what the pages of the app show of a toy, as plain data: its sizes, its pieces in
// space and how they move, its parts as they are drawn, what the proof found. It is the same
// whether it comes over HTTP from the program or from the engine in the browser.
//
// Everything here is worked out from an opened toy (app.Toy) and knows neither windows nor files.
// Lengths are mm and angles radians; texts of lengths are as the file has them.
package page

import (
	"slices"

	"dryfit/app"
	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/tree"
)

// Toy is a toy that can be read.
type Toy struct {
	Hash    string  `json:"hash"` // of the text that it is of
	Name    string  `json:"name"`
	Units   string  `json:"units"` // inch or mm
	Edition int     `json:"edition"`
	Ages    string  `json:"ages"`  // as the file says it
	About   []Field `json:"about"` // of the toy as a whole; without a text where nothing is said
	Sizes   []Size  `json:"sizes"`
	Stock   []Stock `json:"stock"`
	Parts   []Part  `json:"parts"`
}

// Stock is what blanks come from.
type Stock struct {
	Name string  `json:"name"`
	Wood string  `json:"wood"`
	Form string  `json:"form"` // board, sheet, dowel, ball
	Size float64 `json:"size"` // thickness or diameter, mm
	Text string  `json:"text"` // that, as written
}

// Size is a named size.
type Size struct {
	Name  string   `json:"name"`
	Path  string   `json:"path"`
	Text  string   `json:"text"`  // as written
	Said  string   `json:"said"`  // that, with a unit behind every number that is a length
	Says  string   `json:"says"`  // its value in the units of the file; "" where it is as written
	MM    *float64 `json:"mm"`    // null where it is no length
	Parts []string `json:"parts"` // those that it is used in, directly or through other sizes
}

// Of describes a toy.
func Of(t *app.Toy, m *assembly.Model, text string) Toy {
	out := Toy{Hash: tree.Hash(text), Name: t.Name, Units: t.Units.String(), Edition: t.Edition, Sizes: []Size{}, Stock: []Stock{}}
	f := source.New("", text)
	root, _ := tree.Parse(f)
	if n := root.At("ages"); n != nil {
		out.Ages = n.Text
	}
	out.About = aboutOf(root, handOf(t.Toy))
	for _, s := range t.Toy.Stock {
		d := Stock{Name: s.Name, Wood: s.Wood, Form: s.Form.String(), Size: mm(s.Thick)}
		key := "thick"
		if s.Form == toy.Dowel || s.Form == toy.Ball {
			d.Size, key = mm(s.Dia), "dia"
		}
		d.Text = textOf(root.At(tree.Join("stock", s.Name)), key)
		out.Stock = append(out.Stock, d)
	}
	out.Parts = PartsOf(t, m, root)
	users, _ := app.Users(f) // a toy that is drawn can be read
	for i := range out.Parts {
		p := &out.Parts[i]
		p.Users = append([]string{}, users[p.Path]...)
	}
	uses, hand := usesOf(root, t.Toy), handOf(t.Toy)
	for _, z := range t.Sizes {
		s := Size{Name: z.Name, Path: tree.Join("sizes", z.Name), Text: z.Text, Said: hand.said(z.Text), Parts: uses[z.Name]}
		if l, ok := z.Value.AsLength(t.Units); ok {
			mm := l.MM()
			s.MM = &mm
			if says := l.Number(t.Units); says != z.Text {
				s.Says = says
			}
		}
		out.Sizes = append(out.Sizes, s)
	}
	return out
}

// aboutOf are the values at the top of a file that are of the toy as a whole.
func aboutOf(root *tree.Node, h hand) []Field {
	out := []Field{}
	for _, key := range []string{"toy", "ages", "edition", "licence", "finish", "ease", "note"} {
		f := Field{Name: key, Path: key, Text: textOf(root, key)}
		if key == "ease" {
			h.field(&f, nil)
		} else {
			f.Plain, f.Said = true, f.Text
		}
		out = append(out, f)
	}
	return out
}

// usesOf tells for each size the parts that speak of it.
func usesOf(root *tree.Node, t *toy.Toy) map[string][]string {
	names := map[string]bool{}
	for _, z := range t.Sizes {
		names[z.Name] = true
	}
	through := map[string][]string{} // sizes that a size is made of
	for _, z := range t.Sizes {
		through[z.Name] = namesIn(z.Text, names)
	}
	stock := map[string][]string{}
	if n := root.At("stock"); n != nil {
		for _, e := range n.Entries {
			stock[e.Key.Text] = namesUnder(e.Value, names)
		}
	}
	out := map[string][]string{}
	for _, z := range t.Sizes {
		out[z.Name] = []string{}
	}
	add := func(part string, used []string) {
		for len(used) > 0 {
			z := used[0]
			if used = used[1:]; !slices.Contains(out[z], part) {
				out[z] = append(out[z], part)
				used = append(used, through[z]...)
			}
		}
	}
	for _, p := range t.Parts {
		add(p.Name, stock[p.Stock])
	}
	for _, under := range []string{"parts", "glue-ups"} {
		if n := root.At(under); n != nil {
			for _, e := range n.Entries {
				add(e.Key.Text, namesUnder(e.Value, names))
			}
		}
	}
	if n := root.At("build"); n != nil {
		for _, it := range n.Items {
			for _, e := range it.Entries { // the wheels of an axle, a peg, a hinge with its pin
				for _, key := range []string{"axle", "use", "pin"} {
					if part := e.Value.Get(key); part != nil {
						add(part.Text, namesUnder(e.Value, names))
					}
				}
			}
		}
	}
	return out
}

// namesUnder returns the names of sizes that formulas below a node speak of.
func namesUnder(n *tree.Node, names map[string]bool) (out []string) {
	if n.Kind == tree.Scalar {
		return namesIn(n.Text, names)
	}
	for _, e := range n.Entries {
		out = append(out, namesUnder(e.Value, names)...)
	}
	for _, it := range n.Items {
		out = append(out, namesUnder(it, names)...)
	}
	return out
}

func namesIn(text string, names map[string]bool) (out []string) {
	if len(text) > 2 && text[:2] == "r " {
		text = text[2:] // the radius of a corner
	}
	e, bad := formula.Parse(text)
	if bad != nil {
		return nil
	}
	for _, n := range e.Names() {
		if names[n.Text] {
			out = append(out, n.Text)
		}
	}
	return out
}

// mm returns lengths as numbers.
func mm(l measure.Length) float64 { return l.MM() }
