package rack

import (
	"context"
	"os"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/measure/source"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/papertest"
	"dryfit/paper/pdf"
	"dryfit/shop/boards"
	"dryfit/toy"
	"dryfit/toy/file"
)

func planOf(t *testing.T, count int, shop string, names ...string) *boards.Plan {
	t.Helper()
	var runs []boards.Run
	read := func(name string) *source.File {
		text, err := os.ReadFile("../../examples/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		return source.New(name, string(text))
	}
	for _, name := range names {
		ty, probs := file.Read(read(name), nil)
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		m, probs := assembly.Derive(ty, assembly.Options{})
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		runs = append(runs, boards.Run{Model: m, Count: count})
	}
	var s *toy.Shop
	if shop != "" {
		var probs source.Problems
		if s, probs = file.ReadShop(read(shop)); len(probs) > 0 {
			t.Fatal(probs)
		}
	}
	p, err := boards.Lay(context.Background(), runs, s, boards.Effort{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The pages are whole, their words meet no other words and no margin, and each board and piece
// is on them.
func TestPages(t *testing.T) {
	for _, c := range []struct {
		name  string
		paper layout.Paper
		plan  *boards.Plan
	}{
		{"a rack", layout.A4, planOf(t, 6, "shop/quay-lane", "quay-tram")},
		{"many wheels", layout.Letter, planOf(t, 20, "shop/quay-lane", "quay-tram")},
		{"what to buy", layout.Sheet("A3"), planOf(t, 2, "", "tipping-wagon", "plain/pair-of-ducks")},
	} {
		t.Run(c.name, func(t *testing.T) {
			pages, entries, err := Pages(c.plan, c.paper)
			if err != nil {
				t.Fatal(err)
			}
			data, err := pdf.Write(pages, pdf.Meta{Title: Title(c.plan), Outline: entries})
			if err != nil {
				t.Fatal(err)
			}
			f := papertest.File(t, data)
			papertest.Check(t, f)
			words := papertest.Words(t, f)
			for _, fault := range papertest.Apart(words, papertest.Room{Left: 7, Right: 7, Top: 7, Bottom: 7}) {
				t.Error(fault)
			}
			var all strings.Builder
			for _, p := range words {
				for _, w := range p.Words {
					all.WriteString(w.Says + " ")
				}
			}
			n := 0
			for _, s := range c.plan.Stocks {
				for _, b := range s.Boards {
					n++
					at := b.Places[0]
					want := []string{c.plan.Sides(at.LengthMM, at.WidthMM)}
					if isRound(&at) {
						want[0] = c.plan.Number(at.LengthMM) + " round"
					}
					for _, f := range b.Flaws {
						want = append(want, f.Why+" at "+boards.Marked(f.XMM, c.plan.Unit())+", "+boards.Marked(f.YMM, c.plan.Unit()))
					}
					for _, w := range want {
						if !strings.Contains(all.String(), w) {
							t.Errorf("%s: %q is on no page", b.Name, w)
						}
					}
					if !strings.Contains(all.String(), b.Name) {
						t.Errorf("%s is on no page", b.Name)
					}
				}
			}
			if len(entries) != n+1 {
				t.Errorf("%d entries for %d boards", len(entries), n)
			}
		})
	}
}

// What is drawn lies at scale where the table says: of each piece the box around its line,
// from the board's corner.
func TestDrawnToScale(t *testing.T) {
	p := planOf(t, 6, "shop/quay-lane", "quay-tram")
	for _, s := range p.Stocks {
		for i := range s.Boards {
			b := &s.Boards[i]
			at := r2.Vec{X: 20, Y: 30}
			items := wood(b, 5, at, draw.Outline, draw.Cut)
			k := 0
			draw.Page{Items: items}.Walk(func(m draw.Mark) {
				if m.Path == nil || m.Layer != LayerPieces {
					return
				}
				box := draw.Bounds(*m.Path)
				from := box.Min
				pl := b.Places[k]
				if pl.As == boards.AsRound {
					from = box.Min.Add(box.Max).Scale(0.5)
				}
				if d := from.Sub(at).Scale(5).Sub(r2.Vec{X: pl.XMM, Y: pl.YMM}).Len(); d > 0.001 {
					t.Errorf("%s on %s is drawn %g mm off", pl.Part, b.Name, d)
				}
				k++
			})
			if k != len(b.Places) {
				t.Errorf("%s: %d pieces are drawn, %d lie there", b.Name, k, len(b.Places))
			}
		}
	}
}

// What a toy lacks stands on the first page, and the line below the title is whole where it
// begins with a sign that is no letter.
func TestFirstPage(t *testing.T) {
	p := planOf(t, 1, "", "quay-tram")
	p.KerfMM, p.Notes = 1.5, []string{"Quay tram: not proved"}
	pages, _, err := Pages(p, layout.A4)
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	pages[0].Walk(func(m draw.Mark) {
		if m.Text != nil {
			all.WriteString(m.Text.Says + "\n")
		}
	})
	for _, want := range []string{". ≈1/16 in of kerf", "Quay tram: not proved\n"} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("no %q in\n%s", want, all.String())
		}
	}
}

// A roll is no paper for it.
func TestNoRoll(t *testing.T) {
	if _, _, err := Pages(planOf(t, 1, "", "quay-tram"), layout.Roll(610)); err == nil {
		t.Error("boards are drawn on a roll")
	}
}
