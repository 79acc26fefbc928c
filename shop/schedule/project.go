package schedule

import "fmt"

// A Project is what is to be done and what there is to do it with.
type Project struct {
	Resources []Resource
	Tasks     []Task
}

// A Resource is something held while a task runs and free again after it.
type Resource struct {
	Name     string
	Capacity int  // units: 1 drill, 6 clamps
	SetUp    int  // time that changing the family takes; only with capacity 1
	Fitted   int  // the family fitted at time 0; 0: none
	Steady   bool // better kept at tasks of one kind: see Gather
}

// A Task is a piece of work that is not interrupted.
type Task struct {
	Name  string
	After []int  // tasks, by index, that have to be done before it starts
	Modes []Mode // the ways of doing it, at least one
	Kind  int    // tasks of one kind are better done one after the other; 0: of none. See Gather
}

// A Mode is one way of doing a task.
type Mode struct {
	Name     string
	Duration int
	Uses     []Use // at most one for each resource, at most one of them with a family
}

// A Use is what a mode holds of one resource.
type Use struct {
	Resource int // by index
	Units    int
	For      int // time from the start of the task until it is released; 0: as long as the task
	All      int // see Project.Bound; nothing else heeds it
	Family   int // that has to be fitted, from 1; 0: whatever is fitted stays
}

// Check says what is wrong with a project, nil if nothing is.
func (p *Project) Check() error {
	for i, r := range p.Resources {
		if r.Capacity < 0 || r.SetUp < 0 || r.Fitted < 0 {
			return fmt.Errorf("resource %d %q: capacity, set-up and family cannot be less than 0", i, r.Name)
		}
		if r.Capacity > maxUnits || r.SetUp > maxTime {
			return fmt.Errorf("resource %d %q: no more than %d units, and %d for a set-up", i, r.Name, maxUnits, maxTime)
		}
	}
	total := 0
	for i := range p.Tasks {
		longest, err := p.checkTask(i)
		if err != nil {
			return fmt.Errorf("task %d %q: %w", i, p.Tasks[i].Name, err)
		}
		if total += longest; total > maxTime {
			return fmt.Errorf("all tasks one after the other take more than %d", maxTime)
		}
	}
	if in := newInstance(p); len(in.topo) < in.n {
		return fmt.Errorf("tasks wait for each other in a ring")
	}
	return nil
}

// maxTime keeps all times and their sums within 32 bits, maxUnits what they are
// multiplied with within 64.
const (
	maxTime  = 1 << 29
	maxUnits = 1 << 20
)

func (p *Project) checkTask(i int) (longest int, err error) {
	t := &p.Tasks[i]
	for _, a := range t.After {
		if a < 0 || a >= len(p.Tasks) || a == i {
			return 0, fmt.Errorf("comes after task %d, which cannot be", a)
		}
	}
	if len(t.Modes) == 0 {
		return 0, fmt.Errorf("has no mode")
	}
	for k, m := range t.Modes {
		if m.Duration < 0 || m.Duration > maxTime {
			return 0, fmt.Errorf("mode %d: duration %d is not between 0 and %d", k, m.Duration, maxTime)
		}
		setUp, families, seen := 0, 0, map[int]bool{}
		for _, u := range m.Uses {
			if u.Resource < 0 || u.Resource >= len(p.Resources) {
				return 0, fmt.Errorf("mode %d: there is no resource %d", k, u.Resource)
			}
			r := p.Resources[u.Resource]
			switch {
			case seen[u.Resource]:
				return 0, fmt.Errorf("mode %d: uses %q twice", k, r.Name)
			case u.Units < 0 || u.Units > r.Capacity:
				return 0, fmt.Errorf("mode %d: %d units of %q, which has %d", k, u.Units, r.Name, r.Capacity)
			case u.For < 0 || u.For > m.Duration:
				return 0, fmt.Errorf("mode %d: holds %q for %d of %d", k, r.Name, u.For, m.Duration)
			case u.Family < 0:
				return 0, fmt.Errorf("mode %d: family %d", k, u.Family)
			case u.Family > 0 && (r.Capacity != 1 || u.Units != 1 || m.Duration == 0):
				return 0, fmt.Errorf("mode %d: a family on %q, of which there has to be one, held for some time", k, r.Name)
			}
			seen[u.Resource] = true
			if u.Family > 0 {
				families++
				setUp = r.SetUp
			}
		}
		if families > 1 {
			return 0, fmt.Errorf("mode %d: families on two resources", k)
		}
		longest = max(longest, m.Duration+setUp)
		if longest > maxTime {
			return 0, fmt.Errorf("mode %d: takes more than %d with its set-up", k, maxTime)
		}
	}
	return longest, nil
}

