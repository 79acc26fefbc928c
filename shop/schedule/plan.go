package schedule

import (
	"fmt"
	"sort"
)

// A Plan is a schedule and what is known of it.
type Plan struct {
	Tasks    []Placed // by index of the task
	Makespan int      // the end of the last task
	SetUps   int      // changes of family on all resources

	// No schedule is shorter than Bound; none has fewer set-ups than SetUpsBound,
	// however long it is.
	Bound       int
	SetUpsBound int
	// Proved: no schedule is shorter. SetUpsProved: and none as short has fewer set-ups.
	Proved, SetUpsProved bool

	Work int64 // tasks placed and bounds moved, what Options.Work limits
}

// Placed is a task in its place.
type Placed struct {
	Start int // of the task itself
	Mode  int // by index
	End   int
	SetUp bool // a change of family stands directly before Start
}

// Check says why the plan is not possible, nil if it is. It shares no code with
// the search.
func (p *Plan) Check(pr *Project) error {
	if len(p.Tasks) != len(pr.Tasks) {
		return fmt.Errorf("%d tasks are placed of %d", len(p.Tasks), len(pr.Tasks))
	}
	end := 0
	for i, t := range p.Tasks {
		name := fmt.Sprintf("task %d %q", i, pr.Tasks[i].Name)
		if t.Mode < 0 || t.Mode >= len(pr.Tasks[i].Modes) {
			return fmt.Errorf("%s has no mode %d", name, t.Mode)
		}
		if t.Start < 0 {
			return fmt.Errorf("%s starts at %d", name, t.Start)
		}
		if want := t.Start + pr.Tasks[i].Modes[t.Mode].Duration; t.End != want {
			return fmt.Errorf("%s ends at %d, not %d", name, t.End, want)
		}
		begin := t.Start - pr.setUp(i, t)
		for _, a := range pr.Tasks[i].After {
			if p.Tasks[a].End > begin {
				return fmt.Errorf("%s starts at %d with its set-up, before task %d %q ends at %d", name, begin, a, pr.Tasks[a].Name, p.Tasks[a].End)
			}
		}
		end = max(end, t.End)
	}
	if end != p.Makespan {
		return fmt.Errorf("the last task ends at %d, not %d", end, p.Makespan)
	}
	setUps := 0
	for r := range pr.Resources {
		n, err := p.checkResource(pr, r)
		if err != nil {
			return fmt.Errorf("resource %d %q: %w", r, pr.Resources[r].Name, err)
		}
		setUps += n
	}
	if setUps != p.SetUps {
		return fmt.Errorf("there are %d set-ups, not %d", setUps, p.SetUps)
	}
	return nil
}

// setUp is the time of the set-up before a placed task.
func (p *Project) setUp(i int, t Placed) int {
	for _, u := range p.Tasks[i].Modes[t.Mode].Uses {
		if u.Family > 0 && t.SetUp {
			return p.Resources[u.Resource].SetUp
		}
	}
	return 0
}

func (p *Plan) checkResource(pr *Project, r int) (setUps int, err error) {
	type change struct{ at, units, task int }
	var changes []change
	var withFamily []int
	family := map[int]int{}
	for i, t := range p.Tasks {
		m := pr.Tasks[i].Modes[t.Mode]
		before := pr.setUp(i, t)
		for _, u := range m.Uses {
			if u.Resource != r {
				continue
			}
			held := u.For
			if held == 0 {
				held = m.Duration
			}
			changes = append(changes, change{t.Start - before, u.Units, i}, change{t.Start + held, -u.Units, i})
			if u.Family > 0 {
				family[i] = u.Family
				withFamily = append(withFamily, i)
			}
		}
	}
	sort.Slice(changes, func(a, b int) bool {
		x, y := changes[a], changes[b]
		return x.at < y.at || x.at == y.at && x.units < y.units
	})
	used := 0
	for _, c := range changes {
		if used += c.units; used > pr.Resources[r].Capacity {
			return 0, fmt.Errorf("%d of %d units are held at %d, when task %d %q takes it", used, pr.Resources[r].Capacity, c.at, c.task, pr.Tasks[c.task].Name)
		}
		if c.at < 0 {
			return 0, fmt.Errorf("the set-up for task %d %q begins at %d", c.task, pr.Tasks[c.task].Name, c.at)
		}
	}
	sort.Slice(withFamily, func(a, b int) bool { return p.Tasks[withFamily[a]].Start < p.Tasks[withFamily[b]].Start })
	fitted := pr.Resources[r].Fitted
	for _, i := range withFamily {
		if change := family[i] != fitted; change != p.Tasks[i].SetUp {
			return 0, fmt.Errorf("task %d %q needs family %d when %d is fitted; a set-up before it: %v", i, pr.Tasks[i].Name, family[i], fitted, p.Tasks[i].SetUp)
		}
		if fitted = family[i]; p.Tasks[i].SetUp {
			setUps++
		}
	}
	return setUps, nil
}
