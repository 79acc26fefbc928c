package guide_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/assembly/assemblytest"
	"dryfit/guide"
	"dryfit/prove"
	"dryfit/shop"
)

// Every example, the broken ones too, has a guide whose words are whole.
func TestEveryExample(t *testing.T) {
	var names []string
	for _, dir := range []string{"plain", "broken"} {
		found, _ := filepath.Glob("../examples/" + dir + "/*.yaml")
		names = append(names, found...)
	}
	if len(names) < 60 {
		t.Fatalf("only %d examples", len(names))
	}
	for k, name := range names {
		if testing.Short() && k%5 > 0 {
			continue
		}
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		m := assemblytest.Derive(t, name, string(raw), assembly.Options{})
		// The order of the file stands in for the proved one: this is about the words.
		in := guide.Input{Model: m, Report: &prove.Report{}, Order: asFiled(m), Lists: shop.List(m)}
		whole(t, name, m, guide.Of(in))
	}
}

// asFiled puts every piece on all before it, a step each.
func asFiled(m *assembly.Model) prove.Sequence {
	seq := prove.Sequence{Found: true, FileOrder: true}
	done := map[string]bool{}
	var onto []int
	for i, p := range m.Pieces {
		id := p.ID
		if p.GlueUp != "" {
			id = p.GlueUp
		}
		if done[id] {
			continue
		}
		done[id] = true
		pieces := m.Find(id)
		for _, g := range m.GlueUps {
			if g.ID == id {
				for n, j := range g.Pieces {
					seq.Steps = append(seq.Steps, prove.StepPath{Step: n, GlueUp: id, Pieces: []int{j}, Onto: g.Pieces[:n]})
				}
			}
		}
		step := -1
		for k := range m.Toy.Build {
			if m.Toy.Build[k].Where() == p.At || p.GlueUp != "" && putsID(m, k, id) {
				step = k
			}
		}
		seq.Steps = append(seq.Steps, prove.StepPath{Step: step, Name: id, Pieces: pieces, Onto: append([]int(nil), onto...)})
		onto = append(onto, i)
	}
	return seq
}

var odd = regexp.MustCompile(`[{}]|  | \.|\.\.|,,| ,|\(\)|<nil>|%!|NaN`)

// whole checks the words of a guide: no slot left open, no word missing, every step
// numbered and told, every piece spoken of.
func whole(t *testing.T, name string, m *assembly.Model, g guide.Guide) {
	t.Helper()
	n := 0
	var all []string
	for _, c := range g.Chapters {
		for _, s := range c.Steps {
			n++
			if s.Number != n || s.Title == "" || len(s.Does) == 0 {
				t.Errorf("%s: step %d: %+v", name, n, s)
			}
			for _, d := range append(s.Does, s.Minds...) {
				if !strings.HasSuffix(d, ".") || d[:1] != strings.ToUpper(d[:1]) {
					t.Errorf("%s: no sentence: %s", name, d)
				}
			}
			all = append(append(append(all, s.Title), s.Does...), s.Minds...)
			all = append(append(all, s.Who...), s.Dry)
			for _, x := range s.Measures {
				if x.What == "" || x.Is == "" {
					t.Errorf("%s: step %d: %+v", name, n, x)
				}
				all = append(all, x.Of, x.What, x.Is)
			}
		}
	}
	for _, l := range append(append([]guide.List{{Items: g.Habits}, {Items: g.Notes}}, g.Needs...), g.Cautions...) {
		all = append(all, l.Items...)
	}
	for _, c := range g.Checks {
		all = append(all, c.What, c.Is)
	}
	for _, s := range all {
		if bad := odd.FindString(s); bad != "" && s != "" {
			t.Errorf("%s: %q in %q", name, bad, s)
		}
	}
	text := strings.Join(all, "\n")
	for i := range m.Pieces {
		if !spoken(text, shop.Number(i)) {
			t.Errorf("%s: no step speaks of piece %d, %s", name, shop.Number(i), m.Pieces[i].ID)
		}
	}
}

var bracket = regexp.MustCompile(`\(([0-9–, ]+)\)`)

// spoken tells whether a number stands in brackets somewhere, by itself or in a range.
func spoken(text string, n int) bool {
	for _, b := range bracket.FindAllStringSubmatch(text, -1) {
		for _, part := range strings.Split(b[1], ", ") {
			var lo, hi int
			if k, _ := fmt.Sscanf(part, "%d–%d", &lo, &hi); k == 1 {
				hi = lo
			}
			if lo <= n && n <= hi {
				return true
			}
		}
	}
	return false
}

// A slip that a guide warns of is a slip that the toy file itself, with that other
// offset, is refused for, and with the same angle; without the warning it holds.
func TestSlipIsTrue(t *testing.T) {
	raw, err := os.ReadFile("../examples/quay-tram.yaml")
	if err != nil {
		t.Fatal(err)
	}
	const was = "back: trailer-frame.back + 1/16"
	moved := func(by string) string {
		out := strings.Replace(string(raw), was, "back: trailer-frame.back + "+by, 1)
		// It has to swing all that it does as drawn.
		return strings.Replace(out, "at-least: 55°", "at-least: 80°", 1)
	}
	found := false
	for _, off := range []string{"1/4", "5/16", "3/8"} {
		in := input(t, moved(off))
		if in.Report.Verdict == prove.Fails {
			break
		}
		var minds []string
		for _, c := range guide.Of(in).Chapters {
			for _, s := range c.Steps {
				for _, m := range s.Minds {
					if strings.HasPrefix(m, "Keep the trailer body") && strings.Contains(m, "turns only") {
						minds = append(minds, m)
					}
				}
			}
		}
		for _, by := range []string{"1/16", "1/8"} {
			next := input(t, moved("("+off+") + "+by))
			angle := math.NaN()
			for _, f := range next.Report.Findings {
				if f.ID == "move.hinge:coupling" && f.Verdict == prove.Fails {
					angle = f.Value
				}
			}
			if math.IsNaN(angle) {
				continue
			}
			found = true
			want := fmt.Sprintf("%s in further forward, and the coupling turns only %.0f° where it needs 80°.", by, angle)
			if len(minds) != 1 || !strings.HasSuffix(minds[0], want) {
				t.Errorf("at %s: %q, want %q", off, minds, want)
			}
			break
		}
		if found {
			break
		}
		if len(minds) > 0 {
			t.Errorf("at %s: %q, but it holds", off, minds)
		}
	}
	if !found {
		t.Error("no offset was found at which the next one fails: choose another toy")
	}
}
