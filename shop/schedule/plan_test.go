package schedule

import (
	"context"
	"strings"
	"testing"
)

// Resources of the tables below.
var bench = []Resource{{Name: "adult", Capacity: 1}, {Name: "child", Capacity: 1}, {Name: "drill", Capacity: 1, SetUp: 3}, {Name: "clamps", Capacity: 4}}

const (
	byAdult = iota
	byChild
	onDrill
	inClamps
)

func task(after []int, modes ...Mode) Task { return Task{After: after, Modes: modes} }
func takes(duration int, uses ...Use) Mode { return Mode{Duration: duration, Uses: uses} }
func one(r int) Use                        { return Use{Resource: r, Units: 1} }
func bit(family int) Use                   { return Use{Resource: onDrill, Units: 1, Family: family} }
func glue(hands, cure, n int) (m Mode) {
	return takes(hands+cure, Use{Resource: byAdult, Units: 1, For: hands}, Use{Resource: inClamps, Units: n})
}
func after(tasks ...int) []int { return tasks }
func fitted(family int) (out []Resource) {
	out = append(out, bench...)
	out[onDrill].Fitted = family
	return out
}

// Each can be checked by hand; the reason stands beside it.
func TestByHand(t *testing.T) {
	for _, c := range []struct {
		name             string
		resources        []Resource
		tasks            []Task
		makespan, setUps int
	}{
		{"nothing to do", bench, nil, 0, 0},
		{"one tool: one after the other", bench,
			[]Task{task(nil, takes(3, one(onDrill))), task(nil, takes(4, one(onDrill))), task(nil, takes(5, one(onDrill)))}, 12, 0},
		{"two pairs of hands: 4 beside 3 and 1", bench,
			[]Task{task(nil, takes(4, one(byAdult))), task(nil, takes(3, one(byChild))), task(nil, takes(1, one(byChild)))}, 4, 0},
		// 5 of glueing, then 60 of cure in which 20 of sanding fit.
		{"sanding while the glue cures", bench,
			[]Task{task(nil, glue(5, 60, 2)), task(nil, takes(20, one(byAdult)))}, 65, 0},
		// Glueing the two takes the adult 10; the second has its clamps from 5 on.
		{"two glue-ups with clamps for both", bench,
			[]Task{task(nil, glue(5, 60, 2)), task(nil, glue(5, 60, 2))}, 70, 0},
		{"two glue-ups with clamps for one", bench,
			[]Task{task(nil, glue(5, 60, 3)), task(nil, glue(5, 60, 2))}, 130, 0},
		{"paint dries by itself", bench,
			[]Task{task(nil, takes(5, one(byAdult))), task(after(0), takes(100)), task(nil, takes(50, one(byAdult)))}, 105, 0},
		// Bits 1 2 1 2: 4 holes of 2 and only two set-ups of 3.
		{"holes of one bit together", bench,
			[]Task{task(nil, takes(2, bit(1))), task(nil, takes(2, bit(2))), task(nil, takes(2, bit(1))), task(nil, takes(2, bit(2)))}, 14, 2},
		{"the bit that is in the drill comes first", fitted(2),
			[]Task{task(nil, takes(2, bit(1))), task(nil, takes(2, bit(2)))}, 7, 1},
		// What needs no particular bit leaves it in.
		{"a set-up outlasts work without family", fitted(1),
			[]Task{task(nil, takes(2, bit(1))), task(after(0), takes(5, one(onDrill))), task(after(1), takes(2, bit(1)))}, 9, 0},
		// The adult fits the bit: 3 and 4; the child's hole waits.
		{"a set-up takes the hands of its task", bench,
			[]Task{task(nil, takes(4, bit(1), one(byAdult))), task(nil, takes(6, one(byAdult)))}, 13, 1},
		// Hole 1 2 1 in a chain: bits have to be changed three times.
		{"an order that costs set-ups", bench,
			[]Task{task(nil, takes(1, bit(1))), task(after(0), takes(1, bit(2))), task(after(1), takes(1, bit(1)))}, 12, 3},
		// Adult: 4+4; adult and child: 4 beside 6.
		{"the child takes longer and is still the help", bench,
			[]Task{task(nil, takes(4, one(byAdult)), takes(6, one(byChild))), task(nil, takes(4, one(byAdult)), takes(6, one(byChild)))}, 6, 0},
		// A child with an adult watching binds both: the adult alone is better.
		{"watching", bench,
			[]Task{task(nil, takes(4, one(byAdult)), takes(6, one(byChild), one(byAdult))), task(nil, takes(4, one(byAdult)), takes(6, one(byChild), one(byAdult)))}, 8, 0},
	} {
		p := &Project{Resources: c.resources, Tasks: c.tasks}
		plan, err := Solve(context.Background(), p, Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if plan.Makespan != c.makespan || plan.SetUps != c.setUps || !plan.Proved || !plan.SetUpsProved {
			t.Errorf("%s: makespan %d, set-ups %d, proved %v %v; want %d and %d\n%+v", c.name, plan.Makespan, plan.SetUps, plan.Proved, plan.SetUpsProved, c.makespan, c.setUps, plan.Tasks)
		}
	}
}

func TestCheckSaysWhere(t *testing.T) {
	p := &Project{Resources: bench, Tasks: []Task{
		{Name: "drill", Modes: []Mode{takes(2, bit(1), one(byAdult))}},
		{Name: "sand", After: []int{0}, Modes: []Mode{takes(5, one(byAdult))}},
		{Name: "drill again", Modes: []Mode{takes(2, bit(2), one(byChild))}},
	}}
	good := Plan{Tasks: []Placed{{3, 0, 5, true}, {5, 0, 10, false}, {8, 0, 10, true}}, Makespan: 10, SetUps: 2}
	if err := good.Check(p); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		say    string
		change func(*Plan)
	}{
		{`task 1 "sand" starts at 4 with its set-up, before task 0 "drill" ends at 5`, func(p *Plan) { p.Tasks[1] = Placed{4, 0, 9, false} }},
		{`resource 0 "adult": the set-up for task 0 "drill" begins at -1`, func(p *Plan) { p.Tasks[0] = Placed{2, 0, 4, true} }},
		{`resource 2 "drill": 2 of 1 units are held at 4`, func(p *Plan) { p.Tasks[2] = Placed{7, 0, 9, true} }},
		{`needs family 2 when 1 is fitted; a set-up before it: false`, func(p *Plan) { p.Tasks[2].SetUp = false }},
		{`ends at 9, not 10`, func(p *Plan) { p.Tasks[1].End = 9 }},
		{`there are 2 set-ups, not 1`, func(p *Plan) { p.SetUps = 1 }},
		{`the last task ends at 10, not 11`, func(p *Plan) { p.Makespan = 11 }},
		{`2 tasks are placed of 3`, func(p *Plan) { p.Tasks = p.Tasks[:2] }},
		{`has no mode 1`, func(p *Plan) { p.Tasks[1].Mode = 1 }},
		{`starts at -1`, func(p *Plan) { p.Tasks[1] = Placed{-1, 0, 4, false} }},
	} {
		bad := good
		bad.Tasks = append([]Placed(nil), good.Tasks...)
		c.change(&bad)
		if err := bad.Check(p); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("said %v, want %s", err, c.say)
		}
	}
}

