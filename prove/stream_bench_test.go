package prove_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"dryfit/assembly"
	"dryfit/examples/trains"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy/file"
)

// The train is a good toy of forty pieces, and an edit of its roofs leaves it so.
func TestTrain(t *testing.T) {
	for _, long := range []float64{60, 63.5} {
		rep := proof(t, trains.Text(4, long))
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
	whole(b, trains.Text(4, 60), cache)
	n, quick := 0, time.Duration(0)
	for b.Loop() {
		n++
		rep, q := whole(b, trains.Text(4, 60+float64(n%200)/100), cache)
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
				_, q := whole(b, trains.Text(n, 60), cache)
				quick += q
				b.StopTimer()
				begun := time.Now()
				_, q = whole(b, trains.Text(n, 61), cache)
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
	ty := read(b, trains.Text(4, 60))
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
