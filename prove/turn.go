package prove

import (
	"fmt"
	"math"

	"dryfit/geom/r3"
	"dryfit/measure"
	"dryfit/prove/tracking"
	"dryfit/toy"
)

// move.turn: the toy as a train of cars (train.go), each on its mean axle, in the
// tightest circle that its pins allow, to the left and to the right.

var turnCheck = Check{
	ID: "move.turn", Asks: "how tightly does the whole thing turn, and how do its cars follow?", run: turns,
	How: "Several fixed axles of one car roll as one in their middle, and are dragged sideways. In a steady turn all mean axles point at one centre, and the radius of each pin is common to both of its cars: r² + a² = r'² + L². The circle is made smaller until a pin is at the end of its swing (move.hinge) or a car would fold in without limit, and the ring that all of it sweeps is measured.",
	Limits: []Limit{
		{"a circle of the diameter that the file asks for", "turns-in", "the toy file: must"},
	},
}

func turns(r *run) {
	var must *toy.Must
	for i := range r.m.Toy.Musts {
		if m := &r.m.Toy.Musts[i]; m.Kind == toy.MustTurn {
			must = m
		}
	}
	f := Finding{Check: "move.turn", About: "toy", Verdict: Holds, Unit: "mm", LimitOp: "<=", Source: turnSource, Value: math.Inf(1), Limit: math.Inf(1), known: true}
	if must != nil {
		f.Limit, f.Source, f.Margin = must.Length.MM(), "the toy file: must", -must.Length.MM()
	}
	t := r.train()
	if len(t.Train) > 0 {
		f.Places = []Place{r.place(t.pieces[0][0], "", r.m.Pieces[t.pieces[0][0]].Body.Bounds().Center(), source0)}
	}
	switch {
	case t.untold != "":
		f.Verdict, f.Margin = CannotTell, -1
		f.Says = "how it turns is not computed: " + t.untold
		r.untold = r.untold || must != nil
	case len(t.Train) < 2:
		f.Says = "it has no wheels to turn on"
		if len(t.Train) > 0 {
			f.Says = "it rolls straight: nothing steers, its axles are fixed in one body"
		}
		if must != nil {
			f.Verdict = Fails
			f.Says += fmt.Sprintf("; it must turn in a circle of %s", r.len(f.Limit))
		}
	default:
		r.turnsOn(&f, t, must)
	}
	r.add(f)
}

const turnSource = "none asked for; a must turns-in sets one"

// oneWay is a turn to one side, as if to the left.
type oneWay struct {
	tracking.Train
	word   string
	radius float64 // of the leading car's mean axle
	by     tracking.Stop
	ok     bool
	steady tracking.Steady
	sweep  tracking.Sweep
}

func tightest(t tracking.Train, word string) oneWay {
	w := oneWay{Train: t, word: word}
	w.radius, w.by, w.ok = t.Tightest()
	w.steady = t.Steady(w.radius)
	w.sweep = t.Sweep(w.steady)
	return w
}

func (r *run) turnsOn(f *Finding, t train, must *toy.Must) {
	left, right := tightest(t.Train, "left"), tightest(t.Train.Mirrored(), "right")
	worse := left
	if right.sweep.Outer > left.sweep.Outer+turnSame || !right.ok {
		worse = right
	}
	if !worse.ok {
		f.Verdict, f.Margin = CannotTell, -1
		f.Says = "how it turns is not computed: as drawn it does not even roll straight"
		if must != nil {
			f.Verdict = Fails
		}
		return
	}
	f.Value = 2 * worse.sweep.Outer
	f.Says = fmt.Sprintf("turns in a circle of %s over all", r.about(f.Value))
	if math.Abs(left.sweep.Outer-right.sweep.Outer) > turnSame {
		f.Says = fmt.Sprintf("turns in a circle of %s over all to the left, %s to the right", r.about(2*left.sweep.Outer), r.about(2*right.sweep.Outer))
	}
	f.Places = append(f.Places[:0], r.atPin(t, worse.by.Car))
	at := worse // the turn that is told of in full
	if must != nil {
		f.Margin = f.Limit - f.Value + turnSame
		if f.Margin >= 0 {
			at.radius, _ = worse.Within(f.Limit/2, worse.radius)
			at.steady = worse.Steady(at.radius)
			at.sweep = worse.Sweep(at.steady)
			f.Says += fmt.Sprintf("; in the %s that it must,", r.len(f.Limit))
		} else {
			f.Verdict = Fails
			f.Says += fmt.Sprintf("; it must in %s, but %s", r.len(f.Limit), r.why(t, worse, f.Limit/2))
		}
	} else {
		f.Says += ":"
		f.Margin = math.Inf(1)
	}
	if f.Verdict != Fails {
		f.Says += " " + r.follows(t, at)
	}
	f.Notes = append(f.Notes, "what stops it: "+r.stop(t, worse))
	f.Notes = append(f.Notes, r.turnNotes(t, at)...)
	r.pastSteady(f, t)
}

// turnSame is how much two circles may differ and still count as one, mm: a swing is
// certified to tol.Angle, which on a long car is a few tenths of a millimetre.
const turnSame = 0.5

// about prints a length as nobody measures it finer than: whole millimetres or 16ths
// of an inch.
func (r *run) about(mm float64) string {
	step := 1.0
	if r.m.Toy.Units == measure.Inch {
		step = 25.4 / 16
	}
	return r.len(float64(math.Round(mm/step) * step))
}

