package plan

import (
	"fmt"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/guide"
	"dryfit/prove"
)

// Job is a toy, and how many of it are made.
type Job struct {
	Model *assembly.Model
	Guide guide.Guide // its steps are the plan's
	Count int
}

// op is a task in the making.
type op struct {
	job, step int
	lot       span // of the toys, glue-ups or things that what names: units of them in all; 0: all
	what      string
	parts     int // that a task is told in; 0: one
	does      string
	ways      []way // none: time alone passes
	clamps    int
	held      float64 // times that they are held, see maker.bound
	hold      float64 // minutes after the hands are off in which the glue sets and the clamps stay on
	after     []int
	kind      int // index into maker.kinds
}

// way is one way of doing a task: with a tool or none.
type way struct {
	tool    string
	setting string  // bit or blade that has to be fitted
	width   float64 // of a blade than which a narrower one does too, mm; 0: it has to be this one
	deeds   []string
	minutes float64 // of an adult
	all     float64 // see maker.bound; else 0
}

// each is a way of doing something to a number of pieces: base once, and each for every one.
type each struct {
	tool, setting string
	deeds         []string
	base, each    float64
	width         float64
}

// kind is tasks that differ only in the pieces that they are done to.
type kind struct {
	ways   []each
	n      float64 // pieces in all that the toys cannot do without
	clamps int     // of one piece
	hold   float64
	after  []int
}

// The longest that a task of many pieces is, in minutes, before it is told in goes: at a
// machine, where every go needs its setting, and by hand, where others can help.
const (
	longAtMachine = 120.0
	longByHand    = 45.0
)

// maker makes the tasks of all jobs.
type maker struct {
	*crew
	jobs    []Job
	session float64 // minutes; 0: none
	toys    int     // that go through in a lot at most
	long    float64 // how much longer than usual tasks may be
	ops     []op
	kinds   []kind
	advice  []string
}

// line is a job in the making.
type line struct {
	*maker
	j     int
	job   Job
	m     *assembly.Model
	step  int // in work
	saws  []prove.SawLine
	wood  map[string]flow // its boards are ready to be sawn, by part
	part  map[string]flow // the pieces of a part are ready
	glue  map[string]flow // and the glue-ups of a kind
	need  float64         // share of the pieces in work that are no spares
	lot   *[2]float64     // the stretch of the batch in work; nil: all of it
	first int             // index of the line's kinds, and which is next
	kind  []int
}

// flow is tasks that a batch goes through, each for a stretch of it; the batch is from 0 to 1.
type flow []stretch

type stretch struct {
	from, to float64
	op       int
}

// pieceEps is less than a piece of any batch.
const pieceEps = 1e-9

// over are the tasks of a stretch.
func (f flow) over(from, to float64) (ops []int) {
	for _, s := range f {
		if s.from < to-pieceEps && s.to > from+pieceEps && !slices.Contains(ops, s.op) {
			ops = append(ops, s.op)
		}
	}
	return ops
}

// bunch is what is handled: n things, in each so many pieces, in the last those that are left.
type bunch struct{ n, high, pieces int }

func loose(n int) bunch { return bunch{n, 1, n} }

// stacked are pieces in stacks so high.
func stacked(n, high int) bunch { return bunch{(n + high - 1) / high, high, n} }

// upTo is the share of the pieces that the first k things are.
func (b bunch) upTo(k int) float64 { return float64(min(k*b.high, b.pieces)) / float64(b.pieces) }

// newKind begins a kind of tasks. In the lots of the build, which have the same kinds one
// after the other, it is the one of the first lot again.
func (l *line) newKind(k kind) int {
	if l.first == len(l.kind) {
		l.kinds = append(l.kinds, k)
		l.kind = append(l.kind, len(l.kinds)-1)
	}
	l.first++
	return l.kind[l.first-1]
}

// stretch is where a part of what is in work lies in the batch.
func (l *line) stretch(from, to float64) (float64, float64) {
	if l.lot == nil {
		return from, to
	}
	a, b := l.lot[0], l.lot[1]
	return a + float64(from*(b-a)), a + float64(to*(b-a))
}

