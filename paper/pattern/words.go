package pattern

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/measure"
	"dryfit/paper/draw"
	"dryfit/shop"
	"dryfit/toy"
)

// speaker says sizes in the units of the toy.
type speaker struct {
	toy   *toy.Toy // nil where lines alone are asked for
	units measure.Unit
	bare  bool // the places of holes are left out
}

// line is one line of a label.
type line struct {
	says   string
	bold   bool
	pencil bool
}

func (s *speaker) mm(mm float64) string { return measure.FromMM(mm).Format(s.units) }

// by says two or more lengths: 5 1/4 × 1 1/4 in.
func (s *speaker) by(mm ...float64) string {
	words := make([]string, len(mm))
	for i, x := range mm {
		words[i] = measure.FromMM(x).Number(s.units)
	}
	return strings.Join(words, " × ") + " " + s.units.Symbol()
}

// bit names the bit for a hole, as the lists do.
func (s *speaker) bit(mm float64) string {
	if s.toy == nil {
		return ""
	}
	if b := shop.NameBit(mm, s.toy); b.Name != "" {
		return b.Name + " bit"
	}
	near, _ := facts.NearestDrill(mm, assembly.BitsOf(s.toy.Shop, s.units)[0])
	return "⌀ " + s.mm(mm) + " (no such bit, nearest " + near.Name + ")"
}

// holeSays says what a hole is: on two lines, or on three narrower ones.
func (s *speaker) holeSays(name string, dia, depth float64, more []line) [][]line {
	how := "through"
	if depth > 0 {
		how = s.mm(depth) + " deep"
	}
	var head []line
	if name != "" {
		head = []line{{says: strings.ReplaceAll(name, "-", " "), bold: true}}
	}
	short := slices.Concat(head, []line{{says: s.bit(dia) + ", " + how}}, more)
	tall := slices.Concat(head, []line{{says: s.bit(dia)}, {says: how}}, more)
	return [][]line{short, tall}
}

// placed adds to what is said of a hole where the middles of those it is said of are, to the
// right and up from the corner that the arrow points at. Where there is no room, it is left out.
func (s *speaker) placed(says [][]line, at []r2.Vec) (out [][]line) {
	if len(at) == 0 || s.bare {
		return says
	}
	var more []line
	for i, p := range at {
		if len(at) > mostPlaces && i > 0 && i < len(at)-1 {
			continue
		}
		text := s.place(p)
		if len(at) > mostPlaces && i == 0 {
			text += " …"
		}
		more = append(more, line{says: text, pencil: true})
	}
	for _, way := range says {
		out = append(out, append(way[:len(way):len(way)], more...))
	}
	return append(out, says...)
}

// placeNote says the same in a note: front axle → 98 ↑ 8 mm.
func (s *speaker) placeNote(first line, at []r2.Vec) string {
	words := make([]string, 0, len(at)+1)
	if first.bold {
		words = append(words, first.says)
	}
	for _, p := range at {
		words = append(words, s.place(p))
	}
	return strings.Join(words, " ")
}

// mostPlaces is of how many holes that share a label the places are all lettered below it; of
// more, the first and the last.
const mostPlaces = 3

// place letters a place: → 50 ↑ 9 mm.
func (s *speaker) place(p r2.Vec) string {
	right, up := legendRight, legendUp
	if p.X < 0 {
		right = legendLeft
	}
	if p.Y < 0 {
		up = legendDown
	}
	number := func(mm float64) string { return measure.FromMM(math.Abs(mm)).Number(s.units) }
	return right + " " + number(p.X) + " " + up + " " + number(p.Y) + " " + s.units.Symbol()
}

func (s *speaker) drillSays(name string, w toy.Drill) [][]line {
	var more []line
	if w.CounterDia > 0 {
		more = append(more, line{says: "counterbore " + s.bit(w.CounterDia.MM())}, line{says: s.mm(w.CounterDepth.MM()) + " deep"})
	}
	if w.Lean != 0 {
		more = append(more, line{says: "leans " + w.Lean.Format() + " " + [...]string{"to the right", "to the left", "up", "down"}[w.Toward]})
	}
	return s.holeSays(name, w.Dia.MM(), w.Depth.MM(), more)
}

// count writes a small number in words, as labels do.
func count(n int) string {
	words := [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}
	if n < len(words) {
		return words[n]
	}
	return strconv.Itoa(n)
}

// make says how many to make: cut 10 + 1 spare.
func howMany(verb string, n, spare int) string {
	switch {
	case spare > 0 && n > 0:
		return fmt.Sprintf("%s %d + %d spare", verb, n, spare)
	case spare > 0:
		return fmt.Sprintf("%s %d spare", verb, spare)
	}
	return fmt.Sprintf("%s %d", verb, n)
}

// flip says how many of them are turned over: flip one.
func flip(n, spare int) string {
	if spare > 0 {
		return fmt.Sprintf("%s%s + %d spare", flipVerb, count(n), spare)
	}
	return flipVerb + count(n)
}

// stock says what a blank comes from, as the guide does: maple, 3/8 in thick.
func (s *speaker) stock(t *toy.Toy, name string) string {
	st, ok := t.StockNamed(name)
	if !ok {
		return name
	}
	what := st.Wood
	if !strings.Contains(st.Wood, "plywood") && st.Form != toy.Board {
		what += " " + st.Form.String()
	}
	size := s.mm(st.Thick.MM()) + " thick"
	for _, o := range t.Stock { // its name tells it from other stock that is like it, and is said only then
		if o.Name != st.Name && o.Wood == st.Wood && o.Form == st.Form && o.Thick == st.Thick && o.Dia == st.Dia {
			what += " (" + st.Name + ")"
			break
		}
	}
	if st.Form == toy.Dowel || st.Form == toy.Ball { // said where the size is
		return what
	}
	return what + ", " + size
}

