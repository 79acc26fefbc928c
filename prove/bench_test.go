package prove_test

import (
	"fmt"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy/file"
)

// row is a row of blocks with a cabin and an axle each, five pieces a block,
// touching nothing but the one before it: a train of n blocks glued end to end.
func row(n int) string {
	s := sheetOf{stock: []string{board("b", 20), board("thin", 8), dowelOf("rod", 6)},
		parts: []string{
			"frame: {from: b, blank: [60, 40], work: [{drill: {side: edge, dia: 7, named: {hole: [middle, 8]}}}]}",
			"cabin: {from: b, blank: [30, 40], work: [{saw: {side: edge, outline: [[0, 0], [length, 0], [length, thick, r 8], [0, thick, r 3]]}}]}",
			"wheel: {from: thin, disc: 30, bore: 6}", "axle: {from: rod}"}}
	last := ""
	for i := 1; i <= n; i++ {
		name := fmt.Sprintf("car-%d", i)
		if i == 1 {
			s.build = append(s.build, f("{put: frame, as: %s}", name))
		} else {
			s.build = append(s.build, f("{put: frame, as: %s, sits: {back: %s.front, left: %s.left, bottom: %s.bottom}, glued: yes}", name, last, last, last))
		}
		s.build = append(s.build, f("{put: cabin, sits: {bottom: %s.top, back: %s.back + 5, left: %s.left}, glued: yes}", name, name, name),
			f("wheels: {in: %s.hole, axle: axle, outward: [wheel], play: 1, proud: 2}", name))
		last = name
	}
	return s.text()
}

func fresh(b *testing.B, text string) *prove.Report {
	ty, probs := file.Read(source.New("bench.yaml", text), nil)
	if len(probs) > 0 {
		b.Fatal(probs)
	}
	rep, probs := prove.Run(ty, &assembly.Cache{})
	if len(probs) > 0 {
		b.Fatal(probs)
	}
	return rep
}

// BenchmarkTram reads, derives and proves the tram from nothing.
func BenchmarkTram(b *testing.B) {
	text := tram(b)
	for b.Loop() {
		fresh(b, text)
	}
}

// BenchmarkProve shows how the whole way from text to findings grows with the
// number of pieces.
func BenchmarkProve(b *testing.B) {
	for _, n := range []int{1, 2, 4, 8, 16, 32} {
		text := row(n)
		b.Run(fmt.Sprintf("pieces=%d", 5*n), func(b *testing.B) {
			for b.Loop() {
				if rep := fresh(b, text); rep.Pieces != 5*n {
					b.Fatal(rep.Pieces)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(5*n), "ns/piece")
		})
	}
}

// The row holds, but that its blocks are glued end to end, on end grain: as a bar of 240 mm it
// breaks there.
func TestRow(t *testing.T) {
	rep := proof(t, row(4))
	if rep.Pieces != 20 || rep.Verdict != prove.Mind {
		t.Errorf("%d pieces: %v %v", rep.Pieces, ids(rep, prove.Fails), ids(rep, prove.Mind))
	}
	for _, id := range ids(rep, prove.Mind) {
		if !strings.HasPrefix(id, "strength.joint:car-") || !strings.HasSuffix(id, "(levered)") {
			t.Errorf("minds %s", id)
		}
	}
}
