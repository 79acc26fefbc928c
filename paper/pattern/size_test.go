package pattern

import (
	"bytes"
	"math"
	"slices"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/layout"
	"dryfit/paper/papertest"
	"dryfit/toy"
)

// stroke is a line on the page: its line width and corners in mm from the lower left
// corner of the paper, the stretch for the printer taken out again.
type stroke struct {
	width float64
	at    []r2.Vec
}

func traced(t *testing.T, file string, paper layout.Paper) (pages [][]stroke) {
	t.Helper()
	by := paper.Stretch()
	for _, p := range papertest.Trace(t, file) {
		var list []stroke
		for _, s := range p {
			at := s.Points()
			for i := range at {
				at[i] = r2.Vec{X: at[i].X / by.X, Y: at[i].Y / by.Y}
			}
			list = append(list, stroke{s.Width, at})
		}
		pages = append(pages, list)
	}
	return pages
}

// misses returns how far the worst of the points is from the nearest corner of
// one stroke of the given width, for the stroke that fits best.
func misses(strokes []stroke, width float64, want []r2.Vec) float64 {
	best := math.Inf(1)
	for _, s := range strokes {
		if math.Abs(s.width-width) > 1e-6 {
			continue
		}
		worst := 0.0
		for _, w := range want {
			near := math.Inf(1)
			for _, p := range s.at {
				near = math.Min(near, p.Sub(w).Len())
			}
			worst = math.Max(worst, near)
		}
		best = math.Min(best, worst)
	}
	return best
}

// workOf returns the work drawn at a place, from the toy itself.
func workOf(m *assembly.Model, p Place) (work []toy.Work, bore float64, mid r2.Vec) {
	if p.GlueUp {
		g, _ := m.Toy.GlueUpNamed(p.Of)
		return g.Work, 0, mid
	}
	part, _ := m.Toy.PartNamed(p.Of)
	if p.Side == toy.Top {
		bore = part.Bore.MM()
	}
	return part.Work, bore, r2.Vec{X: part.Length.MM() / 2, Y: part.Width.MM() / 2}
}

// Every corner of every outline, and every hole, is where the toy file says, on all
// papers, a roll and through a printer that is out of true: read back from the file by
// a PDF program that is not ours.
func TestTrueSize(t *testing.T) {
	for name, m := range toys(t) {
		papers := papersFor(name)
		if len(papers) > 1 {
			papers = append(papers, layout.Roll(610))
			for _, p := range papers {
				p.Name += ", corrected"
				p.Measured = r2.Vec{X: 98.6, Y: 101.3}
				p.Margin = layout.Margin{Left: 12, Right: 5, Top: 5, Bottom: 8}
				papers = append(papers, p)
			}
		}
		for _, paper := range papers {
			t.Run(name+" on "+paper.Name, func(t *testing.T) {
				t.Parallel()
				set, err := Lay(m, paper)
				if err != nil {
					t.Fatal(err)
				}
				data, err := set.PDF(m, paper)
				if err != nil {
					t.Fatal(err)
				}
				if paper.Name == "A4" {
					if again, _ := PDF(m, paper); !bytes.Equal(data, again) {
						t.Error("two runs differ")
					}
				}
				file := papertest.File(t, data)
				papertest.Check(t, file)
				compare(t, m, set.Places, traced(t, file, paper))
				margin := papertest.Room{Left: paper.Margin.Left, Right: paper.Margin.Right, Top: paper.Margin.Top, Bottom: paper.Margin.Bottom}
				for _, f := range papertest.Apart(papertest.Words(t, file), margin) {
					t.Error(f)
				}
			})
		}
	}
}

