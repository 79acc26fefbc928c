package guide_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/assembly/assemblytest"
	"dryfit/guide"
	"dryfit/paper/picture"
	"dryfit/prove"
	"dryfit/shop"
	"dryfit/toy"
)

func input(t testing.TB, text string) guide.Input {
	t.Helper()
	cache := &assembly.Cache{}
	m := assemblytest.Derive(t, "toy.yaml", text, assembly.Options{Cache: cache})
	in := guide.Input{Model: m, Report: prove.Model(m), Order: prove.Order(m), Lists: shop.List(m), Cache: cache}
	for _, s := range picture.NewDrafter(m).Steps(in.Order) {
		in.Groups = append(in.Groups, s.Paths)
	}
	return in
}

func of(t testing.TB, name string) guide.Guide {
	t.Helper()
	text, err := os.ReadFile("../examples/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	return guide.Of(input(t, string(text)))
}

// text writes a guide as lines, for goldens and to search in.
func text(g guide.Guide) string {
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("%s\n%s\n%s", g.Toy, strings.Join(g.Facts, "\n"), g.Edition)
	lists := func(title string, ls []guide.List) {
		p("\n== %s", title)
		for _, l := range ls {
			p("%s", l.Title)
			for _, i := range l.Items {
				p("  - %s", i)
			}
		}
	}
	lists(g.Words.Needs, g.Needs)
	lists(g.Words.Cautions, g.Cautions)
	lists(g.Words.Who, []guide.List{{Items: g.Who}})
	lists(g.Words.Habits, []guide.List{{Items: g.Habits}})
	p("\n== %s", g.Words.Pieces)
	for _, x := range g.Pieces {
		p("%s | %s | %s | %s | %s", x.Numbers, x.Name, x.Count, x.Size, x.From)
	}
	for _, c := range g.Chapters {
		p("\n== %s: %s", c.Title, c.Says)
		for _, s := range c.Steps {
			p("\n%d. %s", s.Number, s.Title)
			for _, d := range s.Does {
				p("  - %s", d)
			}
			for _, m := range s.Measures {
				p("  %s: %s: %s", m.Of, m.What, m.Is)
			}
			for _, m := range s.Minds {
				p("  ! %s", m)
			}
			for _, w := range s.Who {
				p("  (%s)", w)
			}
			if s.Dry != "" {
				p("  %s: %s", g.Words.Wait, s.Dry)
			}
		}
	}
	p("\n== %s", g.Words.Checks)
	for _, c := range g.Checks {
		p("%s: %s", c.What, c.Is)
	}
	for _, n := range g.Notes {
		p("- %s", n)
	}
	return b.String()
}

// putsID tells whether a step of the build puts that id.
func putsID(m *assembly.Model, k int, id string) bool {
	p, ok := m.Toy.Build[k].(toy.Put)
	return ok && p.ID == id
}
