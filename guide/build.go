package guide

import (
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/prove"
	"dryfit/toy"
)

// build is the chapter of putting the toy together, in the order that was proved.
func (b *book) build() {
	var steps []Step
	var told []*telling
	for k, group := range b.Groups {
		if b.Order.Steps[group[0]].GlueUp == "" {
			st, t := b.together(k, group)
			steps, told = append(steps, st), append(told, t)
		}
	}
	b.tellApart(steps, told)
	for k := range steps[:max(0, len(steps)-1)] { // axle by axle, and then the glue of all sets
		if steps[k].axles() && steps[k+1].axles() {
			steps[k].Dry = ""
		}
	}
	b.chapter(b.say("chapter.build"), b.say("chapter.build.says"), steps)
}

// telling gathers what one drawing's moves are told by.
type telling struct {
	*Step
	tasks  []string
	heads  []heading
	wheels []toy.Wheels // told so far in this step
	glued  bool
}

func (b *book) together(k int, group []int) (Step, *telling) {
	st := Step{Shows: Shows{Group: k}}
	t := &telling{Step: &st}
	build := b.Model.Toy.Build
	done := -1
	for _, j := range group {
		p := b.Order.Steps[j]
		st.Bench.Moves = append(st.Bench.Moves, b.move(p))
		if p.Step < 0 || p.Step >= len(build) {
			b.tellJoin(t, p.Pieces, p.Onto)
			continue
		}
		if p.Step == done { // the wheels of an axle that has been told
			continue
		}
		done = p.Step
		switch s := build[p.Step].(type) {
		case toy.Put:
			b.tellPut(t, s, p.Pieces, len(p.Onto) == 0, len(group) > 1 || p.Step == 0)
		case toy.Wheels:
			b.tellWheels(t, s)
		case toy.Peg:
			b.tellPeg(t, s, p.Pieces, p.Onto)
		case toy.Hinge:
			b.tellHinge(t, s, p.Pieces, p.Onto)
		}
	}
	if t.glued {
		st.Dry = b.say("dry.glue")
		if slices.Contains(t.tasks, "clamp") {
			st.Dry = b.say("dry.clamp")
		}
	}
	st.Measures = b.alike(st.Measures)
	if len(t.heads) == 0 {
		t.head(heading{key: "title.start", pieces: [][]int{b.Order.Steps[group[0]].Pieces}})
	}
	st.Title = b.titleOf(t, false)
	b.done(&st, Building, t.tasks...)
	st.Bench.Glued = t.glued
	return st, t
}

// move is a move of the order as work.
func (b *book) move(p prove.StepPath) Move {
	m := Move{Pieces: p.Pieces, Onto: p.Onto}
	if p.Step >= 0 && p.Step < len(b.Model.Toy.Build) {
		switch s := b.Model.Toy.Build[p.Step].(type) {
		case toy.Put:
			m.Clamped = len(p.Onto) > 0 && (s.Glued || s.Saddle != nil && s.Saddle.Glued || len(s.GlueTo) > 0)
		case toy.Wheels:
			m.Axle = true
		default:
			m.Driven = true
		}
	}
	return m
}

// alike tells the measures of pieces of one name that have the same ones only once, under
// all their numbers.
func (b *book) alike(ms []Measure) (out []Measure) {
	same := func(one, two string) bool {
		var a, c []Measure
		for _, m := range ms {
			if m.Of == one {
				a = append(a, Measure{"", m.What, m.Is})
			}
			if m.Of == two {
				c = append(c, Measure{"", m.What, m.Is})
			}
		}
		return slices.Equal(a, c)
	}
	cut := func(of string) (name, nums string) {
		i := strings.LastIndex(of, " (")
		if i < 0 {
			return of, ""
		}
		return of[:i], strings.TrimSuffix(of[i+2:], ")")
	}
	told := map[string]string{} // what a piece is told under
	for _, of := range (Step{Measures: ms}).Ofs() {
		told[of] = of
		name, nums := cut(of)
		for _, before := range (Step{Measures: ms}).Ofs() {
			if before == of {
				break
			}
			n, more := cut(told[before])
			if (n == name || n == plural(name)) && same(before, of) && !strings.Contains(more, nums+",") {
				both := b.say("dowels.name", "name", plural(name), "numbers", more+", "+nums)
				for k, v := range told {
					if v == told[before] && k != before {
						told[k] = both
					}
				}
				told[before], told[of] = both, ""
				break
			}
		}
	}
	for _, m := range ms {
		if of := told[m.Of]; of != "" {
			m.Of = of
			out = append(out, m)
		}
	}
	return out
}

