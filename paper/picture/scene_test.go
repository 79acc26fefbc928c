package picture

import (
	"bytes"
	"fmt"
	"image/png"
	"math"
	"slices"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
)

// Every move of the proved order is in one drawing, in order; what a drawing adds is
// what the order says, heavy, and most of it is seen; what is there already is quiet; and
// the way that is drawn is free: by continuous collision, nothing on it is met.
func TestSteps(t *testing.T) {
	t.Parallel()
	for _, name := range toys(t) {
		toy := toyOf(t, name)
		m, seq, d := toy.m, toy.order(), toy.draft
		if !seq.Found {
			continue
		}
		told := map[int]bool{}
		for n, st := range toy.steps() {
			of := st.Scene.model(m)
			for k, i := range st.Paths {
				if told[i] || k > 0 && i < st.Paths[k-1] {
					t.Errorf("%s: step %d tells move %d again, or late", name, n+1, i)
				}
				told[i] = true
			}
			moving := map[int]bool{}
			for _, mv := range st.Scene.Moves {
				for _, i := range mv.Pieces {
					moving[i] = true
				}
			}
			for _, s := range st.Scene.Shown {
				if moving[s.Piece] && s.Look != New {
					t.Errorf("%s: step %d: piece %d moves and is drawn quietly", name, n+1, s.Piece)
				}
			}
			if _, shares := d.sees(of, st.Scene); len(shares) > 0 && slices.Min(shares) < 0.05 {
				t.Errorf("%s: step %d, %s: only %.2f of a piece that is added are seen", name, n+1, st.Scene.View.Says(), slices.Min(shares))
			}
			for _, mv := range st.Scene.Moves {
				free := len(mv.Out) == 1
				for _, s := range st.Scene.Shown {
					for _, i := range mv.Pieces {
						if free && !moving[s.Piece] && !rodIn(of, i, s.Piece) {
							out := mv.Out[0]
							c := solid.FirstContactSlide(of.Pieces[s.Piece].Bored(), of.Pieces[i].Bored(), out.Unit(), out.Len(), 4*tol.Touch)
							if c.Hit {
								t.Errorf("%s: step %d: %s meets %s on its way after %.2f mm", name, n+1, of.Pieces[i].ID, of.Pieces[s.Piece].ID, c.Travel)
							}
						}
					}
				}
			}
			size := r2.Vec{X: 90, Y: 60}
			b := draw.Bounds(d.Draw(st.Scene, size)...)
			if b.Min.X < -6 || b.Min.Y < -6 || b.Max.X > size.X+6 || b.Max.Y > size.Y+6 {
				t.Errorf("%s: step %d is drawn in %v", name, n+1, b)
			}
		}
		if len(told) != len(seq.Steps) {
			t.Errorf("%s: %d of %d moves are told", name, len(told), len(seq.Steps))
		}
	}
}

// rodIn tells whether two pieces are a rod and the wood around it, which true radii decide.
func rodIn(m *assembly.Model, a, b int) bool {
	return slices.ContainsFunc(m.Fits, func(f assembly.Fit) bool { return f.Rod == a && f.Piece == b || f.Rod == b && f.Piece == a })
}

// Drawn apart, no two pieces are in each other, none is lost, and each is off along ways
// of the proved order.
func TestExplodedKeepsApart(t *testing.T) {
	t.Parallel()
	for _, name := range toys(t) {
		toy := toyOf(t, name)
		m, seq, d := toy.m, toy.order(), toy.draft
		if !seq.Found {
			continue
		}
		s := d.Exploded(seq)
		if len(s.Shown) != len(m.Pieces) {
			t.Errorf("%s: %d of %d pieces are shown", name, len(s.Shown), len(m.Pieces))
		}
		off := s.offsets()
		for i, p := range m.Pieces {
			for j, q := range m.Pieces[:i] {
				a, b := p.Bored().Transform(r3.Shift(off[i])), q.Bored().Transform(r3.Shift(off[j]))
				if solid.Penetrates(a, b, 0.1) {
					t.Errorf("%s: %s and %s are in each other", name, p.ID, q.ID)
				}
			}
		}
	}
}

