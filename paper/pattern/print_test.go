package pattern

import (
	"image"
	"math"
	"math/rand"
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
			data, err := set.pdf(models[name], paper)
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

// The cut test: the outlines and holes of a part that is sawn from two sides are read
// back from the printed file, the part is sawn out of a blank along them, and is the
// part's solid within 0.1 mm: points that close to either side of every line are wood
// in both or in neither.
func TestCutsToTheSolid(t *testing.T) {
	const near = 0.1
	models := toys(t)
	parts := 0
	for _, name := range []string{"quay-tram", "pull-along", "walnut", "hitch", "twin-wheels"} {
		m := models[name]
		if m == nil {
			t.Fatal("no toy ", name)
		}
		set, err := Lay(m, layout.A4)
		if err != nil {
			t.Fatal(err)
		}
		data, err := set.pdf(m, layout.A4)
		if err != nil {
			t.Fatal(err)
		}
		places := set.Places
		pages := papertest.Trace(t, papertest.File(t, data))
		for i := range m.Toy.Parts {
			p := &m.Toy.Parts[i]
			sawn, sides := sidesOf(p.Work)
			_, _, compound := pair(sawn)
			if pieces := piecesOf(m, p); compound && len(pieces) > 0 && throughOnly(p.Work) {
				parts++
				var views []printed
				for _, pl := range places {
					if pl.Of == p.Name && !pl.GlueUp {
						views = append(views, readBack(pages[pl.Page], pl, pieces[0].Made.Size))
					}
				}
				if len(views) != len(sides) {
					t.Errorf("%s of %s: %d views for %d sides", p.Name, name, len(views), len(sides))
				}
				cutCompare(t, name+" "+p.Name, views, pieces[0].Made, near)
			}
		}
	}
	if parts < 2 {
		t.Errorf("only %d parts are sawn from two sides", parts)
	}
}

func throughOnly(work []toy.Work) bool {
	for _, w := range work {
		switch w := w.(type) {
		case toy.Drill:
			if w.Depth != 0 || w.Lean != 0 || w.CounterDia != 0 {
				return false
			}
		case toy.Cut:
			if w.Depth != 0 || w.Word != cutOut {
				return false
			}
		}
	}
	return true
}

// printed is what was read from one view: what is kept and what is taken out.
type printed struct {
	frame r3.Pose
	keep  [][]r2.Vec
	out   [][]r2.Vec
}

func readBack(strokes []papertest.Stroke, p Place, size r3.Vec) printed {
	v := printed{frame: assembly.SideFrame(p.Side, size)}
	whole := r2.Vec{X: math.Abs(v.frame.U.Dot(size)), Y: math.Abs(v.frame.V.Dot(size))}
	o, x := p.OnPage.Apply(r2.Vec{}), p.OnPage.Apply(r2.Vec{X: 1})
	ux := x.Sub(o)
	uy := p.OnPage.Apply(r2.Vec{Y: 1}).Sub(o)
	for _, s := range strokes {
		if s.Dash || s.Grey > 0 || math.Abs(s.Width-0.5) > 1e-6 && math.Abs(s.Width-0.35) > 1e-6 {
			continue
		}
		for _, r := range s.Runs {
			if !r.Closed {
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
			case math.Abs(s.Width-0.5) < 1e-6 && !cutInside(line, v.keep):
				v.keep = append(v.keep, line)
			default:
				v.out = append(v.out, line)
			}
		}
	}
	return v
}

// cutInside tells whether a cut line lies inside an outline: then it is a cut-out.
func cutInside(line []r2.Vec, outlines [][]r2.Vec) bool {
	for _, o := range outlines {
		if inside(o, line[0].Add(line[len(line)/2]).Scale(0.5)) {
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
			for k, lines := range [][][]r2.Vec{v.keep, v.out} {
				for _, l := range lines {
					left = left && inside(l, q) == (k == 0)
					for i := range l {
						clear = clear && fromSegment(q, l[i], l[(i+1)%len(l)]) >= near*0.999
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
		for _, l := range append(append([][]r2.Vec{}, v.keep...), v.out...) {
			for i := range l {
				a, b := l[i], l[(i+1)%len(l)]
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
