package guide

import (
	"math"
	"slices"
	"sort"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/prove"
	"dryfit/shop"
	"dryfit/toy"
)

// Each part by itself: blank, pattern, holes, openings, outlines, arrises.

// parts is the chapter of the single parts; dowels are cut in one step.
func (b *book) parts() {
	var steps []Step
	var plainOnes []*toy.Part
	for i := range b.Model.Toy.Parts {
		p := &b.Model.Toy.Parts[i]
		pieces := b.piecesOf(p)
		switch {
		case len(pieces) == 0 && p.Spare == 0:
		case p.Shape == toy.Rod:
		case p.Shape == toy.Disc:
			steps = append(steps, b.disc(p, pieces))
		case p.Shape == toy.Sphere:
			if len(p.Work) > 0 {
				steps = append(steps, b.ball(p, pieces))
			}
		case len(p.Work) == 0:
			plainOnes = append(plainOnes, p)
		default:
			steps = append(steps, b.block(p, pieces))
		}
	}
	steps = append(append(b.squares(plainOnes), steps...), b.dowels()...)
	b.chapter(b.say("chapter.parts"), b.say("chapter.parts.says"), steps)
}

func (b *book) piecesOf(p *toy.Part) (out []int) {
	for i, q := range b.Model.Pieces {
		if q.Part.Name == p.Name {
			out = append(out, i)
		}
	}
	return out
}

// titled names a part with its numbers and how many are made: make the frame (1), make
// ten wheels (6–10) and one spare.
func (b *book) titled(p *toy.Part, pieces []int) string {
	name, n := b.calledAll(p, pieces), len(pieces)
	own := n > 0 && name != plain(p.Name)
	if n+p.Spare > 1 && !own {
		name = plural(name)
	}
	if n > 0 {
		name = b.say("dowels.name", "name", name, "numbers", numbers(pieces))
	}
	switch {
	case p.Spare > 0 && n > 0:
		return b.say("make.spare", "n", b.count(n), "spare", b.count(p.Spare), "name", name, "count", p.Spare)
	case n == 1, own:
		return b.say("make.one", "name", name)
	}
	return b.say("make.many", "n", b.count(n), "name", name)
}

// wood says what stock is, with its thickness: 3/4 in beech.
func (b *book) wood(name string) string {
	st, ok := b.Model.Toy.StockNamed(name)
	if !ok {
		return name
	}
	size := st.Thick.MM()
	if st.Form == toy.Dowel || st.Form == toy.Ball {
		size = st.Dia.MM()
	}
	return b.about(size) + " " + st.Wood
}

func (b *book) block(p *toy.Part, pieces []int) Step {
	n := len(pieces) + p.Spare
	grain := "grain.along"
	stock, _ := b.Model.Toy.StockNamed(p.Stock)
	if stock.Form == toy.Sheet {
		grain = "grain.sheet"
		if w, _ := facts.Wood(stock.Wood); w.Name == "mdf" {
			grain = "grain.none"
		}
	}
	does := []string{b.says("part.blank", "n", n, "count", b.count(n), "size", b.by(p.Length.MM(), p.Width.MM()), "wood", b.wood(p.Stock), "grain", b.say(grain))}
	tasks := []string{"saw"}
	if key := small(p); key != "" {
		does = append(does, b.says("part."+key))
	}
	does = append(does, b.mirrors(p, n)...)
	more, did := b.work(p.Work, n, pieces, b.sides(p))
	pattern := patterned(p.Name, false, len(does), p.Work)
	does, tasks = append(does, more...), append(tasks, did...)
	last, did := b.smooth(p.Work, b.gluedSides(p, pieces))
	does, tasks = append(does, last...), append(tasks, did...)
	st := Step{Title: b.titled(p, pieces), Does: does, Shows: one(pieces), Pattern: pattern}
	b.made(&st, p, tasks)
	return st
}

