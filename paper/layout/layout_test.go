package layout

import (
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"strings"
	"testing"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
)

func v(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

// plain is a block that is a rectangle with a hole in it.
func plain(id string, w, h float64) Block {
	return Block{ID: id, Title: "Part " + id, Note: "beech, make 2", Size: v(w, h), Items: []draw.Item{
		draw.Path{Runs: []draw.Run{draw.Rect(r2.Box{Max: v(w, h)}), draw.Circle(v(w/2, h/2), math.Min(w, h)/4)}, Line: draw.Cut},
	}}
}

func inside(in, out r2.Box) bool {
	e := tol.Page
	return in.Min.X >= out.Min.X-e && in.Min.Y >= out.Min.Y-e && in.Max.X <= out.Max.X+e && in.Max.Y <= out.Max.Y+e
}

func apart(a, b r2.Box, by float64) bool {
	by -= tol.Page
	return a.Max.X+by <= b.Min.X || b.Max.X+by <= a.Min.X || a.Max.Y+by <= b.Min.Y || b.Max.Y+by <= a.Min.Y
}

func boxOf(p Place) r2.Box {
	return r2.Around(p.OnPage.Apply(p.Window.Min), p.OnPage.Apply(p.Window.Max))
}

// TestPacking holds for any blocks: nothing overlaps, all keep a gap and lie in
// the frame, every block is there, whole unless it is too large.
func TestPacking(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	for round := range 12 {
		paper := Papers()[round%len(Papers())]
		s, err := newSheet(paper, Job{Title: "Toy"})
		if err != nil {
			t.Fatal(err)
		}
		var blocks []Block
		for i := range 1 + r.Intn(25) {
			most := 120.0
			if r.Intn(6) == 0 {
				most = 600
			}
			b := plain(fmt.Sprint(i), 4+r.Float64()*most, 4+r.Float64()*most)
			b.Turn, b.Split = r.Intn(2) == 0, true
			blocks = append(blocks, b)
		}
		res, err := Pages(blocks, paper, Job{Title: "Toy"})
		if err != nil {
			t.Fatal(err)
		}
		shown := make([]int, len(blocks))
		area := 0.0
		for i, p := range res.Places {
			shown[p.Block]++
			area += (p.Cell.Size().X + gap) * (p.Cell.Size().Y + gap)
			if !inside(p.Cell, s.body) || !inside(boxOf(p), p.Cell) {
				t.Fatalf("round %d: %s at %v, cell %v, leaves %v", round, p.ID, boxOf(p), p.Cell, s.body)
			}
			if p.OnPage.Turn != 0 && !blocks[p.Block].Turn {
				t.Fatalf("round %d: %s was turned", round, p.ID)
			}
			for _, q := range res.Places[:i] {
				if p.Page == q.Page && !apart(p.Cell, q.Cell, gap) {
					t.Fatalf("round %d: %s %v and %s %v overlap", round, p.ID, p.Cell, q.ID, q.Cell)
				}
			}
		}
		for i, n := range shown {
			size := blocks[i].Size
			fits := size.X <= s.body.Size().X && size.Y <= s.body.Size().Y
			if n == 0 || fits && n != 1 {
				t.Fatalf("round %d: block %d of %v is shown %d times", round, i, size, n)
			}
		}
		// No page set is much emptier than it must be: one page more than twice
		// what the cells cover is what first fit can do at worst.
		body := s.body.Size()
		if least := area / ((body.X + gap) * (body.Y + gap)); float64(len(res.Pages)) > 2*least+1 {
			t.Errorf("round %d: %d pages for %.1f pages' worth", round, len(res.Pages), least)
		}
		if round < 10 {
			again, _ := Pages(blocks, paper, Job{Title: "Toy"})
			if !reflect.DeepEqual(res, again) {
				t.Fatalf("round %d: two runs differ", round)
			}
		}
	}
}

func TestFewestPages(t *testing.T) {
	s, _ := newSheet(A4, Job{})
	body := s.body.Size()
	bare := func(id string, w, h float64, turn bool) Block { return Block{ID: id, Size: v(w, h), Turn: turn} }
	half := v((body.X-gap)/2-0.001, (body.Y-gap)/2-0.001)
	for name, c := range map[string]struct {
		blocks []Block
		pages  int
	}{
		"four quarters": {[]Block{bare("a", half.X, half.Y, false), bare("b", half.X, half.Y, false), bare("c", half.X, half.Y, false), bare("d", half.X, half.Y, false)}, 1},
		"five quarters": {[]Block{bare("a", half.X, half.Y, false), bare("b", half.X, half.Y, false), bare("c", half.X, half.Y, false), bare("d", half.X, half.Y, false), bare("e", half.X, half.Y, false)}, 2},
		"exactly one":   {[]Block{bare("a", body.X, body.Y, false)}, 1},
		"turned to fit": {[]Block{bare("a", body.Y, body.X, true)}, 1},
		"small last":    {[]Block{bare("a", 20, 20, false), bare("b", body.X, half.Y, false), bare("c", body.X-30, half.Y, false)}, 1},
		"none":          {nil, 0},
	} {
		res, err := Pages(c.blocks, A4, Job{})
		if err != nil || len(res.Pages) != c.pages {
			t.Errorf("%s: %d pages, %v, want %d", name, len(res.Pages), err, c.pages)
		}
	}
}

// TestTiles: every point of a split block is on a page at its right offset, and
// neighbours share exactly the overlap.
func TestTiles(t *testing.T) {
	for _, c := range []struct {
		w, h float64
		turn bool
	}{{400, 300, false}, {20, 700, false}, {700, 20, false}, {190, 262, false}, {470, 120, true}, {1200, 900, true}} {
		for _, paper := range Papers() {
			b := plain("deck", c.w, c.h)
			b.Split, b.Turn = true, c.turn
			var dots []r2.Vec // one more item each, found again on the pages
			for i := range 12 {
				for j := range 12 {
					p := v(c.w*float64(i)/11, c.h*float64(j)/11)
					dots = append(dots, p)
					b.Items = append(b.Items, draw.Path{Runs: []draw.Run{draw.Circle(p, 0.3)}, Line: draw.Thin, Fill: draw.Ink})
				}
			}
			res, err := Pages([]Block{b}, paper, Job{Title: "Toy"})
			if err != nil {
				t.Fatal(err)
			}
			drawn := make([][]draw.Mark, len(res.Pages))
			for i, p := range res.Pages {
				p.Walk(func(m draw.Mark) { drawn[i] = append(drawn[i], m) })
			}
			for _, d := range dots {
				seen := 0
				for _, p := range res.Places {
					if !inside(r2.Box{Min: d, Max: d}, p.Window) {
						continue
					}
					at := p.OnPage.Apply(d)
					for _, m := range drawn[p.Page] {
						if m.Path == nil || m.Path.Fill != draw.Ink || len(m.Path.Runs[0].Segs) == 0 || m.Path.Runs[0].Segs[0].Sweep == 0 {
							continue
						}
						if m.Path.Runs[0].Segs[0].Centre.Sub(at).Len() < 1e-9 && (p.Rows*p.Cols == 1 || len(m.Clips) == 1 && inside(r2.Box{Min: at, Max: at}, m.Clips[0][0].Bounds())) {
							seen++
						}
					}
				}
				if seen == 0 {
					t.Fatalf("%g × %g on %s: the point %v is on no page", c.w, c.h, paper.Name, d)
				}
			}
			for _, p := range res.Places {
				for _, q := range res.Places {
					if p.Row == q.Row && q.Col == p.Col+1 && math.Abs(p.Window.Max.X-q.Window.Min.X-Overlap) > 1e-9 ||
						p.Col == q.Col && q.Row == p.Row+1 && math.Abs(q.Window.Max.Y-p.Window.Min.Y-Overlap) > 1e-9 {
						t.Errorf("%g × %g: tiles %d.%d and %d.%d share another width", c.w, c.h, p.Row, p.Col, q.Row, q.Col)
					}
				}
			}
		}
	}
}

// TestMatchMarks: each letter is on two tiles, at one and the same place of the
// block, and the words at a seam name the right neighbour.
func TestMatchMarks(t *testing.T) {
	for _, turned := range []bool{false, true} {
		b := plain("deck", 430, 610)
		b.Split, b.Turn = true, turned
		res, err := Pages([]Block{b}, A4, Job{Title: "Toy"})
		if err != nil {
			t.Fatal(err)
		}
		places := map[string][]r2.Vec{}
		for _, p := range res.Places {
			res.Pages[p.Page].Walk(func(m draw.Mark) {
				if m.Layer == LayerMarks && m.Text != nil && m.Text.Bold {
					at := m.Text.At.Sub(p.OnPage.Shift) // back from the page to the block
					at = draw.Transform{Turn: -p.OnPage.Turn}.Apply(at)
					places[m.Text.Says] = append(places[m.Text.Says], at)
				}
			})
		}
		if len(places) < 2*(len(res.Places)-1) {
			t.Errorf("%d marks for %d tiles", len(places), len(res.Places))
		}
		for l, at := range places {
			if len(at) != 2 || at[0].Sub(at[1]).Len() > 1e-9 {
				t.Errorf("mark %s is at %v", l, at)
			}
		}
	}
	for i, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 27: "AB", 52: "BA", 701: "ZZ", 702: "AAA"} {
		if got := letter(i); got != want {
			t.Errorf("mark %d is %s, want %s", i, got, want)
		}
	}
}

