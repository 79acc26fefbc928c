package guide

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Every phrase is used, by its whole key or by one that starts with a written prefix,
// and every key that is written out has a phrase.
func TestPhrases(t *testing.T) {
	var source strings.Builder
	files, _ := filepath.Glob("*.go")
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		source.Write(b)
	}
	code := source.String()
	// Keys made of a prefix and a word of the toy: say("at." + way).
	prefixes := []string{}
	for _, p := range []string{"who.", "label.", "seen.", "word.", "at.", "middle.", "side.", "to.", "cord.", "need.", "habit.", "check."} {
		if strings.Contains(code, `"`+p+`"`) || p == "check." {
			prefixes = append(prefixes, p)
		}
	}
	for key := range phrases {
		used := strings.Contains(code, `"`+key+`"`)
		for _, p := range prefixes {
			used = used || strings.HasPrefix(key, p)
		}
		if !used {
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