// mirrors says of which part this one is the mirror image, and how it is got; or which
// parts are this one turned over.
func (b *book) mirrors(p *toy.Part, n int) []string {
	var others []string
	for _, o := range shop.TurnedOver(b.Model, p) {
		others = append(others, plain(o.Name))
	}
	switch {
	case len(others) > 0:
		return []string{b.says("part.serves", "others", b.listed(others))}
	case p.Mirrors == "":
		return nil
	case shop.IsTurnedOver(b.Model, p):
		return []string{b.says("part.turned", "n", n, "name", plain(p.Name), "of", plain(p.Mirrors))}
	}
	return []string{b.says("part.mirrors", "n", n, "of", plain(p.Mirrors))}
}

// sides are the words for the sides of a part: one that is another turned over has that
// one's pattern on its other face, and is worked from there.
func (b *book) sides(p *toy.Part) func(toy.Side) string {
	if !shop.IsTurnedOver(b.Model, p) {
		return shop.SideWord
	}
	return func(s toy.Side) string {
		if s == toy.Top || s == toy.Bottom {
			s = s.Opposite()
		}
		return shop.SideWord(s)
	}
}

// squares is the step of all blanks that are used as they are sawn.
func (b *book) squares(parts []*toy.Part) []Step {
	if len(parts) == 0 {
		return nil
	}
	st := Step{Title: b.say("squares"), Shows: Shows{Group: -1, Apart: true}, Does: []string{b.says("squares.how", "n", b.many(parts))}}
	glued, some := sharp{}, false
	if len(parts) == 1 {
		st.Title = b.titled(parts[0], b.piecesOf(parts[0]))
		st.Shows.Apart = false
	}
	for _, p := range parts {
		pieces := b.piecesOf(p)
		if len(pieces) > 0 {
			st.Shows.Pieces = append(st.Shows.Pieces, pieces[0])
		}
		n := len(pieces) + p.Spare
		what := b.calledAll(p, pieces)
		if what == plain(p.Name) {
			what = nounOf(p.Name, n)
		}
		if len(pieces) > 0 {
			what = b.say("dowels.name", "name", what, "numbers", numbers(pieces))
		}
		st.Measures = append(st.Measures, Measure{"", what, b.say("squares.line", "n", n, "size", b.by(p.Length.MM(), p.Width.MM()), "wood", b.wood(p.Stock))})
		own := b.gluedSides(p, pieces)
		if glued = own; len(parts) > 1 && own.n > 0 {
			st.Measures[len(st.Measures)-1].Is += b.say("but.marked", "where", b.listed(own.sides))
			some = true
		}
	}
	if len(parts) > 1 {
		glued = sharp{}
		if some {
			glued.any = true
		}
	}
	last, _ := b.smooth(nil, glued)
	st.Does = append(st.Does, last...)
	b.done(&st, Squares, "saw", "sand")
	for _, p := range parts {
		st.Bench.Parts = append(st.Bench.Parts, p.Name)
	}
	return []Step{st}
}

// small is the word for how a part is held that is too short to be held by itself; "" for others.
func small(p *toy.Part) string {
	return map[prove.Held]string{prove.OnStrip: "small", prove.InScraps: "small.end"}[prove.HeldFor(p)]
}

func one(pieces []int) Shows {
	s := Shows{Group: -1}
	if len(pieces) > 0 {
		s.Pieces = pieces[:1]
	}
	return s
}

// work tells the work on a part or glue-up of which there are n: pattern on, holes
// while the wood is square, openings, then outlines. pieces are those of the part, nil
// of a glue-up; word is how its sides are called.
func (b *book) work(work []toy.Work, n int, pieces []int, word func(toy.Side) string) (does, tasks []string) {
	does, sides := b.pattern(work, n, word)
	if len(sides) > 0 {
		tasks = append(tasks, "pattern")
	}
	more, did := b.cuts(work, pieces, word)
	return append(does, more...), append(tasks, did...)
}

