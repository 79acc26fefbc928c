package file

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
)

// resolver turns what is written (doc) into the toy: every formula becomes a
// number, every word a value, every name is known to exist.
type resolver struct {
	values
	toy    *toy.Toy
	pieces map[string]pieceKind // ids put so far in the build
	order  []string
	group  map[string]string // the leave-out group of a piece
	count  map[string]int
	lost   bool // a piece could not be put
}

// pieceKind tells what an id of the build stands for.
type pieceKind struct {
	part   string // of a piece
	glueUp string // of a whole glue-up
}

func resolve(f *source.File, d *doc, sets []Set) (*toy.Toy, source.Problems) {
	var probs source.Problems
	r := &resolver{
		values: values{file: f, slots: map[string]*slot{}, probs: &probs},
		toy:    &toy.Toy{File: f, Name: strings.TrimSpace(d.Toy.Text)},
		pieces: map[string]pieceKind{}, group: map[string]string{}, count: map[string]int{},
	}
	r.unit, _ = measure.ParseUnit(d.Units.Text)
	r.toy.Units = r.unit
	if !r.version(d.Dryfit) {
		return nil, probs
	}
	if r.toy.Name == "" {
		r.problem("empty", d.Toy.At, "the toy has no name")
	}
	r.ages(d)
	before := len(probs)
	if r.images(d); len(probs) > before {
		return nil, probs
	}
	r.sizes(d, sets)
	if len(probs) > 0 {
		return nil, probs // what is made with these sizes would only repeat the fault
	}
	r.stocks(d)
	r.parts(d)
	r.toy.Ease = r.positive(d.Ease, nil, "ease")
	r.glueUps(d)
	r.build(d)
	r.musts(d)
	r.extras(d)
	for _, w := range d.Waive {
		r.toy.Waivers = append(r.toy.Waivers, toy.Waiver{Check: w.Check.Text, About: w.About.Text, Reason: w.Reason.Text, At: w.At})
		if strings.TrimSpace(w.Reason.Text) == "" {
			r.problem("empty", w.At, "a waiver needs its reason")
		}
	}
	return r.toy, probs
}

var agesForm = regexp.MustCompile(`^(\d{1,2})( months| years)?( and up|\+)?$`)

func (r *resolver) ages(d *doc) {
	r.toy.Ages = toy.Ages{FromMonths: 36, At: rangeOf(d.Ages.At, d.Toy.At)}
	text := strings.TrimSpace(d.Ages.Text)
	if text == "" {
		return
	}
	m := agesForm.FindStringSubmatch(text)
	if m == nil {
		r.problem("ages", d.Ages.At, "this does not say an age").Expected = "as '3 and up' or '18 months and up'"
		return
	}
	n, _ := strconv.Atoi(m[1])
	if m[2] != " months" {
		n *= 12
	}
	r.toy.Ages.FromMonths, r.toy.Ages.Said = n, true
}

// reserved are the names that work on a blank uses for its own size.
var reserved = []string{"length", "width", "thick", "middle"}

