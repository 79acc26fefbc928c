package file_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"dryfit/measure/source"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

func TestUsers(t *testing.T) {
	text := strings.Replace(crates, "  peg: {from: rod}\n", "  peg: {from: rod}\n  spare: {from: oak, blank: [spare.width * 2, 1]}\n", 1)
	got, err := file.Users(source.New("crates.yaml", text))
	if err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string][]string{
		"parts.deck":  {"line 1 of the build", "the key waive"},
		"parts.crate": {"the part lid", "line 2 of the build", "line 3 of the build", "line 4 of the build"},
		"parts.lid":   {"line 5 of the build", "line 6 of the build"},
		"parts.peg":   {"line 7 of the build"},
		"parts.spare": nil, // its own formula does not count
	} {
		if !slices.Equal(got[path], want) {
			t.Errorf("%s: %q, want %q", path, got[path], want)
		}
	}
	if _, err := file.Users(source.New("crates.yaml", "parts: [")); err == nil {
		t.Error("a file that cannot be read has no users")
	}
}

// What nobody speaks of can be taken away, and of what the build or another part speaks, nothing can.
func TestOnlyWhatNobodyUsesCanBeTakenAway(t *testing.T) {
	kept, gone := 0, 0
	for _, path := range toysOfExamples(t) {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		f := source.New(path, string(b))
		root, probs := tree.Parse(f)
		users, err := file.Users(f)
		if err != nil || len(probs) > 0 {
			t.Fatal(path, err, probs)
		}
		_, before := file.Read(f, nil)
		for _, top := range []string{"parts", "glue-ups"} {
			of := root.Get(top)
			if of == nil {
				continue
			}
			for _, e := range of.Entries {
				at := tree.Join(top, e.Key.Text)
				text, _, err := tree.Apply(f, tree.Edit{Op: "remove", Path: at})
				if err != nil {
					t.Errorf("%s: %s: %v", path, at, err)
					continue
				}
				_, after := file.Read(source.New(path, text), nil)
				switch {
				case len(users[at]) == 0:
					gone++
					if len(after) > len(before) {
						t.Errorf("%s: nobody speaks of %s, but without it %v", path, at, after)
					}
				case !slices.Equal(users[at], []string{"the key waive"}):
					kept++
					if len(after) <= len(before) {
						t.Errorf("%s: %s is spoken of by %q, and can go", path, at, users[at])
					}
				}
			}
		}
	}
	if kept < 200 {
		t.Errorf("only %d parts (%d of no use)", kept, gone)
	}
}