// cuts tells the work itself, the pattern being on.
func (b *book) cuts(work []toy.Work, pieces []int, word func(toy.Side) string) (does, tasks []string) {
	for _, d := range alikeDrills(work) {
		if d.CounterDia > 0 {
			does = append(does, b.says("drill.counter", "bit", b.bit(d.CounterDia.MM()), "deep", b.mm(d.CounterDepth.MM()), "side", word(d.Side)))
		}
		how := b.say("drill.through")
		if d.Depth > 0 {
			how = b.say("drill.deep", "deep", b.mm(d.Depth.MM()))
		}
		deep, isDeep := b.deepOf(work, d)
		switch {
		case !isDeep:
		case d.Depth > 0:
			how = b.say("drill.deep.long", "deep", b.mm(d.Depth.MM()))
		case deep.Reached():
			how = b.say("drill.both", "deep", b.about(deep.Deep))
		default:
			how = b.say("drill.through.long", "deep", b.about(deep.Deep))
		}
		if d.Lean != 0 {
			how = b.say("drill.lean", "angle", d.Lean.Format(), "toward", b.say("seen."+[...]string{"right", "left", "up", "down"}[d.Toward]), "how", how)
		}
		does = append(does, b.says("drill", "holes", b.holes(d.Holes), "side", word(d.Side), "bit", b.bit(d.Dia.MM()), "how", how))
		tasks = append(tasks, "drill")
	}
	if try := b.tries(pieces); try != "" && len(tasks) > 0 && slices.Contains(tasks, "drill") {
		does = append(does, try)
	}
	more, did := b.openings(work, word)
	does, tasks = append(does, more...), append(tasks, did...)
	var saws []toy.Saw
	for _, w := range work {
		if s, ok := w.(toy.Saw); ok {
			saws = append(saws, s)
		}
	}
	for k, s := range saws {
		key := "saw.first"
		if k > 0 && s.Side == saws[k-1].Side {
			key = "saw.again"
		} else if k > 0 {
			key = "saw.next"
		}
		does = append(does, b.says(key, "side", word(s.Side)))
		tasks = append(tasks, "saw")
	}
	return does, tasks
}

// alikeDrills are the drillings of some work, those that differ only in their holes as one.
func alikeDrills(work []toy.Work) (out []toy.Drill) {
	for _, w := range work {
		d, ok := w.(toy.Drill)
		if !ok {
			continue
		}
		named := func(d toy.Drill) bool {
			return !slices.ContainsFunc(d.Holes, func(h toy.Hole) bool { return h.Name == "" })
		}
		k := slices.IndexFunc(out, func(o toy.Drill) bool {
			return o.Side == d.Side && o.Dia == d.Dia && o.Depth == d.Depth && o.Lean == d.Lean && o.Toward == d.Toward &&
				o.CounterDia == d.CounterDia && o.CounterDepth == d.CounterDepth && named(o) == named(d)
		})
		if k < 0 {
			d.Holes = slices.Clone(d.Holes)
			out = append(out, d)
			continue
		}
		out[k].Holes = append(out[k].Holes, d.Holes...)
	}
	return out
}

// deepOf is the deepest of the holes of some work that are drilled alike, where an ordinary
// bit does not reach through it.
func (b *book) deepOf(work []toy.Work, like toy.Drill) (deep prove.DeepHole, is bool) {
	for _, w := range work {
		d, ok := w.(toy.Drill)
		if !ok || d.Side != like.Side || d.Dia != like.Dia || d.Depth != like.Depth || d.Lean != like.Lean {
			continue
		}
		for _, h := range b.deep {
			if h.At == d.At && h.Deep > deep.Deep {
				deep, is = h, true
			}
		}
	}
	return deep, is
}

// patternSides are the sides that some work is on, but one; Side(-1): all of them.
func patternSides(work []toy.Work, but toy.Side) (sides []toy.Side) {
	for _, w := range work {
		if side, ok := toy.SideOf(w); ok && side != but && !slices.Contains(sides, side) {
			sides = append(sides, side)
		}
	}
	return sides
}

