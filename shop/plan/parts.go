package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/guide"
	"dryfit/measure"
	"dryfit/prove"
	"dryfit/shop"
	"dryfit/toy"
)

// What is done to boards: planed, blanks marked out. And to the pieces of a part: pattern on, drill, pierce, saw, second face, chisel,
// sand. The order is the guide's.

// Thin wood is sawn and drilled in stacks as high as an ordinary board. Common practice, no
// source.
const (
	thinMM  = 7.0
	stackMM = 20.0
)

func (l *line) named(part string) *toy.Part {
	for i := range l.m.Toy.Parts {
		if p := &l.m.Toy.Parts[i]; p.Name == part {
			return p
		}
	}
	panic("bug in plan: no part " + part)
}

// count is how many pieces of a part are made, spares too.
func (l *line) count(p *toy.Part) int {
	need := 0
	for _, q := range l.m.Pieces {
		if q.Part.Name == p.Name {
			need += l.job.Count
		}
	}
	n := need + shop.SparesOf(p, l.job.Count)
	l.need = float64(need) / float64(max(1, n))
	return n
}

// boards planes what is too thick on the rack and marks out the blanks, stock by stock.
func (l *line) boards() {
	l.step, l.need = Wood, 1
	for _, s := range l.m.Toy.Stock {
		if s.Form != toy.Board && s.Form != toy.Sheet {
			continue
		}
		n, blocks, area := 0, 0, 0.0 // pieces, those that are blocks, and their faces, mm²
		var parts []string
		for i := range l.m.Toy.Parts {
			p := &l.m.Toy.Parts[i]
			if of := l.count(p); p.Stock == s.Name && of > 0 && p.Made != shop.MadeBought {
				n, parts = n+of, append(parts, p.Name)
				area += float64(float64(of) * p.Length.MM() * cmp.Or(p.Width.MM(), p.Length.MM()))
				if p.Shape == toy.Block {
					blocks += of
				}
			}
		}
		l.need = 1
		if n == 0 {
			continue
		}
		var at flow
		if shop.Planed(l.rack, s, l.m.Toy.Units) {
			w := each{deeds: []string{"plane"}, each: l.minutes["plane-hand"] * area / float64(n) / 1e4}
			if l.has(false, "planer") {
				w.tool, w.each = planer, l.minutes["planer"]*area/float64(n)/1e4
			}
			at = l.do("plane the boards for "+guide.Counted(n, "piece")+" of "+s.Name+" to "+s.Thick.Format(l.m.Toy.Units), loose(n), nil, w)
		}
		if blocks > 0 {
			at = l.do("mark out "+guide.Counted(blocks, "blank")+" of "+s.Name, loose(blocks), at, each{deeds: []string{"pattern"}, each: l.minutes["mark-out"]})
		}
		for _, name := range parts {
			l.wood[name] = at
		}
	}
}

// straightSaw is what is sawn straight with, as the saw list has it.
func (l *line) straightSaw() string { return shop.StraightSaw(l.m.Toy.Shop, l.tools) }

func (l *line) blanks(does string, n int, after flow) flow {
	w := each{tool: l.straightSaw(), deeds: []string{"saw"}, each: l.minutes["blank"]}
	if w.tool == shop.HandSaw {
		w.each = l.minutes["blank-hand"]
	}
	return l.do(does, loose(n), after, w)
}

// squares are blanks that are used as they are sawn.
func (l *line) squares(st guide.Step) {
	for _, name := range st.Bench.Parts {
		p := l.named(name)
		n := l.count(p)
		at := l.blanks("saw "+guide.Counted(n, name)+" to size", n, l.wood[name])
		l.part[name] = l.smooth(name, n, edges{}, faceOf(p), arrisOf(p, 0), at)
	}
}

// dowels are cut to length.
func (l *line) dowels(st guide.Step) {
	n := 0
	for _, name := range st.Bench.Parts {
		n += l.count(l.named(name))
	}
	at := l.do("cut "+guide.Counted(n, "dowel"), loose(n), nil, each{deeds: []string{"cut-dowel"}, each: l.minutes["dowel"]})
	at = l.do("round the ends of "+guide.Counted(n, "dowel"), loose(n), at, each{deeds: []string{"sand"}, each: l.minutes["dowel-ends"]})
	for _, name := range st.Bench.Parts {
		l.part[name] = at
	}
}

