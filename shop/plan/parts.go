package plan

import (
	"math"
	"slices"
	"strings"

	"dryfit/facts"
	"dryfit/guide"
	"dryfit/measure"
	"dryfit/prove"
	"dryfit/shop"
	"dryfit/toy"
)

// What is done to the pieces of a part: pattern on, drill, pierce, saw, second face, chisel,
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
	n := 0
	for _, q := range l.m.Pieces {
		if q.Part.Name == p.Name {
			n++
		}
	}
	return n*l.job.Count + shop.SparesOf(p, l.job.Count)
}

// blankTool is what blanks are squared with.
func (l *line) blankTool() string {
	sh := l.m.Toy.Shop
	switch {
	case l.said && l.has(false, "table-saw"):
		return tableSaw
	case l.said && l.has(false, "mitre-saw"):
		return mitreSaw
	case sh == nil || sh.BandSaw != nil || sh.ScrollSaw == nil:
		return bandSaw
	}
	return handSaw
}

func (l *line) blanks(does string, n int, after []int) []int {
	return l.do(does, n, after, each{tool: l.blankTool(), deeds: []string{"saw"}, each: l.minutes["blank"]})
}

// squares are blanks that are used as they are sawn.
func (l *line) squares(st guide.Step) {
	for _, name := range st.Bench.Parts {
		p := l.named(name)
		n := l.count(p)
		at := l.blanks("saw "+guide.Counted(n, name)+" to size", n, nil)
		l.part[name] = l.smooth(name, n, 0, faceOf(p), arrisOf(p, 0), at)
	}
}

// dowels are cut to length.
func (l *line) dowels(st guide.Step) {
	n := 0
	for _, name := range st.Bench.Parts {
		n += l.count(l.named(name))
	}
	at := l.do("cut "+guide.Counted(n, "dowel"), n, nil, each{deeds: []string{"cut-dowel"}, each: l.minutes["dowel"]})
	at = l.do("round the ends of "+guide.Counted(n, "dowel"), n, at, each{deeds: []string{"sand"}, each: l.minutes["dowel-ends"]})
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
	pieces := guide.Counted(n, name)
	switch p.Shape {
	case toy.Disc:
		at = l.disc(p, n)
		at = l.smooth(name, n, 0, faceOf(p), arrisOf(p, 0), at)
	case toy.Block:
		at = l.blanks("saw "+guide.Counted(n, "blank")+" for "+pieces, n, nil)
		stack := l.stack(p, n)
		at = l.work(name, p.Work, n, stack, false, at)
		edge := l.sawn(name, false)
		at = l.smooth(name, n, edge, faceOf(p), arrisOf(p, edge), at)
	default:
		at = l.work(name, p.Work, n, 0, false, at)
	}
	l.part[name] = at
}

