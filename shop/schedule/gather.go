package schedule

import (
	"context"
	"errors"
)

// Gather reorders a plan so that steady resources (Resource.Steady) change less often between
// tasks of different kinds (Task.Kind), in no longer a time and with no more set-ups. It takes
// two stretches of one kind and brings the later forward or lets the earlier wait, with what has
// to go with them, and keeps what is better. It stops when nothing is, when so much work is done
// (Options.Work), or when the context is.
func Gather(ctx context.Context, p *Project, plan *Plan, work int64) (*Plan, error) {
	if err := errors.Join(p.Check(), plan.Check(p)); err != nil {
		return nil, err
	}
	g := &gatherer{decoder: newDecoder(newInstance(p)), project: p}
	g.begin(plan)
	for better := true; better && ctx.Err() == nil && g.work() < work; {
		better = g.pass(ctx, work)
	}
	out := g.plan(plan)
	if err := out.Check(p); err != nil {
		return nil, errors.Join(errors.New("bug in schedule"), err)
	}
	return out, nil
}

type gatherer struct {
	*decoder
	project   *Project
	at, trial solution
	changes   int // of kinds, in at
}

func (g *gatherer) begin(plan *Plan) {
	at := &g.at
	for _, t := range plan.Tasks {
		at.start, at.end = append(at.start, t.Start), append(at.end, t.End)
		at.modes, at.change = append(at.modes, t.Mode), append(at.change, t.SetUp)
	}
	at.list = append(at.list, g.order(func(i int) int { return at.start[i] })...)
	at.makespan, at.setUps = plan.Makespan, plan.SetUps
	g.changes = g.count(at)
}

func (g *gatherer) plan(plan *Plan) *Plan {
	out := *plan
	out.Tasks = nil
	for i := range g.in.n {
		out.Tasks = append(out.Tasks, Placed{Start: g.at.start[i], Mode: g.at.modes[i], End: g.at.end[i], SetUp: g.at.change[i]})
	}
	out.Makespan, out.SetUps, out.Work = g.at.makespan, g.at.setUps, plan.Work+g.work()
	return &out
}

// pass tries every pair of stretches of one kind that have none of it between them.
func (g *gatherer) pass(ctx context.Context, work int64) (better bool) {
	for r := range g.project.Resources {
		if !g.project.Resources[r].Steady {
			continue
		}
		goes := g.goes(&g.at, r)
		for a := 0; a < len(goes); a++ {
			kind := g.project.Tasks[goes[a][0]].Kind
			for b := a + 1; kind > 0 && b < len(goes); b++ {
				if g.project.Tasks[goes[b][0]].Kind != kind {
					continue
				}
				if ctx.Err() != nil || g.work() >= work {
					return false
				}
				if g.join(goes[a], goes[b]) {
					better, goes = true, g.goes(&g.at, r)
					a = max(a-1, 0) // what is beside it now
				}
				break
			}
		}
	}
	return better
}

// join makes one stretch of two, and keeps it where nothing is worse.
func (g *gatherer) join(a, b []int) bool {
	for _, to := range []struct {
		tasks []int
		at    int
	}{{b, g.at.start[a[len(a)-1]]}, {a, g.at.start[b[0]]}} {
		for _, appended := range []bool{false, true} {
			g.move(&g.at, to.tasks, to.at)
			g.decode(g.list, g.at.modes, appended, 0, &g.trial)
			if n := g.count(&g.trial); g.trial.makespan <= g.at.makespan && g.trial.setUps <= g.at.setUps && n < g.changes {
				g.at.copyFrom(&g.trial)
				g.changes = n
				return true
			}
		}
	}
	return false
}

// goes are the stretches of tasks of one kind on a resource.
func (g *gatherer) goes(s *solution, r int) (goes [][]int) {
	last := -1
	for _, i := range s.list {
		if g.project.Tasks[i].Modes[s.modes[i]].use(r) == nil {
			continue
		}
		if kind := g.project.Tasks[i].Kind; kind == 0 || kind != last {
			goes = append(goes, nil)
			last = kind
		}
		goes[len(goes)-1] = append(goes[len(goes)-1], i)
	}
	return goes
}

func (g *gatherer) count(s *solution) (n int) {
	for r := range g.project.Resources {
		if g.project.Resources[r].Steady {
			n += len(g.goes(s, r))
		}
	}
	return n
}

// use is what a mode holds of a resource, nil if nothing.
func (m *Mode) use(r int) *Use {
	for k := range m.Uses {
		if m.Uses[k].Resource == r && m.Uses[k].Units > 0 {
			return &m.Uses[k]
		}
	}
	return nil
}