func (r *resolver) sizes(d *doc, sets []Set) {
	for _, s := range d.Sizes {
		if word := s.Key.Text; slices.Contains(reserved, word) {
			r.problem("reserved", s.Key.At, word+" always means the blank in hand; a size needs another name")
		} else if formula.Reserved(word) {
			r.problem("reserved", s.Key.At, word+" has a meaning of its own in formulas; a size needs another name")
		}
		r.add(s.Key.Text, s.Value, true)
	}
	for _, set := range sets {
		sl, ok := r.slots[set.Size]
		if !ok {
			p := source.New("--set", set.Size+"="+set.Value).Problem("unknown-name", source.Range{Start: 0, End: len(set.Size)}, "the toy has no size "+set.Size).Near(set.Size, r.names)
			*r.probs = append(*r.probs, p)
			continue
		}
		sl.from, sl.set = shape.Formula{Text: set.Value}, set.Size
	}
	for _, s := range d.Stock {
		if s.Value.Thick.Text != "" {
			r.add(s.Key.Text+".thick", s.Value.Thick, false)
		}
		if s.Value.Dia.Text != "" {
			r.add(s.Key.Text+".dia", s.Value.Dia, false)
		}
	}
	stockOf := func(name string) *stock {
		for i := range d.Stock {
			if d.Stock[i].Key.Text == name {
				return &d.Stock[i].Value
			}
		}
		return &stock{}
	}
	for _, p := range d.Parts {
		if st := stockOf(p.Key.Text); (st.Thick.Text != "" || st.Dia.Text != "") && p.Value.From.Text != p.Key.Text {
			r.problem("name-twice", p.Key.At, "there is a stock "+p.Key.Text+" as well, and a formula could not tell the two apart").Expected = "another name for the part or the stock"
		}
		name, of := p.Key.Text, p.Value
		if other := partIn(d, of.Mirrors.Text); other != nil {
			of = *other // the mirror image has its sizes
		}
		from := stockOf(of.From.Text)
		if len(of.Blank) == 2 {
			r.add(name+".length", of.Blank[0], false)
			r.add(name+".width", of.Blank[1], false)
		}
		if of.Length.Text != "" {
			r.add(name+".length", of.Length, false)
		}
		if of.Disc.Text != "" {
			r.add(name+".dia", of.Disc, false)
		} else if from.Dia.Text != "" {
			r.add(name+".dia", from.Dia, false)
		}
		if of.Bore.Text != "" {
			r.add(name+".bore", of.Bore, false)
		}
		if from.Thick.Text != "" {
			r.add(name+".thick", from.Thick, false)
		}
	}
	for _, s := range d.Sizes {
		val, _ := r.lookup(s.Key.Text)
		r.toy.Sizes = append(r.toy.Sizes, toy.Size{Name: s.Key.Text, Text: r.slots[s.Key.Text].from.Text, Value: val, At: s.Value.At})
	}
}

func (r *resolver) stocks(d *doc) {
	for _, s := range d.Stock {
		st := toy.Stock{Name: s.Key.Text, Wood: strings.TrimSpace(s.Value.Wood.Text), At: s.Key.At, WoodAt: s.Value.Wood.At}
		round := s.Value.Form.Text == "dowel" || s.Value.Form.Text == "ball"
		switch s.Value.Form.Text {
		case "sheet":
			st.Form = toy.Sheet
		case "dowel":
			st.Form = toy.Dowel
		case "ball":
			st.Form = toy.Ball
		}
		want, other := s.Value.Thick, s.Value.Dia
		key, otherKey := "thick", "dia"
		if round {
			want, other, key, otherKey = other, want, otherKey, key
		}
		if want.Text == "" {
			r.problem("missing", s.Value.At, "a "+s.Value.Form.Text+" needs "+key).Expected = key
		}
		if other.Text != "" {
			r.problem("unwanted", other.At, "a "+s.Value.Form.Text+" has no "+otherKey)
		}
		st.Sawn, st.Longest = s.Value.Sawn.Text, r.positive(s.Value.Longest, nil, "a length")
		if st.Sawn != "" && st.Form != toy.Board {
			r.problem("unwanted", s.Value.Sawn.At, "only a board is sawn flat or on the quarter")
		}
		v := r.positive(want, nil, key)
		if round {
			st.Dia = v
		} else {
			st.Thick = v
		}
		r.toy.Stock = append(r.toy.Stock, st)
	}
}

