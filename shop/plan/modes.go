package plan

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/facts"
	"dryfit/shop/schedule"
	"dryfit/toy"
)

// How fast a child works by itself, and how long an adult with a child's help takes, against
// an adult alone. Common practice, no source.
const (
	childPace = 1.5
	withChild = 0.8
)

// may tells whether somebody may do all of some deeds, and without an adult's hands.
func may(h toy.Hand, deeds []string) (may, alone bool) {
	if isAdult(h) {
		return true, true
	}
	alone = true
	for _, name := range deeds {
		d, ok := facts.DeedNamed(name)
		if !ok || d.Years == 0 || h.Years < d.Years {
			return false, false
		}
		alone = alone && d.Alone
	}
	return true, alone
}

// group is people that a plan cannot tell apart: of one age.
type group struct {
	hand toy.Hand // the first
	who  []int    // indices of hands
	at   int      // resource
}

// mode is what a mode of a task means.
type mode struct {
	way    int
	groups []int // whose hands
	hands  int   // minutes of them
}

// project is the tasks as the schedule sees them.
type project struct {
	schedule.Project
	groups   []group
	modes    [][]mode
	tools    map[string]int
	families []map[string]int // by resource
}

// project makes modes of all ways and hands.
func (m *maker) project() (*project, error) {
	p := &project{tools: map[string]int{}}
	resource := func(name string, capacity int, setUp float64) int {
		s := 0
		if setUp > 0 {
			s = whole(setUp)
		}
		p.Resources = append(p.Resources, schedule.Resource{Name: name, Capacity: capacity, SetUp: s})
		p.families = append(p.families, map[string]int{})
		return len(p.Resources) - 1
	}
	for i, h := range m.hands {
		years := h.Years
		if isAdult(h) {
			years = 0
		}
		k := slices.IndexFunc(p.groups, func(g group) bool { return g.hand.Years == years })
		if k < 0 {
			h.Years = years
			p.groups = append(p.groups, group{hand: h, at: resource(h.Name, 0, 0)})
			k = len(p.groups) - 1
		}
		g := &p.groups[k]
		g.who = append(g.who, i)
		p.Resources[g.at].Capacity++
	}
	clamps := -1
	if m.clamps >= 0 {
		clamps = resource(clampsName, m.clamps, 0)
	}
	for _, o := range m.ops {
		t := schedule.Task{Name: o.does, After: slices.Clone(o.after)}
		var ms []mode
		hold := 0
		if o.hold > 0 {
			hold = whole(o.hold)
		}
		if len(o.ways) == 0 {
			t.Modes, ms = []schedule.Mode{{Name: "wait", Duration: hold}}, []mode{{way: -1}}
		}
		least := 0 // minutes of the shortest mode that does not fit in a session
		for w, way := range o.ways {
			for _, who := range p.crews(way.deeds) {
				minutes := way.minutes
				switch {
				case len(who) == 2:
					minutes = float64(minutes * withChild)
				case p.groups[who[0]].hand.Years > 0:
					minutes = float64(minutes * childPace)
				}
				md := mode{w, who, whole(minutes)}
				var uses []schedule.Use
				keep := 0
				if hold > 0 {
					keep = md.hands
				}
				for _, g := range who {
					uses = append(uses, schedule.Use{Resource: p.groups[g].at, Units: 1, For: keep})
				}
				setUp := 0
				if slices.Contains(single, way.tool) {
					r, ok := p.tools[way.tool]
					if !ok {
						r = resource(way.tool, 1, m.changes(way.tool))
						p.tools[way.tool] = r
					}
					u := schedule.Use{Resource: r, Units: 1, For: keep}
					if way.setting != "" {
						if p.families[r][way.setting] == 0 {
							p.families[r][way.setting] = len(p.families[r]) + 1
						}
						u.Family, setUp = p.families[r][way.setting], p.Resources[r].SetUp
					}
					uses = append(uses, u)
				}
				if m.session > 0 && float64(md.hands+setUp) > m.session {
					if least == 0 || md.hands+setUp < least {
						least = md.hands + setUp
					}
					continue
				}
				if o.clamps > 0 && clamps >= 0 {
					uses = append(uses, schedule.Use{Resource: clamps, Units: min(o.clamps, m.clamps)})
				}
				t.Modes = append(t.Modes, schedule.Mode{Name: way.tool, Duration: md.hands + hold, Uses: uses})
				ms = append(ms, md)
			}
		}
		if len(t.Modes) == 0 {
			return nil, fmt.Errorf("a session of %s is too short: to %s takes %s in one go", clock(int(m.session)), o.does, clock(least))
		}
		p.Tasks, p.modes = append(p.Tasks, t), append(p.modes, ms)
	}
	return p, nil
}

// crews are who can do some deeds: an adult, a child alone, a child with an adult.
func (p *project) crews(deeds []string) (out [][]int) {
	adult := slices.IndexFunc(p.groups, func(g group) bool { return g.hand.Years == 0 })
	out = append(out, []int{adult})
	for k, g := range p.groups {
		if g.hand.Years == 0 {
			continue
		}
		switch can, alone := may(g.hand, deeds); {
		case can && alone:
			out = append(out, []int{k})
		case can:
			out = append(out, []int{adult, k})
		}
	}
	return out
}

// why says for somebody's work why it is theirs.
func why(deeds []string) string {
	var out []string
	for _, name := range deeds {
		if d, ok := facts.DeedNamed(name); ok && !slices.Contains(out, d.Why) {
			out = append(out, d.Why)
		}
	}
	return strings.Join(out, "; ")
}

// mostRelieved is how many tasks a plan has at most that children are looked for in: each is
// tried by checking the whole plan.
const mostRelieved = 1000

// relieve gives children what they can do wherever it changes nothing else: first what they
// do alone, then what they help with.
func (p *project) relieve(sol *schedule.Plan) {
	if len(p.groups) < 2 || len(p.Tasks) > mostRelieved {
		return
	}
	child := func(g int) bool { return p.groups[g].hand.Years > 0 }
	for _, alone := range []bool{true, false} {
		for i := range sol.Tasks {
			if slices.ContainsFunc(p.modes[i][sol.Tasks[i].Mode].groups, child) {
				continue
			}
			for k, m := range p.modes[i] {
				if !slices.ContainsFunc(m.groups, child) || (len(m.groups) == 1) != alone {
					continue
				}
				was := sol.Tasks[i]
				sol.Tasks[i].Mode, sol.Tasks[i].End = k, was.Start+p.Tasks[i].Modes[k].Duration
				if sol.Check(&p.Project) == nil {
					break
				}
				sol.Tasks[i] = was
			}
		}
	}
}