// onePart is the step of a part by itself.
func (l *line) onePart(st guide.Step) {
	name := st.Bench.Parts[0]
	p := l.named(name)
	n := l.count(p)
	at := l.part[name] // a dowel has been cut
	if at == nil {
		at = l.wood[name]
	}
	pieces := guide.Counted(n, name)
	switch p.Shape {
	case toy.Disc:
		at = l.disc(p, n, at)
		at = l.smooth(name, n, edges{}, faceOf(p), arrisOf(p, 0), at)
	case toy.Block:
		at = l.blanks("saw "+guide.Counted(n, "blank")+" for "+pieces, n, at)
		at = l.work(name, p.Work, stacked(n, max(1, l.stack(p, n))), false, at)
		edge := l.sawn(name, false)
		at = l.smooth(name, n, edge, faceOf(p), arrisOf(p, edge.all()), at)
	default:
		at = l.work(name, p.Work, loose(n), false, at)
	}
	l.part[name] = at
}

// disc makes the round of a disc, with the work on it: what is drilled and cut into its faces
// while the wood is square, the rest afterwards.
func (l *line) disc(p *toy.Part, n int, at flow) flow {
	pieces := guide.Counted(n, p.Name)
	flat, rest := guide.FaceWork(p)
	bore := func() {
		if p.Bore > 0 && !guide.DrillsBore(p) {
			at = l.drilling("drill the middle of "+pieces, p.Bore, loose(n), 1, l.minutes["drill-setting"], l.minutes["drill-piece"], at)
			l.gang("drill the middle of all "+pieces, n, at)
		}
	}
	switch p.Made {
	case shop.MadeBought:
		if p.Bore > 0 {
			at = l.drilling("try the holes of "+pieces+", and drill those that are tight", p.Bore, loose(n), 0, 0, l.minutes["bought"], at)
		}
		at = l.work(p.Name, flat, loose(n), false, at)
	case shop.MadePlug:
		at = l.do("cut "+pieces+" with the hole saw", loose(n), at, each{l.drill(), "hole saw", []string{"drill"}, l.minutes["drill-setting"], l.minutes["hole-saw"], 0})
		at = l.work(p.Name, flat, loose(n), false, at)
		bore()
	case shop.MadeTurned:
		l.note("the lathe is taken to be there")
		at = l.do("turn "+pieces, loose(n), at, each{tool: lathe, deeds: []string{"turn"}, each: l.minutes["turning"]})
		at = l.work(p.Name, flat, loose(n), false, at)
		bore()
	default:
		at = l.do("stick or trace the circles of "+pieces, loose(n), at, each{deeds: []string{"pattern"}, each: l.minutes["circle"]})
		at = l.work(p.Name, flat, loose(n), false, at)
		bore()
		for _, s := range l.saws {
			if s.On == p.Name && !s.GlueUp && s.Work < 0 {
				at = l.sawing("saw out "+pieces, s, loose(n), 0, at)
			}
		}
		base, does := 0.0, "sand "+pieces+" round, to the line"
		if p.Bore > 0 && n > 1 {
			base, does = l.minutes["spindle"], "put "+pieces+" side by side on one spindle and true them together"
			l.tip("true all %s together on one spindle: they come out alike", pieces)
		}
		at = l.edges(does, loose(n), float64(math.Pi*p.Length.MM()), base, at)
	}
	return l.work(p.Name, rest, loose(n), false, at)
}

// stack is how many thin pieces are sawn and drilled together; 0: each by itself.
func (l *line) stack(p *toy.Part, n int) int {
	if p.Thick.MM() > thinMM || n < 2 {
		return 0
	}
	lines := 0
	for _, w := range p.Work {
		side := toy.Top
		switch w := w.(type) {
		case toy.Drill:
			if w.Depth > 0 || w.CounterDia > 0 || w.Lean != 0 {
				return 0
			}
			side = w.Side
		case toy.Saw:
			side, lines = w.Side, lines+1
		case toy.Cut:
			if w.Depth > 0 {
				return 0
			}
			side, lines = w.Side, lines+1
		}
		if side != toy.Top && side != toy.Bottom {
			return 0
		}
	}
	if k := min(n, int(stackMM/p.Thick.MM())); lines > 0 && k > 1 {
		return k
	}
	return 0
}