// A shaded picture is the same each time, white in its corners, and shows the woods: the
// brightest parts of a block of walnut have the hue of walnut.
func TestPNG(t *testing.T) {
	m := block(t, 60, 40, 20, "")
	m.Toy.Stock[0].Wood = "walnut"
	d := NewDrafter(m)
	first, err := d.PNG(Whole(m), 200)
	if err != nil {
		t.Fatal(err)
	}
	again, _ := NewDrafter(m).PNG(Whole(m), 200)
	if !bytes.Equal(first, again) {
		t.Error("two pictures differ")
	}
	img, err := png.Decode(bytes.NewReader(first))
	if err != nil {
		t.Fatal(err)
	}
	b := img.Bounds()
	if max(b.Dx(), b.Dy()) != 200 {
		t.Errorf("it is %v", b)
	}
	at := func(x, y int) [3]float64 {
		r, g, b, _ := img.At(x, y).RGBA()
		return [3]float64{float64(r) / 257, float64(g) / 257, float64(b) / 257}
	}
	if c := at(1, 1); c != [3]float64{255, 255, 255} {
		t.Errorf("its corner is %v", c)
	}
	// The middle is at the near upper corner's sides; a third up from there is the top.
	c, want := at(b.Dx()/2, b.Dy()/3), facts.Tint("walnut")
	if ratio, is := float64(want[0])/float64(want[2]), c[0]/c[2]; math.Abs(ratio-is) > 0.15*ratio || c[0] > float64(want[0])*1.1 || c[0] < float64(want[0])*0.7 {
		t.Errorf("walnut %v looks %v", want, c)
	}
}

// The hatched area of a block with two blind holes in the plane of the cut: by hand,
// 100 × 30 less 10 × 12 and 6 × 20 mm.
func TestSectionArea(t *testing.T) {
	m := block(t, 100, 40, 30, ", work: [{drill: {side: face, dia: 10, depth: 12, at: [[30, 20]]}}, {drill: {side: face, dia: 6, depth: 20, at: [[70, 20]]}}]")
	cuts, bores := blindCuts(m.Pieces[0])
	if len(cuts) != 1 || len(bores[0]) != 2 {
		t.Fatalf("%d cuts", len(cuts))
	}
	hatched := 0.0
	for _, it := range Section(m.Pieces[0], cuts[0], 1) {
		if p, ok := it.(draw.Path); ok && p.Line == draw.HatchLine {
			for _, r := range p.Runs {
				hatched += r.Segs[0].To.Sub(r.From).Len() * hatchStep
			}
		}
	}
	if want := 100*30.0 - 10*12 - 6*20; math.Abs(hatched-want) > 0.01*want {
		t.Errorf("%.1f mm² are hatched, want %.1f", hatched, want)
	}
	d := NewDrafter(m)
	p, err := d.SectionPage("block", Options{})
	if err != nil {
		t.Fatal(err)
	}
	says := map[string]bool{}
	p.Walk(func(k draw.Mark) {
		if k.Text != nil {
			says[k.Text.Says] = true
		}
	})
	for _, want := range []string{"⌀ 10 mm", "⌀ 6 mm", "12 mm", "20 mm"} {
		if !says[want] {
			t.Errorf("nowhere %s", want)
		}
	}
	if _, err := d.SectionPage("wheel", Options{}); err == nil {
		t.Error("a part that is not there is cut")
	}
}

