// Package guide makes the booklet that a toy is built by, as plain data: what to
// get, what to be careful with, every step with its words and measures, and what to
// check the finished toy against. It knows nothing of pages; paper/booklet lays it out.
//
// [Of] is the whole of it. The steps are those of the proved order: first each part
// by itself (part.go), then what is glued up (glue.go), then the build (build.go), then
// the finish. Where a piece sits is said line by line (sits.go), and slip.go tries
// what happens if it slips while the glue sets: only where the proof shows that it
// matters is there a warning. who.go says what a child can do.
//
// All words are in en.txt, read by say.go: another language is one file more.
package guide

import (
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/prove"
	"dryfit/shop"
)

// Input is what a guide is made from: a model, its proof, the order it goes together
// in and its lists.
type Input struct {
	Model  *assembly.Model
	Report *prove.Report // nil: the steps alone are asked for, without what the proof says
	Order  prove.Sequence
	Lists  *shop.Lists
	// Groups are the moves of Order that one drawing shows together, by their indices;
	// nil: each by itself.
	Groups [][]int
	Cache  *assembly.Cache // may be nil
}

// Guide is the whole booklet.
type Guide struct {
	Toy      string
	Unproved string   // on the cover: that the proof is not passed; "" if it is, or was not asked
	Warning  string   // the same on every pattern
	Facts    []string // on the cover: whom it is for, how large it is
	Edition  string   // edition and licence, "" if not said
	Needs    []List
	Cautions []List
	Who      []string // what an adult does, and a child from which age on
	Habits   []string
	Pieces   []Piece
	Chapters []Chapter
	Checks   []Check
	Notes    []string // at the end: what the proof minds, small parts, screening
	Words    Words    // titles and such that pages are lettered with
}

// List is a heading with lines.
type List struct {
	Title string
	Items []string
}

// Piece is a line of the pieces page.
type Piece struct {
	Numbers string // as on drawings and patterns
	Name    string
	Count   string
	Size    string
	From    string
}

// Chapter is steps that belong together.
type Chapter struct {
	Title string
	Says  string
	Steps []Step
}

// Step is one thing to do, with its drawing.
type Step struct {
	Number   int // counted through the guide from 1
	Title    string
	Does     []string
	Measures []Measure
	Minds    []string // what the proof shows to matter here
	Who      []string
	Dry      string // how long to wait; "" if not at all
	Shows    Shows
	Pattern  Pattern // that is stuck on
	Bench    Bench
}

// Bench is a step as work, for whoever plans by it: no words.
type Bench struct {
	Kind   BenchKind
	Parts  []string // of the file, whose pieces are made
	GlueUp string   // of the file, that is glued up or shaped
	Moves  []Move   // what is put where
	Glued  bool     // something is: it takes an hour before the next step
	Deeds  []string // what is done, by the names of facts.Deeds
}

// BenchKind is what a step does with wood.
type BenchKind int

// The kinds of steps.
const (
	Squares BenchKind = iota // blanks that are used as they are sawn
	Parts                    // the pieces of one part
	Dowels                   // all dowels cut to length
	GlueUps                  // glue-ups of one kind
	Shaping                  // the work on them
	Building
	Finishing
)

// Move is pieces put onto others, by their indices in the model.
type Move struct {
	Pieces, Onto []int
	Clamped      bool // glued, and held by clamps
	Axle, Driven bool // an axle with its wheels; a peg or pin
}

// done says who does a step, and by which deeds it is planned.
func (b *book) done(st *Step, kind BenchKind, deeds ...string) {
	st.Who, st.Bench.Kind = b.who(deeds...), kind
	for _, d := range facts.Deeds() {
		if slices.Contains(deeds, d.Name) {
			st.Bench.Deeds = append(st.Bench.Deeds, d.Name)
		}
	}
}

// Pattern is the pattern that a step works by: that of a part or glue-up, and which of what
// the step does speaks of it. Of is "" where there is none.
type Pattern struct {
	Of     string
	GlueUp bool
	Does   int // index into Step.Does
	N      int // how many sides it has
}

// axles tells whether a step puts on axles with their wheels, and nothing else.
func (s Step) axles() bool {
	return len(s.Bench.Moves) > 0 && !slices.ContainsFunc(s.Bench.Moves, func(m Move) bool { return !m.Axle })
}

// Measure is one line of where something goes, or how large it is. Of names the piece;
// where all lines of a step are of one, pages need not say it.
type Measure struct{ Of, What, Is string }

// Ofs are the pieces that the measures of a step are of, in order.
func (s Step) Ofs() (out []string) {
	for _, m := range s.Measures {
		if !slices.Contains(out, m.Of) {
			out = append(out, m.Of)
		}
	}
	return out
}

// Shows is what the drawing of a step shows: the moves of a group of the input, or
// pieces by themselves. Neither: no drawing.
type Shows struct {
	Group  int // index into Input.Groups; -1: none
	Pieces []int
	Apart  bool // each piece by itself, not where they are in the toy
}

// Whoever says in a sentence who does a step; "" if nothing is said.
func (s Step) Whoever() string {
	if len(s.Who) == 0 {
		return ""
	}
	return capital(strings.Join(s.Who, "; ")) + "."
}

// Check is a line of the last page.
type Check struct{ What, Is string }

// book is a guide in the making.
type book struct {
	Input
	*speaker
	g     *Guide
	spots map[string]string
	steps int
	met   map[int][]meeting   // see meetings
	slips map[string][]string // warnings by the piece that is put
	deep  []prove.DeepHole
}

// Of makes the guide of a toy.
func Of(in Input) Guide {
	if in.Groups == nil {
		for k := range in.Order.Steps {
			in.Groups = append(in.Groups, []int{k})
		}
	}
	proved := in.Report != nil
	if !proved {
		in.Report = &prove.Report{}
	}
	s := newSpeaker(in.Model)
	b := &book{Input: in, speaker: s, g: &Guide{Toy: in.Model.Toy.Name, Words: s.labels()}, slips: map[string][]string{}}
	b.deep = prove.DeepHoles(in.Model)
	b.cover()
	if proved {
		b.g.Unproved, b.g.Warning = Unproved(in.Report), Warning(in.Report)
	}
	b.needs()
	b.cautions()
	b.g.Who = b.everyone()
	b.habits()
	b.pieces()
	if proved {
		b.slipWarnings()
	}
	b.parts()
	b.glueUps()
	b.build()
	b.finish()
	b.checks()
	return *b.g
}

// chapter adds a chapter with the steps that it has, numbering them; none, no chapter.
func (b *book) chapter(title, says string, steps []Step) {
	if len(steps) == 0 {
		return
	}
	for i := range steps {
		b.steps++
		steps[i].Number, steps[i].Title = b.steps, capital(steps[i].Title)
	}
	b.g.Chapters = append(b.g.Chapters, Chapter{Title: title, Says: says, Steps: steps})
}
