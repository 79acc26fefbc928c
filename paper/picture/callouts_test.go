package picture

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// Every piece has its number once, or is said not to be seen; circles keep apart;
// and what a leader points to is the wood of that piece: the first that a look
// along the same direction meets.
func TestCallouts(t *testing.T) {
	t.Parallel()
	shown, hidden := 0, 0
	for _, name := range toys(t) {
		m, o := toyOf(t, name).m, toyOf(t, name).look.o
		const scale = 0.8
		at := place{sight: isometric, scale: scale}
		g, unseen := callouts(m, numbered(m), o, at, looked(o, at), nil)
		var circles, dots []r2.Vec
		var numbers []int
		draw.Page{Items: []draw.Item{g}}.Walk(func(k draw.Mark) {
			switch {
			case k.Text != nil:
				n, _ := strconv.Atoi(k.Text.Says)
				numbers = append(numbers, n)
			case k.Path.Fill == draw.White:
				circles = append(circles, k.Path.Runs[0].Segs[0].Centre)
			case k.Path.Fill == draw.Ink:
				dots = append(dots, k.Path.Runs[0].Segs[0].Centre)
			}
		})
		if len(circles) != len(numbers) || len(dots) != len(numbers) {
			t.Fatalf("%s: %d circles and %d dots for %d numbers", name, len(circles), len(dots), len(numbers))
		}
		told := map[int]int{}
		for _, n := range append(append([]int(nil), numbers...), unseen...) {
			told[n]++
		}
		shown, hidden = shown+len(numbers), hidden+len(unseen)
		for i := range m.Pieces {
			if told[i+1] != 1 {
				t.Errorf("%s: piece %d is told %d times", name, i+1, told[i+1])
			}
		}
		for i, c := range circles {
			for _, d := range circles[:i] {
				if c.Sub(d).Len() < 2*ringSize {
					t.Errorf("%s: numbers at %v and %v overlap", name, c, d)
				}
			}
			q := dots[i].Scale(1 / scale)
			p := isometric.right.Scale(q.X).Add(isometric.up.Scale(q.Y))
			first, near := 0, math.Inf(-1)
			for k, b := range o.bodies {
				for _, s := range assembly.Spans(b, p, isometric.toward) {
					if s[1] > near {
						first, near = k+1, s[1]
					}
				}
			}
			if first != numbers[i] {
				t.Errorf("%s: the leader of %d points at %d", name, numbers[i], first)
			}
		}
	}
	if shown < 5*hidden {
		t.Errorf("%d numbers shown, and %d pieces not seen", shown, hidden)
	}
}

// The ring around a square of 40: 8 off its sides, round at its corners.
func TestRing(t *testing.T) {
	r := newRing([]r2.Vec{{}, {X: 40}, {X: 40, Y: 40}, {Y: 40}, {X: 20, Y: 20}})
	if want := 160 + 2*math.Pi*ringOff; math.Abs(r.length-want) > 0.01*want {
		t.Errorf("the ring is %g long, want %g", r.length, want)
	}
	for k := range 50 {
		p := r.at(r.length * float64(k) / 50)
		in := r2.Vec{X: math.Max(0, math.Min(40, p.X)), Y: math.Max(0, math.Min(40, p.Y))}
		if d := p.Sub(in).Len(); math.Abs(d-ringOff) > 0.1 {
			t.Errorf("%v is %g off the square", p, d)
		}
		if back := r.at(r.nearest(p)); back.Sub(p).Len() > 1e-3 {
			t.Errorf("%v is found at %v", p, back)
		}
	}
}

// A toy twice as long as half a sheet is shown at 1:2, its isometric smaller, and
// not at 1:5 with most of the sheet empty; both scales of ISO 5455.
func TestScaleUsesTheSheet(t *testing.T) {
	svg := string(sheetSVG(block(t, 323, 85, 100, "")))
	if !strings.Contains(svg, ">1:2<") {
		t.Error("a toy of 323 × 85 × 100 mm is not shown at 1:2")
	}
}
