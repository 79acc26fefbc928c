package plan

import (
	"fmt"
	"math"
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
	way     int
	groups  []int // whose hands
	hands   int   // how long
	setting string
	pause   int // of a child after it
	rest    int // of the pause after its end
}

// project is the tasks as the schedule sees them.
type project struct {
	schedule.Project
	groups   []group
	modes    [][]mode
	tools    map[string]int
	families []map[string]int // by resource
}

// blade is a band-saw blade.
type blade struct {
	setting string
	width   float64
}

// blades are those of some tasks.
func blades(ops []op) (out []blade) {
	for _, o := range ops {
		for _, w := range o.ways {
			if b := (blade{w.setting, w.width}); w.width > 0 && !slices.Contains(out, b) {
				out = append(out, b)
			}
		}
	}
	return out
}

// pauses are those within some minutes of a child's work, and that after it.
func (m *maker) pauses(minutes float64) (within, after float64) {
	spell, pause := m.minutes["child-spell"], m.minutes["child-pause"]
	whole := math.Ceil(minutes/spell-1e-9) - 1
	return float64(whole * pause), (minutes - float64(whole*spell)) * pause / spell
}

// perMinute is how many parts of a minute the schedule's time is in: were every task rounded to
// minutes, those of a batch would be hours longer. Times are rounded where they are told.
const perMinute = 10