// names are the plain names of pieces, without numbers, for titles.
func (b *book) names(pieces []int) string {
	text := b.the(pieces)
	for {
		i := strings.Index(text, " (")
		if i < 0 {
			return text
		}
		j := i + strings.IndexByte(text[i:], ')')
		text = text[:i] + text[j+1:]
	}
}

// tellJoin tells that something built apart is put to the rest: onto its pegs, with
// glue, or only in its place.
func (b *book) tellJoin(t *telling, pieces, onto []int) {
	in := func(i int, list []int) bool { return slices.Contains(list, i) }
	var rods, bored []int
	var holes []string
	for _, f := range b.Model.Fits {
		if f.Kind != assembly.Glued || f.Passing || !(in(f.Rod, onto) && in(f.Piece, pieces) || in(f.Rod, pieces) && in(f.Piece, onto)) {
			continue
		}
		if !in(f.Rod, rods) {
			rods = append(rods, f.Rod)
		}
		if !in(f.Piece, bored) {
			bored = append(bored, f.Piece)
		}
		if name := b.Model.Pieces[f.Piece].Made.Bores[f.Bore].Name; name != "" {
			holes = append(holes, plain(name))
		}
	}
	if pin, hung := b.hangs(pieces, onto); pin >= 0 {
		t.head(heading{key: "title.hang", pieces: [][]int{hung}, to: []int{pin}})
		t.Does = append(t.Does, b.says("join.hang", "piece", b.the(hung), "pin", b.the([]int{pin})))
		t.tasks = append(t.tasks, "place")
		for _, s := range b.Model.Toy.Build {
			if p, ok := s.(toy.Put); ok && len(p.Sits) > 0 && slices.Equal(b.Model.Find(p.ID), hung) {
				b.where(t.Step, p, hung, "")
			}
		}
		return
	}
	if len(rods) > 0 && len(holes) > 0 {
		t.head(heading{key: "title.push", pieces: [][]int{pieces}, to: rods})
		t.Does = append(t.Does, b.says("join.glue", "piece", b.the(pieces), "rods", b.the(rods),
			"holes", b.say("holes.of", "names", b.listed(holes), "n", len(holes), "host", b.the(bored))))
		t.tasks = append(t.tasks, "glue", "tap")
		t.glued = true
	} else {
		t.head(heading{key: "title.join", pieces: [][]int{pieces}, to: onto})
		t.Does = append(t.Does, b.says("join", "pieces", b.the(pieces), "to", b.the(onto)))
		t.tasks = append(t.tasks, "place")
	}
	for _, s := range b.Model.Toy.Build { // where it sits was not told yet
		if p, ok := s.(toy.Put); ok && len(p.Sits) > 0 && slices.Equal(b.Model.Find(p.ID), pieces) {
			b.where(t.Step, p, pieces, "")
		}
	}
}

// hangs returns the pin among some pieces that others turn on, and the piece or the glue-up
// that does; -1 if there is none.
func (b *book) hangs(pieces, onto []int) (pin int, hung []int) {
	for _, f := range b.Model.Fits {
		if f.Kind != assembly.Running || f.Role != "pin" || !slices.Contains(onto, f.Rod) || !slices.Contains(pieces, f.Piece) {
			continue
		}
		for _, g := range b.Model.GlueUps {
			if slices.Contains(g.Pieces, f.Piece) {
				return f.Rod, g.Pieces
			}
		}
		return f.Rod, []int{f.Piece}
	}
	return -1, nil
}

func (b *book) tellPut(t *telling, s toy.Put, pieces []int, first, start bool) {
	if first {
		key := "put.ready"
		if start {
			key = "put.first"
		}
		t.Does = append(t.Does, b.says(key, "piece", b.the(pieces)))
		return
	}
	glued := s.Glued || s.Saddle != nil && s.Saddle.Glued || len(s.GlueTo) > 0
	host := b.hosts(s, "")
	key := "title.put"
	if b.inPlace(s, "") {
		key = "title.place"
	}
	if glued {
		key = "title.glue"
		t.tasks = append(t.tasks, "glue", "clamp")
	} else {
		t.tasks = append(t.tasks, "place")
	}
	t.glued = t.glued || glued
	t.head(heading{key: key, pieces: [][]int{pieces}, host: b.hostNames(host)})
	b.put(t.Step, s, pieces, "", glued)
}