// work is the work on the pieces of a part, or on glue-ups.
func (l *line) work(name string, work []toy.Work, b bunch, glueUp bool, at flow) flow {
	n := b.pieces
	pieces := guide.Counted(n, name)
	sides := map[toy.Side]bool{}
	for _, w := range work {
		switch w := w.(type) {
		case toy.Drill:
			sides[w.Side] = true
		case toy.Saw:
			sides[w.Side] = true
		case toy.Cut:
			sides[w.Side] = true
		}
	}
	if len(sides) == 0 {
		return at
	}
	how := ""
	if b.high > 1 {
		how = ", " + guide.Counted(b.n, "stack")
		at = l.do("tape "+pieces+" into "+guide.Counted(b.n, "stack")+" and stick a pattern on each", b, at, each{deeds: []string{"pattern"}, each: l.minutes["stack"] + l.minutes["pattern"]})
		l.tip("saw the %s in stacks of %d, taped together: %s for %s", guide.Counted(2, name)[2:], b.high, guide.Counted(b.n, "stack"), pieces)
	} else {
		what := "stick the pattern on "
		if len(sides) > 1 {
			what = "stick the patterns on "
		}
		at = l.do(what+pieces, b, at, each{deeds: []string{"pattern"}, each: float64(l.minutes["pattern"] * float64(len(sides)))})
	}
	var drilled flow
	for _, d := range alikeHoles(work) {
		drilled = append(drilled, l.drillings(name, d, b, how, at)...)
	}
	if len(drilled) > 0 {
		at = drilled
	}
	sawnSide := map[toy.Side]bool{}
	first := true
	line := func(k int, does string, after flow) flow {
		for _, s := range l.saws {
			if s.On == name && s.GlueUp == glueUp && s.Work >= 0 && s.At == work[k].Where() {
				tape := 0.0
				if side, _ := toy.SideOf(work[k]); !first && !sawnSide[side] {
					tape = l.minutes["tape-back"]
				}
				return l.sawing(does, s, b, tape, after)
			}
		}
		return after
	}
	pierced := 0.0
	bored := map[facts.Drill]int{}
	var bits []facts.Drill   // in the order of the work
	for _, w := range work { // openings, from the middle outwards
		c, ok := w.(toy.Cut)
		if !ok || c.Word != "cut-out" || c.Depth > 0 {
			continue
		}
		bit, whole := assembly.BoredCut(c, l.m.Toy)
		switch {
		case !whole:
			pierced++
		case bored[bit] == 0:
			bits = append(bits, bit)
			fallthrough
		default:
			bored[bit]++
		}
	}
	for _, bit := range bits {
		k, what := bored[bit], "bore "+guide.Counted(bored[bit], "round opening")
		if k > 1 && n > 1 {
			what += " each"
		}
		at = l.drilling(what+" in "+pieces+how, measure.FromMM(bit.MM), b, float64(k), 0, l.minutes["drill-piece"], at)
	}
	if pierced > 0 {
		at = l.drilling("drill a hole in each opening of "+pieces+how+", for the blade", l.pierceBit(work), b, pierced, 0, l.minutes["drill-piece"], at)
	}
	at = l.openings(name, work, pieces+how, b, glueUp, at)
	for k, w := range work {
		s, ok := w.(toy.Saw)
		if !ok {
			continue
		}
		does := "saw " + pieces + how + " along the line on the " + shop.SideWord(s.Side)
		if !first && !sawnSide[s.Side] {
			does = "tape the waste back on, and " + does
		}
		at = line(k, does, at)
		first, sawnSide[s.Side] = false, true
	}
	return at
}

