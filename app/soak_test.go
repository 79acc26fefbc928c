package app

import (
	"fmt"
	"math/rand"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"dryfit/measure"
	"dryfit/prove"
)

// Hostile and mistaken toys: the examples with a few of their words changed. Nothing
// may panic, hang for over two seconds, or take over a gigabyte. The counts are
// raised by make soak (DRYFIT_PARSES, DRYFIT_PROOFS).

const largest = 1 << 30

// longest is what one toy may take: two seconds in a soak, by the clock or, on a busy
// machine, of processor time; the short form only catches what never ends.
func longest() time.Duration {
	if os.Getenv("DRYFIT_PROOFS")+os.Getenv("DRYFIT_PARSES") != "" {
		return 2 * time.Second
	}
	return time.Minute
}

func soakCount(t *testing.T, name string, short int) int {
	if v := os.Getenv(name); v != "" {
		n, err := strconv.Atoi(v)
		if err != nil {
			t.Fatalf("%s=%s: %v", name, v, err)
		}
		return n
	}
	return short
}

func seeds(t testing.TB) []string {
	var out []string
	for _, glob := range []string{"../examples/*.yaml", "../examples/*/*.yaml"} {
		names, _ := filepath.Glob(glob)
		for _, n := range names {
			b, err := os.ReadFile(n)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, string(b))
		}
	}
	if len(out) == 0 {
		t.Fatal("no example toys to start from")
	}
	for _, o := range []Beginning{{Name: "soak"}, {Name: "soak", Units: measure.Inch, Hitched: true}} {
		text, err := Begin(o)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, text)
	}
	return out
}

var (
	aNumber = regexp.MustCompile(`\d+( \d+/\d+)?(/\d+|\.\d+)?`)
	aWord   = regexp.MustCompile(`[a-z][a-z-]+`)
)

var oddities = []string{"0", "-1", "1e9", "999999999999", "0.0000001", "1/0", "NaN", "~", "", "[]", "{}", "&a", "*a", "!!str x", "<<", "'", "\"", "[[[[[[[[", "length", "middle", "a - b", "1 1/4 in in", "2000 mm", "200", "55°", "\t", "\x00", "…"}

// spoil changes a few tokens, lines or bytes of a toy.
func spoil(r *rand.Rand, text string, gentle bool) string {
	for n := 1 + r.Intn(3); n > 0; n-- {
		k := r.Intn(10)
		if gentle && k >= 6 {
			k = r.Intn(6)
		}
		switch {
		case k < 6: // another number in the place of one: most often a toy all the same
			at := aNumber.FindAllStringIndex(text, -1)
			if len(at) == 0 {
				break
			}
			p := at[r.Intn(len(at))]
			v := []string{"1/16", "1/8", "1/4", "1/2", "3/4", "1", "1 1/2", "2", "3", "4 3/8", "6", "10", "25", "60", "120"}[r.Intn(15)]
			text = text[:p[0]] + v + text[p[1]:]
		case k == 6: // a word of the file in the place of another
			at := aWord.FindAllStringIndex(text, -1)
			p, q := at[r.Intn(len(at))], at[r.Intn(len(at))]
			text = text[:p[0]] + text[q[0]:q[1]] + text[p[1]:]
		case k == 7:
			lines := strings.Split(text, "\n")
			i, j := r.Intn(len(lines)), r.Intn(len(lines))
			switch r.Intn(3) {
			case 0:
				lines = append(lines[:i], lines[i+1:]...)
			case 1:
				lines[i], lines[j] = lines[j], lines[i]
			default:
				lines = append(lines[:i], append([]string{lines[j]}, lines[i:]...)...)
			}
			text = strings.Join(lines, "\n")
		case k == 8:
			at := aNumber.FindAllStringIndex(text, -1)
			if len(at) == 0 {
				break
			}
			p := at[r.Intn(len(at))]
			text = text[:p[0]] + oddities[r.Intn(len(oddities))] + text[p[1]:]
		default:
			p := r.Intn(len(text) + 1)
			text = text[:p] + oddities[r.Intn(len(oddities))] + text[p:]
		}
		if text == "" {
			return text
		}
	}
	return text
}

// try runs f and says what it did wrong, with the toy.
func try(t *testing.T, what string, seed int64, text string, f func()) {
	defer func() {
		if p := recover(); p != nil {
			buf := make([]byte, 4096)
			t.Fatalf("%s %d: panic: %v\n%s\n---\n%s", what, seed, p, buf[:runtime.Stack(buf, false)], text)
		}
	}()
	best := time.Duration(1 << 62)
	for again := 0; again < 3; again++ { // clearing up after others counts too: the best of three
		start, before := time.Now(), spent()
		f()
		if best = min(best, time.Since(start), spent()-before); best <= longest() {
			return
		}
	}
	t.Errorf("%s %d took %v:\n%s", what, seed, best, text)
}

func TestSoakParses(t *testing.T) {
	all := seeds(t)
	n := soakCount(t, "DRYFIT_PARSES", 2000)
	read := 0
	for i := 0; i < n; i++ {
		r := rand.New(rand.NewSource(int64(i)))
		text := spoil(r, all[r.Intn(len(all))], false)
		try(t, "parse", int64(i), text, func() {
			if _, probs := Open("soak.yaml", text, nil, nil); len(probs) == 0 {
				read++
			} else if probs[0].Says == "" || probs[0].Line < 1 {
				t.Errorf("parse %d: a problem without words or place: %+v\n%s", i, probs[0], text)
			}
		})
	}
	if read == 0 {
		t.Error("not one toy could be read: the soak tests nothing")
	}
	t.Logf("%d of %d could be read", read, n)
}

func TestSoakProofs(t *testing.T) {
	all := seeds(t)
	n := soakCount(t, "DRYFIT_PROOFS", 150)
	verdicts := map[string]int{}
	proved := 0
	for i := 0; proved < n && i < 40*n; i++ {
		r := rand.New(rand.NewSource(int64(1e9) + int64(i)))
		text := spoil(r, all[r.Intn(len(all))], true)
		try(t, "proof", int64(i), text, func() {
			toy, probs := Open("soak.yaml", text, nil, nil)
			if len(probs) > 0 {
				return
			}
			rep, probs := toy.Prove()
			if len(probs) > 0 {
				verdicts["problem"]++
				return
			}
			proved++
			verdicts[rep.Verdict.String()]++
			for _, f := range rep.Findings {
				if f.Margin != f.Margin || f.Value != f.Value && f.Verdict != prove.CannotTell {
					t.Errorf("proof %d: %s has no number\n%s", i, f.ID, text)
				}
			}
		})
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	if m.Sys > largest {
		t.Errorf("the proofs took %d MiB", m.Sys>>20)
	}
	if proved < n {
		t.Errorf("only %d of %d toys could be proved", proved, n)
	}
	t.Log(fmt.Sprint(verdicts))
}

func FuzzOpen(f *testing.F) {
	for _, s := range seeds(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		Open("fuzz.yaml", text, nil, nil)
	})
}