// do adds tasks on some pieces after others: in lots of toys, and in goes where that is long.
func (l *line) do(does string, b bunch, after flow, ways ...each) (out flow) {
	var goes [][2]int
	for _, r := range l.ranges(b.n) {
		n, k := r[1]-r[0], 1
		for _, w := range ways {
			long := l.longest(w)
			if l.session > 0 {
				long = min(long, l.session-math.Ceil(l.changes(w.tool)))
			}
			if w.each > 0 { // goes are as equal as can be: none is larger than what there is room for
				per := max(1, int((long-w.base)/w.each+pieceEps))
				k = max(k, (n+per-1)/per)
			}
		}
		k = min(k, n)
		for i := range k {
			goes = append(goes, [2]int{r[0] + i*n/k, r[0] + (i+1)*n/k})
		}
	}
	at := l.newKind(kind{ways: ways})
	for _, g := range goes {
		own := float64(g[1] - g[0])
		from, to := l.stretch(b.upTo(g[0]), b.upTo(g[1]))
		o := op{job: l.j, step: l.step, does: does, after: after.over(from, to), kind: at}
		if len(goes) > 1 {
			o.parts = len(goes)
		}
		for _, w := range ways {
			o.ways = append(o.ways, way{w.tool, w.setting, w.width, w.deeds, w.base + float64(w.each*own), 0})
		}
		out = append(out, stretch{from, to, l.add(o, own)})
	}
	return out
}

// ranges are the lots of n things.
func (l *line) ranges(n int) (out [][2]int) {
	if l.lot != nil {
		return [][2]int{{0, n}}
	}
	for _, t := range lots(l.job.Count, l.toys) {
		if r := [2]int{t[0] * n / l.job.Count, t[1] * n / l.job.Count}; r[1] > r[0] {
			out = append(out, r)
		}
	}
	return out
}

// longest is how long a task is at most in one go. What a child can do is done in spells that
// a child stays with.
func (l *line) longest(w each) float64 {
	if slices.Contains(single, w.tool) {
		return float64(longAtMachine * l.long)
	}
	long := longByHand
	if w.base > 0 { // every go would have its setting
		return float64(long * l.long)
	}
	for _, h := range l.hands {
		if can, alone := may(h, w.deeds); !isAdult(h) && can {
			pace := withChild
			if alone {
				pace = childPace
			}
			long = min(long, l.minutes["child-spell"]/pace)
		}
	}
	return float64(long * l.long)
}

// add adds a task on n pieces.
func (l *line) add(o op, n float64) int {
	k := &l.kinds[o.kind]
	k.n += float64(n * l.need)
	for _, a := range o.after {
		if before := l.ops[a].kind; before != o.kind && !slices.Contains(k.after, before) {
			k.after = append(k.after, before)
		}
	}
	l.ops = append(l.ops, o)
	return len(l.ops) - 1
}

// wait adds time that passes, for the lots of a batch or for one of the build.
func (l *line) wait(does string, name span, minutes float64, after flow) (out flow) {
	n := l.job.Count
	k := l.newKind(kind{hold: minutes})
	for _, r := range l.ranges(n) {
		from, to := l.stretch(float64(r[0])/float64(n), float64(r[1])/float64(n))
		lot := name
		if l.lot == nil {
			lot = lotOf(r, n)
		}
		o := op{job: l.j, step: l.step, does: does, lot: lot, what: "toy", hold: minutes, after: after.over(from, to), kind: k}
		out = append(out, stretch{from, to, l.add(o, 1)})
	}
	return out
}

// changes is how long another bit or blade takes on a tool.
func (m *maker) changes(tool string) float64 {
	switch tool {
	case drillPress, handDrill:
		return m.minutes["bit-change"]
	case bandSaw, scrollSaw:
		return m.minutes["blade-change"]
	}
	return 0
}

// tip keeps a piece of advice.
func (m *maker) tip(format string, args ...any) {
	if s := fmt.Sprintf(format, args...); !slices.Contains(m.advice, s) {
		m.advice = append(m.advice, s)
	}
}

// lots divides n into goes of at most some, as equal as can be.
func lots(n, most int) (out [][2]int) {
	k := (n + most - 1) / most
	for i := range k {
		out = append(out, [2]int{i * n / k, (i + 1) * n / k})
	}
	return out
}

// lotOf says which of n a lot is, from 1.
func lotOf(lot [2]int, n int) span {
	if lot == [2]int{0, n} {
		return span{}
	}
	return span{lot[0] + 1, lot[1], n}
}
