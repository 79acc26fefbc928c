package schedule

import "slices"

// solution is a schedule that the search keeps; list is its order of starts.
type solution struct {
	list, modes []int
	start, end  []int
	change      []bool
	makespan    int
	setUps      int
	appended    bool // made with tasks only behind those on their tool
}

// better: makespan first, then set-ups.
func (s *solution) better(t *solution) bool {
	return s.makespan < t.makespan || s.makespan == t.makespan && s.setUps < t.setUps
}

func (s *solution) copyFrom(t *solution) {
	s.list = append(s.list[:0], t.list...)
	s.modes = append(s.modes[:0], t.modes...)
	s.start = append(s.start[:0], t.start...)
	s.end = append(s.end[:0], t.end...)
	s.change = append(s.change[:0], t.change...)
	s.makespan, s.setUps, s.appended = t.makespan, t.setUps, t.appended
}

// decoder turns lists into schedules and justifies them.
type decoder struct {
	in       *instance
	fwd, bwd *builder
	pos      []int // of a task in topo
	keys     []int // with ties broken
	key      []int // when a task is wanted
	list     []int
	trial    solution
}

func newDecoder(in *instance) *decoder {
	d := &decoder{in: in, fwd: newBuilder(in, false), bwd: newBuilder(in, true), pos: make([]int, in.n), keys: make([]int, in.n), key: make([]int, in.n), list: make([]int, in.n)}
	for k, i := range in.topo {
		d.pos[i] = k
	}
	return d
}

func (d *decoder) work() int64 { return d.fwd.work + d.bwd.work }

// order sorts the tasks by key, ties in topological order, into d.list. The order
// is a possible one if no key is less than a predecessor's.
func (d *decoder) order(key func(i int) int) []int {
	for i := range d.keys {
		d.keys[i] = key(i)*d.in.n + d.pos[i]
	}
	slices.Sort(d.keys)
	for k, x := range d.keys {
		x %= d.in.n
		if x < 0 {
			x += d.in.n
		}
		d.list[k] = d.in.topo[x]
	}
	return d.list
}

// move orders the tasks as they start in p, but for some that come at another time, with what has
// to come before them or behind.
func (d *decoder) move(p *solution, tasks []int, at int) {
	copy(d.key, p.start)
	forward := at < p.start[tasks[0]]
	for _, i := range tasks {
		d.key[i] = at
	}
	if forward {
		d.earlier()
	} else {
		d.later()
	}
	d.order(func(i int) int { return d.key[i] })
}

// later makes no key less than a predecessor'd.
func (d *decoder) later() {
	for _, i := range d.in.topo {
		for _, a := range d.in.pred[i] {
			d.key[i] = max(d.key[i], d.key[a])
		}
	}
}

// earlier makes no key greater than a successor'd.
func (d *decoder) earlier() {
	for q := len(d.in.topo) - 1; q >= 0; q-- {
		i := d.in.topo[q]
		for _, j := range d.in.succ[i] {
			d.key[i] = min(d.key[i], d.key[j])
		}
	}
}

// decode builds list forward, then justifies right and left for as long as that
// helps, at most `rounds` times, and leaves the best in out. out.list is the order
// of starts, which need not be list.
func (d *decoder) decode(list, modes []int, appended bool, rounds int, out *solution) {
	d.fwd.append, d.bwd.append = appended, appended
	d.fwd.build(list, modes)
	d.keep(out, appended)
	for range rounds {
		d.bwd.build(d.backward(), modes)
		d.fwd.build(d.order(func(i int) int { return -d.bwd.end[i] }), modes)
		d.keep(&d.trial, appended)
		if !d.trial.better(out) {
			return
		}
		out.copyFrom(&d.trial)
	}
}

// backward is the order of ends, late before early and successors before
// predecessors.
func (d *decoder) backward() []int {
	list := d.order(func(i int) int { return d.fwd.end[i] })
	slices.Reverse(list)
	return list
}

func (d *decoder) keep(out *solution, appended bool) {
	b := d.fwd
	out.start = append(out.start[:0], b.start...)
	out.end = append(out.end[:0], b.end...)
	out.modes = append(out.modes[:0], b.mode...)
	out.change = append(out.change[:0], b.change...)
	out.list = append(out.list[:0], d.order(func(i int) int { return b.start[i] })...)
	out.makespan, out.setUps, out.appended = b.makespan(), b.setUps(), appended
}