// pattern tells how the pattern goes on, and which sides it has.
func (b *book) pattern(work []toy.Work, n int, word func(toy.Side) string) (does []string, sides []toy.Side) {
	sides = patternSides(work, -1)
	if len(sides) == 0 {
		return nil, nil
	}
	sort.Slice(sides, func(i, j int) bool { return sides[i] < sides[j] })
	var names []string
	for _, s := range sides {
		names = append(names, word(s))
	}
	does = append(does, b.says("pattern", "sides", b.listed(names), "n", len(sides)))
	if n > 1 {
		does = append(does, b.says("pattern.many"))
	}
	return does, sides
}

// bit names the bit for a hole.
func (b *book) bit(mm float64) string {
	return or(shop.NameBit(mm, b.Model.Toy).Name, b.mm(mm))
}

// holes names the holes of one drilling: the rear axle and front axle holes, three holes.
func (b *book) holes(hs []toy.Hole) string {
	var names []string
	for _, h := range hs {
		if h.Name == "" {
			return b.say("holes.plain", "count", b.count(len(hs)), "n", len(hs))
		}
		names = append(names, plain(h.Name))
	}
	return b.say("holes.named", "names", b.listed(names), "n", len(hs))
}

// tries says how a dowel has to go in the holes of a part.
func (b *book) tries(pieces []int) string {
	run, glue := false, false
	for _, f := range b.Model.Fits {
		if len(pieces) > 0 && f.Piece == pieces[0] && !f.Passing {
			run, glue = run || f.Kind == assembly.Running, glue || f.Kind == assembly.Glued
		}
	}
	switch {
	case run && glue:
		return b.says("try.both")
	case run:
		return b.says("try.running")
	case glue:
		return b.says("try.glued")
	}
	return ""
}

// openings tells the cut-outs, notches and grooves.
func (b *book) openings(work []toy.Work, word func(toy.Side) string) (does, tasks []string) {
	through := map[string]int{}
	var words []string
	for _, w := range work {
		c, ok := w.(toy.Cut)
		switch {
		case !ok:
		case c.Depth > 0:
			key := "cut.deep"
			if c.Depth.MM() > prove.DeepRecess+tol.Page {
				key = "cut.bored"
			}
			does = append(does, b.says(key, "word", b.say("word."+c.Word), "deep", b.mm(c.Depth.MM()), "side", word(c.Side)))
			tasks = append(tasks, "chisel")
		default:
			if bit, bored := assembly.BoredCut(c, b.Model.Toy); bored {
				does = append(does, b.says("cut.whole", "word", b.say("word."+c.Word), "bit", bit.Name, "side", word(c.Side)))
				tasks = append(tasks, "drill")
				continue
			}
			if through[c.Word]++; through[c.Word] == 1 {
				words = append(words, c.Word)
			}
		}
	}
	for _, kind := range words {
		n := through[kind]
		key := "cut.edge"
		bits := b.pierceBits(work)
		switch {
		case kind == "cut-out" && len(bits) > 0:
			key = "cut.inside"
		case kind == "cut-out":
			key = "cut.inside.fine"
		}
		if kind == "cut-out" {
			tasks = append(tasks, "drill") // where the blade goes in
		}
		name := b.say("word." + kind)
		if n > 1 {
			name = b.count(n) + " " + plural(name)
		}
		does = append(does, b.says(key, "name", name, "n", n, "bits", b.listed(bits)))
		tasks = append(tasks, "saw")
	}
	return does, tasks
}

// smooth tells the last of the work: sanding, arrises with work of their own, easing.
// What is glued there is left out.
func (b *book) smooth(work []toy.Work, glued sharp) (does, tasks []string) {
	easing, sanding := "ease", "sand"
	for _, w := range work {
		a, ok := w.(toy.Arris)
		if !ok {
			switch w.(type) {
			case toy.Saw, toy.Cut:
				easing, sanding = "ease.lines", "sand.lines"
			}
			continue
		}
		key := "arris.chamfer"
		if a.Round {
			key = "arris.round"
		}
		where := b.say("arris.every")
		if len(a.Sides) > 0 {
			var names []string
			for _, p := range a.Sides {
				names = append(names, b.say("arris.between", "a", shop.SideWord(p[0]), "b", shop.SideWord(p[1])))
			}
			where = b.listed(names)
		}
		does = append(does, b.says(key, "where", where, "by", b.mm(a.By.MM())))
	}
	if e := b.Model.Toy.Ease.MM(); e > 0 {
		does = append(does, b.says(easing, "by", b.mm(e), "but", b.but("but.ease", "but.ease.any", glued)))
	} else {
		does = append(does, b.says(sanding, "but", b.but("but.sand", "but.sand.any", glued)))
	}
	return does, []string{"sand"}
}