// disc makes the round of a disc, with the work on it: what is drilled and cut into its faces
// while the wood is square, the rest afterwards.
func (l *line) disc(p *toy.Part, n int) (at []int) {
	pieces := guide.Counted(n, p.Name)
	flat, rest := guide.FaceWork(p)
	bore := func() {
		if p.Bore > 0 && !guide.DrillsBore(p) {
			at = l.drilling("drill the middle of "+pieces, p.Bore, n, 1, l.minutes["drill-setting"], l.minutes["drill-piece"], at)
			l.gang("drill the middle of all "+pieces, n)
		}
	}
	switch p.Made {
	case "bought":
		if p.Bore > 0 {
			at = l.drilling("try the holes of "+pieces+", and drill those that are tight", p.Bore, n, 0, 0, l.minutes["bought"], nil)
		}
		at = l.work(p.Name, flat, n, 0, false, at)
	case "hole-saw":
		at = l.do("cut "+pieces+" with the hole saw", n, nil, each{l.drill(), "hole saw", []string{"drill"}, l.minutes["drill-setting"], l.minutes["hole-saw"]})
		at = l.work(p.Name, flat, n, 0, false, at)
		bore()
	case "turned":
		l.note("the lathe is taken to be there")
		at = l.do("turn "+pieces, n, nil, each{tool: lathe, deeds: []string{"turn"}, each: l.minutes["turning"]})
		at = l.work(p.Name, flat, n, 0, false, at)
		bore()
	default:
		at = l.do("stick or trace the circles of "+pieces, n, nil, each{deeds: []string{"pattern"}, each: l.minutes["circle"]})
		at = l.work(p.Name, flat, n, 0, false, at)
		bore()
		for _, s := range l.saws {
			if s.On == p.Name && !s.GlueUp && s.Work < 0 {
				at = l.sawing("saw out "+pieces, s, n, 1, 0, at)
			}
		}
		base, does := 0.0, "sand "+pieces+" round, to the line"
		if p.Bore > 0 && n > 1 {
			base, does = l.minutes["spindle"], "put "+pieces+" side by side on one spindle and true them together"
			l.tip("true all %s together on one spindle: they come out alike", pieces)
		}
		at = l.edges(does, n, float64(math.Pi*p.Length.MM()), base, at)
	}
	return l.work(p.Name, rest, n, 0, false, at)
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

// work is the work on n pieces of a part, or on n glue-ups.
func (l *line) work(name string, work []toy.Work, n, stack int, glueUp bool, at []int) []int {
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
	goes, how := n, "" // what is handled at a time
	high := 1
	if stack > 1 {
		goes, high = (n+stack-1)/stack, stack
		how = ", " + guide.Counted(goes, "stack")
		at = l.do("tape "+pieces+" into "+guide.Counted(goes, "stack")+" and stick a pattern on each", goes, at, each{deeds: []string{"pattern"}, each: l.minutes["stack"] + l.minutes["pattern"]})
		l.tip("saw the %s in stacks of %d, taped together: %s for %s", guide.Counted(2, name)[2:], stack, guide.Counted(goes, "stack"), pieces)
	} else {
		what := "stick the pattern on "
		if len(sides) > 1 {
			what = "stick the patterns on "
		}
		at = l.do(what+pieces, n, at, each{deeds: []string{"pattern"}, each: float64(l.minutes["pattern"] * float64(len(sides)))})
	}
	var drilled []int
	for _, d := range alikeHoles(work) {
		drilled = append(drilled, l.drillings(name, d, goes, n, how, at)...)
	}
	if len(drilled) > 0 {
		at = drilled
	}
	sawnSide := map[toy.Side]bool{}
	first := true
	line := func(k int, does string, after []int) []int {
		for _, s := range l.saws {
			if s.On == name && s.GlueUp == glueUp && s.Work >= 0 && s.At == work[k].Where() {
				tape := 0.0
				if side, _ := toy.SideOf(work[k]); !first && !sawnSide[side] {
					tape = l.minutes["tape-back"]
				}
				return l.sawing(does, s, goes, high, tape, after)
			}
		}
		return after
	}
	pierced := 0.0
	for _, w := range work { // openings, from the middle outwards
		if c, ok := w.(toy.Cut); ok && c.Word == "cut-out" && c.Depth == 0 {
			pierced++
		}
	}
	if pierced > 0 {
		at = l.drilling("drill a hole in each opening of "+pieces+how+", for the blade", l.pierceBit(work), goes, pierced, 0, l.minutes["drill-piece"], at)
	}
	at = l.openings(name, work, pieces+how, n, goes, high, glueUp, at)
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
func (l *line) openings(name string, work []toy.Work, pieces string, n, goes, high int, glueUp bool, at []int) []int {
	type opening struct {
		word string
		saw  prove.SawLine
		n    int
	}
	var list []opening
	for _, w := range work {
		c, ok := w.(toy.Cut)
		if !ok {
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
			at = l.do("cut "+what+pieces, n, at, each{deeds: []string{"chisel"}, each: float64(float64(o.n) * l.minutes["recess"])})
			continue
		}
		threads := 0.0
		if o.saw.Pierced {
			threads = float64(float64(o.n-1) * l.minutes["thread"]) // sawing has the first
		}
		at = l.sawing("saw out "+what+pieces, o.saw, goes, high, threads, at)
	}
	return at
}

// pierceBit is the bit that the openings are pierced with, the smallest that is needed.
func (l *line) pierceBit(work []toy.Work) measure.Length {
	least := 0.0
	for _, w := range work {
		if c, ok := w.(toy.Cut); ok {
			if d := shop.Pierced(c, l.m.Toy.Units); d > 0 && (least == 0 || d < least) {
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

func (l *line) drillings(name string, h holes, goes, n int, how string, at []int) []int {
	d := h.d
	does := guide.Counted(h.n, "hole") + " in the " + shop.SideWord(d.Side) + " of " + guide.Counted(n, name) + how
	if h.n > 1 && n > 1 {
		does = guide.Counted(h.n, "hole") + " each in the " + shop.SideWord(d.Side) + " of " + guide.Counted(n, name) + how
	}
	if d.CounterDia > 0 {
		at = l.drilling("drill the wide mouths of "+does, d.CounterDia, goes, float64(h.n), l.minutes["drill-setting"], l.minutes["drill-piece"], at)
	}
	if d.Lean != 0 {
		does += ", leaning"
	}
	l.gang("drill the holes in the "+shop.SideWord(d.Side)+" of all "+guide.Counted(n, name), n)
	return l.drilling("drill "+does, d.Dia, goes, float64(h.n), l.minutes["drill-setting"], l.minutes["drill-piece"], at)
}

// gang advises to set the drill up once.
func (l *line) gang(does string, n int) {
	if n > 1 {
		l.tip("%s with one setting of fence and stop: %s saved", does, clock(whole(float64(float64(n-1)*l.minutes["drill-setting"]))))
	}
}

// drilling drills so many holes in each of n pieces.
func (l *line) drilling(does string, dia measure.Length, n int, holes, base, piece float64, at []int) []int {
	return l.do(does, n, at, each{l.drill(), l.bit(dia), []string{"drill"}, base, piece + float64(holes*l.minutes["hole"])})
}

// bit names the bit for a hole, as the lists do.
func (l *line) bit(dia measure.Length) string {
	own, other := facts.Metric, facts.Inch
	if l.m.Toy.Units == measure.Inch {
		own, other = other, own
	}
	for _, s := range []facts.System{own, other} {
		if d := facts.NameDrill(dia.MM(), s); d.Exists {
			return d.Drill.Name + " bit"
		}
	}
	return dia.Format(l.m.Toy.Units) + " bit"
}

// usualMM is the thickness that sawing times are said for.
const usualMM = 20.0

// sawing saws a line in each of n pieces, or stacks so high.
func (l *line) sawing(does string, s prove.SawLine, n, high int, tape float64, at []int) []int {
	thick := float64(s.Thick * float64(high))
	w := each{deeds: []string{"saw"}, each: tape}
	rate := 0.0
	switch s.Saw {
	case bandSaw:
		w.tool, rate = bandSaw, l.minutes["band-cut"]
	case scrollSaw:
		w.tool, rate = scrollSaw, l.minutes["scroll-cut"]
		if sh := l.m.Toy.Shop; sh == nil || sh.ScrollSaw == nil || sh.ScrollSaw.Blade == 0 {
			w.setting = strings.TrimPrefix(facts.ScrollBlade(thick).Name, scrollSaw+" ") + " blade"
		}
	default:
		rate = l.minutes["hand-cut"]
		l.note("no saw of the shop follows every line: a coping saw is taken")
	}
	if s.Pierced {
		w.each += l.minutes["thread"]
	}
	// thin wood is not sawn faster than half the usual thickness
	w.each += float64(rate * s.Length / 100 * math.Max(0.5, thick/usualMM))
	return l.do(does, n, at, w)
}

// sawn is the length of all lines of a part or glue-up, mm.
func (l *line) sawn(name string, glueUp bool) (mm float64) {
	for _, s := range l.saws {
		if s.On == name && s.GlueUp == glueUp {
			mm += s.Length
		}
	}
	return mm
}

// edges sands edges to the line: by hand, or at a sander where there is one.
func (l *line) edges(does string, n int, mm, base float64, at []int) []int {
	ways := []each{{deeds: []string{"sand"}, base: base, each: l.minutes["edge-hand"] * mm / 100}}
	if l.has(true, "disc-sander", "belt-sander", "drum-sander") {
		ways = append(ways, each{tool: sander, deeds: []string{"sand-machine"}, base: base, each: l.minutes["edge-machine"] * mm / 100})
	}
	return l.do(does, n, at, ways...)
}

// smooth sands to the lines, and all over, and eases.
func (l *line) smooth(name string, n int, edge, face, arris float64, at []int) []int {
	pieces := guide.Counted(n, name)
	if edge > 0 {
		at = l.edges("sand "+pieces+" to the lines", n, edge, 0, at)
	}
	return l.do("sand "+pieces+" all over and ease the arrises", n, at, each{deeds: []string{"sand"}, each: l.minutes["face"]*face/1e4 + l.minutes["arris"]*arris/100})
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