func (r *resolver) parts(d *doc) {
	var names []string
	for _, s := range r.toy.Stock {
		names = append(names, s.Name)
	}
	for _, p := range d.Parts {
		if p.Value.Mirrors.Text != "" {
			r.toy.Parts = append(r.toy.Parts, toy.Part{Name: p.Key.Text, At: p.Key.At})
			continue // its turn comes when all others are known
		}
		out := toy.Part{Name: p.Key.Text, Stock: p.Value.From.Text, Spare: p.Value.Spare.N, Made: p.Value.Made.Text, At: p.Key.At}
		st, ok := r.toy.StockNamed(out.Stock)
		if !ok {
			pr := r.problem("unknown-name", p.Value.From.At, "there is no stock "+out.Stock)
			pr.Nearest = source.Nearest(out.Stock, names)
			pr.Expected = "one of " + strings.Join(names, ", ")
		}
		r.blank(&p.Value, st, &out)
		out.Lies = r.liesOf(p.Value.Lies)
		out.Work = r.work(p.Value.Work, &out, nil)
		r.toy.Parts = append(r.toy.Parts, out)
	}
	r.mirror(d)
}

// blank settles what the part is before any work: its stock decides which keys
// belong to it.
func (r *resolver) blank(p *part, st toy.Stock, out *toy.Part) {
	unwanted := func(f source.Range, present bool, key string) {
		if present {
			r.problem("unwanted", f, "a part from a "+st.Form.String()+" has no "+key)
		}
	}
	switch st.Form {
	case toy.Board, toy.Sheet:
		out.Thick = st.Thick
		unwanted(p.Length.At, p.Length.Text != "", "length of its own: blank has it")
		if p.Disc.Text != "" {
			out.Shape = toy.Disc
			out.Length = r.positive(p.Disc, nil, "a diameter")
			out.Width = out.Length
			out.Bore = r.positive(p.Bore, nil, "a bore")
			if out.Bore >= out.Length && out.Length > 0 {
				r.problem("too-large", p.Bore.At, "the bore leaves nothing of the disc")
			}
			if len(p.Blank) > 0 {
				r.problem("unwanted", p.Blank[0].At, "a disc has no blank: its diameter is its size")
			}
			if out.Made == "" {
				out.Made = "sawn"
			}
			return
		}
		unwanted(p.Bore.At, p.Bore.Text != "", "bore unless it is a disc")
		unwanted(p.Made.At, p.Made.Text != "", "made unless it is a disc")
		if len(p.Blank) != 2 {
			r.problem("missing", p.At, "a part from a "+st.Form.String()+" needs blank: [length, width], or disc: diameter").Expected = "blank or disc"
			return
		}
		out.Length = r.positive(p.Blank[0], nil, "a length")
		out.Width = r.positive(p.Blank[1], nil, "a width")
	case toy.Dowel, toy.Ball:
		for _, b := range p.Blank {
			unwanted(b.At, true, "blank")
			break
		}
		unwanted(p.Disc.At, p.Disc.Text != "", "disc")
		unwanted(p.Bore.At, p.Bore.Text != "", "bore: drill it")
		unwanted(p.Made.At, p.Made.Text != "", "made")
		out.Width, out.Thick = st.Dia, st.Dia
		if st.Form == toy.Ball {
			out.Shape, out.Length = toy.Sphere, st.Dia
			unwanted(p.Length.At, p.Length.Text != "", "length")
			return
		}
		out.Shape = toy.Rod
		out.Length = r.positive(p.Length, nil, "a length")
	}
}

func (r *resolver) glueUps(d *doc) {
	for _, g := range d.GlueUps {
		name := g.Key.Text
		if _, clash := r.toy.PartNamed(name); clash {
			r.problem("name-twice", g.Key.At, "a part and a glue-up cannot share the name "+name)
		}
		outer := *r
		r.pieces, r.order, r.group, r.count = map[string]pieceKind{}, nil, map[string]string{}, map[string]int{}
		out := toy.GlueUp{Name: name, At: g.Key.At}
		for i := range g.Value.Pieces {
			p := &g.Value.Pieces[i]
			if p.Leave.Text != "" {
				r.problem("unwanted", p.Leave.At, "a piece of a glue-up cannot be left out")
			}
			if q, ok := r.put(p, false); ok {
				q.Glued = q.Glued || len(out.Pieces) > 0
				out.Pieces = append(out.Pieces, q)
			}
		}
		if len(out.Pieces) > 0 {
			first, _ := r.toy.PartNamed(out.Pieces[0].Part)
			out.Work = r.work(g.Value.Work, first, r.pieces)
		} else {
			r.problem("empty", g.Key.At, "a glue-up needs pieces")
		}
		r.pieces, r.order, r.group, r.count = outer.pieces, outer.order, outer.group, outer.count
		r.toy.GlueUps = append(r.toy.GlueUps, out)
	}
}