func (b *book) disc(p *toy.Part, pieces []int) Step {
	n := len(pieces) + p.Spare
	st := Step{Title: b.titled(p, pieces), Shows: one(pieces)}
	slots := []any{"n", n, "count", b.count(n), "dia", b.mm(p.Length.MM()), "wood", b.wood(p.Stock), "name", plain(p.Name), "bit", b.bit(p.Bore.MM())}
	tasks := []string{"sand"}
	flat, rest := FaceWork(p)
	made, bore := or(p.Made, "sawn"), p.Bore > 0 && !DrillsBore(p)
	add := func(when bool, key, task string) {
		if when {
			st.Does, tasks = append(st.Does, b.says("disc."+key, slots...)), append(tasks, task)
		}
	}
	work := func(of []toy.Work) {
		if len(of) == 0 {
			return
		}
		if made == "sawn" && len(patternSides(of, toy.Top)) == 0 { // the circles are the pattern
			more, did := b.cuts(of, nil, b.sides(p))
			st.Does, tasks = append(st.Does, more...), append(tasks, did...)
			return
		}
		if st.Pattern.Of == "" {
			st.Pattern = patterned(p.Name, false, len(st.Does), of)
		}
		more, did := b.work(of, n, nil, b.sides(p))
		st.Does, tasks = append(st.Does, more...), append(tasks, did...)
	}
	// What is on the faces comes before the bore: a bit needs wood under its point.
	switch made {
	case "bought":
		add(true, "bought", "sand")
		work(flat)
		add(bore, "bought.bore", "drill")
	case "hole-saw":
		add(true, "hole-saw", "drill")
		add(true, "hole-saw.how", "drill")
		work(flat)
		add(bore, "middle", "drill")
	case "turned":
		add(true, "turned", "turn")
		work(flat)
		add(bore, "middle", "drill")
	default:
		st.Pattern = Pattern{Of: p.Name, Does: len(st.Does), N: 1}
		add(true, "pattern", "pattern")
		work(flat)
		add(bore, "bore", "drill")
		add(true, "saw", "saw")
		round := p.Bore > 0 && n > 1
		add(round, "true", "sand")
		add(!round, "sand", "sand")
	}
	st.Does = append(st.Does, b.mirrors(p, n)...)
	work(rest)
	if try := b.tries(pieces); try != "" && (p.Bore > 0 || slices.Contains(tasks, "drill")) {
		st.Does = append(st.Does, try)
	}
	last, did := b.smooth(nil, b.gluedSides(p, pieces))
	st.Does, tasks = append(st.Does, last...), append(tasks, did...)
	b.made(&st, p, tasks)
	return st
}

// made says who makes the pieces of a part.
func (b *book) made(st *Step, p *toy.Part, deeds []string) {
	b.done(st, Parts, deeds...)
	st.Bench.Parts = []string{p.Name}
}

// FaceWork parts the work on a disc into what is drilled and cut into its faces, and the rest.
func FaceWork(p *toy.Part) (flat, rest []toy.Work) {
	for _, w := range p.Work {
		side, ok := toy.SideOf(w)
		if _, saw := w.(toy.Saw); ok && !saw && (side == toy.Top || side == toy.Bottom) {
			flat = append(flat, w)
		} else {
			rest = append(rest, w)
		}
	}
	return flat, rest
}