// instance is a project made ready for computing.
type instance struct {
	n, m       int
	capacity   []int
	setUp      []int
	fitted     []int
	modes      [][]mode
	pred, succ [][]int
	topo       []int // every task after its predecessors; short if there is a ring
	// over all modes:
	shortest []int
	head     []int // earliest start by predecessors alone
	tail     []int // least time from its end to the end of all
	several  []int // tasks with more than one mode
	tools    []int // resources with families
}

type mode struct {
	d    int
	uses []use
	tool int // resource with a family, -1 if none
	fam  int
}

type use struct {
	r, units, length int
	all              int // time for which it is held by all that the task stands for
}

func newInstance(p *Project) *instance {
	in := &instance{n: len(p.Tasks), m: len(p.Resources)}
	for _, r := range p.Resources {
		in.capacity = append(in.capacity, r.Capacity)
		in.setUp = append(in.setUp, r.SetUp)
		in.fitted = append(in.fitted, r.Fitted)
	}
	in.modes = make([][]mode, in.n)
	in.pred, in.succ = make([][]int, in.n), make([][]int, in.n)
	in.shortest = make([]int, in.n)
	isTool := make([]bool, in.m)
	for i, t := range p.Tasks {
		seen := map[int]bool{}
		for _, a := range t.After {
			if !seen[a] {
				in.pred[i] = append(in.pred[i], a)
				in.succ[a] = append(in.succ[a], i)
				seen[a] = true
			}
		}
		for k, pm := range t.Modes {
			m := mode{d: pm.Duration, tool: -1}
			for _, u := range pm.Uses {
				length := u.For
				if length == 0 {
					length = m.d
				}
				if u.Units > 0 && length > 0 {
					all := length
					if u.All > 0 {
						all = u.All
					}
					m.uses = append(m.uses, use{u.Resource, u.Units, length, all})
				}
				if u.Family > 0 {
					m.tool, m.fam = u.Resource, u.Family
					isTool[u.Resource] = true
				}
			}
			in.modes[i] = append(in.modes[i], m)
			if k == 0 || m.d < in.shortest[i] {
				in.shortest[i] = m.d
			}
		}
		if len(t.Modes) > 1 {
			in.several = append(in.several, i)
		}
	}
	for r, is := range isTool {
		if is {
			in.tools = append(in.tools, r)
		}
	}
	in.order()
	return in
}

// groups numbers the tasks that hang together by precedence, the groups in the
// order of their first tasks.
func (in *instance) groups() (of []int, count int) {
	of = make([]int, in.n)
	for i := range of {
		of[i] = -1
	}
	var stack []int
	for i := range in.n {
		if of[i] >= 0 {
			continue
		}
		of[i] = count
		for stack = append(stack, i); len(stack) > 0; {
			j := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, next := range [][]int{in.pred[j], in.succ[j]} {
				for _, k := range next {
					if of[k] < 0 {
						of[k] = count
						stack = append(stack, k)
					}
				}
			}
		}
		count++
	}
	return of, max(1, count)
}

// firstSetUp is the time that must pass before a task since its family is not the
// one fitted at the beginning.
func (in *instance) firstSetUp(i int) int {
	least := maxTime
	for k := range in.modes[i] {
		t := 0
		if m := &in.modes[i][k]; m.fam > 0 && in.fitted[m.tool] != m.fam {
			t = in.setUp[m.tool]
		}
		least = min(least, t)
	}
	return least
}

// order fills topo, head and tail.
func (in *instance) order() {
	in.head, in.tail = make([]int, in.n), make([]int, in.n)
	wait := make([]int, in.n)
	for i := range in.n {
		in.head[i] = in.firstSetUp(i)
		if wait[i] = len(in.pred[i]); wait[i] == 0 {
			in.topo = append(in.topo, i)
		}
	}
	for q := 0; q < len(in.topo); q++ {
		i := in.topo[q]
		for _, j := range in.succ[i] {
			in.head[j] = max(in.head[j], in.head[i]+in.shortest[i])
			if wait[j]--; wait[j] == 0 {
				in.topo = append(in.topo, j)
			}
		}
	}
	for q := len(in.topo) - 1; q >= 0; q-- {
		i := in.topo[q]
		for _, j := range in.succ[i] {
			in.tail[i] = max(in.tail[i], in.shortest[j]+in.tail[j])
		}
	}
}
