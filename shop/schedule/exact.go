package schedule

// exactTasks is up to how many tasks branch and bound is tried.
const exactTasks = 14

// exact is a branch and bound over lists: each task in turn, in each mode, is put
// as early as it can behind what stands on its tool, and never begins before the
// one put before it. Among these schedules is a best one: take one of which no
// task can begin earlier while the order on each tool stays, and list it by
// beginnings; as no task holds more later than earlier, nothing that is listed
// behind a task keeps it from where it stands.
type exact struct {
	*builder
	best  *solution
	d     *decoder
	list  []int
	modes []int
	wait  []int
	left  []int // energy of each resource that is not placed, at least
	least [][]int
	until int64
}

// run improves best and says whether it is proved in makespan and set-ups.
func (in *instance) exact(d *decoder, best *solution, work int64) (proved bool, spent int64) {
	e := &exact{builder: newBuilder(in, false), best: best, d: d, modes: make([]int, in.n), wait: make([]int, in.n),
		left: make([]int, in.m), least: make([][]int, in.n), until: work}
	e.append = true
	for i := range in.n {
		e.wait[i] = len(in.pred[i])
		e.least[i] = make([]int, in.m)
		for r := range in.m {
			for k := range in.modes[i] {
				u := in.modes[i][k].use(r)
				if x := u.units * u.length; k == 0 || x < e.least[i][r] {
					e.least[i][r] = x
				}
			}
			e.left[r] += e.least[i][r]
		}
	}
	return e.branch(0), e.work
}

// branch is false if it ran out of work.
func (e *exact) branch(from int) bool {
	if len(e.list) == e.in.n {
		e.take()
		return true
	}
	for _, i := range e.in.topo {
		if e.wait[i] > 0 || e.wait[i] < 0 {
			continue
		}
		for k := range e.in.modes[i] {
			if e.work > e.until {
				return false
			}
			e.rebuild()
			e.place(i, k)
			begin := e.begin(i)
			if begin < from {
				continue
			}
			e.choose(i, k, 1)
			ok := e.hopeless(begin) || e.branch(begin)
			e.choose(i, k, -1)
			if !ok {
				return false
			}
		}
	}
	return true
}

func (e *exact) rebuild() {
	e.reset()
	for _, i := range e.list {
		e.place(i, e.modes[i])
	}
}

func (e *exact) choose(i, k, by int) {
	if by > 0 {
		e.list = append(e.list, i)
		e.modes[i] = k
	} else {
		e.list = e.list[:len(e.list)-1]
	}
	e.wait[i] -= by
	for _, j := range e.in.succ[i] {
		e.wait[j] -= by
	}
	for r := range e.left {
		e.left[r] -= by * e.least[i][r]
	}
}

// hopeless: nothing better can come of what is placed, of which the last begins at begin.
func (e *exact) hopeless(begin int) bool {
	setUps, bound := 0, 0
	in := e.in
	for _, i := range in.topo {
		if !e.placed[i] {
			e.end[i] = max(begin, in.head[i]) + in.shortest[i]
			for _, a := range in.pred[i] {
				e.end[i] = max(e.end[i], e.end[a]+in.shortest[i])
			}
		} else if e.change[i] {
			setUps++
		}
		bound = max(bound, e.end[i]+in.tail[i])
	}
	for r, c := range in.capacity {
		if c == 0 {
			continue
		}
		energy := e.left[r]
		for _, i := range e.list {
			u := in.modes[i][e.mode[i]].use(r)
			energy += u.units * max(0, e.start[i]+u.length-max(begin, e.begin(i)))
		}
		bound = max(bound, begin+(energy+c-1)/c)
	}
	return bound > e.best.makespan || bound == e.best.makespan && setUps >= e.best.setUps
}

func (e *exact) take() {
	e.d.fwd, e.builder = e.builder, e.d.fwd
	t := &e.d.trial
	e.d.keep(t, true)
	e.d.fwd, e.builder = e.builder, e.d.fwd
	if t.better(e.best) {
		e.best.copyFrom(t)
	}
}
