package plan_test

// What every plan has to keep to, held against it by code of the tests' own.

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"dryfit/facts"
	"dryfit/guide"
	"dryfit/shop/plan"
	"dryfit/toy"
)

// sound holds a plan against its own data: order, tools, hands, clamps, ages, sums.
func sound(t *testing.T, p *plan.Plan, s plan.Shop) {
	t.Helper()
	years, on := map[string]int{}, map[string]int{}
	for _, h := range p.Hands {
		years[h.Name] = h.Years
	}
	setUps, fitted, end := 0, map[string]string{}, 0
	for i, k := range p.Tasks {
		if k.Number != i+1 || k.Begin < 0 || k.Free < k.Begin+k.SetUp || k.End < k.Free || i > 0 && k.Begin < p.Tasks[i-1].Begin {
			t.Fatalf("task %d: %+v", i+1, k)
		}
		end = max(end, k.End)
		for _, a := range k.After {
			if p.Tasks[a-1].End > k.Begin {
				t.Errorf("%q begins before %q has ended", k.Says(), p.Tasks[a-1].Says())
			}
		}
		adult := false
		for _, h := range k.Hands {
			adult = adult || years[h] == 0
			on[h] += k.Free - k.Begin
		}
		for _, name := range k.Deeds {
			d, ok := facts.DeedNamed(name)
			for _, h := range k.Hands {
				if y := years[h]; !ok || y > 0 && (d.Years == 0 || y < d.Years || !d.Alone && !adult) {
					t.Errorf("%s, %d years old, may not %s: %q", h, y, name, k.Says())
				}
			}
		}
		if k.Waits() != (len(k.Deeds) == 0) || len(k.Hands) > 2 {
			t.Errorf("%q by %v", k.Says(), k.Hands)
		}
		if k.Setting != "" {
			if changed := fitted[k.Tool] != k.Setting; changed != (k.SetUp > 0) {
				t.Errorf("%q: %s after %s, set-up %d", k.Says(), k.Setting, fitted[k.Tool], k.SetUp)
			}
			fitted[k.Tool] = k.Setting
		}
		if k.SetUp > 0 {
			setUps++
		}
		if p.Session > 0 && !k.Waits() && k.Begin%1440+k.Free-k.Begin > p.Session {
			t.Errorf("%q from %d to %d is not in one session", k.Says(), k.Begin, k.Free)
		}
	}
	if end != p.Elapsed || p.Bound > p.Elapsed || setUps != p.SetUps || p.LeastSet > p.SetUps {
		t.Errorf("elapsed %d of %d, bound %d; set-ups %d of %d", p.Elapsed, end, p.Bound, p.SetUps, setUps)
	}
	all := 0
	for _, h := range p.Hands {
		if all += h.HandsOn; h.HandsOn != on[h.Name] {
			t.Errorf("%s is at work for %d, not %d", h.Name, on[h.Name], h.HandsOn)
		}
	}
	if all != p.HandsOn {
		t.Errorf("hands on %d, not %d", all, p.HandsOn)
	}
	for _, k := range p.Tasks { // at every beginning: what is held
		held := map[string]int{}
		for _, o := range p.Tasks {
			if o.Begin <= k.Begin && k.Begin < o.Free {
				for _, h := range o.Hands {
					held[h]++
				}
				if o.Tool != "hand saw" && o.Tool != "coping saw" {
					held[o.Tool]++
				}
			}
			if o.Begin <= k.Begin && k.Begin < o.End {
				held["clamps"] += o.Clamps
			}
		}
		for what, n := range held {
			most := 1
			if what == "clamps" {
				if most = p.Clamps; most < 0 {
					continue
				}
			}
			if what != "" && n > most {
				t.Errorf("at %d there are %d of %s", k.Begin, n, what)
			}
		}
	}
}