// hosts are the pieces that a put is put on: what it is glued to, else what it lies
// against, else what it is placed by.
func (b *book) hosts(s toy.Put, within string) []int {
	full := func(id string) string {
		if within != "" {
			return within + "/" + id
		}
		return id
	}
	var ids []string
	if len(s.GlueTo) > 0 {
		ids = s.GlueTo
	} else if s.Saddle != nil {
		ids = []string{s.Saddle.Over}
	} else {
		for _, sit := range s.Sits {
			if b.isFlat(toy.Ref{Piece: full(s.ID), Feature: sit.Own}) { // lies on it with a flat
				ids = []string{sit.Target.Piece}
				break
			}
			if m := sit; within == "" && b.meets(m) || within != "" && b.meetsIn(m, within) {
				ids = []string{sit.Target.Piece}
				break
			}
		}
		if ids == nil && len(s.Sits) > 0 {
			ids = []string{s.Sits[0].Target.Piece}
		}
	}
	var out []int
	for _, id := range ids {
		out = append(out, b.Model.Find(full(id))...)
	}
	return out
}

// inPlace tells whether a put lies on nothing: a hole holds it, and it is not glued.
func (b *book) inPlace(s toy.Put, within string) bool {
	if s.Glued || len(s.GlueTo) > 0 || s.Saddle != nil || len(s.Sits) == 0 || within != "" {
		return false
	}
	return !slices.ContainsFunc(s.Sits, func(sit toy.Sit) bool {
		return b.meets(sit) || b.isFlat(toy.Ref{Piece: s.ID, Feature: sit.Own})
	}) && !strings.HasPrefix(s.Sits[0].Own, "middle") && b.isHole(s.Sits[0].Target)
}