// The section in a step has the face up as the view above it, whatever side its hole is drilled
// from, keeps to its room, and has its measure beside the piece, off its outline.
func TestSectionOfAStep(t *testing.T) {
	for side, mouth := range map[string]r2.Vec{"face": {Y: 1}, "other-face": {Y: -1}, "end": {X: 1}, "other-end": {X: -1}, "edge": {Y: -1}, "other-edge": {Y: 1}} {
		// sawn on two sides: its outline is not that of its blank
		m := block(t, 120, 40, 40, ", work: [{drill: {side: "+side+", dia: 12, depth: 26, at: [[middle, middle]]}}, "+
			"{saw: {side: edge, outline: [[0, 0], [length, 0], [length, thick, r 15], [30, thick, r 8], [0, 20, r 3]]}}, "+
			"{saw: {side: end, outline: [[4, 0], [width - 4, 0], [width, thick], [0, thick]]}}]")
		high, ink := NewDrafter(m).BlindHoles(m, 0, 85)
		toy, all := r2.EmptyBox(), r2.EmptyBox()
		var centre draw.Run
		var says r2.Box
		page := draw.Page{Items: ink(r2.Vec{X: 85, Y: high})}
		page.Walk(func(k draw.Mark) {
			b := r2.EmptyBox()
			switch {
			case k.Text != nil:
				b = draw.Bounds(*k.Text)
				says = b
			case k.Path != nil:
				b = draw.Bounds(*k.Path)
				if k.Path.Line == draw.Centre {
					centre = k.Path.Runs[0]
				}
			}
			if k.Layer == layerToy {
				toy = toy.Union(b)
			}
			all = all.Union(b)
		})
		from := centre.From
		if to := centre.Segs[0].To; to.Sub(from).Unit().Dot(mouth) > -0.999 || from.Sub(middle(toy)).Dot(mouth) < math.Abs(toy.Size().X*mouth.X+toy.Size().Y*mouth.Y)/2 || !within2(toy, to) {
			t.Errorf("%s: the hole goes from %v to %v in %v", side, from, to, toy)
		}
		if all.Min.X < -0.01 || all.Max.X > 85.01 || all.Min.Y < -0.01 || all.Max.Y > high+0.01 {
			t.Errorf("%s: drawn at %v in %.1f mm", side, all, high)
		}
		if says.Min.X < toy.Max.X && toy.Min.X < says.Max.X && says.Min.Y < toy.Max.Y && toy.Min.Y < says.Max.Y {
			t.Errorf("%s: the measure %v lies on the piece %v", side, says, toy)
		}
	}
}

func within2(b r2.Box, p r2.Vec) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X && b.Min.Y <= p.Y && p.Y <= b.Max.Y
}

// Sections of a part with many blind holes are still large enough to read, and on the page.
func TestManySections(t *testing.T) {
	var work strings.Builder
	for i := range 7 {
		fmt.Fprintf(&work, "{drill: {side: face, dia: 6, depth: %d, at: [[%d, %d]]}}, ", 10+2*i, 15+20*i, 10+12*i)
	}
	m := block(t, 200, 120, 40, ", work: ["+strings.TrimSuffix(work.String(), ", ")+"]")
	p, err := NewDrafter(m).SectionPage("block", Options{})
	if err != nil {
		t.Fatal(err)
	}
	said := ""
	p.Walk(func(k draw.Mark) {
		if k.Text != nil {
			said += k.Text.Says + "\n"
		}
	})
	if !strings.Contains(said, "1:5\n") {
		t.Errorf("the scale is not 1:5 in\n%s", said)
	}
	if b := draw.Bounds(p.Items...); b.Min.X < margin-1 || b.Min.Y < margin-1 || b.Max.X > p.Size.X-margin+1 || b.Max.Y > p.Size.Y-margin+1 {
		t.Errorf("drawn at %v of %v", b, p.Size)
	}
}