// follows holds a plan against the model: a piece is made before it is put, drilled and sawn
// before it is sanded, a glue-up is hard before it is worked on, and the moves of the proved
// order come one after the other where they meet. Times are those of whole steps, so that
// several lots make them stricter than they need be: only a plan of one is held against them.
func follows(t *testing.T, p *plan.Plan, j plan.Job) {
	t.Helper()
	first, last := map[int]int{}, map[int]int{}
	sanded := map[int]int{}
	for _, k := range p.Tasks {
		if f, ok := first[k.Step]; !ok || k.Begin < f {
			first[k.Step] = k.Begin
		}
		last[k.Step] = max(last[k.Step], k.End)
		if strings.HasSuffix(k.Does, "ease the arrises") {
			if f, ok := sanded[k.Step]; !ok || k.Begin < f {
				sanded[k.Step] = k.Begin
			}
		}
	}
	onward := map[int]bool{} // what something comes after
	for _, k := range p.Tasks {
		for _, a := range k.After {
			onward[a] = true
		}
	}
	for _, k := range p.Tasks {
		if k.Step != 0 && !onward[k.Number] {
			t.Errorf("nothing comes after %q", k.Says())
		}
	}
	if j.Count > 1 {
		return
	}
	for _, k := range p.Tasks {
		one := len(stepOf(j, k.Step).Bench.Parts) == 1
		for _, d := range []string{"saw", "drill", "pattern", "chisel"} {
			if s, ok := sanded[k.Step]; ok && one && slices.Contains(k.Deeds, d) && k.End > s {
				t.Errorf("%q ends at %d, after its step is sanded at %d", k.Says(), k.End, s)
			}
		}
	}
	madeBy, putBy := map[string]int{}, map[int]int{}
	glued := map[string][]int{}
	for _, c := range j.Guide.Chapters {
		for _, st := range c.Steps {
			n := st.Number
			for _, part := range st.Bench.Parts {
				if before, ok := madeBy[part]; ok && last[before] > first[n] {
					t.Errorf("step %d works on what step %d has not cut yet", n, before)
				}
				madeBy[part] = n
			}
			switch st.Bench.Kind {
			case guide.GlueUps:
				glued[st.Bench.GlueUp] = append(glued[st.Bench.GlueUp], n)
			case guide.Shaping:
				for _, g := range glued[st.Bench.GlueUp] {
					for _, k := range p.Tasks {
						if k.Step == n && !k.Waits() && k.Begin < first[g]+1440 {
							t.Errorf("step %d works on glue of step %d that is not hard", n, g)
						}
					}
				}
				glued[st.Bench.GlueUp] = append(glued[st.Bench.GlueUp], n)
			case guide.Finishing:
				for _, k := range putBy {
					if last[k] > first[n]+1440 {
						t.Errorf("step %d ends long after the finish", k)
					}
				}
			}
			for _, m := range st.Bench.Moves {
				for _, i := range append(slices.Clone(m.Pieces), m.Onto...) {
					part := j.Model.Pieces[i].Part
					if by := madeBy[part.Name]; by > 0 && slices.Contains(m.Pieces, i) {
						until := 0
						for _, k := range p.Tasks { // plain blocks are made in one step, and each by itself
							if k.Step == by && (stepOf(j, by).Bench.Kind != guide.Squares || strings.Contains(k.Does, " "+guide.Counted(countOf(j, part), part.Name)+" ")) {
								until = max(until, k.End)
							}
						}
						if until == 0 || until > first[n] {
							t.Errorf("step %d puts %s at %d, which step %d makes until %d", n, part.Name, first[n], by, until)
						}
					}
					if before, ok := putBy[i]; ok && before != n && last[before] > first[n] {
						t.Errorf("step %d begins at %d, before step %d, which it goes onto, has ended at %d", n, first[n], before, last[before])
					}
				}
				for _, i := range m.Pieces {
					putBy[i] = n
				}
			}
			if st.Bench.Kind == guide.Building && st.Bench.Glued && last[n] > first[n] {
				for _, k := range p.Tasks {
					if k.Step == 0 && k.Begin < first[n]+1440-60 {
						t.Errorf("the toy is pulled at before the glue of step %d is hard", n)
					}
				}
			}
		}
	}
}

func countOf(j plan.Job, part *toy.Part) int {
	n := part.Spare
	for _, p := range j.Model.Pieces {
		if p.Part.Name == part.Name {
			n++
		}
	}
	return n
}

func stepOf(j plan.Job, n int) guide.Step {
	for _, c := range j.Guide.Chapters {
		for _, st := range c.Steps {
			if st.Number == n {
				return st
			}
		}
	}
	return guide.Step{}
}

// sameSteps wants every step of the guide in the plan, with the same kinds of work; what is
// sanded at a machine may be sanded by hand.
func sameSteps(t *testing.T, p *plan.Plan, j plan.Job) {
	t.Helper()
	deeds := map[int]map[string]bool{}
	for _, k := range p.Tasks {
		if k.Step == plan.Wood {
			continue
		}
		if deeds[k.Step] == nil {
			deeds[k.Step] = map[string]bool{}
		}
		for _, d := range k.Deeds {
			if d == "sand-machine" {
				d = "sand"
			}
			deeds[k.Step][d] = true
		}
	}
	n := 1 // the check
	for _, c := range j.Guide.Chapters {
		for _, st := range c.Steps {
			n++
			want := map[string]bool{}
			for _, d := range st.Bench.Deeds {
				want[d] = true
			}
			if len(want) == 0 {
				want = map[string]bool{"place": true}
			}
			if !reflect.DeepEqual(deeds[st.Number], want) {
				t.Errorf("step %d, %s: the guide has %v, the plan %v", st.Number, st.Title, want, deeds[st.Number])
			}
		}
	}
	if len(deeds) != n {
		t.Errorf("the plan has %d steps, the guide %d", len(deeds), n)
	}
}