// extras reads edition and licence, the cover, the finish, the cord, the shop and the climate.
func (r *resolver) extras(d *doc) {
	r.toy.Edition, r.toy.Licence = d.Edition.N, strings.TrimSpace(d.Licence.Text)
	r.cover(d.Cover)
	r.toy.Finish, r.toy.FinishAt = strings.TrimSpace(d.Finish.Text), d.Finish.At
	if c := d.Cord; c != nil {
		out := &toy.Cord{Length: r.positive(c.Length, nil, "a cord"), End: c.End.Text, At: c.Place.At}
		if out.End == "" {
			out.End = "plain"
		}
		if refs := r.holes(shape.OneOrMany[shape.Text]{Items: []shape.Text{c.From}}); len(refs) == 1 {
			out.From = refs[0]
		}
		r.toy.Cord = out
	}
	if d.Shop != nil {
		r.toy.Shop = r.shop(d.Shop, toy.FromFile)
	}
	if d.Climate.Text != "" {
		r.toy.Climate = &toy.Climate{Text: strings.TrimSpace(d.Climate.Text), From: toy.FromFile, At: d.Climate.At}
	}
}

func (r *resolver) musts(d *doc) {
	var hinges []string
	for _, s := range r.toy.Build {
		if h, ok := s.(toy.Hinge); ok {
			hinges = append(hinges, h.Name)
		}
	}
	for _, m := range d.Must {
		out := toy.Must{At: m.At}
		switch {
		case m.Rolls:
			out.Kind = toy.MustRoll
		case m.Swings.Text != "":
			out.Kind, out.Hinge = toy.MustSwing, m.Swings.Text
			out.Angle, out.EachWay = r.angle(m.Least, 180), m.Each.Is
			if m.Least.Text == "" {
				r.problem("missing", m.At, "how far must it swing?").Expected = "at-least: an angle"
			}
			known := false
			for _, h := range hinges {
				known = known || h == out.Hinge
			}
			if !known {
				p := r.problem("unknown-name", m.Swings.At, "there is no hinge "+out.Hinge)
				p.Nearest, p.Expected = source.Nearest(out.Hinge, hinges), "the name of a hinge in the build"
				if len(hinges) > 0 {
					p.Expected = "one of " + strings.Join(hinges, ", ")
				}
			}
		case m.Stands.Text != "":
			out.Kind, out.Angle = toy.MustStand, r.angle(m.Stands, 80)
		case m.Clears.Text != "":
			out.Kind, out.Length = toy.MustClear, r.positive(m.Clears, nil, "clearance")
		case m.Turns.Text != "":
			out.Kind, out.Length = toy.MustTurn, r.positive(m.Turns, nil, "circle")
		default:
			r.problem("must", m.At, "this does not say what the toy must do").Expected = "rolls, swings, stands-on-slope, clears-floor or turns-in"
		}
		if m.Swings.Text == "" && (m.Least.Text != "" || m.Each.Is) {
			r.problem("unwanted", m.At, "at-least and each-way go with swings")
		}
		for _, old := range r.toy.Musts {
			if old.Kind == out.Kind && old.Hinge == out.Hinge {
				r.problem("twice", m.At, "the toy must already do this, by another line").Expected = "one line for each thing it must do"
			}
		}
		r.toy.Musts = append(r.toy.Musts, out)
	}
}