// openings saws or chisels what is taken out of n pieces: what is alike in one task.
func (l *line) openings(name string, work []toy.Work, pieces string, b bunch, glueUp bool, at flow) flow {
	n := b.pieces
	type opening struct {
		word string
		saw  prove.SawLine
		n    int
	}
	var list []opening
	for _, w := range work {
		c, ok := w.(toy.Cut)
		if _, bored := assembly.BoredCut(c, l.m.Toy); !ok || bored {
			continue
		}
		o := opening{word: map[string]string{"cut-out": "opening", "cut-in": "recess"}[c.Word], n: 1}
		if o.word == "" {
			o.word = c.Word
		}
		for _, s := range l.saws {
			if c.Depth == 0 && s.On == name && s.GlueUp == glueUp && s.Work >= 0 && s.At == c.At {
				o.saw = s
			}
		}
		i := slices.IndexFunc(list, func(x opening) bool {
			return x.word == o.word && x.saw.Saw == o.saw.Saw && x.saw.Pierced == o.saw.Pierced && x.saw.Thick == o.saw.Thick
		})
		if i < 0 {
			list = append(list, o)
			continue
		}
		list[i].n++
		list[i].saw.Length += o.saw.Length
	}
	for _, o := range list {
		what := guide.Counted(o.n, o.word) + " in "
		if o.n > 1 && n > 1 {
			what = guide.Counted(o.n, o.word) + " each in "
		}
		if o.saw.Thick == 0 {
			at = l.do("cut "+what+pieces, loose(n), at, each{deeds: []string{"chisel"}, each: float64(float64(o.n) * l.minutes["recess"])})
			continue
		}
		threads := 0.0
		if o.saw.Pierced {
			threads = float64(float64(o.n-1) * l.minutes["thread"]) // sawing has the first
		}
		at = l.sawing("saw out "+what+pieces, o.saw, b, threads, at)
	}
	return at
}

// pierceBit is the bit that the openings are pierced with, the smallest that is needed.
func (l *line) pierceBit(work []toy.Work) measure.Length {
	least := 0.0
	for _, w := range work {
		if c, ok := w.(toy.Cut); ok {
			if _, d := shop.Pierced(c, l.m.Toy); d > 0 && (least == 0 || d < least) {
				least = d
			}
		}
	}
	if least == 0 {
		least = 2 // a fine bit, as the guide says
	}
	return measure.FromMM(least)
}

// holes are those of some work that are drilled alike.
type holes struct {
	d toy.Drill
	n int
}

func alikeHoles(work []toy.Work) (out []holes) {
next:
	for _, w := range work {
		d, ok := w.(toy.Drill)
		if !ok {
			continue
		}
		for k := range out {
			if o := out[k].d; o.Side == d.Side && o.Dia == d.Dia && o.Depth == d.Depth && o.Lean == d.Lean && o.Toward == d.Toward && o.CounterDia == d.CounterDia && o.CounterDepth == d.CounterDepth {
				out[k].n += len(d.Holes)
				continue next
			}
		}
		out = append(out, holes{d, len(d.Holes)})
	}
	return out
}

func (l *line) drillings(name string, h holes, b bunch, how string, at flow) flow {
	d, n := h.d, b.pieces
	does := guide.Counted(h.n, "hole") + " in the " + shop.SideWord(d.Side) + " of " + guide.Counted(n, name) + how
	if h.n > 1 && n > 1 {
		does = guide.Counted(h.n, "hole") + " each in the " + shop.SideWord(d.Side) + " of " + guide.Counted(n, name) + how
	}
	if d.CounterDia > 0 {
		at = l.drilling("drill the wide mouths of "+does, d.CounterDia, b, float64(h.n), l.minutes["drill-setting"], l.minutes["drill-piece"], at)
	}
	if d.Lean != 0 {
		does += ", leaning"
	}
	at = l.drilling("drill "+does, d.Dia, b, float64(h.n), l.minutes["drill-setting"], l.minutes["drill-piece"], at)
	l.gang("drill the holes in the "+shop.SideWord(d.Side)+" of all "+guide.Counted(n, name)+how, b.n, at)
	return at
}

// gang advises to set the drill up once for n things: for each of the goes that they are
// drilled in.
func (l *line) gang(does string, n int, goes flow) {
	saved := n - len(goes)
	if saved < 1 {
		return
	}
	each := ""
	if len(goes) > 1 {
		each = fmt.Sprintf(" for each of %d goes", len(goes))
	}
	l.tip("%s with one setting of fence and stop%s: %s saved", does, each, Clock(whole(float64(float64(saved)*l.minutes["drill-setting"]))))
}

// drilling drills so many holes in each of some things.
func (l *line) drilling(does string, dia measure.Length, b bunch, holes, base, piece float64, at flow) flow {
	return l.do(does, b, at, each{l.drill(), l.bit(dia), []string{"drill"}, base, piece + float64(holes*l.minutes["hole"]), 0})
}

// bit names the bit for a hole, as the lists do.
func (l *line) bit(dia measure.Length) string {
	if b := shop.NameBit(dia.MM(), l.m.Toy); b.Name != "" {
		return b.Name + " bit"
	}
	return dia.Format(l.m.Toy.Units) + " bit"
}