// TestFurniture looks at what stands around the blocks of every page.
func TestFurniture(t *testing.T) {
	blocks := []Block{plain("a", 110, 80), plain("b", 60, 200), plain("c", 300, 400), plain("d", 183, 255)}
	blocks[1].Split, blocks[2].Split, blocks[3].Split = true, true, true
	job := Job{Title: strings.Repeat("A very long name of a toy ", 6), Caution: strings.Repeat("Keep your fingers away from the blade. ", 8)}
	a5 := Paper{Name: "A5", W: 148, H: 210, Margin: Even(7)} // narrow: the advice does not fit beside the bar
	for _, paper := range append(Papers(), a5) {
		res, err := Pages(blocks, paper, job)
		if err != nil {
			t.Fatal(err)
		}
		live := r2.Box{Min: v(paper.Margin.Left, paper.Margin.Bottom), Max: v(paper.W-paper.Margin.Right, paper.H-paper.Margin.Top)}
		for n, page := range res.Pages {
			if !inside(draw.Bounds(page.Items...), live) {
				t.Errorf("%s page %d: prints at %v, outside %v", paper.Name, n+1, draw.Bounds(page.Items...), live)
			}
			var texts []draw.Text
			found := map[string]bool{}
			page.Walk(func(m draw.Mark) {
				switch {
				case m.Text != nil && m.Layer != LayerMarks:
					texts = append(texts, *m.Text)
				case m.Path != nil && m.Layer == LayerPage:
					for _, r := range m.Path.Runs {
						size := r.Bounds().Size()
						for name, length := range map[string]float64{"100 mm": 100, "4 in": 101.6} {
							found[name+" across"] = found[name+" across"] || math.Abs(size.X-length) < 1e-9 && size.Y < 2
							found[name+" up"] = found[name+" up"] || math.Abs(size.Y-length) < 1e-9 && size.X < 2
						}
					}
				}
			})
			for name, ok := range found {
				if !ok {
					t.Errorf("%s page %d: no check bar of %s", paper.Name, n+1, name)
				}
			}
			all := ""
			for i, a := range texts {
				all += a.Says + " "
				ca := a.Corners()
				for _, b := range texts[:i] {
					cb := b.Corners()
					if !apart(r2.Around(ca[:]...), r2.Around(cb[:]...), 0) {
						t.Errorf("%s page %d: %q and %q overlap", paper.Name, n+1, a.Says, b.Says)
					}
				}
			}
			for _, want := range []string{fmt.Sprintf("page %d of %d", n+1, len(res.Pages)), "Print at actual size (100 %), then measure both bars", "fingers", paper.Name} {
				if !strings.Contains(all, want) {
					t.Errorf("%s page %d does not say %q", paper.Name, n+1, want)
				}
			}
		}
	}
}

func TestRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		block Block
		paper Paper
		want  string
	}{
		"too large":  {plain("deck", 300, 50), A4, "deck: 300 × 50 mm is larger than the"},
		"no size":    {plain("deck", 0, 50), A4, "deck: a drawing of 0 × 50 mm has no size"},
		"not finite": {plain("deck", math.Inf(1), 50), A4, "has no size"},
		"no number":  {plain("deck", math.NaN(), 50), A4, "has no size"},
		"tiny paper": {plain("deck", 10, 10), Paper{Name: "card", W: 105, H: 148, Margin: Even(7)}, "paper card: 105 × 148 mm with its margins leaves no room"},
		"no paper":   {plain("deck", 10, 10), Paper{}, "leaves no room"},
	} {
		if _, err := Pages([]Block{c.block}, c.paper, Job{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// TestNarrowTiles: whatever its length, a block that is tiled has cells that fit a page
// with their words, in few pages, and no word is so long that it hinders that.
func TestNarrowTiles(t *testing.T) {
	long := Block{ID: "side", Title: "Long board of the side of the trailer, number 4, with all its holes and both its notches",
		Note:  "beech 3/4 in, two of these: one as drawn, one turned over; grain along the length; saw just outside the line",
		Where: "from the blank 5 1/4 x 40 in, laid on its left side with the long edge against the fence"}
	word := Block{ID: "word", Title: strings.Repeat("longboard", 20), Note: strings.Repeat("beech", 60)}
	book := Block{ID: "book", Title: strings.Repeat("a board ", 30), Note: strings.Repeat("of beech ", 40), Where: strings.Repeat("at the left ", 20)}
	for _, paper := range []Paper{A4, {Name: "A5", W: 148, H: 210, Margin: Even(7)}} {
		s, err := newSheet(paper, Job{Title: "Toy"})
		if err != nil {
			t.Fatal(err)
		}
		body := s.body.Size()
		for _, words := range []Block{long, word, book} {
			for _, width := range []float64{12, 60, 130} {
				step := 34.0
				if words.ID == "book" {
					step = 182
				}
				for y := 260.0; y < 1000; y += step {
					b := words
					b.Size, b.Split, b.Turn = v(width, y), true, int(y)%4 == 0
					letters := 0
					cells, err := s.cells(0, b, &letters)
					if err != nil {
						t.Fatal(err)
					}
					for _, c := range cells {
						if size := c.shapes[0].size; size.X > body.X || size.Y > body.Y {
							t.Fatalf("%s of %g × %g on %s: a cell of %v on a page of %v", b.ID, width, y, paper.Name, size, body)
						}
					}
					if most := 2 + 2*int(y/(body.Y*(1-mostLettered)-Overlap)); len(cells) > most {
						t.Fatalf("%s of %g × %g on %s: %d tiles", b.ID, width, y, paper.Name, len(cells))
					}
				}
			}
		}
	}
	for _, b := range []Block{long, word, book} {
		b.Size, b.Split = v(60, 442), true
		res, err := Pages([]Block{b}, A4, Job{Title: "Toy"})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range res.Pages {
			if box := draw.Bounds(p.Items...); !inside(box, r2.Box{Min: v(7, 7), Max: v(203, 290)}) {
				t.Errorf("%s: prints at %v", b.ID, box)
			}
		}
	}
}

// A cell that no page has room for is an error, not pages without end.
func TestCellTooLarge(t *testing.T) {
	large := cell{shapes: []shape{{size: v(300, 50)}}}
	if _, _, err := pack([]cell{large}, v(200, 250), false); err == nil {
		t.Error("a cell of 300 mm on a page of 200 mm")
	}
}
