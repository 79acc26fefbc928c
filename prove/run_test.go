package prove_test

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/prove"
)

// These tests were tried with mistakes made by hand on a scratch copy, one at a time:
// variants not merged; waivers put on the wrong checks; Done told of each model; the
// slow checks first; ctx not looked at; what is found filed as it comes; a panic lost.
// Each made a test fail.

// leftOut is a toy with two groups that may be left out, one of them worse without,
// and a waiver.
func leftOut() string {
	s := inches().sheet()
	s.stock = append(s.stock, board("thin", "1/4"))
	s.parts = append(s.parts, "mast: {from: thin, blank: [1/2, 1/2]}", "flag: {from: thin, blank: [3/4, 1/2]}")
	s.build[2] = strings.TrimSuffix(s.build[2], "}") + ", may-leave-out: front}"
	s.build = append(s.build, "{put: mast, sits: {bottom: frame.top, back: frame.back, left: frame.left}, glued: yes}",
		"{put: flag, sits: {bottom: mast.top, back: mast.back, left: mast.left}, glued: yes, may-leave-out: flag}")
	s.must = []string{"rolls", "{stands-on-slope: 15°}"}
	s.waive = []string{"{check: child.small, about: loose, reason: nothing is loose here}"}
	return s.text()
}

// toys are the texts that proofs in lanes are compared on.
func toys(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{"what may be left out": leftOut(), "tram": tram(t), "row": row(2)}
	names, err := filepath.Glob(filepath.Join("..", "examples", "broken", "*.yaml"))
	if err != nil || len(names) == 0 {
		t.Fatal(err, names)
	}
	for i, name := range names {
		if i%5 == 0 || !testing.Short() {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			out[filepath.Base(name)] = string(b)
		}
	}
	return out
}

// However many lanes there are, the report is the same, and what is streamed is what
// the report says: each check once, the quick ones first when there is one lane.
func TestLanes(t *testing.T) {
	for name, text := range toys(t) {
		var first *prove.Report
		for _, lanes := range []int{1, 2, 7} {
			parts := map[string]prove.Part{}
			var order []string
			rep, err := prove.RunContext(context.Background(), read(t, text), nil, prove.Options{Lanes: lanes, Done: func(p prove.Part) {
				if _, twice := parts[p.Check]; twice {
					t.Errorf("%s: %s is streamed twice", name, p.Check)
				}
				parts[p.Check] = p
				order = append(order, p.Check)
			}})
			if err != nil {
				t.Fatal(name, err)
			}
			if first == nil {
				first = rep
			}
			if !reflect.DeepEqual(rep, first) {
				t.Errorf("%s: another report in %d lanes", name, lanes)
			}
			var all []prove.Finding
			untold := false
			for _, c := range prove.Checks {
				all = append(all, parts[c.ID].Findings...)
				untold = untold || parts[c.ID].Untold
			}
			if !reflect.DeepEqual(all, rep.Findings) || untold != rep.MustUntold {
				t.Errorf("%s: what is streamed in %d lanes is not the report", name, lanes)
			}
			if lanes == 1 && !slices.IsSortedFunc(order, bySlow) {
				t.Errorf("%s: streamed as %v", name, order)
			}
		}
	}
}

// bySlow puts quick checks before the others.
func bySlow(a, b string) int {
	slow := func(id string) int {
		if k := slices.IndexFunc(prove.Checks, func(c prove.Check) bool { return c.ID == id }); prove.Checks[k].Slow {
			return 1
		}
		return 0
	}
	return slow(a) - slow(b)
}

