package schedule

import "math/rand/v2"

// search keeps a population of schedules as lists of tasks with their modes. A new
// one is made by crossing two (Hartmann 1998, two points), by shaking a stretch of
// time of one, or by bringing tasks of one family together (setups.go); it is
// justified and takes the place of its parent if it is not worse.
type search struct {
	*decoder
	rng   *rand.Rand
	par   *parallel
	pop   []solution
	best  solution
	found bool
	child solution
	mark  []bool
	modes []int
	rank  []int
	size  int
	group []int // of each task: tasks that hang together by precedence, from 0
	count int   // groups
	span  int   // about how long a schedule will be
	made  int   // children since best was last improved
	lazy  int   // children since the population began
}

// newSearch: weight says how much the work of each resource is worth (weigh.go).
func newSearch(in *instance, seed uint64, weight []int) *search {
	s := &search{decoder: newDecoder(in), rng: rand.New(rand.NewPCG(seed, 0x5c4ed)), par: newParallel(in, weight),
		mark: make([]bool, in.n), modes: make([]int, in.n), rank: make([]int, in.n)}
	s.group, s.count = in.groups()
	for i := range in.n {
		s.span = max(s.span, in.head[i]+in.shortest[i]+in.tail[i])
	}
	s.size = min(40, max(8, 4000/(in.n+1)))
	return s
}

func (s *search) work() int64 { return s.decoder.work() + s.par.work }

// step makes one schedule more and says whether it is the best so far.
func (s *search) step() bool {
	if len(s.pop) < s.size {
		s.sample(len(s.pop))
		s.pop = append(s.pop, solution{})
		s.pop[len(s.pop)-1].copyFrom(&s.child)
		return s.note()
	}
	if s.lazy++; s.lazy > 60*s.size && s.made > 60*s.size {
		s.pop, s.lazy = s.pop[:0], 0 // begin anew; best stays outside
		return false
	}
	a := s.rng.IntN(s.size)
	if b := s.rng.IntN(s.size); s.pop[b].better(&s.pop[a]) && s.rng.IntN(2) == 0 {
		a = b
	}
	p := &s.pop[a]
	switch x := s.rng.IntN(10); {
	case x < 5:
		s.cross(p, &s.pop[s.rng.IntN(s.size)])
	case x < 7 || p.setUps == 0 || !s.together(p):
		s.shake(p)
	}
	s.changeModes()
	s.decode(s.list, s.modes, p.setUps > 0 && s.rng.IntN(2) == 0, 2, &s.child)
	s.made++
	if !p.better(&s.child) {
		p.copyFrom(&s.child)
	}
	return s.note()
}

// note takes the child as best if it is.
func (s *search) note() bool {
	if s.found && !s.child.better(&s.best) {
		return false
	}
	s.best.copyFrom(&s.child)
	s.found, s.made = true, 0
	return true
}

// sureSamples is how many samples are made without chance.
const sureSamples = 8

