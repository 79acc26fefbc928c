package boards

import (
	"context"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"time"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/measure/source"
	"dryfit/shop"
	"dryfit/shop/nest"
	"dryfit/toy"
	"dryfit/toy/file"
)

var update = flag.Bool("update", false, "write the golden files anew")

func modelOf(t testing.TB, name, text string) *assembly.Model {
	t.Helper()
	ty, probs := file.Read(source.New(name, text), nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	m, probs := assembly.Derive(ty, assembly.Options{})
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return m
}

func shopOf(t testing.TB, text string) *toy.Shop {
	t.Helper()
	s, probs := file.ReadShop(source.New("shop.yaml", text))
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return s
}

func readFile(t testing.TB, name string) string {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// plain is a toy of one part.
func plain(t testing.TB, stock, part string) *assembly.Model {
	return modelOf(t, "toy.yaml", "dryfit: 1\ntoy: T\nunits: mm\nstock: {s: "+stock+"}\nparts: {p: "+part+"}\nbuild: [{put: p}]\n")
}

const shopHead = "dryfit: 1\nunits: mm\ncutting: {kerf: 2, handling: 4, planing: 3}\n"

// What goes where, on racks on which there is little to choose.
func TestWhatGoesWhere(t *testing.T) {
	const beech, part = "{wood: beech, form: board, thick: 18}", "{from: s, blank: [100, 40]}"
	for _, c := range []struct {
		name, stock, part, rack string
		n                       int
		placed                  int
		says                    string // in the text
	}{
		{"one board that just takes it", beech, part, "boards: {b: {wood: beech, thick: 18, size: [108, 48]}}", 1, 1, "b: 1 piece"},
		{"one that is a hair too small", beech, part, "boards: {b: {wood: beech, thick: 18, size: [107.9, 48]}}", 1, 0, "it goes on no board, clear of edges and flaws"},
		{"a gap of kerf and handling between two", beech, part, "boards: {b: {wood: beech, thick: 18, size: [214, 48]}}", 2, 2, "b: 2 pieces"},
		{"and no less", beech, part, "boards: {b: {wood: beech, thick: 18, size: [213.9, 48]}}", 2, 1, "no room was found for it, in rows, by a search of each board"},
		{"never across the grain", beech, part, "boards: {b: {wood: beech, thick: 18, size: [60, 400]}}", 1, 0, "it is 100 mm long, and the longest board 60 mm"},
		{"along a grain that runs up the board", beech, part, "boards: {b: {wood: beech, thick: 18, size: [60, 400], grain: across}}", 3, 3, "b: 3 pieces"},
		{"mdf any way", "{wood: mdf, form: sheet, thick: 6}", part, "boards: {b: {wood: mdf, form: sheet, thick: 6, size: [60, 400]}}", 3, 3, "b: 3 pieces"},
		{"not on a knot", beech, part, "boards: {b: {wood: beech, thick: 18, size: [120, 50], flaws: [{at: [60, 25], dia: 10}]}}", 1, 0, "it goes on no board"},
		{"beside a knot", beech, part, "boards: {b: {wood: beech, thick: 18, size: [160, 50], flaws: [{at: [10, 25], dia: 10, why: knot}]}}", 1, 1, "b: 1 piece"},
		{"a kerf and the handling clear of a knot, squared too", beech, "{from: s, blank: [100, 40], work: [{drill: {side: edge, dia: 6, at: [[50, 9]]}}]}", "boards: {b: {wood: beech, thick: 18, size: [133, 46], flaws: [{at: [10, 0], size: [5, 46], why: check}]}}", 1, 1, "are kept clear of by 6 mm or more"},
		{"and no less", beech, "{from: s, blank: [100, 40], work: [{drill: {side: edge, dia: 6, at: [[50, 9]]}}]}", "boards: {b: {wood: beech, thick: 18, size: [132.9, 46], flaws: [{at: [10, 0], size: [5, 46], why: check}]}}", 1, 0, "it goes on no board, clear of edges and flaws"},
		{"near enough in thickness", beech, part, "boards: {b: {wood: beech, thick: 17.7, size: [200, 60]}}", 1, 1, "b: 1 piece"},
		{"too thin", beech, part, "boards: {b: {wood: beech, thick: 17, size: [200, 60]}}", 1, 0, "note: b is only 17 mm thick"},
		{"another wood", beech, part, "boards: {b: {wood: oak, thick: 18, size: [200, 60]}}", 1, 0, "there is no beech board of 18 mm"},
		{"an alias of the wood", "{wood: maple, form: board, thick: 18}", part, "boards: {b: {wood: hard maple, thick: 18, size: [200, 60]}}", 1, 1, "b: 1 piece"},
		{"a thicker one is planed", beech, part, "tools: [planer]\nboards: {b: {wood: beech, thick: 22, size: [200, 60]}}", 1, 1, "plane it from 22 mm to 18 mm first"},
		{"of a long one only what is needed, but no less than can be planed", beech, part, "tools: [planer]\nboards: {b: {wood: beech, thick: 22, size: [1000, 60]}}", 1, 1, "b: 1 piece, 7 % used, first cut 305 mm off it and plane only that, from 22 mm to 18 mm, left 690 ×"},
		{"nothing is cut off that is not worth a cut", beech, part, "tools: [planer]\nboards: {b: {wood: beech, thick: 22, size: [450, 60]}}", 1, 1, "plane it from 22 mm to 18 mm first"},
		{"if there is a plane", beech, part, "tools: [hand-saw]\nboards: {b: {wood: beech, thick: 22, size: [200, 60]}}", 1, 0, "neither planer nor hand plane"},
		{"and little to plane", beech, part, "boards: {b: {wood: beech, thick: 40, size: [200, 60]}}", 1, 0, "too much to plane away"},
		{"a rough one loses what is planed off", beech, part, "boards: {b: {wood: beech, thick: 21, rough: yes, size: [200, 60]}}", 1, 1, "plane it from 21 mm to 18 mm first"},
		{"and may be too thin then", beech, part, "boards: {b: {wood: beech, thick: 20, rough: yes, size: [200, 60]}}", 1, 0, "b is 20 mm rough, and 17 mm when it is planed"},
		{"a sheet is not planed", "{wood: birch plywood, form: sheet, thick: 6}", part, "boards: {b: {wood: birch plywood, form: sheet, thick: 9, size: [200, 60]}}", 1, 0, "a sheet is not planed"},
		{"what is sold, when the rack is full", beech, part, "boards: {b: {wood: beech, thick: 18, size: [108, 48]}}\nsold: {boards: {new: {wood: beech, thick: 18, size: [214, 48], price: 7}}}\nmoney: EUR", 4, 4, "buy: 2 × new, 214 × 48 mm, 18 mm thick, 14.00 EUR"},
		{"the rack alone, while it lasts", beech, part, "boards: {b: {wood: beech, thick: 18, size: [214, 48]}}\nsold: {boards: {new: {wood: beech, thick: 18, size: [214, 48], price: 7}}}", 2, 2, "b: 2 pieces"},
		{"the smaller of two", beech, part, "boards: {big: {wood: beech, thick: 18, size: [300, 100]}, small: {wood: beech, thick: 18, size: [110, 50]}}", 1, 1, "Not needed: big."},
		{"one rather than two", beech, part, "boards: {a: {wood: beech, thick: 18, size: [108, 48]}, b: {wood: beech, thick: 18, size: [108, 48]}, c: {wood: beech, thick: 18, size: [214, 48]}}", 2, 2, "Not needed: a, b."},
		{"nothing there: what the trade sells", beech, part, "note: none", 1, 0, "buy: 1 × 4/4 beech"},
		{"of a sheet no more than it takes", "{wood: birch plywood, form: sheet, thick: 6}", part, "note: none", 1, 0, "buy: 1 × small panel birch plywood, 610 × 305 mm"},
		{"a larger piece where that is too short", "{wood: birch plywood, form: sheet, thick: 6}", "{from: s, blank: [700, 40]}", "note: none", 1, 0, "buy: 1 × quarter sheet birch plywood, 1220 × 610 mm"},
		{"nothing of it where the shop cannot plane", beech, part, "tools: [hand-saw]", 1, 0, "note: of what is commonly sold, 4/4 beech would have to be planed, and the shop has neither planer nor hand plane"},
		{"nor where there is too much to plane", "{wood: beech, form: board, thick: 60}", part, "note: none", 1, 0, "note: of what is commonly sold, 12/4 beech is 69.85 mm thick, too much to plane away"},
		{"a quarter of an inch is not too much, as of 8/4 for 1 1/2 in", "{wood: beech, form: board, thick: 38.1}", part, "note: none", 1, 0, "buy: 1 × 8/4 beech"},
		{"nor where all is too thin", "{wood: beech, form: board, thick: 200}", part, "note: none", 1, 0, "note: nothing that is commonly sold is as thick"},
		{"boards of one name are numbered", beech, "{from: s, blank: [1150, 100]}", "note: none", 3, 0, "4/4 beech no. 2: 2 pieces"},
		{"a squared blank, drilled from its edge", beech, "{from: s, blank: [100, 40], work: [{drill: {side: edge, dia: 6, at: [[50, 9]]}}]}", "boards: {b: {wood: beech, thick: 18, size: [112, 46]}}", 1, 1, "b: 1 piece"},
		{"a wheel", beech, "{from: s, disc: 40}", "boards: {b: {wood: beech, thick: 18, size: [94, 48]}}", 2, 2, "b: 2 pieces"},
		{"a wheel out of a hole saw takes its kerf", beech, "{from: s, disc: 40, made: hole-saw}", "boards: {b: {wood: beech, thick: 18, size: [94, 48]}}", 1, 0, "it goes on no board"},
		{"a bought wheel takes nothing", beech, "{from: s, disc: 40, made: bought}", "boards: {b: {wood: beech, thick: 18, size: [94, 48]}}", 1, -1, "Not needed: b."},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := shopOf(t, shopHead+c.rack+"\n")
			p, err := Lay(context.Background(), []Run{{plain(t, c.stock, c.part), c.n}}, s, Effort{Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			placed := -1
			if len(p.Stocks) > 0 {
				placed = p.Stocks[0].Placed
			}
			if text := strings.Join(strings.Fields(p.Text()), " "); placed != c.placed || !strings.Contains(text, c.says) {
				t.Errorf("%d placed, want %d, or no %q in\n%s", placed, c.placed, c.says, text)
			}
			if p.Whole != (placed == c.n || placed < 0) {
				t.Errorf("all placed: %v", p.Whole)
			}
		})
	}
}

// A board that serves two thicknesses serves one of them.
func TestNoBoardTwice(t *testing.T) {
	m := modelOf(t, "toy.yaml", "dryfit: 1\ntoy: T\nunits: mm\nstock: {a: {wood: beech, form: board, thick: 18}, b: {wood: beech, form: board, thick: 18.5}}\nparts: {p: {from: a, blank: [100, 40]}, q: {from: b, blank: [100, 40]}}\nbuild: [{put: p}, {put: q, sits: {bottom: p.top, back: p.back, left: p.left}, glued: yes}]\n")
	for _, c := range []struct {
		count  string
		placed int
	}{{"", 0}, {", count: 2", 1}} {
		p, err := Lay(context.Background(), []Run{{m, 1}}, shopOf(t, shopHead+"boards: {b: {wood: beech, thick: 18.3, size: [300, 60]"+c.count+"}}\n"), Effort{Seed: 1})
		if err != nil || p.Stocks[0].Placed != 1 || p.Stocks[1].Placed != c.placed || !strings.Contains(p.Text(), " has pieces of another thickness on it") {
			t.Errorf("%v\n%s", err, p.Text())
		}
	}
}

// In what shape a part is laid.
func TestShapes(t *testing.T) {
	const face, edge = "{saw: {side: face, outline: [[0, 0], [length, 0], [length, width], [50, width]]}}", "{saw: {side: edge, outline: [[0, 0], [length, 0], [length, 10], [0, thick]]}}"
	drill := func(side string) string { return "{drill: {side: " + side + ", dia: 6, at: [[20, 9]]}}" }
	for _, c := range []struct {
		name, work, as string
		area           float64
		holes, turns   int
	}{
		{"nothing", "", AsOutline, 4000, 0, 1},
		{"sawn through its face", face, AsOutline, 3000, 0, 4},
		{"drilled through its face first", drill("face") + ", " + face, AsOutline, 3000, 0, 4},
		{"a stopped hole has to be on its own face", face + ", {drill: {side: face, dia: 6, depth: 5, at: [[80, 9]]}}", AsOutline, 3000, 0, 2},
		{"pierced", "{cut-out: {side: face, outline: {rect: [30, 10], size: [40, 20]}}}", AsOutline, 3200, 1, 1},
		{"a notch", "{notch: {side: face, at: [0, 0], size: [20, 20]}}", AsOutline, 3600, 0, 4},
		{"a stopped recess leaves its outline", "{cut-out: {side: face, outline: {rect: [30, 10], size: [40, 20]}, depth: 5}}", AsOutline, 4000, 0, 1},
		{"sawn on two sides", edge + ", " + face, AsBlank, 112 * 46, 0, 1},
		{"drilled from its edge, then sawn", drill("edge") + ", " + face, AsBlank, 112 * 46, 0, 1},
		{"sawn, then drilled from its edge", face + ", " + drill("edge"), AsOutline, 3000, 0, 2},
	} {
		m := plain(t, "{wood: beech, form: board, thick: 18}", "{from: s, blank: [100, 40], work: ["+c.work+"]}")
		if c.work == "" {
			m = plain(t, "{wood: beech, form: board, thick: 18}", "{from: s, blank: [100, 40]}")
		}
		var gs []*group
		if err := gather(context.Background(), &gs, Run{m, 1}, false, margins{}); err != nil {
			t.Fatal(err)
		}
		got := gs[0].cuts[0]
		if got.as != c.as || math.Abs(areaOf(got.shape)-c.area) > 1e-3 || len(got.shape.Holes) != c.holes || len(got.turns) != c.turns {
			t.Errorf("%s: %s of %g mm² with %d holes, laid %d ways", c.name, got.as, areaOf(got.shape), len(got.shape.Holes), len(got.turns))
		}
	}
}

// The tram's box is sawn once it is glued up, its frames on two sides: all of that is squared.
func TestGlueUpsAreSquared(t *testing.T) {
	m := modelOf(t, "tram", readFile(t, "../../examples/quay-tram.yaml"))
	var gs []*group
	if err := gather(context.Background(), &gs, Run{m, 1}, false, margins{}); err != nil {
		t.Fatal(err)
	}
	for _, g := range gs {
		for _, c := range g.cuts {
			if want := map[bool]string{true: AsRound, false: AsBlank}[c.part == "wheel"]; c.as != want {
				t.Errorf("%s is laid as %s", c.part, c.as)
			}
		}
	}
}

// A layout of every example, on the library's rack and on what the trade sells: Lay itself has
// nest check it. What is placed, short and to be bought adds up, and twice comes out the same.
func TestEveryExample(t *testing.T) {
	own := shopOf(t, readFile(t, "../../examples/shop/quay-lane.yaml"))
	names, _ := filepath.Glob("../../examples/plain/*.yaml")
	names = append(names, "../../examples/quay-tram.yaml", "../../examples/tipping-wagon.yaml")
	for _, name := range names {
		m := modelOf(t, name, readFile(t, name))
		for _, s := range []*toy.Shop{own, nil} {
			shown := !strings.Contains(name, "plain/p") && strings.Contains(name, "plain/")
			if s == nil && shown {
				continue // what the trade sells, for the demo toys and some others
			}
			p, err := Lay(context.Background(), []Run{{m, 2}}, s, Effort{Seed: 1})
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			for _, st := range p.Stocks {
				on, short := 0, 0
				for _, b := range st.Boards {
					on += len(b.Places)
					for _, at := range b.Places {
						if at.XMM < 0 || at.YMM < 0 || at.LengthMM <= 0 {
							t.Errorf("%s: %+v", name, at)
						}
					}
				}
				for _, x := range st.Short {
					short += x.Count
				}
				if strings.Contains(strings.Join(st.Notes, "\n"), "commonly sold") { // nothing of that serves
					on += short
				}
				if on != st.Pieces || st.Placed+short != st.Pieces {
					t.Errorf("%s: %s: %d pieces, %d placed, %d short, %d drawn", name, st.Wood, st.Pieces, st.Placed, short, on)
				}
			}
			if shown {
				continue
			}
			again, _ := Lay(context.Background(), []Run{{m, 2}}, s, Effort{Seed: 1})
			if !reflect.DeepEqual(p, again) {
				t.Errorf("%s: laid otherwise the second time", name)
			}
		}
	}
}

// Rows alone, of rounds and other pieces in one: what lies in the gaps of rounds is round.
func TestRowsOfRounds(t *testing.T) {
	for seed := uint64(0); seed < 60; seed++ {
		r := rand.New(rand.NewPCG(seed, 1))
		p := nest.Problem{Gap: 2}
		var dia []float64
		for i := 0; i < 2+r.IntN(4); i++ {
			size := r2.Vec{X: 10 + 50*r.Float64(), Y: 10 + 40*r.Float64()}
			it := nest.Item{Name: fmt.Sprint(i), Shape: rect(size), Count: 1 + r.IntN(30), Room: float64(r.IntN(2) * 4)}
			d := 0.0
			if r.IntN(2) == 0 {
				it.Shape = nest.Shape{Outer: round(r2.Vec{X: size.X / 2, Y: size.X / 2}, size.X/2)}
				d = size.X
			}
			p.Items, dia = append(p.Items, it), append(dia, d)
		}
		for b := 0; b < 3; b++ {
			p.Boards = append(p.Boards, nest.Board{Name: fmt.Sprint(b), Shape: nest.Shape{Outer: []r2.Vec{{}, {X: 300}, {X: 320 + 60*r.Float64(), Y: 160}, {X: 20, Y: 180}}, Holes: [][]r2.Vec{round(r2.Vec{X: 100 + 100*r.Float64(), Y: 60 + 40*r.Float64()}, 12)}}})
		}
		for _, less := range []func(a, b r2.Vec) bool{wideFirst, longFirst} {
			for _, gaps := range []bool{true, false} {
				l := rows(&p, dia, []int{0, 1, 2}, less, gaps)
				if err := p.Check(l, tol.Touch); err != nil {
					t.Errorf("seed %d: %v", seed, err)
				}
				fill(context.Background(), &p, dia, &l, []int{0, 1, 2}, false)
				if err := p.Check(l, tol.Touch); err != nil {
					t.Errorf("seed %d, filled: %v", seed, err)
				}
			}
		}
	}
}

// What is said to have no room has none in what is said to be left, and more are not laid worse
// than few.
func TestNoRoomIsTrue(t *testing.T) {
	m := plain(t, "{wood: maple, form: board, thick: 10}", "{from: s, disc: 28}")
	for _, size := range []string{"280, 120", "305, 82", "508, 76"} {
		most := 0
		for _, n := range []int{22, 33, 90} {
			p, err := Lay(context.Background(), []Run{{m, n}}, shopOf(t, shopHead+"boards: {b: {wood: maple, thick: 10, size: ["+size+"]}}\n"), Effort{Seed: 1})
			if err != nil {
				t.Fatal(err)
			}
			st := p.Stocks[0]
			if most = max(most, st.Placed); st.Placed < most {
				t.Errorf("%s: of %d only %d are placed, and of fewer %d", size, n, st.Placed, most)
			}
			if st.Placed == st.Pieces {
				continue
			}
			if !strings.Contains(st.Short[0].Why, "no room was found for it") {
				t.Errorf("%s: %s", size, st.Short[0].Why)
			}
			for _, r := range st.Boards[0].Left {
				if need := 28 + 2*4.0 + 2*roundChord; min(r.LengthMM, r.WidthMM) >= need {
					t.Errorf("%s: %d of %d are placed, and %s is left", size, st.Placed, st.Pieces, p.Size(r.LengthMM, r.WidthMM))
				}
			}
		}
	}
}

// The search can be ended at once: rows lie there then, what needed a search is short, and it is
// said that nobody looked.
func TestStopped(t *testing.T) {
	m := plain(t, "{wood: beech, form: board, thick: 18}", "{from: s, blank: [100, 60], work: [{saw: {side: face, outline: [[0, 0], [length, 0], [0, width]]}}]}")
	s := shopOf(t, shopHead+"boards: {b: {wood: beech, thick: 18, size: [134, 86]}}\n") // one wedge upside down on the other
	for _, stopped := range []bool{false, true} {
		ctx, stop := context.WithCancel(context.Background())
		if stopped {
			stop()
		}
		p, err := Lay(ctx, []Run{{m, 2}}, s, Effort{Seed: 1})
		stop()
		if err != nil {
			t.Fatal(err)
		}
		if st := p.Stocks[0]; !stopped && st.Placed != 2 || stopped && (st.Placed != 1 || !strings.Contains(st.Short[0].Why, "the time was over before all else was tried")) {
			t.Errorf("stopped: %v\n%s", stopped, p.Text())
		}
	}
}

// What is bought, and what of the rack is left: the rack before what is sold, then what costs
// least, then as little of the rack as can be.
func TestWhatIsBought(t *testing.T) {
	const thick = "wood: beech, thick: 18, "
	for _, c := range []struct {
		name, part, rack string
		n                int
		buy              string // how many of each
		price            float64
		unused           string
	}{
		{"as many as it takes", "[200, 72]", "sold: {boards: {plank: {" + thick + "size: [1000, 140]}}}", 100, "25 plank", 0, ""},
		{"all of a rack of many", "[130, 130]", "boards: {b: {" + thick + "size: [250, 250], count: 100}}", 100, "", 0, ""},
		{"the rack, and then what costs least", "[280, 130]", "boards: {scrap: {" + thick + "size: [2000, 500]}}\nsold: {boards: {small: {" + thick + "size: [300, 140], price: 5}, large: {" + thick + "size: [1000, 140], price: 50}}}", 62, "41 small", 205, ""},
		{"a small one for the last of many", "[280, 130]", "sold: {boards: {small: {" + thick + "size: [300, 140], price: 5}, large: {" + thick + "size: [900, 140], price: 12}, huge: {" + thick + "size: [900, 280], price: 60}}}", 31, "1 small, 10 large", 125, ""},
		{"by area where one has no price", "[280, 130]", "sold: {boards: {small: {" + thick + "size: [290, 140]}, large: {" + thick + "size: [900, 140], price: 1}}}", 31, "31 small", 0, ""},
		{"nothing of the rack that is not needed beside what is bought", "[100, 40]", "boards: {a: {" + thick + "size: [110, 50]}, b: {" + thick + "size: [110, 50]}}\nsold: {boards: {new: {" + thick + "size: [330, 150], price: 9}}}", 8, "1 new", 9, "a, b"},
		{"long ones from the rack where only short ones are cheap", "[100, 40]", "boards: {a: {" + thick + "size: [330, 50]}}\nsold: {boards: {new: {" + thick + "size: [110, 50], price: 1}}}", 5, "2 new", 2, ""},
	} {
		p, err := Lay(context.Background(), []Run{{plain(t, "{wood: beech, form: board, thick: 18}", "{from: s, blank: "+c.part+"}"), c.n}}, shopOf(t, "dryfit: 1\nunits: mm\n"+c.rack+"\n"), Effort{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		var buy []string
		price := 0.0
		for _, b := range p.Stocks[0].Buy {
			buy = append(buy, fmt.Sprint(b.Count, " ", b.Name))
			price += b.Price
		}
		if !p.Whole || strings.Join(buy, ", ") != c.buy || c.price > 0 && price != c.price || strings.Join(p.Unused, ", ") != c.unused {
			t.Errorf("%s: want %s for %g, not used %q\n%s", c.name, c.buy, c.price, c.unused, p.Text())
		}
	}
}

// Rounds that just fit between the edges of a strip lie there, one to a row or two.
func TestRoundsThatJustFit(t *testing.T) {
	for _, c := range []struct {
		wide string
		n    int
	}{{"66", 40}, {"130.5", 80}} {
		s := shopOf(t, "dryfit: 1\nunits: mm\ncutting: {kerf: 1.5, handling: 3}\nboards: {strip: {wood: beech, thick: 18, size: [2581.5, "+c.wide+"]}}\n")
		p, err := Lay(context.Background(), []Run{{plain(t, "{wood: beech, form: board, thick: 18}", "{from: s, disc: 60}"), c.n}}, s, Effort{Seed: 1})
		if err != nil || !p.Whole {
			t.Errorf("%v\n%s", err, p.Text())
		}
	}
}

// A lot of spares serves a batch, but each toy has its own spare wheel; pieces are as many as
// in the lists, and spares have no number.
func TestSpares(t *testing.T) {
	m := modelOf(t, "toy.yaml", "dryfit: 1\ntoy: T\nunits: mm\nstock: {s: {wood: beech, form: board, thick: 18}}\nparts: {p: {from: s, blank: [100, 40], spare: 1}, w: {from: s, disc: 40, spare: 1}}\nbuild: [{put: p}, {put: w, sits: {bottom: p.top, back: p.back, left: p.left}, glued: yes}]\n")
	p, err := Lay(context.Background(), []Run{{m, 20}}, nil, Effort{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]int{}
	for _, b := range p.Stocks[0].Boards {
		for _, at := range b.Places {
			got[fmt.Sprint(at.Part, at.Number)]++
		}
	}
	want := map[string]int{"p1": 20, "p0": 1, "w2": 20, "w0": 20}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%v are laid, want %v", got, want)
	}
	for _, b := range shop.ListAll(context.Background(), []shop.Order{{Model: m, Count: 20}}).Stock[0].Blanks {
		if part, _ := m.Toy.PartNamed(b.Part); b.Spare != shop.SparesOf(part, 20) || b.Count+b.Spare != got[b.Part+"0"]+20 {
			t.Errorf("%s: %d and %d in the list", b.Part, b.Count, b.Spare)
		}
	}
}

// Boards of the rack keep the names that are chalked on them, whatever those that are bought
// are called.
func TestNamesOfBoards(t *testing.T) {
	const board = "b: {wood: beech, thick: 18, size: [110, 50]"
	for _, c := range []struct {
		n           int
		count, want string
	}{{2, "", "b, b no. 2"}, {3, ", count: 2", "b no. 1, b no. 2, b no. 3"}, {3, "", "b, b no. 2, b no. 3"}} {
		p, err := Lay(context.Background(), []Run{{plain(t, "{wood: beech, form: board, thick: 18}", "{from: s, blank: [100, 40]}"), c.n}}, shopOf(t, shopHead+"boards: {"+board+c.count+"}}\nsold: {boards: {"+board+"}}}\n"), Effort{Seed: 1})
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, b := range p.Stocks[0].Boards {
			names = append(names, b.Name)
		}
		if got := strings.Join(names, ", "); got != c.want || len(p.Unused) > 0 {
			t.Errorf("%s, want %s; not used: %v", got, c.want, p.Unused)
		}
	}
}

// What a stock leaves of the time all those after it share.
func TestShare(t *testing.T) {
	hard := []float64{1, 1, 2}
	left, want := 4*time.Second, []time.Duration{time.Second, 4 * time.Second / 3, 4 * time.Second}
	for i := range hard {
		if got := share(left, hard[i:]); got.Round(time.Millisecond) != want[i].Round(time.Millisecond) {
			t.Errorf("stock %d has %v, want %v", i+1, got, want[i])
		}
	}
}

// No toys, no layout.
func TestNoToys(t *testing.T) {
	if _, err := Lay(context.Background(), nil, nil, Effort{}); err == nil {
		t.Error("no toys are laid")
	}
}

// The bar of the project: twenty trams on the library's rack of twelve odd boards lie on at
// least 15 % less board than plain rows of squared blanks take there.
func TestTwentyTrams(t *testing.T) {
	m := modelOf(t, "tram", readFile(t, "../../examples/quay-tram.yaml"))
	s := shopOf(t, readFile(t, "../../examples/shop/quay-lane.yaml"))
	runs := []Run{{m, 20}}
	rows, left := plainRows(runs, s)
	p, err := Lay(context.Background(), runs, s, Effort{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	area := 0.0
	for _, st := range p.Stocks {
		area += st.BoardsM2 * 1e6
	}
	if n := len(s.Rack.Boards); n != 12 || left > 0 || !p.Whole || area > 0.85*rows {
		t.Errorf("%d boards; %.0f mm² of board, and %.0f in rows with %d left; all placed: %v", n, area, rows, left, p.Whole)
	}
	t.Logf("%.4f m², in rows %.4f m²: %.1f %% less", area*1e-6, rows*1e-6, 100*(1-area/rows))
}

// The words of a plan.
func TestGoldenText(t *testing.T) {
	m := modelOf(t, "tram", readFile(t, "../../examples/quay-tram.yaml"))
	s := shopOf(t, readFile(t, "../../examples/shop/quay-lane.yaml"))
	s.Rack.Boards = s.Rack.Boards[:7]
	p, err := Lay(context.Background(), []Run{{m, 2}}, s, Effort{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	const golden = "testdata/tram.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(p.Text()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if got := p.Text(); got != readFile(t, golden) {
		t.Errorf("the words differ from %s:\n%s", golden, got)
	}
}

// Time and share against pieces: go test ./shop/boards -run xxx -bench Growth.
func BenchmarkGrowth(b *testing.B) {
	for _, n := range []int{10, 20, 50, 100, 200, 500} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			m := modelOf(b, "mix", growth)
			s := shopOf(b, shopHead+"boards: {plank: {wood: beech, thick: 18, size: [900, 140], count: 60}}\n")
			for b.Loop() {
				p, err := Lay(context.Background(), []Run{{m, n / 5}}, s, Effort{Seed: 1})
				if err != nil {
					b.Fatal(err)
				}
				rows, _ := plainRows([]Run{{m, n / 5}}, s)
				b.ReportMetric(float64(p.Stocks[0].Pieces), "pieces")
				b.ReportMetric(100*p.Stocks[0].Share, "%used")
				b.ReportMetric(p.Stocks[0].BoardsM2, "m2")
				b.ReportMetric(rows*1e-6, "rows-m2")
			}
		})
	}
}

// growth is a toy of five pieces of all kinds of outline.
const growth = `dryfit: 1
toy: Mix
units: mm
stock: {s: {wood: beech, form: board, thick: 18}}
parts:
  deck: {from: s, blank: [150, 60], work: [{saw: {side: face, outline: [[0, 0], [length, 0, r 20], [length, width, r 20], [0, 40]]}}]}
  hook: {from: s, blank: [90, 50], work: [{saw: {side: face, outline: [[0, 0], [length, 0], [length, 18], [18, 18], [18, width], [0, width]]}}]}
  wedge: {from: s, blank: [80, 40], work: [{saw: {side: face, outline: [[0, 0], [length, 0], [0, width]]}}]}
  wheel: {from: s, disc: 40}
  post: {from: s, blank: [70, 20]}
build:
  - put: deck
  - {put: hook, sits: {bottom: deck.top, back: deck.back, left: deck.left}, glued: yes}
  - {put: wedge, sits: {bottom: hook.top, back: hook.back, left: hook.left}, glued: yes}
  - {put: wheel, sits: {bottom: wedge.top, back: wedge.back, left: wedge.left}, glued: yes}
  - {put: post, sits: {bottom: wheel.top, back: wheel.back, left: wheel.left}, glued: yes}
`