// DrillsBore tells whether a drilling makes the bore of a disc.
func DrillsBore(p *toy.Part) bool {
	return slices.ContainsFunc(p.Work, func(w toy.Work) bool {
		d, ok := w.(toy.Drill)
		return ok && (d.Side == toy.Top || d.Side == toy.Bottom) && d.Depth == 0 && d.Lean == 0 && math.Abs(d.Dia.MM()-p.Bore.MM()) <= tol.Drill &&
			slices.ContainsFunc(d.Holes, func(h toy.Hole) bool {
				return math.Hypot(h.At.X.MM()-p.Length.MM()/2, h.At.Y.MM()-p.Length.MM()/2) <= tol.Page
			})
	})
}

func (b *book) ball(p *toy.Part, pieces []int) Step {
	n := len(pieces) + p.Spare
	does := []string{b.says("ball", "n", n, "count", b.count(n), "dia", b.mm(p.Length.MM()))}
	more, tasks := b.work(p.Work, n, pieces, shop.SideWord)
	st := Step{Title: b.titled(p, pieces), Does: append(does, more...), Shows: one(pieces)}
	b.made(&st, p, tasks)
	return st
}

// dowels is the step of cutting all dowels; what work they have comes after.
func (b *book) dowels() (out []Step) {
	if len(b.Lists.Dowels) == 0 {
		return nil
	}
	n := 0
	for _, d := range b.Lists.Dowels {
		for _, c := range d.Lengths {
			n += c.Count + c.Spare
		}
	}
	st := Step{Title: b.say("dowels", "n", n), Shows: Shows{Group: -1}}
	if n > 1 {
		st.Does = append(st.Does, b.says("dowels.order"))
	}
	follows := false
	for _, d := range b.Lists.Dowels {
		for _, c := range d.Lengths {
			key := "dowels.line"
			if c.Spare > 0 {
				key = "dowels.line.spare"
			}
			var of []string
			for _, name := range c.Parts {
				var own []int
				for _, n := range c.Numbers {
					if b.Model.Pieces[n-1].Part.Name == name {
						own = append(own, n)
					}
				}
				if says := b.pieceName(name, own); !slices.Contains(of, says) {
					of = append(of, says)
				}
			}
			st.Measures = append(st.Measures, Measure{
				What: b.say("dowels.what", "dia", b.mm(d.DiaMM), "name", b.listed(of), "numbers", shop.Numbers(c.Numbers)),
				Is:   b.say(key, "n", c.Count, "length", b.mm(c.LengthMM), "spare", c.Spare),
			})
			follows = follows || c.Follows
		}
	}
	if follows {
		st.Does = append(st.Does, b.says("dowels.follow"))
	}
	st.Does = append(st.Does, b.says("dowels.ends"))
	b.done(&st, Dowels, "cut-dowel", "sand")
	for i := range b.Model.Toy.Parts {
		if p := &b.Model.Toy.Parts[i]; p.Shape == toy.Rod {
			pieces := b.piecesOf(p)
			if len(pieces) > 0 {
				st.Shows.Pieces = append(st.Shows.Pieces, pieces[0])
				st.Bench.Parts = append(st.Bench.Parts, p.Name)
			}
			if len(p.Work) > 0 && len(pieces) > 0 {
				does, tasks := b.work(p.Work, len(pieces), pieces, shop.SideWord)
				own := Step{Title: b.titled(p, pieces), Does: does, Shows: one(pieces)}
				b.made(&own, p, tasks)
				out = append(out, own)
			}
		}
	}
	if len(st.Shows.Pieces) > 1 {
		st.Shows.Pieces = nil // dowels of different places make no picture
	}
	return append([]Step{st}, out...)
}

// many counts the pieces of parts, spares too, for it or them.
func (b *book) many(parts []*toy.Part) (n int) {
	for _, p := range parts {
		n += len(b.piecesOf(p)) + p.Spare
	}
	return n
}

// patterned is the pattern of some work that is told from a line of a step on.
func patterned(of string, glueUp bool, does int, work []toy.Work) Pattern {
	sides := patternSides(work, -1)
	if len(sides) == 0 {
		return Pattern{}
	}
	return Pattern{Of: of, GlueUp: glueUp, Does: does, N: len(sides)}
}