func compare(t *testing.T, m *assembly.Model, places []Place, pages [][]stroke) {
	worst, outlines, holes := 0.0, 0, 0
	check := func(p Place, width float64, what string, pts []r2.Vec) {
		var on []r2.Vec
		for _, q := range pts {
			// a tile's clip is not drawn away by the tracer: all of it is there
			on = append(on, p.OnPage.Apply(q))
		}
		off := misses(pages[p.Page], width, on)
		if worst = math.Max(worst, off); off > tol.TrueSize {
			t.Errorf("%s of %s, %s: %.3f mm off", what, p.Of, p.Side, off)
		}
	}
	done := map[string]bool{}
	for _, p := range places {
		work, bore, mid := workOf(m, p)
		round := func(c r2.Vec, dia float64) {
			r := r2.Vec{X: dia / 2}
			check(p, 0.35, "a hole", []r2.Vec{c.Add(r), c.Sub(r)})
			// the cross: its arms' ends lie square about the centre
			arm := dia/2 + 1.5
			check(p, 0.25, "a cross", []r2.Vec{c.Add(r2.Vec{X: arm}), c.Sub(r2.Vec{X: arm}), c.Add(r2.Vec{Y: arm}), c.Sub(r2.Vec{Y: arm})})
			holes++
		}
		line := func(side toy.Side, o toy.Outline, width float64, cut bool) {
			if side != p.Side {
				return
			}
			var pts []r2.Vec
			for _, c := range o.Corners { // straight from the file
				if c.Radius == 0 && o.Mirror == "" {
					pts = append(pts, r2.Vec{X: c.X.MM(), Y: c.Y.MM()})
				}
			}
			path, err := assembly.Line(o)
			if err != nil {
				t.Fatal(err)
			}
			pts = append(pts, ends(path)...)
			if cut { // only what runs over wood is drawn of it
				pts = slices.DeleteFunc(pts, func(q r2.Vec) bool { return !p.GlueUp && offWood(m, p, q) })
			}
			check(p, width, "an outline", pts)
			outlines++
		}
		if bore > 0 {
			round(mid, bore)
		}
		for _, w := range work {
			switch w := w.(type) {
			case toy.Saw:
				line(w.Side, w.Outline, 0.5, false)
			case toy.Cut:
				if _, bored := assembly.BoredCut(w, m.Toy); bored { // drawn as the hole that it is
					if c := w.Outline.Circle; w.Side == p.Side {
						round(r2.Vec{X: c.Centre.X.MM(), Y: c.Centre.Y.MM()}, c.Dia.MM())
					}
				} else if w.Depth > 0 {
					line(w.Side, w.Outline, 0.25, true)
				} else {
					line(w.Side, w.Outline, 0.5, true)
				}
			case toy.Drill:
				for _, h := range w.Holes {
					if w.Side == p.Side {
						round(r2.Vec{X: h.At.X.MM(), Y: h.At.Y.MM()}, w.Dia.MM())
					}
				}
			}
		}
		done[p.Of+p.Side.String()] = true
	}
	// and no side with work is missing
	for i := range m.Toy.Parts {
		p := &m.Toy.Parts[i]
		if len(piecesOf(m, p)) == 0 {
			continue
		}
		for _, w := range p.Work {
			var side toy.Side
			switch w := w.(type) {
			case toy.Saw:
				side = w.Side
			case toy.Cut:
				side = w.Side
			case toy.Drill:
				side = w.Side
			default:
				continue
			}
			if !done[p.Name+side.String()] {
				t.Errorf("%s of %s has work and no view", side, p.Name)
			}
		}
	}
	t.Logf("%d outlines, %d holes: farthest %.5f mm off", outlines, holes, worst)
}

// offWood tells whether a point on a side of a part lies beyond its blank, or on
// its edge.
func offWood(m *assembly.Model, p Place, q r2.Vec) bool {
	part, _ := m.Toy.PartNamed(p.Of)
	l, w, h := part.Length.MM(), part.Width.MM(), part.Thick.MM()
	size := [...]r2.Vec{{X: l, Y: w}, {X: l, Y: w}, {X: l, Y: h}, {X: l, Y: h}, {X: w, Y: h}, {X: w, Y: h}}[p.Side]
	const e = 1e-3
	return q.X < e || q.Y < e || q.X > size.X-e || q.Y > size.Y-e
}

func ends(p outline.Path) []r2.Vec {
	pts := []r2.Vec{p.Start}
	for _, s := range p.Segs {
		pts = append(pts, s.To)
	}
	return pts
}
