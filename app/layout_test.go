package app_test

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
	"time"

	"dryfit/app"
	"dryfit/shop/boards"
)

func TestReadShopKnowsWoods(t *testing.T) {
	const head = "dryfit: 1\nunits: mm\n"
	for text, want := range map[string]string{
		"boards: {a: {wood: beech, thick: 18, size: [900, 120]}}":                                "",
		"boards: {a: {wood: beach, thick: 18, size: [900, 120]}}":                                `did you mean "beech"?`,
		"dowels: {a: {wood: brich, dia: 6, length: 900}}":                                        `did you mean "birch"?`,
		"sold: {dowels: {a: {wood: brich, dia: 6, length: 900}}}":                                `did you mean "birch"?`,
		"sold: {boards: {a: {wood: beach, thick: 18, size: [900, 120]}}}":                        "no wood is called beach",
		"boards: {a: {wood: beech, thick: 18, outline: [[0, 0], [90, 50], [90, 0], [0, 50]]}}":   "this outline is no board",
		"boards: {a: {wood: beech, thick: 18, outline: [[0, 0], [90, 0], [90, 50], [0, 50]]}}":   "",
		"boards: {a: {wood: beech, thick: 18, outline: [[0, 0], [0, 50], [90, 50], [90, 0]]}}":   "", // the other way round
		"boards: {a: {wood: beech, thick: 18, outline: [[-9, 0], [90, 0], [90, 50], [-9, 50]]}}": "",
		"boards: {a: {wood: beech, thick: 18, outline: [[0, 0], [90, 0], [90, 0], [90, 50]]}}":   "this outline is no board",
	} {
		s, probs := app.ReadShop("shop.yaml", head+text+"\n")
		if (s == nil) != (len(probs) > 0) || (want == "") != (len(probs) == 0) || !strings.Contains(probs.Error(), want) {
			t.Errorf("%s: %v", text, probs)
		}
	}
}

// Whatever is asked, the best by then is kept: at once, and after a while.
func TestLayoutEndsInTime(t *testing.T) {
	text, err := os.ReadFile("../examples/shop/quay-lane.yaml")
	if err != nil {
		t.Fatal(err)
	}
	shop, probs := app.ReadShop("quay-lane.yaml", string(text))
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	tram, err := os.ReadFile("../examples/quay-tram.yaml")
	if err != nil {
		t.Fatal(err)
	}
	toy, probs := app.Open("quay-tram.yaml", string(tram), nil, nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	from := time.Now()
	p, err := app.Layout(context.Background(), []app.Making{{Toy: toy, Count: 20}}, shop, boards.Effort{Seed: 1, Rounds: 1000, Time: 300 * time.Millisecond})
	if err != nil || !p.Whole || time.Since(from) > 20*time.Second {
		t.Errorf("%v, all placed %v, after %v", err, p != nil && p.Whole, time.Since(from))
	}
	for _, format := range app.LayoutFormats {
		a, err := app.DrawLayout(p, format, app.Print{Paper: "letter"})
		if err != nil {
			t.Fatal(err)
		}
		if b, _ := app.DrawLayout(p, format, app.Print{Paper: "letter"}); !bytes.Equal(a, b) {
			t.Errorf("%s: two drawings of one layout differ", format)
		}
	}
	for _, n := range []int{0, -1, app.MostToys + 1} {
		if _, err := app.Layout(context.Background(), []app.Making{{Toy: toy, Count: n}}, shop, boards.Effort{}); err == nil {
			t.Errorf("%d toys are laid", n)
		}
	}
	if len(p.Notes) > 0 {
		t.Errorf("of a toy that is right it says %q", p.Notes)
	}
	for _, paper := range []string{"napkin", "roll=610mm"} {
		if _, err := app.DrawLayout(p, "pdf", app.Print{Paper: paper}); err == nil || app.CheckLayoutPaper(app.Print{Paper: paper}) == nil {
			t.Errorf("%s is drawn on", paper)
		}
	}
}