// usualMM is the thickness that sawing times are said for.
const usualMM = 20.0

// sawing saws a line in each of some pieces or stacks.
func (l *line) sawing(does string, s prove.SawLine, b bunch, tape float64, at flow) flow {
	thick := float64(s.Thick * float64(b.high))
	w := each{deeds: []string{"saw"}, each: tape}
	rate := 0.0
	saw := s.Saw
	if s.Plain && saw != "" {
		saw = l.straightSaw()
	}
	switch saw {
	case bandSaw:
		w.tool, rate = bandSaw, l.minutes["band-cut"]
		if s.Blade.Name != "" && !s.Plain { // the widest for its curves
			w.width = s.Blade.Width
			w.setting = strings.TrimPrefix(s.Blade.Name, bandSaw+" ") + " blade"
		}
	case scrollSaw:
		w.tool, rate = scrollSaw, l.minutes["scroll-cut"]
		if s.Blade.Name != "" {
			w.setting = strings.TrimPrefix(facts.ScrollBlade(thick).Name, scrollSaw+" ") + " blade"
		}
	case shop.TableSaw, shop.MitreSaw:
		w.tool, rate = saw, l.minutes["band-cut"]
	case shop.HandSaw:
		w.tool, rate = saw, l.minutes["hand-line"]
	default:
		w.tool, rate = copingSaw, l.minutes["hand-cut"]
		l.note("no saw of the shop follows every line: a coping saw is taken")
	}
	if s.Pierced {
		w.each += l.minutes["thread"]
	}
	// thin wood is not sawn faster than half the usual thickness
	w.each += float64(rate * s.Length / 100 * math.Max(0.5, thick/usualMM))
	return l.do(does, b, at, w)
}

// edges are lengths of what was sawn, mm: what a flat sander gets at, and openings and hollows,
// which it does not.
type edges struct{ outer, inner float64 }

func (e edges) all() float64 { return e.outer + e.inner }

// sawn is the length of all lines of a part or glue-up.
func (l *line) sawn(name string, glueUp bool) (e edges) {
	for _, s := range l.saws {
		if s.On == name && s.GlueUp == glueUp {
			e.outer += s.Length - s.Hollow // nothing at all of what is all hollow
			e.inner += s.Hollow
		}
	}
	return e
}

// edges sands edges to the line: by hand, or at a sander where there is one.
func (l *line) edges(does string, b bunch, mm, base float64, at flow) flow {
	ways := []each{{deeds: []string{"sand"}, base: base, each: l.minutes["edge-hand"] * mm / 100}}
	if l.has(true, "disc-sander", "belt-sander", "drum-sander") {
		ways = append(ways, each{tool: sander, deeds: []string{"sand-machine"}, base: base, each: l.minutes["edge-machine"] * mm / 100})
	}
	return l.do(does, b, at, ways...)
}

// smooth sands to the lines, and all over, and eases.
func (l *line) smooth(name string, n int, edge edges, face, arris float64, at flow) flow {
	pieces := guide.Counted(n, name)
	if edge.outer > 0 {
		at = l.edges("sand "+pieces+" to the lines", loose(n), edge.outer, 0, at)
	}
	if edge.inner > 0 {
		at = l.do("sand "+pieces+" to the lines in openings and hollows", loose(n), at, each{deeds: []string{"sand"}, each: l.minutes["edge-hand"] * edge.inner / 100})
	}
	return l.do("sand "+pieces+" all over and ease the arrises", loose(n), at, each{deeds: []string{"sand"}, each: l.minutes["face"]*face/1e4 + l.minutes["arris"]*arris/100})
}

// faceOf is the surface of a blank, mm².
func faceOf(p *toy.Part) float64 {
	a, b, c := p.Length.MM(), p.Width.MM(), p.Thick.MM()
	if p.Shape == toy.Disc {
		return float64(math.Pi*a*a/2) + float64(math.Pi*a*c)
	}
	return 2 * (float64(a*b) + float64(b*c) + float64(a*c))
}

// arrisOf is the length of all arrises, mm: those along what was sawn, or of the blank.
func arrisOf(p *toy.Part, sawn float64) float64 {
	switch {
	case p.Shape == toy.Disc:
		return float64(2 * math.Pi * p.Length.MM())
	case sawn > 0:
		return 2 * sawn
	}
	return 4 * (p.Length.MM() + p.Width.MM() + p.Thick.MM())
}
