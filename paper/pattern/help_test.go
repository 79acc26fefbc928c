package pattern

import (
	"os"
	"testing"

	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/toy/file"
)

// derived reads and derives a toy, which must be without problems.
func derived(t *testing.T, name, text string) *assembly.Model {
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

func example(t *testing.T, name string) *assembly.Model {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name)
	if os.IsNotExist(err) {
		t.Skip("no " + name)
	}
	if err != nil {
		t.Fatal(err)
	}
	return derived(t, name, string(text))
}
