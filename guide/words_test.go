package guide

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// made are the keys that are put together of a prefix and a word.
var made = map[string]string{
	"at.":      "behind ahead left right above below",
	"care.":    "cut-stop cut-piece saw-line saw-grow saw-skew saw-depth drill-fence drill-centre drill-lean drill-depth drill-over stock-board stock-sheet stock-dowel stock-ball wheel-sawn wheel-turned wheel-bought rod-length play-card glue-slip",
	"care.on.": "holes outline cut",
	"cord.":    "plain bead loop knot",
	"disc.":    "bought bought.bore hole-saw hole-saw.how turned middle pattern bore saw true sand",
	"habit.":   "read thick scrap two-sides wheels spare small small.end dry-fit running wax measure",
	"label.":   "guide needs cautions habits pieces checks notes where minds who wait check-what check-is check-mine piece-number piece-name piece-count piece-size piece-from patterns not-seen made",
	"middle.":  "along across up",
	"part.":    "small small.end",
	"seen.":    "right left up down",
	"side.":    "top bottom right left front back middle",
	"to.":      "forward back left right up down",
	"wheels.":  "rear middle front",
	"who.":     "saw drill chisel turn pattern sand wax place glue tap clamp cut-dowel finish tie check",
	"word.":    "cut-out cut-in notch groove",
}

// Every phrase is used, by its whole key or by one of those that are put together, and
// every key has a phrase.
func TestPhrases(t *testing.T) {
	source := func(pattern string) string {
		var all strings.Builder
		files, _ := filepath.Glob(pattern)
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") {
				continue
			}
			b, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			all.Write(b)
		}
		return all.String()
	}
	code, ofToys := source("*.go"), source("../toy/file/*.go") // some words are those of a toy
	together := map[string]bool{}
	for prefix, words := range made {
		if !strings.Contains(code, `"`+prefix+`"`) {
			t.Errorf("no key is put together of %q", prefix)
		}
		for _, w := range strings.Fields(words) {
			if together[prefix+w] = true; phrases[prefix+w] == "" {
				t.Errorf("there are no words for %q", prefix+w)
			}
			if !regexp.MustCompile(`["|]` + regexp.QuoteMeta(w) + `["|]`).MatchString(code + ofToys) {
				t.Errorf("nothing makes %q", prefix+w)
			}
		}
	}
	for _, m := range regexp.MustCompile(`"([a-z-]+\.)" ?\+`).FindAllStringSubmatch(code, -1) {
		if made[m[1]] == "" {
			t.Errorf("a key is put together of %q: list its words", m[1])
		}
	}
	for key := range phrases {
		if !together[key] && !strings.Contains(code, `"`+key+`"`) {
			t.Errorf("nothing says %q", key)
		}
	}
	for _, call := range strings.Split(code, ".say")[1:] {
		call = strings.TrimPrefix(call, "s")
		if rest, ok := strings.CutPrefix(call, `("`); ok {
			key, after, _ := strings.Cut(rest, `"`)
			if strings.HasPrefix(strings.TrimSpace(after), "+") {
				continue
			}
			if _, ok := phrases[key]; !ok {
				t.Errorf("there are no words for %q", key)
			}
		}
	}
}

func TestFill(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"{n} {n: wheel | wheels}", "1 wheel"},
		{"{m} {m: wheel | wheels}", "3 wheels"},
		{"{a name}", "an axle"},
		{"stick it{n:. | , all.}", "stick it."},
	} {
		if got := fill("test", c.text, map[string]any{"n": 1, "m": 3, "name": "axle"}); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
	for noun, want := range map[string]string{"body": "bodies", "box": "boxes", "axle": "axles", "bay": "bays", "bench": "benches", "doors": "doors"} {
		if got := plural(noun); got != want {
			t.Errorf("%s: %s, want %s", noun, got, want)
		}
	}
}
