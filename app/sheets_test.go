package app_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"dryfit/app"
	"dryfit/shop/boards"
	"dryfit/toy"
)

func tramAndShop(t *testing.T) (*app.Toy, *toy.Shop) {
	t.Helper()
	read := func(name string) string {
		b, err := os.ReadFile("../examples/" + name)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	shop, probs := app.ReadShop("quay-lane.yaml", read("shop/quay-lane.yaml"))
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	tram, probs := app.Open("quay-tram.yaml", read("quay-tram.yaml"), nil, nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return tram, shop
}

// Each layout that is handed on is better than the one before, the last is what is returned, and
// the search ends with its time or its context.
func TestBetterLayouts(t *testing.T) {
	tram, shop := tramAndShop(t)
	of := []app.Making{{Toy: tram, Count: 30}}
	var found []*boards.Plan
	keep := func(p *boards.Plan) { found = append(found, p) }
	from := time.Now()
	best, err := app.BetterLayouts(context.Background(), of, shop, boards.Effort{Seed: 1, Time: 2 * time.Second}, keep)
	if err != nil || len(found) == 0 || best != found[len(found)-1] || time.Since(from) > 20*time.Second {
		t.Fatalf("%v, %d found, after %v", err, len(found), time.Since(from))
	}
	for i := 1; i < len(found); i++ {
		if !found[i].Better(found[i-1]) {
			t.Errorf("layout %d is no better than that before", i+1)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	from = time.Now()
	best, err = app.BetterLayouts(ctx, of, shop, boards.Effort{Seed: 1, Time: time.Hour}, func(*boards.Plan) { stop() })
	if err != nil || best == nil || time.Since(from) > 20*time.Second {
		t.Errorf("%v after %v", err, time.Since(from))
	}
	if best, err := app.BetterLayouts(ctx, of, shop, boards.Effort{Seed: 1, Time: time.Hour}, keep); best != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("of a context that is over: %v", err)
	}
	if _, err := app.BetterLayouts(context.Background(), of, shop, boards.Effort{Seed: 1}, keep); err == nil {
		t.Error("a search for no time was made")
	}
}

// What a screen shows of patterns and layouts has as many pages, of the same size, as what is
// printed; each is called by what stands on it.
func TestSheetsAreThePages(t *testing.T) {
	tram, shop := tramAndShop(t)
	same := func(what string, sheets []app.Sheet, pdf []byte, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if n := bytes.Count(pdf, []byte("/Type /Page\n")) + bytes.Count(pdf, []byte("/Type /Page ")); n != len(sheets) {
			t.Errorf("%s: %d sheets of %d pages", what, len(sheets), n)
		}
		for i, s := range sheets {
			size := fmt.Sprintf(`width="%gmm" height="%gmm"`, s.Wide, s.High)
			if s.Title == "" || !strings.Contains(string(s.SVG), size) {
				t.Errorf("%s: page %d is called %q and is not of %s", what, i+1, s.Title, size)
			}
		}
	}
	for _, on := range []app.Print{{Paper: "letter"}, {Paper: "a4", CorrectX: 98.5}} {
		sheets, err := tram.PatternSheets(on)
		if err != nil {
			t.Fatal(err)
		}
		pdf, err := tram.Patterns(on)
		same("patterns", sheets, pdf, err)
	}
	p, err := app.Layout(context.Background(), []app.Making{{Toy: tram, Count: 5}}, shop, boards.Effort{Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := app.LayoutSheets(p, app.Print{Paper: "letter"})
	if err != nil {
		t.Fatal(err)
	}
	pdf, err := app.DrawLayout(p, "pdf", app.Print{Paper: "letter"})
	same("layout", sheets, pdf, err)
	heads, rows := app.LayoutTable(p, &p.Stocks[0].Boards[0])
	b := p.Stocks[0].Boards[0]
	if len(heads) != 5 || len(rows) != len(b.Places)+len(b.Flaws) || !strings.Contains(string(sheets[1].SVG), ">"+rows[0][1]+"<") {
		t.Errorf("%v %v", heads, rows)
	}
}