const wordHeight = 2.0 // capitals of labels, mm

func textOf(l line) draw.Text {
	t := draw.Text{Says: l.says, Height: wordHeight, Bold: l.bold}
	if l.pencil {
		t.Tone = draw.Pencil
	}
	return t
}

const (
	cutOut      = "cut-out" // the word of the toy file
	dashedLater = ". Dashed: done after the glue-up, not now"
)

// startSays says where a cut-out is begun, in as much room as there is.
func (s *speaker) startSays(dia float64) [][]line {
	return [][]line{
		{{says: "cut out: start here"}, {says: s.bit(dia)}},
		{{says: "cut out"}, {says: "start here"}, {says: s.bit(dia)}},
		{{says: "start here"}, {says: s.bit(dia)}},
		{{says: "cut out"}},
	}
}

// edition says which edition of the toy it is; nothing if the file does not say.
func edition(t *toy.Toy) string {
	if t.Edition == 0 {
		return ""
	}
	return fmt.Sprintf("edition %d", t.Edition)
}

// licence says what others may do; nothing if the file does not say.
func licence(t *toy.Toy) string {
	if t.Licence == "" {
		return ""
	}
	return "Licence: " + t.Licence + "."
}

// templateSays tells how one pattern serves many blanks.
func templateSays(n, spare int, folded, bare bool) string {
	all := n + spare
	switch {
	case all < 2 || bare:
		return ""
	case folded:
		return fmt.Sprintf(". Each blank needs a copy to fold around it: print this page %s", times(all))
	case all == 2:
		return ". One template serves both: trace it, or print this page twice"
	}
	return fmt.Sprintf(". One template serves all %s: trace it, or print this page %s", count(all), times(all))
}

func times(n int) string {
	if n == 2 {
		return "twice"
	}
	return count(n) + " times"
}

// foldSays is lettered at the end of a fold.
const foldSays = "fold"

// The legend and the strip of circles.
const (
	legendTitle  = "How to read the patterns"
	legendCut    = "saw along this line"
	legendLater  = "after the glue-up, not now"
	legendWaste  = "waste: saw on this side of the line"
	legendFold   = "fold the paper here, around the arris"
	legendHidden = "not cut through: the depth is lettered"
	legendFar    = "done from the side across"
	legendSeen   = "what you see there, to lay the pattern by"
	legendStart  = "drill here to let the blade in"
	legendCorner = "all is measured from this corner and its two edges"
	legendPlaces = "all is measured from this corner: → to the right of it, ↑ up"
	legendRight  = "→"
	legendLeft   = "←"
	legendUp     = "↑"
	legendDown   = "↓"

	stripTitle = "Dowels and holes"
	stripNote  = "at true size: try your dowel and a test hole against these"
	dowelWord  = "dowel"
	holeWord   = "hole"
)

// What the file says about itself.
const (
	titleEnd = ": patterns"
	subject  = "Full-size patterns for %s, print at actual size"
)

// What is lettered on the drawings and above them. Those that begin with a full stop
// go on after a note.
const (
	deepWord     = " deep"
	grainWord    = "grain"
	endGrainWord = "end grain"
	sawFirst     = "saw this side first"
	sawSecond    = "saw this side second"
	tapeBack     = ". Saw the %s first and tape the waste back on, then saw the %s"
	pencilLines  = ". Thin lines: what you see on that side"
	behindLines  = ". Faint: the %s, behind what you see"
	looksWord    = "looks "
	inToy        = " in the toy"
	ofThe        = " of the "
	lightDashes  = ". In light dashes: what is done from the side across"
	patternOf    = " (pattern %d of %d)"
	goesTo       = "Goes: %s."
	goTo         = "Go: %s."
	onAxle       = "on the axle in " // as package shop says it
	inTheToy     = "In the toy %s. "
	mirrorOf     = ", mirror image of %s"
	flipVerb     = ", flip "
	asDrawn      = ", as drawn %s, turned over %s"
	cutVerb      = "cut"
	buyVerb      = "buy"
	makeVerb     = "make"
	discOf       = "disc ⌀ %s"
	blankOf      = "blank %s"
	glueUpOf     = "glue up %s"
	glueUpTitle  = ", glue-up: "
	measuredFrom = "measured from the blank of %s"
	afterGlue    = "%s after the glue has set"
	forWord      = "for "
	dowelsTitle  = "Dowels"
	ballsTitle   = "Dowels and balls"
	dowelsNote   = "at true size: lay the dowel on its bar and mark its length"
	ballOf       = "ball ⌀ %s"
	easeBy       = "Ease every arris by %s."
)

func holes(n int) string { return count(n) + " holes" }

// togetherWords says what is done to a glue-up.
func togetherWords(work []toy.Work) string {
	drill, saw := false, false
	for _, w := range work {
		switch w.(type) {
		case toy.Drill:
			drill = true
		case toy.Saw, toy.Cut:
			saw = true
		}
	}
	switch {
	case drill && saw:
		return "drill and saw"
	case drill:
		return "drill"
	case saw:
		return "saw"
	}
	return "shape" // arrises and sanding, said above
}
