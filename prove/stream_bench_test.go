package prove_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy/file"
)

// train is n cars on each other's pins, ten pieces a car with a load on the first. In
// all other respects it is a good toy. long is the length of the roofs.
func train(n int, long float64) string {
	s := sheetOf{stock: []string{board("b", 20), board("thin", 8), dowelOf("rod", 6), dowelOf("thick", 8)},
		parts: []string{
			`frame:
    from: b
    blank: [120, 36]
    work:
      - drill: {side: edge, dia: 7, named: {rear-axle: [36, 8], front-axle: [84, 8]}}
      - drill: {side: face, dia: 8, named: {coupling: [8, middle]}}
      - drill: {side: face, dia: 9, named: {eye: [108, middle]}}
      - saw: {side: edge, outline: {points: [[0, 0], [0, 10], [20, 10], [20, 20], [120, 20], [120, 10], [96, 10], [96, 0]], flats: {tail: [2, 3], deck: [4, 5], under-tongue: [6, 7]}}}
      - saw: {side: face, outline: [[0, 12, r 8], [20, 0], [96, 0], [104, 10], [length, 10, r 7], [length, 26, r 7], [104, 26], [96, 36], [20, 36], [0, 24, r 8]]}`,
			"core: {from: b, blank: [56, 30], work: [{saw: {side: face, outline: [[0, 0, r 4], [length, 0, r 4], [length, width, r 4], [0, width, r 4]]}}]}",
			f("roof: {from: thin, blank: [%g, 34], work: [{saw: {side: face, outline: [[0, 0, r 6], [length, 0, r 6], [length, width, r 6], [0, width, r 6]]}}]}", long),
			"wheel: {from: thin, disc: 30, bore: 6}", "axle: {from: rod}", "pin: {from: thick}"}}
	for i := 1; i <= n; i++ {
		car, last := f("car-%d", i), f("car-%d", i-1)
		if i == 1 {
			s.build = append(s.build, f("{put: frame, as: %s}", car))
		} else {
			s.build = append(s.build, f("{put: frame, as: %s, sits: {eye: %s.coupling, under-tongue: %s.tail}}", car, last, last))
		}
		s.build = append(s.build, f("{put: core, as: core-%d, sits: {bottom: %s.deck, back: %s.back + 26, middle: %s.middle}, glued: yes}", i, car, car, car),
			f("{put: roof, as: roof-%d, sits: {bottom: core-%d.top, middle-along: core-%d.middle, middle-across: core-%d.middle}, glued: yes}", i, i, i, i),
			f("wheels: {in: %s.rear-axle, axle: axle, outward: [wheel], play: 1, proud: 2}", car),
			f("wheels: {in: %s.front-axle, axle: axle, outward: [wheel], play: 1, proud: 2}", car))
		if i > 1 {
			s.build = append(s.build, f("hinge: {name: coupling-%d, pin: pin, fixed: %s.coupling, runs: %s.eye, lifts-off: yes}", i, last, car))
		}
	}
	s.build = append(s.build, "{put: core, as: load, sits: {bottom: roof-1.top, middle-along: roof-1.middle, middle-across: roof-1.middle}, glued: yes}")
	s.must = []string{"rolls"}
	return s.text()
}

// The train is a good toy of forty pieces, and an edit of its roofs leaves it so.
func TestTrain(t *testing.T) {
	for _, long := range []float64{60, 63.5} {
		rep := proof(t, train(4, long))
		if rep.Pieces != 40 || rep.Verdict > prove.Mind {
			t.Errorf("%d pieces: fails %v, cannot tell %v", rep.Pieces, ids(rep, prove.Fails), ids(rep, prove.CannotTell))
		}
	}
}

// whole reads and proves a toy on one lane, and tells how long it took until the last
// of the quick checks was done.
func whole(b *testing.B, text string, cache *assembly.Cache) (rep *prove.Report, quick time.Duration) {
	slow := map[string]bool{}
	for _, c := range prove.Checks {
		slow[c.ID] = c.Slow
	}
	begun := time.Now()
	ty, probs := file.Read(source.New("bench.yaml", text), nil)
	if len(probs) > 0 {
		b.Fatal(probs)
	}
	rep, err := prove.RunContext(context.Background(), ty, cache, prove.Options{Lanes: 1, Done: func(p prove.Part) {
		if !slow[p.Check] {
			quick = time.Since(begun)
		}
	}})
	if err != nil {
		b.Fatal(err)
	}
	return rep, quick
}

// BenchmarkEdit is what follows an edit of one part of a toy of forty pieces, from its
// text to the findings, on one lane: quick-ms until the quick checks are done, and
// whole-ms for all. The part has another size every time, so that it is made anew.
func BenchmarkEdit(b *testing.B) {
	cache := &assembly.Cache{}
	whole(b, train(4, 60), cache)
	n, quick := 0, time.Duration(0)
	for b.Loop() {
		n++
		rep, q := whole(b, train(4, 60+float64(n%200)/100), cache)
		if quick += q; rep.Pieces != 40 {
			b.Fatal(rep.Pieces)
		}
	}
	b.ReportMetric(float64(quick.Microseconds())/1e3/float64(b.N), "quick-ms")
	b.ReportMetric(float64(b.Elapsed().Microseconds())/1e3/float64(b.N), "whole-ms")
}

// BenchmarkGrowth is the way from nothing, and that after an edit of one part, for
// trains of up to 320 pieces.
func BenchmarkGrowth(b *testing.B) {
	for _, n := range []int{1, 2, 4, 8, 16, 32} {
		b.Run(fmt.Sprintf("pieces=%d", 10*n), func(b *testing.B) {
			var quick, edit, editQuick time.Duration
			i := 0
			for b.Loop() {
				i++
				cache := &assembly.Cache{}
				_, q := whole(b, train(n, 60), cache)
				quick += q
				b.StopTimer()
				begun := time.Now()
				_, q = whole(b, train(n, 61), cache)
				edit, editQuick = edit+time.Since(begun), editQuick+q
				b.StartTimer()
			}
			per := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1e3 / float64(b.N) }
			b.ReportMetric(per(quick), "quick-ms")
			b.ReportMetric(per(b.Elapsed()), "whole-ms")
			b.ReportMetric(per(editQuick), "edit-quick-ms")
			b.ReportMetric(per(edit), "edit-whole-ms")
		})
	}
}

// BenchmarkChecks is each check alone, and the model's world that all share, on the
// train of forty pieces once its solids are made.
func BenchmarkChecks(b *testing.B) {
	ty := read(b, train(4, 60))
	m, probs := assembly.Derive(ty, assembly.Options{})
	if len(probs) > 0 {
		b.Fatal(probs)
	}
	prove.Model(m)
	for _, c := range append([]prove.Check{{ID: "(none)"}}, prove.Checks...) {
		b.Run(c.ID, func(b *testing.B) {
			for b.Loop() {
				prove.Only(m, c.ID)
			}
		})
	}
}