// follows says where the farthest off-tracking car runs.
func (r *run) follows(t train, w oneWay) string {
	far, off := -1, 0.0
	for k := range w.Train {
		if d := w.steady.R[0] - w.steady.R[k]; k > 0 && math.Abs(d) > math.Abs(off) {
			far, off = k, d
		}
	}
	if far < 0 || r.about(math.Abs(off)) == r.about(0) {
		return "every car follows in the track of " + t.names[0]
	}
	side := "inside"
	if off < 0 {
		side = "outside"
	}
	return fmt.Sprintf("%s runs %s %s the track of %s", t.names[far], r.about(math.Abs(off)), side, t.names[0])
}

// stop says what keeps it from turning more tightly.
func (r *run) stop(t train, w oneWay) string {
	switch {
	case w.by.Car < 0:
		return t.names[0] + " turns on the spot"
	case w.by.Folds:
		return t.names[w.by.Car] + " turns about the middle of its own axles, and tighter would fold in without limit"
	}
	return fmt.Sprintf("%s is at the end of its swing, %s", r.m.Hinges[t.pins[w.by.Car]].Name, r.deg(math.Abs(w.steady.Swing[w.by.Car])))
}

// why says what a smaller circle would take.
func (r *run) why(t train, w oneWay, outer float64) string {
	k := w.by.Car
	switch {
	case k < 0:
		return "it is that long: make it shorter"
	case w.by.Folds:
		return t.names[k] + " would fold in without limit: let its axle come nearer to what pulls it"
	}
	name := r.m.Hinges[t.pins[k]].Name
	says := fmt.Sprintf("%s swings no further than %s", name, r.deg(math.Abs(w.steady.Swing[k])))
	least, _, _ := w.Foldless()
	radius, ok := w.Within(outer, least)
	if s := w.Steady(radius); ok && s.Folds < 0 {
		says += fmt.Sprintf(" and would have to swing %s: make room for that, or bring the axles nearer to each other", r.deg(math.Abs(s.Swing[k])))
	} else {
		says += ", and however far it swung that circle would be too small: bring the axles nearer to each other"
	}
	return says
}

// turnNotes tells of each car in a turn.
func (r *run) turnNotes(t train, w oneWay) []string {
	notes := []string{fmt.Sprintf("to the %s, the middle of the leading axle on a circle of radius %s: %s sweeps outermost, %s innermost, at %s from the centre",
		w.word, r.len(w.radius), t.names[w.sweep.OuterAt], t.names[w.sweep.InnerAt], r.len(w.sweep.Inner))}
	for k, c := range w.Train {
		n := t.names[k] + ": "
		if k > 0 {
			n += fmt.Sprintf("mean axle at radius %s, off-tracking %s, %s at %s", r.len(w.steady.R[k]), r.len(w.steady.R[0]-w.steady.R[k]), r.m.Hinges[t.pins[k]].Name, r.deg(math.Abs(w.steady.Swing[k])))
		} else {
			n += fmt.Sprintf("mean axle at radius %s", r.len(w.steady.R[0]))
		}
		if c.Spread > inLine/2 {
			n += fmt.Sprintf("; its outer axles are dragged sideways at %s, being %s off the mean", r.deg(c.Scrub(w.steady.R[k])), r.len(c.Spread))
		}
		notes = append(notes, n)
	}
	half := w.halfTurn()
	if half != nil {
		for k := 1; k < len(w.Train); k++ {
			notes = append(notes, fmt.Sprintf("taken from straight through half a turn of that circle, %s opens to %s", r.m.Hinges[t.pins[k]].Name, r.deg(half[k])))
		}
	}
	return notes
}

// halfSteps are the steps of half a turn: 0.5 degree each, with which the angles come
// out to a thousandth of a degree.
const halfSteps = 360

// halfTurn returns how far each pin opens when the leading car is taken half round
// from straight; nil if it turns on the spot or a car swivels freely.
func (w oneWay) halfTurn() []float64 {
	if w.radius < inLine {
		return nil
	}
	places, ok := w.Follow([]tracking.Bend{tracking.Arc(w.radius, math.Pi)}, halfSteps, nil)
	if !ok {
		return nil
	}
	return w.Widest(places)
}

// pastSteady minds a must for a swing at which no turn goes on: the car folds in.
func (r *run) pastSteady(f *Finding, t train) {
	for _, tr := range []tracking.Train{t.Train, t.Train.Mirrored()} {
		least, by, ok := tr.Foldless()
		if !ok || !by.Folds {
			continue
		}
		s := tr.Steady(least)
		m := r.mustOf(r.m.Hinges[t.pins[by.Car]].Name)
		if m == nil || m.Angle.Degrees() <= degrees(s.Swing[by.Car])+0.1 {
			continue
		}
		f.Notes = append(f.Notes, fmt.Sprintf("past %s of the %s that %s must swing, %s folds in by itself until something touches: no turn goes on there",
			r.deg(s.Swing[by.Car]), m.Angle.Format(), m.Hinge, t.names[by.Car]))
		if f.Verdict == Holds {
			f.Verdict = Mind
			f.Says += "; " + f.Notes[len(f.Notes)-1]
		}
		return
	}
}

// atPin is the place of the pin of a car, or of the leading car.
func (r *run) atPin(t train, car int) Place {
	if car > 0 {
		h := r.m.Hinges[t.pins[car]]
		return r.place(h.Pin, "", h.Centre, h.Spec.At)
	}
	return r.place(t.pieces[0][0], "", r3.Vec{X: t.drawn[0].At.X, Y: t.drawn[0].At.Y}, source0)
}