// hostNames are the names of what something is put on, for titles: of pieces of a glue-up
// that of the glue-up.
func (b *book) hostNames(pieces []int) string {
	var names []string
	for _, i := range pieces {
		name := b.names([]int{i})
		for _, g := range b.Model.GlueUps {
			if g.ID == b.Model.Pieces[i].GlueUp {
				name = b.names(g.Pieces)
			}
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(pieces) > 0 && (len(names) < len(pieces) || b.Model.Pieces[pieces[0]].GlueUp != "") {
		return b.listed(names)
	}
	return b.names(pieces)
}

// nameOf is the name of what an id stands for.
func (b *book) nameOf(id, within string) string {
	if within != "" {
		id = within + "/" + id
	}
	for _, g := range b.Model.GlueUps {
		if g.ID == id {
			return plain(id)
		}
	}
	if of := b.Model.Find(id); len(of) == 1 {
		return b.called(of[0])
	}
	return plain(id)
}

func (b *book) meetsIn(s toy.Sit, within string) bool {
	s.Target.Piece = within + "/" + s.Target.Piece
	return b.meets(s)
}

// put tells a put in the build or in a glue-up: what goes where, its measures and what
// matters.
func (b *book) put(st *Step, s toy.Put, pieces []int, within string, glued bool) {
	host := b.hosts(s, within)
	slots := []any{"piece", b.the(pieces), "host", b.the(host)}
	key := "put"
	if b.inPlace(s, within) {
		key = "put.place"
	}
	switch {
	case s.Saddle != nil && s.Saddle.Glued:
		key = "put.saddle.glue"
	case s.Saddle != nil:
		key = "put.saddle"
	case glued:
		key = "put.glue"
	}
	st.Does = append(st.Does, b.says(key, slots...))
	b.where(st, s, pieces, within)
	if s.Keyed != "" {
		by := s.Keyed
		if within != "" {
			by = within + "/" + by
		}
		st.Does = append(st.Does, b.says("put.keyed", "by", b.named(by)))
	}
	if s.Leave != "" {
		st.Does = append(st.Does, b.says("put.leave", "piece", plain(s.ID)))
	}
}

// where tells where a put sits, and what matters there.
func (b *book) where(st *Step, s toy.Put, pieces []int, within string) {
	of := b.say("dowels.name", "name", b.nameOf(s.ID, within), "numbers", numbers(pieces))
	for _, m := range b.measures(s, within) {
		m.Of = of
		st.Measures = append(st.Measures, m)
	}
	id := s.ID
	if within != "" {
		id = within + "/" + id
	}
	st.Minds = append(st.Minds, b.slips[id]...)
}

// axleOf finds the axle that a step made.
func (b *book) axleOf(s toy.Wheels) *assembly.Axle {
	for i := range b.Model.Axles {
		if a := &b.Model.Axles[i]; b.Model.Pieces[a.Rod].ID == s.AxleID {
			return a
		}
	}
	return nil
}

func (b *book) holesOf(refs []toy.Ref) string {
	var out, names []string
	host := ""
	flush := func() {
		if len(names) > 0 {
			out = append(out, b.say("holes.of", "names", b.listed(names), "n", len(names), "host", host))
		}
	}
	for _, r := range refs {
		h := b.named(r.Piece)
		if h != host {
			flush()
			host, names = h, nil
		}
		names = append(names, plain(r.Feature))
	}
	flush()
	return b.listed(out)
}

func (b *book) tellWheels(t *telling, s toy.Wheels) {
	a := b.axleOf(s)
	if a == nil {
		return
	}
	t.head(heading{key: "title.wheels", pieces: [][]int{{a.Rod}}, host: b.hostNames(hostPieces(a))})
	t.tasks = append(t.tasks, "glue", "tap", "wax", "place")
	t.glued = true
	ends := append(append([]int(nil), a.Wheels[0]...), a.Wheels[1]...)
	slots := []any{"axle", b.the([]int{a.Rod}), "wheels", b.the(ends), "holes", b.holesOf(s.In), "n", len(a.Wheels[0]),
		"first", b.the(a.Wheels[0]), "last", b.the(a.Wheels[1]), "play", b.mm(max(0, a.Play))}
	for _, w := range t.wheels {
		if slices.Equal(w.Outward, s.Outward) { // told above
			t.Does = append(t.Does, b.says("wheels.same", slots...))
			b.axleMeasures(t.Step, a)
			return
		}
	}
	t.wheels = append(t.wheels, s)
	fixed, loose := b.axleKind(a)
	switch {
	case fixed && loose: // wheels turn on an axle that is glued in
		t.Does = append(t.Does, b.says("wheels.still.axle", slots...), b.says("wheels.still.wheels", slots...))
	default:
		t.Does = append(t.Does, b.says("wheels.wax", slots...), b.says("wheels.first", slots...), b.says("wheels.through", slots...), b.says("wheels.last", slots...))
	}
	b.axleMeasures(t.Step, a)
}

// axleKind tells whether an axle is glued into its holes, and whether wheels turn on it.
func (b *book) axleKind(a *assembly.Axle) (fixed, loose bool) {
	for _, f := range b.Model.Fits {
		if f.Rod == a.Rod && f.Role == "axle" && !f.Passing {
			fixed = fixed || f.Kind == assembly.Glued
		}
		if f.Rod == a.Rod && f.Role == "wheel" {
			loose = loose || f.Kind == assembly.Running
		}
	}
	return fixed, loose
}

func hostPieces(a *assembly.Axle) (out []int) {
	for _, h := range a.Hosts {
		if !slices.Contains(out, h.Piece) {
			out = append(out, h.Piece)
		}
	}
	return out
}

func (b *book) axleMeasures(st *Step, a *assembly.Axle) {
	add := func(what, is string) {
		m := Measure{b.say("dowels.name", "name", b.called(a.Rod), "numbers", numbers([]int{a.Rod})), what, is}
		if !slices.Contains(st.Measures, m) {
			st.Measures = append(st.Measures, m)
		}
	}
	add(b.say("axle.length"), b.mm(a.Length))
	add(b.say("axle.play"), b.say("axle.each", "by", b.mm(max(0, a.Play))))
	if len(a.Wheels[0]) > 1 && a.Gap > 0 {
		add(b.say("axle.gap"), b.mm(a.Gap))
	}
	if a.Proud > 0 {
		add(b.say("axle.proud"), b.say("axle.each", "by", b.mm(a.Proud)))
	} else if a.Proud == 0 {
		add(b.say("axle.proud"), b.say("axle.flush"))
	}
}

func (b *book) tellPeg(t *telling, s toy.Peg, pieces, onto []int) {
	var there []toy.Ref // what comes later has its own step
	for _, r := range s.In {
		if of := b.Model.Find(r.Piece); len(of) > 0 && slices.Contains(onto, of[0]) {
			there = append(there, r)
		}
	}
	if len(there) == 0 {
		there = s.In
	}
	t.head(heading{key: "title.peg", pieces: [][]int{pieces}})
	t.tasks = append(t.tasks, "glue", "tap")
	t.glued = true
	t.Does = append(t.Does, b.says("peg", "peg", b.the(pieces), "holes", b.holesOf(there)))
	b.rodMeasures(t.Step, pieces, s.Proud.MM(), s.Length != nil)
	if s.Leave != "" {
		t.Does = append(t.Does, b.says("put.leave", "piece", plain(s.ID)))
	}
}

func (b *book) tellHinge(t *telling, s toy.Hinge, pieces, onto []int) {
	t.head(heading{key: "title.peg", pieces: [][]int{pieces}})
	t.tasks = append(t.tasks, "glue", "tap", "wax")
	t.glued = true
	held := map[string]bool{}
	for _, r := range slices.Concat(s.Fixed, s.Runs) {
		held[r.Piece] = true
	}
	all := b.say("both")
	if len(held) > 2 {
		all = b.say("all-of", "count", b.count(len(held)))
	}
	slots := []any{"all", all, "pin", b.the(pieces), "fixed", b.holesOf(s.Fixed), "runs", b.holesOf(s.Runs), "name", plain(s.Name)}
	apart := !slices.ContainsFunc(s.Runs, func(r toy.Ref) bool {
		of := b.Model.Find(r.Piece)
		return len(of) > 0 && slices.Contains(onto, of[0])
	})
	if s.LiftsOff && apart { // what lifts off is built apart, and hung on it later
		t.Does = append(t.Does, b.says("hinge.off", slots...), b.says("hinge.off.apart", slots...))
		b.rodMeasures(t.Step, pieces, b.standsOut(pieces), s.Length != nil)
		return
	}
	if s.LiftsOff {
		t.Does = append(t.Does, b.says("hinge.off", slots...), b.says("hinge.off.runs", slots...))
	} else {
		t.Does = append(t.Does, b.says("hinge.line", slots...), b.says("hinge.drive", slots...))
	}
	t.Does = append(t.Does, b.says("hinge.try", slots...))
	b.rodMeasures(t.Step, pieces, s.Proud.MM(), s.Length != nil)
}

// standsOut is how far a pin stands out of what it is glued into, before anything turns on it.
func (b *book) standsOut(pin []int) (out float64) {
	for _, h := range b.Model.Hinges {
		if len(pin) == 0 || h.Pin != pin[0] {
			continue
		}
		at, dir, _ := b.Model.Pieces[h.Pin].Axis()
		half := b.Model.Pieces[h.Pin].Made.Size.X / 2
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, f := range h.Fixed {
			if l, u, ok := assembly.Span(b.Model.Pieces[f.Piece].Body, at, dir); ok {
				lo, hi = min(lo, l), max(hi, u)
			}
		}
		if lo < hi {
			out = max(0, half-hi, lo+half)
		}
	}
	return out
}

// rodMeasures say how long a peg or pin is, and how far it stands out; cut tells that the
// file gives it a length.
func (b *book) rodMeasures(st *Step, pieces []int, proud float64, cut bool) {
	if len(pieces) == 0 {
		return
	}
	p := b.Model.Pieces[pieces[0]]
	of := b.say("dowels.name", "name", b.called(pieces[0]), "numbers", numbers(pieces))
	st.Measures = append(st.Measures, Measure{of, b.say("axle.length"), b.mm(p.Made.Size.X)})
	switch {
	case proud > 0:
		st.Measures = append(st.Measures, Measure{of, b.say("peg.proud"), b.mm(proud)})
	case !cut: // a length of its own may end anywhere
		st.Measures = append(st.Measures, Measure{of, b.say("peg.ends"), b.say("peg.flush")})
	}
}

// finish is the last chapter.
func (b *book) finish() {
	st := Step{Shows: Shows{Group: -1}, Title: b.say("finish")}
	for i := range b.Model.Pieces {
		st.Shows.Pieces = append(st.Shows.Pieces, i)
	}
	st.Does = append(st.Does, b.says("finish.sand"))
	if b.hasRunning() {
		st.Does = append(st.Does, b.says("finish.running"))
	}
	if f := b.Model.Toy.Finish; f != "" {
		st.Does = append(st.Does, b.says("finish.with", "finish", f))
	} else {
		st.Does = append(st.Does, b.says("finish.any"))
	}
	st.Does = append(st.Does, b.says("finish.rags"))
	deeds := []string{"sand", "finish"}
	if c := b.Model.Toy.Cord; c != nil {
		deeds = append(deeds, "tie")
		st.Does = append(st.Does, b.says("finish.cord", "hole", b.holesOf([]toy.Ref{c.From}), "length", b.mm(c.Length.MM()), "end", b.say("cord."+or(c.End, "plain"))))
	}
	st.Dry = b.say("dry.finish")
	b.done(&st, Finishing, deeds...)
	b.chapter(b.say("chapter.finish"), "", []Step{st})
}

func or(a, b string) string {
	if a == "" {
		return b
	}
	return a
}

func (b *book) hasRunning() bool {
	return slices.ContainsFunc(b.Model.Fits, func(f assembly.Fit) bool { return f.Kind == assembly.Running })
}
