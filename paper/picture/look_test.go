package picture

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/toy/file"
)

func load(t testing.TB, name string) *assembly.Model {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return read(t, name, string(text))
}

func read(t testing.TB, name, text string) *assembly.Model {
	t.Helper()
	toy, probs := file.Read(source.New(name, text), nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	m, probs := assembly.Derive(toy, assembly.Options{})
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return m
}

const tram = "../../examples/quay-tram.yaml"

func BenchmarkTram(b *testing.B) {
	for range b.N {
		b.StopTimer()
		m := load(b, tram) // bored anew
		b.StartTimer()
		SVG(m)
	}
}

func TestLook(t *testing.T) {
	files, _ := filepath.Glob(os.Getenv("LOOK"))
	for _, f := range files {
		out := "/tmp/look/" + strings.TrimSuffix(filepath.Base(f), ".yaml") + ".svg"
		if err := os.WriteFile(out, SVG(load(t, f)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
