package schedule

import "slices"

// builder places tasks one after the other, each as early as it can: serial
// schedule generation (Kolisch 1996). Backward it builds the schedule from its end,
// times counted back from there; a set-up then stands on the same side of its task
// in reversed time, which is not quite what is real, so that a backward schedule
// is only used for its order.
type builder struct {
	in     *instance
	back   bool
	append bool // tasks with a family only behind those placed on their tool
	prof   []profile
	seq    [][]int // tasks with a family on each tool, by time
	start  []int
	end    []int
	mode   []int
	change []bool // a set-up stands before it
	placed []bool
	work   int64
}

func newBuilder(in *instance, back bool) *builder {
	return &builder{in: in, back: back, prof: make([]profile, in.m), seq: make([][]int, in.m),
		start: make([]int, in.n), end: make([]int, in.n), mode: make([]int, in.n), change: make([]bool, in.n), placed: make([]bool, in.n)}
}

func (b *builder) reset() {
	for r := range b.prof {
		b.prof[r].reset(b.in.capacity[r])
		b.seq[r] = b.seq[r][:0]
	}
	clear(b.placed)
	clear(b.change)
}

// build places all tasks in the order of list, which has predecessors first
// (backward: successors first).
func (b *builder) build(list, modes []int) {
	b.reset()
	for _, i := range list {
		b.place(i, modes[i])
	}
}

func (b *builder) earliest(i int) int {
	from, t := b.in.pred[i], 0
	if b.back {
		from = b.in.succ[i]
	}
	for _, a := range from {
		t = max(t, b.end[a])
	}
	return t
}

func (b *builder) place(i, k int) {
	m := &b.in.modes[i][k]
	b.work++
	est := b.earliest(i)
	if m.fam > 0 {
		b.placeWithFamily(i, k, m, est)
		return
	}
	b.put(i, k, m, b.fit(m, est, 0), false)
}

// fit is the earliest time not before t at which set-up and task fit.
func (b *builder) fit(m *mode, t, setUp int) int {
	for again := true; again; {
		again = false
		for x := range m.uses {
			u := &m.uses[x]
			off, length := b.span(m, u, setUp)
			if f := b.prof[u.r].fit(t+off, length, u.units) - off; f > t {
				t = f
				again = x > 0
			}
		}
	}
	return t
}

// span is when a use is held, counted from the beginning of the set-up.
func (b *builder) span(m *mode, u *use, setUp int) (off, length int) {
	switch {
	case !b.back:
		return 0, setUp + u.length
	case setUp == 0:
		return m.d - u.length, u.length
	}
	return 0, setUp + m.d
}

func (b *builder) put(i, k int, m *mode, t int, change bool) {
	setUp := 0
	if change {
		setUp = b.in.setUp[m.tool]
	}
	for x := range m.uses {
		u := &m.uses[x]
		off, length := b.span(m, u, setUp)
		b.prof[u.r].add(t+off, t+off+length, u.units)
	}
	b.start[i], b.end[i] = t+setUp, t+setUp+m.d
	b.mode[i], b.change[i], b.placed[i] = k, change, true
}

// placeWithFamily tries the gaps between what stands on the tool, from early to
// late. A gap will not do where a task behind it would lose the family it stands
// on; where that task has the same family, its set-up is saved. The tool is free once
// it is released, which may be before its task has ended.
func (b *builder) placeWithFamily(i, k int, m *mode, est int) {
	r, seq, held := m.tool, b.seq[m.tool], b.onTool(m)
	gap := len(seq)
	if !b.append {
		for gap > 0 && b.start[seq[gap-1]] > est {
			gap--
		}
	}
	for ; ; gap++ {
		free, fitted := 0, b.in.fitted[r]
		if gap > 0 {
			last := seq[gap-1]
			free, fitted = b.start[last]+b.onTool(&b.in.modes[last][b.mode[last]]), b.family(last)
		} else if b.back {
			fitted = m.fam
		}
		change := fitted != m.fam
		setUp := 0
		if change {
			setUp = b.in.setUp[r]
		}
		from := max(est, free)
		next := -1
		if gap < len(seq) {
			next = seq[gap]
			if b.begin(next)-from < setUp+held {
				continue
			}
			if !b.change[next] && b.family(next) != m.fam && !(b.back && gap == 0) {
				continue
			}
		}
		t := b.fit(m, from, setUp)
		if next >= 0 && t+setUp+held > b.begin(next) {
			continue
		}
		b.put(i, k, m, t, change)
		b.seq[r] = slices.Insert(seq, gap, i)
		if next >= 0 {
			b.renew(next, b.family(next) != m.fam)
		}
		return
	}
}

// onTool is how long from its start a task with a family has its tool; backward, where the
// beginning is not known before all is placed, to its end.
func (b *builder) onTool(m *mode) int {
	if b.back {
		return m.d
	}
	return m.use(m.tool).length
}

func (b *builder) family(i int) int { return b.in.modes[i][b.mode[i]].fam }

// begin is when the set-up of a placed task begins, or the task if it has none.
func (b *builder) begin(i int) int {
	if b.change[i] {
		return b.start[i] - b.in.setUp[b.in.modes[i][b.mode[i]].tool]
	}
	return b.start[i]
}

// renew takes away the set-up before a task that does not need it any more.
func (b *builder) renew(i int, needs bool) {
	if !b.change[i] || needs {
		return
	}
	m := &b.in.modes[i][b.mode[i]]
	setUp := b.in.setUp[m.tool]
	for x := range m.uses {
		u := &m.uses[x]
		off, length := b.span(m, u, setUp)
		t := b.start[i] - setUp
		b.prof[u.r].add(t+off, t+off+length, -u.units)
		off, length = b.span(m, u, 0)
		b.prof[u.r].add(b.start[i]+off, b.start[i]+off+length, u.units)
	}
	b.change[i] = false
}

func (b *builder) makespan() int {
	end := 0
	for _, e := range b.end {
		end = max(end, e)
	}
	return end
}

func (b *builder) setUps() int {
	n := 0
	for _, c := range b.change {
		if c {
			n++
		}
	}
	return n
}
