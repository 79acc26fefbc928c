package plan

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"dryfit/facts"
	"dryfit/prove"
	"dryfit/shop"
	"dryfit/shop/schedule"
	"dryfit/toy"
)

// Format is the version of the data that Plan holds.
const Format = 1

// Plan says when what is done. Times are minutes from the start.
type Plan struct {
	Format   int      `json:"format"`
	Toys     []Toy    `json:"toys"`
	Hands    []Person `json:"hands"`
	Elapsed  int      `json:"elapsed_min"`
	Bound    int      `json:"bound_min"` // no plan is shorter, whatever the lots and breaks
	Shortest bool     `json:"shortest"`  // nor is any plan shorter than this one
	SetUps   int      `json:"set_ups"`
	LeastSet int      `json:"least_set_ups"` // no plan has fewer
	HandsOn  int      `json:"hands_on_min"`  // of all people
	Session  int      `json:"session_min"`   // 0: no breaks
	Sessions int      `json:"sessions"`
	Clamps   int      `json:"clamps"` // -1: enough
	Tasks    []Task   `json:"tasks"`  // by when they begin
	Who      []Who    `json:"who"`
	Advice   []string `json:"advice"`
	Notes    []string `json:"notes"`
	Unproved []string `json:"unproved"` // what is not right yet with which toys; not set by Make
}

// Wood is the step of the work on boards, before the first of the guide.
const Wood = -1

// Toy is a toy of a plan.
type Toy struct {
	Name  string `json:"toy"`
	Count int    `json:"count"`
}

// Person is someone who works.
type Person struct {
	Name    string `json:"name"`
	Years   int    `json:"years"` // 0: an adult
	HandsOn int    `json:"hands_on_min"`
}

// Task is something to do, or to wait for.
type Task struct {
	Number  int      `json:"number"`
	Toy     int      `json:"toy"`  // index
	Step    int      `json:"step"` // of its guide; 0: the check on its last page; Wood
	Does    string   `json:"does"`
	Lot     string   `json:"lot"`     // of the toys or pieces; "": all
	Tool    string   `json:"tool"`    // "": hand tools
	Setting string   `json:"setting"` // bit or blade that is fitted
	Hands   []string `json:"hands"`   // none: it waits
	Deeds   []string `json:"deeds"`
	Why     string   `json:"why"`        // whoever does it does it
	Clamps  int      `json:"clamps"`     // that are on it
	SetUp   int      `json:"set_up_min"` // at its beginning
	Begin   int      `json:"begin_min"`
	Free    int      `json:"free_min"` // hands and tool are free again
	End     int      `json:"end_min"`  // glue has set, finish is dry
	After   []int    `json:"after"`    // numbers of tasks

	part part // what Lot says
}

// Waits tells that a task is time alone.
func (t Task) Waits() bool { return len(t.Hands) == 0 }

// Who says who can do a kind of work that the plan has, and why.
type Who struct {
	Deed   string   `json:"deed"`
	Years  int      `json:"from_years"` // 0: an adult does it
	Alone  bool     `json:"alone"`
	Hands  []string `json:"hands"`
	Why    string   `json:"why"`
	Source string   `json:"source"`
}

// Options are how a plan is made.
type Options struct {
	Session int // minutes that are worked in one go, each on a day of its own; 0: no breaks
	Seed    uint64
	Work    int64 // see schedule.Options, for each size of lots that is tried; 0: a second or so of it
}

// defaultWork is Work where none is said.
const defaultWork = 3_000_000

// mostTasks is how many tasks are planned at most.
const mostTasks = 4000

// Make plans some toys. It stops with its best plan when ctx is done.
func Make(ctx context.Context, jobs []Job, s Shop, o Options) (*Plan, error) {
	if o.Session < 0 || o.Session > day {
		return nil, fmt.Errorf("a session is at most %s", Clock(day))
	}
	most := 0
	for _, job := range jobs {
		if most = max(most, job.Count); job.Count < 1 || job.Count > shop.MostToys {
			return nil, fmt.Errorf("%d toys cannot be planned: from 1 to %d", job.Count, shop.MostToys)
		}
	}
	var tried []*attempt
	shortest := 0
	for _, toys := range lotSizes(most) {
		if len(tried) > 0 && ctx.Err() != nil {
			break
		}
		m, err := newMaker(jobs, s, o, toys)
		if err != nil {
			return nil, err
		}
		if len(tried) > 0 && len(m.ops) == len(tried[len(tried)-1].m.ops) { // the lots are the same
			continue
		}
		a, err := m.attempt(ctx, o)
		if err != nil {
			return nil, err
		}
		if tried = append(tried, a); shortest == 0 || a.sol.Makespan < shortest {
			shortest = a.sol.Makespan
		}
	}
	var best *attempt
	limit := float64(float64(shortest) * asShort)
	for _, a := range tried {
		if float64(a.sol.Makespan) <= limit && (best == nil || a.sol.SetUps < best.sol.SetUps) {
			best = a
		}
	}
	bound, err := best.m.bound()
	if err != nil {
		return nil, errors.Join(errors.New("bug in plan"), err)
	}
	out := &Plan{Format: Format, Bound: bound, LeastSet: best.sol.SetUpsBound, Session: o.Session, Clamps: best.m.clamps, Unproved: []string{}}
	best.m.tell(out, best.p, best.sol)
	if ctx.Err() != nil {
		out.Notes = append([]string{"stopped before the search was done: this is the best plan so far"}, out.Notes...)
	}
	for _, t := range out.Tasks {
		out.Elapsed = max(out.Elapsed, t.End)
	}
	out.SetUps, out.Shortest = best.sol.SetUps, out.Elapsed == bound
	return out, nil
}

