package plan

import (
	"cmp"
	"fmt"
	"slices"

	"dryfit/shop/schedule"
)

// Sessions: so many minutes of every day. What hands do lies in one session; glue and finish
// go on by themselves.

// day is how far apart sessions begin, in minutes.
const day = 24 * 60

// daily is that in the schedule's time, as all below is.
const daily = day * perMinute

// span is a stretch in which some units of a resource are held.
type span struct{ from, to, units int }

// breaks puts the tasks of a plan, in their order, as early as sessions allow: each with the
// same hands, tool and set-up as before.
func (p *project) breaks(sol *schedule.Plan, session int) *schedule.Plan {
	out := *sol
	out.Tasks = slices.Clone(sol.Tasks)
	out.Makespan, out.Proved = 0, false
	order := make([]int, len(sol.Tasks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.begin(sol, a), p.begin(sol, b)) })
	held := make([][]span, len(p.Resources))
	tool := make([]int, len(p.Resources)) // until when a tool with a setting is held
	for _, i := range order {
		t, m, md := &out.Tasks[i], p.Tasks[i].Modes[sol.Tasks[i].Mode], p.modes[i][sol.Tasks[i].Mode]
		before := sol.Tasks[i].Start - p.begin(sol, i)
		at := 0
		for _, a := range p.Tasks[i].After {
			at = max(at, out.Tasks[a].End)
		}
		for _, u := range m.Uses {
			if u.Family > 0 { // the order at the tool stays, and so do its set-ups
				at = max(at, tool[u.Resource])
			}
		}
		for moved := true; moved; {
			moved = false
			if md.way >= 0 && at%daily+before+md.hands > session {
				at, moved = (at/daily+1)*daily, true
				continue
			}
			for _, u := range m.Uses {
				if next := clash(held[u.Resource], u.Units, p.Resources[u.Resource].Capacity, at, at+before+length(u, m)); next > at {
					at, moved = next, true
				}
			}
		}
		t.Start = at + before
		t.End = t.Start + m.Duration
		out.Makespan = max(out.Makespan, t.End)
		for _, u := range m.Uses {
			held[u.Resource] = append(held[u.Resource], span{at, t.Start + length(u, m), u.Units})
			if u.Family > 0 {
				tool[u.Resource] = t.Start + length(u, m)
			}
		}
	}
	return &out
}

func length(u schedule.Use, m schedule.Mode) int {
	if u.For > 0 {
		return u.For
	}
	return m.Duration
}

// clash is when to try again, after at, where units of a resource are not free from at to
// end; at itself where they are.
func clash(held []span, units, capacity, at, end int) int {
	for _, s := range held { // usage changes where something begins
		from := max(at, s.from)
		if from >= end || s.to <= from {
			continue
		}
		used, first := 0, 0
		for _, o := range held {
			if o.from <= from && from < o.to {
				used += o.units
				if first == 0 || o.to < first {
					first = o.to
				}
			}
		}
		if used+units > capacity {
			return first
		}
	}
	return at
}

// inSessions says what hands do outside of sessions, nil if nothing is.
func (p *project) inSessions(sol *schedule.Plan, session int) error {
	for i, t := range sol.Tasks {
		md := p.modes[i][t.Mode]
		if b := p.begin(sol, i); md.way >= 0 && b%daily+(t.Start-b)+md.hands > session {
			return fmt.Errorf("task %d %q begins at %d and goes on after its session", i, p.Tasks[i].Name, b)
		}
	}
	return nil
}
