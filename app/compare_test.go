package app

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/measure/source"
	"dryfit/prove/compare"
	"dryfit/toy/file"
)

// toysOf reads the examples, by name.
func toysOf(t *testing.T, patterns ...string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, p := range patterns {
		names, err := filepath.Glob(filepath.Join("..", "examples", p))
		if err != nil || len(names) == 0 {
			t.Fatalf("no toys match %s: %v", p, err)
		}
		for _, n := range names {
			b, err := os.ReadFile(n)
			if err != nil {
				t.Fatal(err)
			}
			out[n] = string(b)
		}
	}
	return out
}

// compared compares two texts of a toy, each read with a cache of its own, so that nothing is the
// same only because it was made once.
func compared(t *testing.T, was, now string) *Comparison {
	t.Helper()
	c, err := Compare(opened(t, was), opened(t, now))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func opened(t *testing.T, text string) *Toy {
	t.Helper()
	toy, probs := Open("toy.yaml", text, nil, nil)
	if len(probs) > 0 {
		t.Fatal(probs.Error())
	}
	return toy
}

// A toy against itself: nothing changed, also where the file is written another way, and where
// everything that can have another name has one.
func TestCompareWithItself(t *testing.T) {
	for name, text := range toysOf(t, "*.yaml", "plain/*.yaml", "broken/fit.*.yaml", "broken/move.*.yaml") {
		t.Run(filepath.Base(name), func(t *testing.T) {
			t.Parallel()
			other := "# written by someone else\r\n" + strings.ReplaceAll(strings.ReplaceAll(text, "\nbuild:", "\n\n# how it goes together\n\nbuild:"), "\n", "\r\n")
			again, all := compared(t, text, other), renamedAll(t, text)
			if !again.Same || !strings.Contains(again.Text(), ": nothing changed\n") {
				t.Errorf("written another way:\n%s", again.Text())
			}
			if all == text {
				t.Fatal("nothing was renamed: the test is too narrow")
			}
			c := compared(t, text, all)
			if !c.Same {
				t.Errorf("called something else:\n%s", c.Text())
			}
			for _, p := range c.Pieces {
				if !p.Renamed() {
					t.Errorf("%v is called %v: nothing else was renamed so", p.Was, p.Now)
				}
			}
		})
	}
}

// renamedAll gives everything in a toy file another name, one after the other.
func renamedAll(t *testing.T, text string) string {
	t.Helper()
	names, err := file.Names(source.New("toy.yaml", text))
	if err != nil {
		t.Fatal(err)
	}
	for i, n := range names {
		r, err := Rename(source.New("toy.yaml", text), n.String(), fmt.Sprintf("renamed-%d", i))
		if err == nil { // the piece of a part that was renamed before has its name by now
			text = r.Text
		}
	}
	return text
}

// mirrored is how a kind of change reads the other way round.
func mirroredKind(kind string) string {
	return strings.NewReplacer(" new", " gone", " gone", " new").Replace(kind)
}

// What is gained from one edition to the other is lost the other way, what is longer is shorter,
// and what is the same is the same both ways.
func TestCompareBothWays(t *testing.T) {
	all := toysOf(t, "quay-tram.yaml", "tipping-wagon.yaml", "plain/wheel-wells.yaml", "plain/hitch.yaml", "plain/pegs.yaml", "broken/move.wheels-*.yaml")
	var names []string
	for n := range all {
		names = append(names, n)
	}
	slices.Sort(names)
	for i, a := range names {
		b := names[(i+1)%len(names)]
		t.Run(filepath.Base(a)+" "+filepath.Base(b), func(t *testing.T) {
			bothWays(t, all[a], all[b])
		})
	}
	for _, e := range edits {
		t.Run(e.name, func(t *testing.T) { bothWays(t, tramText(t), e.made(t)) })
	}
}

func bothWays(t *testing.T, a, b string) {
	t.Helper()
	was, now := opened(t, a), opened(t, b)
	there, err := Compare(was, now)
	if err != nil {
		t.Fatal(err)
	}
	back, err := Compare(now, was)
	if err != nil {
		t.Fatal(err)
	}
	count := func(c *Comparison, turn bool) map[string]int {
		out := map[string]int{}
		for _, p := range c.Pieces {
			was, now, state := p.Was, p.Now, p.State
			if turn {
				was, now = now, was
				switch state {
				case compare.New:
					state = compare.Gone
				case compare.Gone:
					state = compare.New
				}
			}
			if state == compare.Cut {
				state = compare.Remake // what can be cut smaller cannot be cut larger
			}
			for i := range max(len(was), len(now)) {
				key := string(state)
				if len(was) > 0 {
					key += " " + was[i]
				}
				if len(now) > 0 {
					key += " > " + now[i]
				}
				out[key]++
			}
			less, more := p.Less, p.More
			if turn {
				less, more = more, less
			}
			out[fmt.Sprintf("less %.1f more %.1f", less, more)] += max(len(was), len(now))
			for _, x := range p.Changes {
				kind, by := x.Kind, x.By
				if turn {
					kind = mirroredKind(kind)
				}
				if turn && strings.Contains("length width thickness diameter hole size hole depth line depth", kind) {
					by = -by
				}
				out[fmt.Sprintf("%s %.3f", kind, by)] += max(len(was), len(now))
			}
		}
		for _, list := range [][]compare.Change{c.Build, c.Stock, c.Musts, c.Ages, c.Other} {
			for _, x := range list {
				kind := x.Kind
				if turn {
					kind = mirroredKind(kind)
				}
				out[kind]++
			}
		}
		for _, f := range c.Findings {
			kind, was, now := f.Kind, f.Was+" "+f.UnitWas, f.Now+" "+f.UnitNow
			if turn {
				was, now = now, was
				switch kind {
				case compare.Gained:
					kind = compare.Lost
				case compare.Lost:
					kind = compare.Gained
				}
			}
			out[kind+" "+was+" > "+now]++
		}
		return out
	}
	want, got := count(there, false), count(back, true)
	for k, n := range want {
		if got[k] != n {
			t.Errorf("there %d × %s, back %d", n, k, got[k])
		}
	}
	for k, n := range got {
		if want[k] == 0 {
			t.Errorf("only back: %d × %s", n, k)
		}
	}
}