// project makes modes of all ways and hands; a minute is so many units of its time.
func (m *maker) project(ops []op, scale int) (*project, error) {
	p := &project{tools: map[string]int{}}
	units := func(minutes float64) int { return int(math.Ceil(float64(minutes*float64(scale)) - 1e-6)) }
	resource := func(name string, capacity int, setUp float64) int {
		s := 0
		if setUp > 0 {
			s = units(setUp)
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
		p.Resources[g.at].Steady = true
		p.Resources[g.at].Capacity++
	}
	clamps := -1
	if m.clamps >= 0 {
		clamps = resource(clampsName, m.clamps, 0)
	}
	bands := blades(ops)
	for _, o := range ops {
		t := schedule.Task{Name: o.does, After: slices.Clone(o.after), Kind: 1 + o.kind}
		var ms []mode
		hold := 0
		if o.hold > 0 {
			hold = max(1, units(o.hold))
		}
		if len(o.ways) == 0 {
			t.Modes, ms = []schedule.Mode{{Name: "wait", Duration: hold}}, []mode{{way: -1}}
		}
		least := 0 // minutes of the shortest mode that does not fit in a session
		for w, way := range o.ways {
			for _, who := range p.crews(way.deeds) {
				pace, child := 1.0, false
				switch {
				case len(who) == 2:
					pace, child = withChild, true
				case p.groups[who[0]].hand.Years > 0:
					pace, child = childPace, true
				}
				minutes, pause := float64(way.minutes*pace), 0.0
				if child {
					within, after := m.pauses(minutes)
					minutes, pause = minutes+within, after
				}
				md := mode{way: w, groups: who, hands: max(1, units(minutes)), setting: way.setting, pause: units(pause)}
				md.rest = max(0, md.pause-hold)
				all := int(float64(way.all * pace * float64(scale)))
				var uses []schedule.Use
				for _, g := range who {
					u := schedule.Use{Resource: p.groups[g].at, Units: 1, For: md.hands, All: all}
					if p.groups[g].hand.Years > 0 {
						u.For += md.pause
						u.All += int(float64(float64(all) * m.minutes["child-pause"] / m.minutes["child-spell"]))
					}
					uses = append(uses, u)
				}
				last := max(hold, md.pause) // after the hands are off
				fit := []blade{{way.setting, 0}}
				for _, b := range bands {
					if b.width < way.width {
						fit = append(fit, b)
					}
				}
				for _, b := range fit {
					uses, setUp := slices.Clone(uses), 0
					md := md
					md.setting = b.setting
					if slices.Contains(single, way.tool) {
						r, ok := p.tools[way.tool]
						if !ok {
							r = resource(way.tool, 1, m.changes(way.tool))
							p.tools[way.tool] = r
						}
						u := schedule.Use{Resource: r, Units: 1, For: md.hands, All: all}
						if b.setting != "" {
							if p.families[r][b.setting] == 0 {
								p.families[r][b.setting] = len(p.families[r]) + 1
							}
							u.Family, setUp = p.families[r][b.setting], p.Resources[r].SetUp
						}
						uses = append(uses, u)
					}
					if m.session > 0 && float64(md.hands+setUp) > m.session*float64(scale) {
						if least == 0 || md.hands+setUp < least {
							least = md.hands + setUp
						}
						continue
					}
					if o.clamps > 0 && clamps >= 0 {
						uses = append(uses, schedule.Use{Resource: clamps, Units: min(o.clamps, m.clamps), All: int(float64(o.held * float64(hold)))})
					}
					t.Modes = append(t.Modes, schedule.Mode{Name: way.tool, Duration: md.hands + last, Uses: uses})
					ms = append(ms, md)
				}
			}
		}
		if len(t.Modes) == 0 {
			return nil, fmt.Errorf("a session of %s is too short: to %s takes %s in one go", Clock(int(m.session)), o.does, Clock((least+scale-1)/scale))
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

// relieve lets machines do what one takes longer for by hand, and then gives children what
// they can do: wherever that changes nothing else. What an adult is quick at with a machine is
// no child's to do by hand.
func (p *project) relieve(sol *schedule.Plan) {
	until := make([]int, len(p.Tasks)) // by when a task has to end
	for i := range until {
		until[i] = sol.Makespan
	}
	for j, t := range p.Tasks {
		for _, a := range t.After {
			until[a] = min(until[a], p.begin(sol, j))
		}
	}
	child := func(g int) bool { return p.groups[g].hand.Years > 0 }
	try := func(better func(was, is mode) bool) {
		for i := range sol.Tasks {
			for k, md := range p.modes[i] {
				if better(p.modes[i][sol.Tasks[i].Mode], md) && p.free(sol, i, k, until[i]) {
					sol.Tasks[i].Mode, sol.Tasks[i].End = k, sol.Tasks[i].Start+p.Tasks[i].Modes[k].Duration
				}
			}
		}
	}
	try(func(was, is mode) bool { return was.way >= 0 && is.way > was.way && is.hands < was.hands })
	for _, alone := range []bool{true, false} {
		try(func(was, is mode) bool {
			return is.way == was.way && is.setting == was.setting && !slices.ContainsFunc(was.groups, child) && slices.ContainsFunc(is.groups, child) && (len(is.groups) == 1) == alone
		})
	}
}

// free tells whether a task can be done in another mode where it stands, with all others as
// they are: what is fitted stays too.
func (p *project) free(sol *schedule.Plan, i, k, until int) bool {
	begin, start, m := p.begin(sol, i), sol.Tasks[i].Start, p.Tasks[i].Modes[k]
	if start+m.Duration > until {
		return false
	}
	family := func(m schedule.Mode) (r, f int) {
		for _, u := range m.Uses {
			if u.Family > 0 {
				return u.Resource, u.Family
			}
		}
		return -1, 0
	}
	r, f := family(p.Tasks[i].Modes[sol.Tasks[i].Mode])
	if r2, f2 := family(m); r != r2 || f != f2 {
		return false
	}
	for _, u := range m.Uses {
		var held []span
		for j, t := range sol.Tasks {
			if j == i {
				continue
			}
			om := p.Tasks[j].Modes[t.Mode]
			for _, o := range om.Uses {
				if end := t.Start + length(o, om); o.Resource == u.Resource && end > begin && p.begin(sol, j) < start+length(u, m) {
					held = append(held, span{p.begin(sol, j), end, o.Units})
				}
			}
		}
		if clash(held, u.Units, p.Resources[u.Resource].Capacity, begin, start+length(u, m)) > begin {
			return false
		}
	}
	return true
}
