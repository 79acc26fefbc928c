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
	lot       string
	parts     int // that a task is told in; 0: one
	does      string
	ways      []way // none: time alone passes
	clamps    int
	hold      float64 // minutes after the hands are off in which the glue sets and the clamps stay on
	after     []int
	setUp     float64 // of the tool, at most
}

// way is one way of doing a task: with a tool or none.
type way struct {
	tool    string
	setting string // bit or blade that has to be fitted
	deeds   []string
	minutes float64 // of an adult
}

// each is a way of doing something to a number of pieces: base once, and each for every one.
type each struct {
	tool, setting string
	deeds         []string
	base, each    float64
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
	ops     []op
	advice  []string
}

// line is a job in the making.
type line struct {
	*maker
	j    int
	job  Job
	m    *assembly.Model
	step int // in work
	saws []prove.SawLine
	part map[string][]int // the tasks after which the pieces of a part are ready
	glue map[string][]int // and those of the glue-ups of a kind
}

// do adds a task on n pieces, in goes where that is long, and returns their indices.
func (l *line) do(does string, n int, after []int, ways ...each) []int {
	goes := 1
	for _, w := range ways {
		long := longByHand
		if w.tool != "" {
			long = longAtMachine
		}
		if l.session > 0 {
			long = min(long, l.session-l.changes(w.tool))
		}
		if room := long - w.base; room > 0 && w.each > 0 {
			goes = max(goes, int(math.Ceil(w.each*float64(n)/room-1e-9)))
		} else if w.each > 0 {
			goes = n
		}
	}
	goes = max(1, min(goes, n))
	var out []int
	for k := range goes {
		o := op{job: l.j, step: l.step, does: does, after: slices.Clone(after)}
		if goes > 1 {
			o.parts = goes
		}
		own := (k+1)*n/goes - k*n/goes
		for _, w := range ways {
			o.ways = append(o.ways, way{w.tool, w.setting, w.deeds, w.base + float64(w.each*float64(own))})
		}
		out = append(out, l.add(o))
	}
	return out
}

func (m *maker) add(o op) int {
	m.ops = append(m.ops, o)
	return len(m.ops) - 1
}

// wait adds time that passes.
func (l *line) wait(does, lot string, minutes float64, after []int) int {
	return l.add(op{job: l.j, step: l.step, does: does, lot: lot, hold: minutes, after: slices.Clone(after)})
}

// changes is how long another bit or blade takes on a tool.
func (m *maker) changes(tool string) float64 {
	switch tool {
	case drillPress, handDrill:
		return m.minutes["bit-change"]
	case bandSaw, scrollSaw, copingSaw:
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

// lotName says which of n a lot is.
func lotName(what string, lot [2]int, n int) string {
	switch {
	case n == 1 || lot == [2]int{0, n}:
		return ""
	case lot[1]-lot[0] == 1:
		return fmt.Sprintf("%s %d", what, lot[1])
	}
	return fmt.Sprintf("%ss %d–%d", what, lot[0]+1, lot[1])
}