// On several pages they are at half size, and every hole is on one of them.
func TestSectionPages(t *testing.T) {
	var work strings.Builder
	for i := range 7 {
		fmt.Fprintf(&work, "{drill: {side: face, dia: 6, depth: %d, at: [[%d, %d]]}}, ", 10+2*i, 15+20*i, 10+12*i)
	}
	m := block(t, 200, 120, 40, ", work: ["+strings.TrimSuffix(work.String(), ", ")+"]")
	pages, err := NewDrafter(m).SectionPages("block", Options{})
	if err != nil || len(pages) != 2 {
		t.Fatalf("%d pages, %v", len(pages), err)
	}
	said := map[string]int{}
	for _, p := range pages {
		var words []draw.Text
		p.Walk(func(k draw.Mark) {
			if k.Text != nil && k.Text.Says != "" {
				said[k.Text.Says]++
				words = append(words, *k.Text)
			}
		})
		for i, a := range words {
			for _, b := range words[:i] {
				x, y := draw.Bounds(a), draw.Bounds(b)
				if x.Min.X < y.Max.X && y.Min.X < x.Max.X && x.Min.Y < y.Max.Y && y.Min.Y < x.Max.Y {
					t.Errorf("%q lies on %q", a.Says, b.Says)
				}
			}
		}
	}
	if said["1:2"] != 2 || said["⌀ 6 mm"] != 7 {
		t.Error(said)
	}
	for depth := 10; depth <= 22; depth += 2 {
		if said[fmt.Sprintf("%d mm", depth)] != 1 {
			t.Errorf("a hole %d mm deep is shown %d times", depth, said[fmt.Sprintf("%d mm", depth)])
		}
	}
	one, err := NewDrafter(block(t, 100, 40, 30, ", work: [{drill: {side: face, dia: 10, depth: 12, at: [[30, 20]]}}]")).SectionPages("block", Options{})
	if err != nil || len(one) != 1 {
		t.Errorf("%d pages of one section, %v", len(one), err)
	}
}

// Numbers on step drawings and on the toy drawn apart: circles keep apart, and no two
// leaders cross.
func TestNumbersKeepApart(t *testing.T) {
	t.Parallel()
	for _, name := range toys(t) {
		toy := toyOf(t, name)
		seq, d := toy.order(), toy.draft
		if !seq.Found {
			continue
		}
		scenes := []Scene{d.Exploded(seq)}
		for n, st := range toy.steps() {
			if n%2 == 0 { // enough of them
				scenes = append(scenes, st.Scene)
			}
		}
		for n, s := range scenes {
			var circles []r2.Vec
			var leaders [][2]r2.Vec
			draw.Page{Items: d.Draw(s, r2.Vec{X: 80, Y: 60})}.Walk(func(k draw.Mark) {
				switch {
				case k.Layer != layerTitles || k.Path == nil:
				case k.Path.Fill == draw.White:
					circles = append(circles, k.Path.Runs[0].Segs[0].Centre)
				case k.Path.Line == draw.Thin:
					leaders = append(leaders, [2]r2.Vec{k.Path.Runs[0].From, k.Path.Runs[0].Segs[0].To})
				}
			})
			crossed := 0
			for i := range circles {
				for j := range i {
					if circles[i].Sub(circles[j]).Len() < 2*ringSize {
						t.Errorf("%s, drawing %d: numbers overlap", name, n)
					}
					if cross(leaders[i][0], leaders[i][1], leaders[j][0], leaders[j][1]) {
						crossed++
					}
				}
			}
			if crossed > 0 {
				t.Errorf("%s, drawing %d: leaders cross %d times", name, n, crossed)
			}
		}
	}
}

// A scene is drawn at no more than the scale that it is given, and then takes less height.
func TestMostScale(t *testing.T) {
	m := load(t, "../../examples/quay-tram.yaml")
	d := NewDrafter(m)
	s := Whole(m)
	size := r2.Vec{X: 90, Y: 60}
	fits := draw.Bounds(d.Draw(s, size)...).Size()
	high := d.High(s, size.X)
	s.Most = 0.2
	want := d.Extent(s).Scale(0.2)
	got := draw.Bounds(d.Draw(s, size)...).Size()
	if got.X > want.X+1 || got.X < want.X-1 || got.Y > want.Y+1 || got.X > fits.X/1.3 {
		t.Errorf("it is %v, want about %v, and is %v where it may fill the room", got, want, fits)
	}
	if d.High(s, size.X) > high/1.3 {
		t.Errorf("it takes %v mm of height, and %v without", d.High(s, size.X), high)
	}
}
