package prove

import (
	"fmt"
	"slices"

	"dryfit/facts"
	"dryfit/measure/source"
)

// child.material: the woods and the finish are looked up in a table. Only what is
// poisonous, treated or painted with lead fails. What troubles the maker's skin
// and lungs is minded where a child under three will mouth it, and is a note else.

var materialCheck = Check{
	ID: "child.material", Asks: "is any wood or finish one to be careful with?", run: material,
	How: "Each wood that the toy uses, what its stock is called, and the words of the finish are looked up in a table of cautions. Poisonous, treated and lead-painted wood fails at every age; wood whose past is not known and nut oils are minded; wood with irritating dust is minded under three years only, where it will be mouthed. What the file does not say about finish is taken as bare wood.",
	Limits: []Limit{
		{"woods and finishes that are poisonous, treated or painted with lead", "none", "FHSA section 2(q)(1)(A), from memory"},
		{"lead in paint and surface coatings", "90 ppm", "16 CFR 1303, from memory"},
		{"woods with irritating dust, under 3 years", "none that is mouthed", practice},
	},
}

// heed is one thing that the table says about the toy.
type heed struct {
	about, says string
	care        facts.Care
	place       Place
}

func material(r *run) {
	var notes []string
	clean := true
	for _, h := range r.heeds() {
		v := Holds
		switch h.care.Kind {
		case facts.CareNever:
			v = Fails
		case facts.CareDoubt, facts.CareNut:
			v = Mind
		case facts.CareMouthed:
			if r.underThree() {
				v = Mind
			}
		}
		if v == Holds {
			if h.care.Kind == facts.CareMouthed {
				h.says += " (for the maker: wear a dust mask; the toy is for 3 years and up)"
			}
			notes = append(notes, h.says)
			continue
		}
		clean = false
		f := Finding{Check: "child.material", About: h.about, Verdict: v, Value: 1, LimitOp: "<=", Source: h.care.Source, Says: h.says, Notes: []string{screening}, Places: []Place{h.place}}
		switch h.care.Kind {
		case facts.CareNever:
			f.Says += ": take another"
		case facts.CareMouthed:
			f.Says += ": for under 3 years take another wood"
		case facts.CareNut:
			f.Says += ": take mineral oil or beeswax instead"
		}
		r.add(f)
	}
	if r.m.Toy.Finish == "" {
		notes = append(notes, "no finish is said: the wood is taken as left bare")
	} else if len(facts.Cares("finish", r.m.Toy.Finish)) == 0 {
		notes = append(notes, fmt.Sprintf("finish %q is not in the table: take one sold for toys", r.m.Toy.Finish))
	}
	if clean {
		r.add(Finding{Check: "child.material", About: "toy", Verdict: Holds, LimitOp: "<=", Source: "table of cautions: " + practice, Notes: append(notes, screening),
			Says: "no wood or finish is poisonous, treated or painted with lead"})
	} else if len(notes) > 0 {
		last := &r.findings[len(r.findings)-1]
		last.Notes = append(notes, last.Notes...)
	}
}

// heeds looks up all woods and the finish, each stock once, in the order of use.
func (r *run) heeds() (out []heed) {
	seen := map[string]bool{}
	for i, p := range r.m.Pieces {
		st, ok := r.m.Toy.StockNamed(p.Part.Stock)
		if !ok || seen[st.Name] {
			continue
		}
		seen[st.Name] = true
		add := func(about, name string, c facts.Care, at source.Range) {
			out = append(out, heed{about: about, says: name + " " + c.Text, care: c, place: r.place(i, "", p.Body.Bounds().Center(), at)})
		}
		w, _ := facts.Wood(st.Wood)
		if c, ok := facts.WoodCare(w.Name); ok && !slices.ContainsFunc(out, func(h heed) bool { return h.says == w.Name+" "+c.Text }) {
			add(w.Name, w.Name, c, st.WoodAt)
		}
		for _, h := range facts.Cares("stock", st.Name) {
			if h.Kind != facts.CarePlain {
				add("stock "+st.Name, fmt.Sprintf("%s wood (stock %s)", h.Word, st.Name), h.Care, st.At)
			}
		}
	}
	for _, h := range facts.Cares("finish", r.m.Toy.Finish) {
		if h.Kind == facts.CarePlain || len(r.m.Pieces) == 0 {
			continue
		}
		out = append(out, heed{about: "finish " + h.Word, says: h.Word + " " + h.Text, care: h.Care,
			place: r.place(0, "", r.m.Pieces[0].Body.Bounds().Center(), r.m.Toy.FinishAt)})
	}
	return out
}