// What is only wrong without a group is said so, and waived findings stay waived,
// in the part of their check.
func TestPartsWithoutAndWaived(t *testing.T) {
	var small, ground prove.Part
	rep, err := prove.RunContext(context.Background(), read(t, leftOut()), nil, prove.Options{Done: func(p prove.Part) {
		switch p.Check {
		case "child.small":
			small = p
		case "move.ground":
			ground = p
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(rep.Without, []string{"front", "flag"}) {
		t.Errorf("without %v", rep.Without)
	}
	if !slices.ContainsFunc(small.Findings, func(f prove.Finding) bool { return strings.HasSuffix(f.ID, "loose (waiver)") }) {
		t.Error("a waiver of nothing is not in the part of its check")
	}
	for _, want := range []string{"move.ground:clearance without front", "move.ground:clearance without front and flag"} {
		if !slices.ContainsFunc(ground.Findings, func(f prove.Finding) bool { return f.ID == want && f.Verdict == prove.Fails }) {
			t.Errorf("no %s that fails among %v", want, ground.Findings)
		}
	}
}

// The checks asked for are made as in the whole proof; the others are not asked.
func TestOnly(t *testing.T) {
	whole := prove.Model(model(t, tram(t)))
	some := prove.Only(model(t, tram(t)), "move.ground", "fit.reach")
	var want []prove.Finding
	for _, f := range whole.Findings {
		if f.Check == "move.ground" || f.Check == "fit.reach" {
			want = append(want, f)
		}
	}
	if len(want) < 2 || !reflect.DeepEqual(some.Findings, want) {
		t.Errorf("%v, want %v", some.Findings, want)
	}
	if n := len(prove.Checks) - 2 + len(prove.NotYet()); len(some.NotAsked) != n {
		t.Errorf("%d not asked, want %d", len(some.NotAsked), n)
	}
	if some.Pieces != whole.Pieces || some.MassKg != whole.MassKg {
		t.Error("another toy")
	}
}

// Once cancelled no check is begun, and there is no report.
func TestCancel(t *testing.T) {
	for _, lanes := range []int{1, 3} {
		ctx, cancel := context.WithCancel(context.Background())
		told := 0
		rep, err := prove.RunContext(ctx, read(t, tram(t)), nil, prove.Options{Lanes: lanes, Done: func(prove.Part) { told++; cancel() }})
		if rep != nil || !errors.Is(err, context.Canceled) {
			t.Errorf("%v, %v", rep, err)
		}
		if told > lanes { // what was under way when it was cancelled
			t.Errorf("%d checks in %d lanes", told, lanes)
		}
		told = 0
		if rep, err := prove.RunContext(ctx, read(t, tram(t)), nil, prove.Options{Done: func(prove.Part) { told++ }}); rep != nil || !errors.Is(err, context.Canceled) || told > 0 {
			t.Errorf("begun when cancelled: %v, %v, %d", rep, err, told)
		}
	}
}

// What is wrong with the toy comes as problems, and a mistake of our own in a lane
// reaches the caller.
func TestProofErrors(t *testing.T) {
	s := inches().sheet()
	s.waive = []string{"{check: fit.nothing, about: loose, reason: none}"}
	rep, err := prove.RunContext(context.Background(), read(t, s.text()), nil, prove.Options{})
	var probs source.Problems
	if rep != nil || !errors.As(err, &probs) || len(probs) != 1 {
		t.Errorf("%v, %v", rep, err)
	}
	defer func() {
		if x := recover(); x == nil || !strings.Contains(x.(string), "boom") {
			t.Errorf("recovered %v", x)
		}
	}()
	held := make(chan struct{}) // for ever: the other lane must not wait for it
	prove.RunContext(context.Background(), read(t, tram(t)), &assembly.Cache{}, prove.Options{Lanes: 2, Slow: held, Only: []string{"fit.overlap", "fit.order"}, Done: func(prove.Part) { panic("boom") }})
}

// Slow checks wait until they are let go, and no longer than the whole is wanted.
func TestSlowWait(t *testing.T) {
	quick := 0
	for _, c := range prove.Checks {
		if !c.Slow {
			quick++
		}
	}
	for _, goOn := range []bool{true, false} {
		ctx, cancel := context.WithCancel(context.Background())
		held, told := make(chan struct{}), 0
		rep, err := prove.RunContext(ctx, read(t, tram(t)), nil, prove.Options{Slow: held, Done: func(prove.Part) {
			if told++; told == quick && goOn {
				close(held)
			} else if told == quick {
				cancel()
			}
		}})
		if goOn && (err != nil || told != len(prove.Checks)) || !goOn && (!errors.Is(err, context.Canceled) || rep != nil || told != quick) {
			t.Errorf("go on %v: %v, %d checks told of %d, %d quick", goOn, err, told, len(prove.Checks), quick)
		}
		cancel()
	}
}