func TestProjectsThatCannotBe(t *testing.T) {
	ok := takes(1)
	for _, c := range []struct {
		say string
		p   Project
	}{
		{"in a ring", Project{nil, []Task{task(after(1), ok), task(after(0), ok)}}},
		{"comes after task 0, which cannot be", Project{nil, []Task{task(after(0), ok)}}},
		{"has no mode", Project{nil, []Task{{}}}},
		{"duration -1", Project{nil, []Task{task(nil, takes(-1))}}},
		{"there is no resource 7", Project{bench, []Task{task(nil, takes(1, one(7)))}}},
		{`5 units of "clamps", which has 4`, Project{bench, []Task{task(nil, takes(1, Use{Resource: inClamps, Units: 5}))}}},
		{`uses "adult" twice`, Project{bench, []Task{task(nil, takes(1, one(byAdult), one(byAdult)))}}},
		{"of which there has to be one", Project{bench, []Task{task(nil, takes(1, Use{Resource: inClamps, Units: 1, Family: 2}))}}},
		{"no more than 1048576 units", Project{[]Resource{{Capacity: 1 << 40}}, []Task{task(nil, ok)}}},
		{"holds \"adult\" for 3 of 2", Project{bench, []Task{task(nil, takes(2, Use{Resource: byAdult, Units: 1, For: 3}))}}},
	} {
		if _, err := Solve(context.Background(), &c.p, Options{}); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("said %v, want %s", err, c.say)
		}
	}
}

// A task that stands for four of five minutes by one adult, and then half an hour of glue, is
// done in no less than 20 and 30, however many of them are done at a time.
func TestBoundOfMany(t *testing.T) {
	many := takes(5+30, Use{Resource: byAdult, Units: 1, For: 5, All: 20})
	p := Project{bench, []Task{task(nil, many)}}
	if b, err := p.Bound(); err != nil || b != 50 {
		t.Errorf("bound %d, %v", b, err)
	}
}
