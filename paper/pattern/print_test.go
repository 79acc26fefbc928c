package pattern

import (
	"cmp"
	"image"
	"math"
	"math/rand"
	"slices"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/papertest"
	"dryfit/toy"
)

// How far a print may be off: 0.1 mm over 250 mm, the bar of the design.
const offPer250 = 0.1

// The frame of a page, measured on a picture of it at 600 dpi by a program that is
// not ours, as long and as wide as it is drawn: every paper, with and without
// correction.
func TestTrueSizeInPrint(t *testing.T) {
	const dpi = 600
	models := toys(t)
	for n, paper := range append(layout.Papers(), layout.Roll(400)) {
		for _, measured := range []r2.Vec{{}, {X: 98.6, Y: 101.3}} {
			name := []string{"quay-tram", "tipping-wagon"}[n%2]
			if measured != (r2.Vec{}) {
				name = []string{"tipping-wagon", "quay-tram"}[n%2]
			}
			paper.Measured = measured
			set, err := Lay(models[name], paper)
			if err != nil {
				t.Fatal(err)
			}
			data, err := set.PDF(models[name], paper)
			if err != nil {
				t.Fatal(err)
			}
			pages := set.Pages
			frame := draw.Bounds(pages[0].Items[0].(draw.Group).Items[0])
			by := paper.Stretch()
			file := papertest.File(t, data)
			mm := 25.4 / dpi
			height := pages[0].Size.Y
			px := func(x float64) int { return int(x / mm) }
			// a strip just inside the left side of the frame crosses its foot and its head
			up := papertest.RenderPart(t, file, 1, dpi, image.Rect(px((frame.Min.X+0.6)*by.X), 0, px((frame.Min.X+1.6)*by.X), px(height)))
			across := papertest.RenderPart(t, file, 1, dpi, image.Rect(0, px(height-(frame.Max.Y-0.6)*by.Y), px(paper.W), px(height-(frame.Max.Y-1.6)*by.Y)))
			for _, c := range []struct {
				what string
				at   []float64
				want float64
			}{
				{"high", darkAlong(up, true), frame.Size().Y * by.Y},
				{"wide", darkAlong(across, false), frame.Size().X * by.X},
			} {
				got := (longestGap(c.at)) * mm
				if off := math.Abs(got - c.want); off > offPer250*math.Max(1, c.want/250) || off > offPer250 && c.want <= 250 {
					t.Errorf("%s on %s, measured %v: the frame is %.3f mm %s in print, drawn %.3f", name, paper.Name, measured, got, c.what, c.want)
				}
			}
		}
	}
}

// darkAlong returns the middles of the dark stretches of a strip, in pixels, by the
// weight of their ink.
func darkAlong(img image.Image, up bool) (at []float64) {
	b := img.Bounds()
	long, wide := b.Dx(), b.Dy()
	if up {
		long, wide = b.Dy(), b.Dx()
	}
	sum, moment := 0.0, 0.0
	for i := range long {
		dark := 0.0
		for j := range wide {
			x, y := i, j
			if up {
				x, y = j, i
			}
			g, _, _, _ := img.At(b.Min.X+x, b.Min.Y+y).RGBA()
			dark += 1 - float64(g)/0xffff
		}
		if dark > float64(wide)/4 { // a line that crosses all of the strip
			sum, moment = sum+dark, moment+dark*(float64(i)+0.5)
		} else if sum > 0 {
			at = append(at, moment/sum)
			sum, moment = 0, 0
		}
	}
	if sum > 0 {
		at = append(at, moment/sum)
	}
	return at
}

// longestGap returns the largest distance of two neighbours.
func longestGap(at []float64) (gap float64) {
	for i := 1; i < len(at); i++ {
		gap = math.Max(gap, at[i]-at[i-1])
	}
	return gap
}

