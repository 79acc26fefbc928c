package chart_test

import (
	"context"
	"os"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/paper/booklet"
	"dryfit/paper/chart"
	"dryfit/paper/layout"
	"dryfit/paper/papertest"
	"dryfit/shop/plan"
	"dryfit/toy"
	"dryfit/toy/file"
)

func planned(t *testing.T, count, session int, names ...string) *plan.Plan {
	t.Helper()
	var jobs []plan.Job
	for _, name := range names {
		text, err := os.ReadFile("../../examples/" + name + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		ty, probs := file.Read(source.New(name, string(text)), nil)
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		m, probs := assembly.Derive(ty, assembly.Options{})
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		jobs = append(jobs, plan.Job{Model: m, Guide: booklet.New(m, nil, nil).Guide, Count: count})
	}
	s := plan.Shop{Hands: []toy.Hand{{Name: "adult"}, {Name: "somebody with a very long name indeed"}, {Name: "child", Years: 6}}}
	p, err := plan.Make(context.Background(), jobs, s, plan.Options{Session: session, Work: 200_000})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Charts on all papers keep on the paper, no lettering lies on other lettering, and
// every step is numbered on a bar.
func TestCharts(t *testing.T) {
	for _, c := range []struct {
		count, session int
		names          []string
	}{
		{1, 0, []string{"quay-tram"}},
		{20, 0, []string{"quay-tram"}},
		{3, 120, []string{"quay-tram", "tipping-wagon", "plain/hitch"}},
		{1, 0, []string{"plain/rattle"}},
	} {
		p := planned(t, c.count, c.session, c.names...)
		p.Unproved = []string{"This toy is not proved: 2 findings fail, the worst: " + strings.Repeat("a long way of saying what is wrong with it ", 5)}
		for _, paper := range layout.Papers() {
			t.Run(strings.Join(c.names, " ")+" "+paper.Name, func(t *testing.T) {
				data, err := chart.File(p, paper, "pdf")
				if err != nil {
					t.Fatal(err)
				}
				name := papertest.File(t, data)
				papertest.Check(t, name)
				pages := papertest.Words(t, name)
				m := layout.UsualMargin
				for _, f := range papertest.Apart(pages, papertest.Room{Left: m, Right: m, Top: m, Bottom: m}) {
					t.Error(f)
				}
				for _, pg := range pages {
					if pg.Size.X < pg.Size.Y {
						t.Errorf("a page is %v", pg.Size)
					}
				}
			})
		}
	}
}

func TestPages(t *testing.T) {
	p := planned(t, 2, 0, "quay-tram")
	if _, err := chart.Pages(p, layout.Roll(610)); err == nil {
		t.Error("a plan goes on a roll")
	}
	if _, err := chart.File(p, layout.A4, "png"); err == nil {
		t.Error("a plan is a png")
	}
	svg, err := chart.File(p, layout.A4, "svg")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Plan: 2 × Quay tram", ">adult<", ">check<", "page 1 of "} {
		if !strings.Contains(string(svg), want) {
			t.Errorf("the drawing does not say %q", want)
		}
	}
}