// asShort is how long plans may be against the shortest to count as short as that. Of those the
// one with the fewest set-ups is taken, then the one with the largest lots: every lot has to be
// begun anew and is lines to read, and so little is less than durations are sure to.
const asShort = 1.02

// attempt is a plan in lots of one size.
type attempt struct {
	m   *maker
	p   *project
	sol *schedule.Plan
}

// lotSizes are how many toys at most go through in a lot: all, and fewer for glue that sets
// while there is other work. Each size is tried.
func lotSizes(count int) (out []int) {
	for _, parts := range []int{1, 2, 4, 7, 10} {
		if n := (count + parts - 1) / parts; !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// newMaker makes the tasks, longer ones where they would be too many.
func newMaker(jobs []Job, s Shop, o Options, toys int) (*maker, error) {
	for long := 1.0; ; long += long {
		c, err := newCrew(s)
		if err != nil {
			return nil, err
		}
		m := &maker{crew: c, jobs: jobs, session: float64(o.Session), toys: toys, long: long}
		for j, job := range jobs {
			l := &line{maker: m, j: j, job: job, m: job.Model, saws: prove.SawLines(job.Model), need: 1,
				wood: map[string]flow{}, part: map[string]flow{}, glue: map[string]flow{}}
			l.tasks()
		}
		switch {
		case len(m.ops) <= mostTasks:
			return m, nil
		case long > mostLonger:
			return nil, fmt.Errorf("%d tasks are more than a plan holds (%d): make fewer at a time", len(m.ops), mostTasks)
		}
	}
}

// mostLonger is how many times longer than usual tasks become before a batch is too large.
const mostLonger = 64

// attempt plans the tasks.
func (m *maker) attempt(ctx context.Context, o Options) (*attempt, error) {
	p, err := m.project(m.ops, perMinute)
	if err != nil {
		return nil, err
	}
	sol, err := schedule.Solve(ctx, &p.Project, schedule.Options{Seed: o.Seed, Work: cmp.Or(o.Work, defaultWork)})
	if err != nil {
		return nil, err
	}
	if sol, err = schedule.Gather(ctx, &p.Project, sol, cmp.Or(o.Work, defaultWork)); err != nil {
		return nil, err
	}
	p.relieve(sol)
	err = sol.Check(&p.Project)
	if o.Session > 0 && err == nil {
		sol = p.breaks(sol, o.Session*perMinute)
		err = errors.Join(sol.Check(&p.Project), p.inSessions(sol, o.Session*perMinute))
	}
	if err != nil {
		return nil, errors.Join(errors.New("bug in plan"), err)
	}
	return &attempt{m, p, sol}, nil
}

// boundScale is how many parts of a minute the bound is computed in: a multiple of perMinute, so
// that no task is longer in it.
const boundScale = 60

// bound is a time that no plan is shorter than, in whatever lots the work is done: of each kind
// of task one piece goes its way, and all pieces take hands and tools their time.
func (m *maker) bound() (int, error) {
	var ops []op
	for _, k := range m.kinds {
		o := op{clamps: k.clamps, hold: k.hold, after: k.after}
		for _, w := range k.ways {
			o.ways = append(o.ways, way{w.tool, w.setting, w.width, w.deeds, w.base + w.each, w.base + float64(w.each*k.n)})
		}
		if k.clamps > 0 {
			o.held = k.n
		}
		ops = append(ops, o)
	}
	// a pause after the last task does not count: at most that much is too high with pauses
	pause := m.minutes["child-pause"]
	defer func() { m.minutes["child-pause"] = pause }()
	best := 0
	for _, pauses := range []float64{pause, 0} {
		m.minutes["child-pause"] = pauses
		p, err := m.project(ops, boundScale)
		if err != nil {
			return 0, err
		}
		b, err := p.Bound()
		if err != nil {
			return 0, err
		}
		best = max(best, (b+boundScale-1)/boundScale-int(math.Ceil(pauses)))
	}
	return best, nil
}

// told is a time as it is told, in minutes: all are rounded up, so that what comes after
// something does so in whole minutes too.
func told(units int) int { return (units + perMinute - 1) / perMinute }

// tell puts what was found into words and numbers.
func (m *maker) tell(out *Plan, p *project, sol *schedule.Plan) {
	for _, j := range m.jobs {
		out.Toys = append(out.Toys, Toy{j.Model.Toy.Name, j.Count})
	}
	for _, h := range m.hands {
		person := Person{Name: h.Name, Years: h.Years}
		if isAdult(h) {
			person.Years = 0
		}
		out.Hands = append(out.Hands, person)
	}
	order := make([]int, len(m.ops))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.begin(sol, a), p.begin(sol, b)) })
	number := make([]int, len(m.ops))
	for n, i := range order {
		number[i] = n + 1
	}
	busy := make([]int, len(m.hands)) // until when, in the schedule's time
	parts := map[string]int{}         // those of one task are numbered by when they begin
	for n, i := range order {
		o, at, md := m.ops[i], sol.Tasks[i], p.modes[i][sol.Tasks[i].Mode]
		t := Task{Number: n + 1, Toy: o.job, Step: o.step, Does: o.does, part: part{lot: o.lot, what: o.what, of: o.parts}, Hands: []string{}, Deeds: []string{}, Clamps: o.clamps,
			Begin: told(p.begin(sol, i)), Free: told(at.Start + md.hands), End: told(at.End - md.rest), After: []int{}}
		t.SetUp = told(at.Start) - t.Begin
		if o.parts > 0 {
			key := fmt.Sprint(o.job, o.step, o.does, o.lot)
			parts[key]++
			t.part.k = parts[key]
		}
		t.Lot = says([]part{t.part})
		if md.way >= 0 {
			w := o.ways[md.way]
			t.Tool, t.Setting, t.Deeds = w.tool, md.setting, w.deeds
		} else {
			t.Free = t.Begin
		}
		for _, g := range md.groups {
			for _, h := range p.groups[g].who { // one of them is free: they are as many as the resource holds
				if busy[h] <= p.begin(sol, i) {
					busy[h] = at.Start + md.hands
					if out.Hands[h].Years > 0 {
						busy[h] += md.pause
					}
					out.Hands[h].HandsOn += t.Free - t.Begin
					out.HandsOn += t.Free - t.Begin
					t.Hands = append(t.Hands, out.Hands[h].Name)
					break
				}
			}
		}
		if len(t.Hands) > 0 {
			t.Why = why(t.Deeds)
		}
		for _, a := range o.after {
			t.After = append(t.After, number[a])
		}
		slices.Sort(t.After)
		t.After = slices.Compact(t.After)
		out.Tasks = append(out.Tasks, t)
	}
	out.Sessions = 1
	if out.Session > 0 {
		days := map[int]bool{}
		for _, t := range out.Tasks {
			if !t.Waits() {
				days[t.Begin/day] = true
			}
		}
		out.Sessions = len(days)
	}
	out.Who = m.who(out)
	out.Advice, out.Notes = append([]string{}, m.advice...), append([]string{}, m.notes...)
	if slices.ContainsFunc(m.hands, func(h toy.Hand) bool { return !isAdult(h) }) {
		out.Notes = append(out.Notes, fmt.Sprintf("a child works for %s in one go at most, and then has a pause of %s; what is longer has pauses in it", Clock(whole(m.minutes["child-spell"])), Clock(whole(m.minutes["child-pause"]))))
	}
	out.Notes = append(out.Notes, "how long things take is common practice without a source: measure your own, and say it as durations of the shop file",
		"the usual cautions at saw and drill are in the guide; an adult is always in the shop")
}

// who says who can do what the plan has.
func (m *maker) who(out *Plan) (list []Who) {
	for _, d := range facts.Deeds() {
		used := slices.ContainsFunc(out.Tasks, func(t Task) bool { return slices.Contains(t.Deeds, d.Name) })
		if !used {
			continue
		}
		w := Who{Deed: d.Name, Years: d.Years, Alone: d.Alone, Hands: []string{}, Why: d.Why, Source: d.Source}
		for i, h := range m.hands {
			if can, _ := may(toy.Hand{Name: h.Name, Years: out.Hands[i].Years}, []string{d.Name}); can {
				w.Hands = append(w.Hands, h.Name)
			}
		}
		list = append(list, w)
	}
	return list
}

// begin is when a task begins, with the set-up before it.
func (p *project) begin(sol *schedule.Plan, i int) int {
	at := sol.Tasks[i]
	if !at.SetUp {
		return at.Start
	}
	for _, u := range p.Tasks[i].Modes[at.Mode].Uses {
		if u.Family > 0 {
			return at.Start - p.Resources[u.Resource].SetUp
		}
	}
	return at.Start
}