// The cut test: the outlines, holes and grooves of a part that is sawn from two sides, or has
// a mirror image, are read back from the printed file, the part is sawn out of a blank along
// them, and is the part's solid within 0.1 mm: points that close to either side of every line
// are wood in both or in neither. Only how deep blind work goes is taken from the toy: it is
// lettered.
func TestCutsToTheSolid(t *testing.T) {
	const near = 0.1
	models := toys(t)
	compounds, pairs := map[string]bool{}, map[string]int{}
	for _, name := range []string{"quay-tram", "pair-of-ducks", "left-and-right", "pull-along", "walnut", "hitch", "twin-wheels"} {
		m := models[name]
		if m == nil {
			t.Fatal("no toy ", name)
		}
		set, err := Lay(m, layout.A4)
		if err != nil {
			t.Fatal(err)
		}
		data, err := set.PDF(m, layout.A4)
		if err != nil {
			t.Fatal(err)
		}
		places := set.Places
		pages := papertest.Trace(t, papertest.File(t, data))
		for i := range m.Toy.Parts {
			p := &m.Toy.Parts[i]
			sawn, sides := sidesOf(p.Work)
			_, _, compound := pair(sawn)
			paired := p.Mirrors != "" || slices.ContainsFunc(m.Toy.Parts, func(o toy.Part) bool { return o.Mirrors == p.Name })
			if pieces := piecesOf(m, p); (compound || paired) && len(pieces) > 0 && readable(p.Work) {
				if compound {
					compounds[name] = true
				}
				if paired {
					pairs[name]++
				}
				var views []printed
				for _, pl := range places {
					if pl.Of == p.Name && !pl.GlueUp {
						views = append(views, readBack(pages[pl.Page], pl, pieces[0].Made.Size, p.Work))
					}
				}
				if len(views) != len(sides) {
					t.Errorf("%s of %s: %d views for %d sides", p.Name, name, len(views), len(sides))
				}
				cutCompare(t, name+" "+p.Name, views, pieces[0].Made, near)
			}
		}
	}
	if len(compounds) < 2 || pairs["pair-of-ducks"] != 2 || pairs["left-and-right"] != 4 {
		t.Errorf("parts sawn from two sides in %v, pairs in %v", compounds, pairs)
	}
}

// readable tells whether the lines that are printed and the depths say all of some work.
func readable(work []toy.Work) bool {
	for _, w := range work {
		switch w := w.(type) {
		case toy.Drill:
			if w.Lean != 0 || w.CounterDia != 0 {
				return false
			}
		case toy.Cut:
			if (w.Depth != 0 || w.Word != cutOut) && w.Word != "groove" {
				return false
			}
		}
	}
	return true
}

// printed is what was read from one view: what is kept and what is taken out.
type printed struct {
	frame r3.Pose
	keep  []lined
	out   []lined
}

// lined is a closed line, and how deep it goes; 0: through.
type lined struct {
	at   []r2.Vec
	deep float64
}

func readBack(strokes []papertest.Stroke, p Place, size r3.Vec, work []toy.Work) printed {
	v := printed{frame: assembly.SideFrame(p.Side, size)}
	whole := r2.Vec{X: math.Abs(v.frame.U.Dot(size)), Y: math.Abs(v.frame.V.Dot(size))}
	o, x := p.OnPage.Apply(r2.Vec{}), p.OnPage.Apply(r2.Vec{X: 1})
	ux := x.Sub(o)
	uy := p.OnPage.Apply(r2.Vec{Y: 1}).Sub(o)
	var ploughed [2][][]r2.Vec // the sides of grooves: along the first number, along the second
	for _, s := range strokes {
		cut, hole, groove := math.Abs(s.Width-0.5) < 1e-6, math.Abs(s.Width-0.35) < 1e-6, math.Abs(s.Width-0.25) < 1e-6 && s.Dash
		if s.Grey > 0 || s.Dash != groove || !cut && !hole && !groove {
			continue
		}
		for _, r := range s.Runs {
			if r.Closed == groove {
				continue
			}
			in := true
			var line []r2.Vec
			for _, q := range flat(r) {
				d := q.Sub(o)
				q = r2.Vec{X: d.Dot(ux), Y: d.Dot(uy)}
				in = in && q.X > -0.05 && q.Y > -0.05 && q.X < whole.X+0.05 && q.Y < whole.Y+0.05
				line = append(line, q)
			}
			switch {
			case !in:
			case groove && math.Abs(line[0].Y-line[1].Y) < 1e-3:
				ploughed[0] = append(ploughed[0], line)
			case groove:
				ploughed[1] = append(ploughed[1], line)
			case cut && !cutInside(line, v.keep):
				v.keep = append(v.keep, lined{line, 0})
			default:
				v.out = append(v.out, lined{line, depthOf(work, p.Side, line)})
			}
		}
	}
	// a groove right across has two sides, one beside the other, each drawn as far as there is wood
	for k, lines := range ploughed {
		off := func(l []r2.Vec) float64 { return []float64{l[0].Y, l[0].X}[k] }
		slices.SortFunc(lines, func(a, b []r2.Vec) int { return cmp.Compare(off(a), off(b)) })
		for i := 0; i+1 < len(lines); i += 2 {
			box := r2.Around(append(append([]r2.Vec{}, lines[i]...), lines[i+1]...)...)
			line := []r2.Vec{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}}
			v.out = append(v.out, lined{line, depthOf(work, p.Side, line)})
		}
	}
	return v
}