// sample makes a schedule by a rule with chance: the longest way to the end first,
// where a task counts with its work or with its time. Groups of tasks that have
// nothing to do with each other, as toys of a batch, may be due one after the other
// instead of all at the end. The first ones are without chance.
func (s *search) sample(number int) {
	in := s.in
	noise, most := 0.0, []int{30, 1 << 30, 10, 1}
	byWork, group, serial, lag := number&1 == 1, []int{fittedOnTool, fittedFirst, fittedOnTool, fittedFirst, fittedOnTool, fittedOnTool, fittedFirst, anyFamily}[number&7], number&3 == 3 && len(in.tools) == 0, 4-number/2
	s.par.most, s.par.batch = most[number&3], 2*number
	if number >= sureSamples {
		noise = 0.02 + float64(0.35*s.rng.Float64()*s.rng.Float64())
		byWork, group, serial, lag = s.rng.IntN(3) == 0, []int{anyFamily, fittedOnTool, fittedOnTool, fittedFirst, fittedFirst}[s.rng.IntN(5)], s.rng.IntN(2) == 0, s.rng.IntN(6)
		serial = serial && (len(in.tools) == 0 || s.rng.IntN(4) == 0)
		s.par.most, s.par.batch = most[s.rng.IntN(4)], s.rng.IntN(1+s.rng.IntN(24))
	}
	lag = 64 * s.span / s.count * lag / 4
	for q := in.n - 1; q >= 0; q-- {
		i := in.topo[q]
		far := 0
		for _, j := range in.succ[i] {
			far = max(far, s.key[j])
		}
		own := 64 * in.shortest[i]
		if byWork {
			own *= 1 + len(in.modes[i][0].uses) + len(in.succ[i])/2
		}
		s.key[i] = far + own + int(noise*float64(64*in.shortest[i]+64)*2*s.rng.Float64())
	}
	list := s.order(func(i int) int { return lag*s.group[i] - s.key[i] })
	for k, i := range list {
		s.rank[i] = k
		s.modes[i] = -1
		if len(in.modes[i]) == 1 {
			s.modes[i] = 0
		} else if noise > 0 && s.rng.IntN(10) == 0 {
			s.modes[i] = s.mode(i)
		}
	}
	s.par.group = group
	s.par.build(s.rank, s.modes)
	copy(s.modes, s.par.mode)
	if !serial {
		s.order(func(i int) int { return s.par.start[i] })
	}
	s.decode(s.list, s.modes, group > 0 && serial, 3, &s.child)
}

// cross takes the tasks of a stretch of b's list in b's order into a's list.
func (s *search) cross(a, b *solution) {
	n := s.in.n
	from, to := s.rng.IntN(n+1), s.rng.IntN(n+1)
	if from > to {
		from, to = to, from
	}
	clear(s.mark)
	k := 0
	take := func(p *solution, upTo int) {
		for _, i := range p.list {
			if k == upTo {
				return
			}
			if !s.mark[i] {
				s.mark[i] = true
				s.list[k], s.modes[i] = i, p.modes[i]
				k++
			}
		}
	}
	take(a, from)
	take(b, to)
	take(a, n)
	if s.rng.IntN(3) == 0 {
		s.swap()
	}
}

// swap exchanges some neighbours in the list.
func (s *search) swap() {
	for range 1 + s.in.n/20 {
		if s.in.n < 2 {
			return
		}
		k := s.rng.IntN(s.in.n - 1)
		a, b := s.list[k], s.list[k+1]
		before := false
		for _, p := range s.in.pred[b] {
			before = before || p == a
		}
		if !before {
			s.list[k], s.list[k+1] = b, a
		}
	}
}

// shake mixes what starts in a stretch of time.
func (s *search) shake(p *solution) {
	copy(s.modes, p.modes)
	width := 1 + p.makespan/(2+s.rng.IntN(8+s.in.n/8))
	from := s.rng.IntN(p.makespan + 1)
	for i := range s.key {
		s.key[i] = p.start[i]
		if t := p.start[i]; t >= from && t < from+width && s.rng.IntN(3) > 0 {
			s.key[i] = t + s.rng.IntN(width+1) - width/2
		}
	}
	s.later()
	s.order(func(i int) int { return s.key[i] })
}

// mode is any mode of a task, mostly a cheap one.
func (s *search) mode(i int) int {
	most := 1 << 30
	if s.rng.IntN(4) > 0 {
		most = 5 + s.rng.IntN(30)
	}
	k := s.rng.IntN(len(s.in.modes[i]))
	for s.par.cost[0][i][k] > most {
		k = s.rng.IntN(len(s.in.modes[i]))
	}
	return k
}

func (s *search) changeModes() {
	several := s.in.several
	if len(several) == 0 || s.rng.IntN(2) == 0 {
		return
	}
	for range 1 + s.rng.IntN(3) {
		i := several[s.rng.IntN(len(several))]
		s.modes[i] = s.mode(i)
	}
}
