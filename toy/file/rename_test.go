package file_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/measure/source"
	"dryfit/toy/file"
)

// toysOfExamples are all example toys, and those of the manual's size that use every key.
func toysOfExamples(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, pattern := range []string{"*.yaml", "plain/*.yaml", "broken/*.yaml"} {
		got, err := filepath.Glob(filepath.Join("..", "..", "examples", pattern))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, got...)
	}
	if len(out) < 50 {
		t.Fatalf("only %d toys", len(out))
	}
	return out
}

// Every name of every example becomes one that is nowhere in the file, after which the toy is read
// without problems and nothing goes by the old name; back again, every byte is as it was.
func TestRenameThereAndBack(t *testing.T) {
	count := 0
	for _, path := range toysOfExamples(t) {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		text := string(b)
		f := source.New(path, text)
		list, err := file.Names(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range list {
			const fresh = "zebra-crossing"
			r, err := file.Rename(f, n.String(), fresh)
			if err != nil {
				t.Errorf("%s: %s: %v", path, n, err)
				continue
			}
			if len(r.Problems) > 0 {
				t.Errorf("%s: %s: %v\n%s", path, n, r.Problems, r.Text)
				continue
			}
			back := file.Name{Kind: n.Kind, Text: fresh}
			if glueUp, _, in := strings.Cut(n.Text, "/"); in {
				back.Text = glueUp + "/" + fresh
			}
			to := n.Text[strings.LastIndexByte(n.Text, '/')+1:]
			again, err := file.Rename(source.New(path, r.Text), back.String(), to)
			if err != nil {
				t.Errorf("%s: back to %s: %v", path, n, err)
				continue
			}
			if again.Text != text {
				t.Errorf("%s: %s is not back where it was:\n%s", path, n, diff(text, again.Text))
			}
			count++
		}
	}
	if count < 500 {
		t.Errorf("only %d names", count)
	}
}

// diff are the lines that two texts do not share at the same place.
func diff(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	var out []string
	for i := range max(len(x), len(y)) {
		var p, q string
		if i < len(x) {
			p = x[i]
		}
		if i < len(y) {
			q = y[i]
		}
		if p != q {
			out = append(out, "- "+p, "+ "+q)
		}
	}
	return strings.Join(out, "\n")
}