// depthOf is how deep the work about a line goes, as the toy says.
func depthOf(work []toy.Work, side toy.Side, line []r2.Vec) float64 {
	box := r2.Around(line...)
	mid := box.Min.Add(box.Max).Scale(0.5)
	for _, w := range work {
		switch w := w.(type) {
		case toy.Drill:
			for _, h := range w.Holes {
				if at := (r2.Vec{X: h.At.X.MM(), Y: h.At.Y.MM()}); w.Side == side && at.Sub(mid).Len() < 0.1 {
					return w.Depth.MM()
				}
			}
		case toy.Cut:
			if c := runOf(w.Outline).Bounds(); w.Side == side && c.Min.Add(c.Max).Scale(0.5).Sub(mid).Len() < 0.1 {
				return w.Depth.MM()
			}
		}
	}
	return 0
}

// cutInside tells whether a cut line lies inside an outline: then it is a cut-out.
func cutInside(line []r2.Vec, outlines []lined) bool {
	for _, o := range outlines {
		if inside(o.at, line[0].Add(line[len(line)/2]).Scale(0.5)) {
			return true
		}
	}
	return false
}

// flat returns a run as a polygon.
func flat(r papertest.Run) (out []r2.Vec) {
	curves := map[int]papertest.Curve{}
	for _, c := range r.Curves {
		curves[c.From] = c
	}
	for i, p := range r.At {
		out = append(out, p)
		if c, ok := curves[i]; ok {
			const n = 12
			q := r.At[i+1]
			for k := 1; k < n; k++ {
				t := float64(k) / n
				u := 1 - t
				out = append(out, p.Scale(u*u*u).Add(c.C1.Scale(3*u*u*t)).Add(c.C2.Scale(3*u*t*t)).Add(q.Scale(t*t*t)))
			}
		}
	}
	return out
}

func cutCompare(t *testing.T, name string, views []printed, made *assembly.Made, near float64) {
	t.Helper()
	body := made.Bored()
	wood := func(p r3.Vec) bool {
		for i := range body.Pieces {
			if body.Pieces[i].Contains(p, 1e-6) {
				return true
			}
		}
		return false
	}
	// sawn tells whether the printed lines leave a point; clear, that it is at least
	// near away from all of them.
	sawn := func(p r3.Vec) (left, clear bool) {
		left, clear = true, true
		for _, v := range views {
			d := p.Sub(v.frame.O)
			q := r2.Vec{X: d.Dot(v.frame.U), Y: d.Dot(v.frame.V)}
			below := -d.Dot(v.frame.W)
			for k, lines := range [][]lined{v.keep, v.out} {
				for _, l := range lines {
					if l.deep > 0 {
						clear = clear && math.Abs(below-l.deep) > near
						if below > l.deep {
							continue
						}
					}
					left = left && inside(l.at, q) == (k == 0)
					for i := range l.at {
						clear = clear && fromSegment(q, l.at[i], l.at[(i+1)%len(l.at)]) >= near*0.999
					}
				}
			}
		}
		for _, c := range [6]float64{p.X, p.Y, p.Z, made.Size.X - p.X, made.Size.Y - p.Y, made.Size.Z - p.Z} {
			clear = clear && c > near
		}
		return left, clear
	}
	r := rand.New(rand.NewSource(1))
	asked, off := 0, 0
	ask := func(p r3.Vec) {
		left, clear := sawn(p)
		if !clear {
			return
		}
		asked++
		if left != wood(p) {
			if off++; off <= 3 {
				t.Errorf("%s: at %v the printed lines leave wood: %v; the solid has wood: %v", name, p, left, !left)
			}
		}
	}
	for _, v := range views {
		for _, l := range append(append([]lined{}, v.keep...), v.out...) {
			for i := range l.at {
				a, b := l.at[i], l.at[(i+1)%len(l.at)]
				for range 40 {
					q := a.Add(b.Sub(a).Scale(r.Float64())).Add(b.Sub(a).Unit().Perp().Scale(near * math.Copysign(1.001, r.Float64()-0.5)))
					deep := math.Abs(v.frame.W.Dot(made.Size)) * r.Float64()
					ask(v.frame.Point(r3.Vec{X: q.X, Y: q.Y, Z: -deep}))
				}
			}
		}
	}
	for range 2000 {
		ask(r3.Vec{X: r.Float64() * made.Size.X, Y: r.Float64() * made.Size.Y, Z: r.Float64() * made.Size.Z})
	}
	t.Logf("%s: %d points, %d off", name, asked, off)
	if asked < 1500 {
		t.Errorf("%s: only %d points could be asked", name, asked)
	}
}

func fromSegment(p, a, b r2.Vec) float64 {
	d := b.Sub(a)
	if d.Len() == 0 {
		return p.Sub(a).Len()
	}
	t := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
	return p.Sub(a.Add(d.Scale(t))).Len()
}
