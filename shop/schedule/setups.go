package schedule

// together puts tasks of one family, done in two goes with a change between them,
// into one: the later ones come forward or the earlier ones wait. It leaves list
// and modes and says whether there was anything to do.
func (s *search) together(p *solution) bool {
	tools := s.in.tools
	if len(tools) == 0 {
		return false
	}
	r := tools[s.rng.IntN(len(tools))]
	var goes [][]int // stretches of one family on the tool, by time
	last := 0
	for _, i := range p.list {
		m := &s.in.modes[i][p.modes[i]]
		if m.fam == 0 || m.tool != r {
			continue
		}
		if m.fam != last {
			goes = append(goes, nil)
			last = m.fam
		}
		goes[len(goes)-1] = append(goes[len(goes)-1], i)
	}
	if len(goes) < 3 {
		return false
	}
	family := func(k int) int { i := goes[k][0]; return s.in.modes[i][p.modes[i]].fam }
	k := s.rng.IntN(len(goes))
	for x := range len(goes) {
		a := (k + x) % len(goes)
		for b := a + 1; b < len(goes); b++ {
			if family(b) == family(a) {
				s.join(p, goes[a], goes[b])
				return true
			}
		}
	}
	return false
}

func (s *search) join(p *solution, a, b []int) {
	copy(s.modes, p.modes)
	if s.rng.IntN(2) == 0 {
		s.move(p, b, p.start[a[len(a)-1]])
	} else {
		s.move(p, a, p.start[b[0]])
	}
}

// regroup is a step of the search for fewer set-ups at the best makespan: it
// begins from the best schedule, or from one as good that it found last, and takes
// what is not worse.
func (s *search) regroup(at *solution) bool {
	if !s.together(at) || s.rng.IntN(4) == 0 {
		s.shake(at)
	}
	s.decode(s.list, s.modes, s.rng.IntN(4) > 0, 2, &s.child)
	if !at.better(&s.child) {
		at.copyFrom(&s.child)
	}
	return s.note()
}
