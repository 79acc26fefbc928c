// Package examples_test proves the toys of this folder: the good ones hold, each
// broken one fails the check that it is named after and no other, and each file
// with a fault is refused at the line of the fault with the words beside it.
package examples_test

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"

	"dryfit/app"
	"dryfit/measure/source"
	"dryfit/prove"
)

// toysIn lists the toy files of a folder, sorted.
func toysIn(t *testing.T, dir string) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, "*.yaml"))
	if err != nil || len(names) == 0 {
		t.Fatalf("no toys in %s: %v", dir, err)
	}
	sort.Strings(names)
	return names
}

func read(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// proved reads and proves a toy from nothing, twice, and wants the same report.
func proved(t *testing.T, name string) (*app.Toy, *prove.Report) {
	t.Helper()
	var toy *app.Toy
	var reports [2]*prove.Report
	for i := range reports {
		var probs source.Problems
		if toy, probs = app.Open(name, read(t, name), nil, nil); probs != nil {
			t.Fatal(probs.Error())
		}
		if reports[i], probs = toy.Prove(); probs != nil {
			t.Fatal(probs.Error())
		}
	}
	if !reflect.DeepEqual(reports[0], reports[1]) {
		t.Error("two readings of one file give two reports")
	}
	return toy, reports[0]
}

func count(rep *prove.Report) (n [prove.Fails + 1]int) {
	for _, f := range rep.Findings {
		n[f.Verdict]++
	}
	return n
}

// Ordinary good toys, and the two that the project shows, must pass without a
// waiver and with nothing left open: a proof that cries wolf is not read.
func TestGoodToysHold(t *testing.T) {
	shown, plain := toysIn(t, "."), toysIn(t, "plain")
	if len(shown) < 2 || len(plain) < 13 {
		t.Errorf("%d toys to show and %d plain ones: two and thirteen at least are wanted", len(shown), len(plain))
	}
	var sum [prove.Fails + 1]int
	for _, name := range append(shown, plain...) {
		t.Run(filepath.ToSlash(name), func(t *testing.T) {
			toy, rep := proved(t, name)
			if len(toy.Waivers) > 0 {
				t.Error("a good toy needs no waiver")
			}
			if !rep.Passes() || rep.Verdict != prove.Holds && rep.Verdict != prove.Mind {
				t.Errorf("verdict %q, passes %v", rep.Verdict, rep.Passes())
			}
			for _, f := range rep.Findings {
				switch f.Verdict {
				case prove.Holds:
				case prove.Mind:
					t.Logf("mind %s: %s", f.ID, f.Says)
				default:
					t.Errorf("%s %s: %s", f.Verdict, f.ID, f.Says)
				}
			}
			for v, n := range count(rep) {
				sum[v] += n
			}
		})
	}
	t.Logf("%d toys: %d findings hold, %d to mind, %d cannot be told, %d fail", len(shown)+len(plain), sum[prove.Holds], sum[prove.Mind], sum[prove.CannotTell], sum[prove.Fails])
}

func TestBrokenToysFailTheirCheckAlone(t *testing.T) {
	toys := map[string]int{}
	for _, name := range toysIn(t, "broken") {
		check, _, _ := strings.Cut(filepath.Base(name), "-")
		toys[check]++
		t.Run(filepath.Base(name), func(t *testing.T) {
			if !strings.HasPrefix(read(t, name), "# ") {
				t.Error("the first line has to say what is wrong")
			}
			_, rep := proved(t, name)
			if rep.Verdict != prove.Fails || rep.Passes() {
				t.Errorf("verdict %q, passes %v", rep.Verdict, rep.Passes())
			}
			failed := 0
			for _, f := range rep.Findings {
				switch {
				case f.Verdict == prove.Fails && f.Check == check:
					failed++
					if f.Margin >= 0 {
						t.Errorf("%s fails with margin %g", f.ID, f.Margin)
					}
					if len(f.Places) == 0 && f.About != "toy" {
						t.Errorf("%s fails at no place", f.ID)
					}
				case f.Verdict == prove.Fails, f.Verdict == prove.CannotTell:
					t.Errorf("%s %s: %s", f.Verdict, f.ID, f.Says)
				}
			}
			if failed == 0 {
				t.Errorf("%s does not fail", check)
			}
		})
	}
	for _, c := range prove.Checks {
		if toys[c.ID] == 0 {
			t.Errorf("no toy fails %s", c.ID)
		}
		t.Logf("%s: %d broken toys", c.ID, toys[c.ID])
		delete(toys, c.ID)
	}
	for check := range toys {
		t.Errorf("broken toys for %s, which is no check", check)
	}
}

var (
	marked = regexp.MustCompile(`# ERROR((?: "(?:[^"\\]|\\.)*")+)$`)
	quoted = regexp.MustCompile(`"(?:[^"\\]|\\.)*"`)
)

// A file with a fault says on the line of the fault, behind # ERROR, part of what
// is to be said about it. More may be said about that line, nothing about others.
func TestFaultyFilesAreRefusedAtTheFault(t *testing.T) {
	names := toysIn(t, "problems")
	if len(names) < 25 {
		t.Errorf("%d kinds of fault, 25 at least are wanted", len(names))
	}
	codes := map[string]bool{}
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			text := read(t, name)
			want := map[int][]string{}
			for i, line := range strings.Split(text, "\n") {
				if m := marked.FindStringSubmatch(line); m != nil {
					for _, q := range quoted.FindAllString(m[1], -1) {
						words, err := strconv.Unquote(q)
						if err != nil {
							t.Fatal(err)
						}
						want[i+1] = append(want[i+1], words)
					}
				}
			}
			if len(want) == 0 {
				t.Fatal("no line says # ERROR")
			}
			var probs source.Problems
			if strings.HasPrefix(filepath.Base(name), "shop-") { // a shop's own file
				_, probs = app.ReadShop(name, text)
			} else if toy, bad := app.Open(name, text, nil, nil); bad != nil {
				probs = bad
			} else {
				_, probs = toy.Prove()
			}
			for line, all := range want {
				for _, words := range all {
					if !said(probs, line, words) {
						t.Errorf("line %d: nothing says %q; instead:\n%v", line, words, probs)
					}
				}
			}
			for _, p := range probs {
				if want[p.Line] == nil {
					t.Errorf("the fault is not there: %v", p)
				}
				if p.Code == "" || p.Col == 0 || strings.HasSuffix(p.Says, ".") {
					t.Errorf("not a proper problem: %+v", p)
				}
				codes[p.Code] = true
			}
		})
	}
	t.Logf("%d faulty files, %d codes", len(names), len(codes))
}

func said(probs source.Problems, line int, words string) bool {
	for _, p := range probs {
		p.Excerpt = "" // quotes the line, and so the words that are looked for
		if p.Line == line && strings.Contains(p.Error(), words) {
			return true
		}
	}
	return false
}
