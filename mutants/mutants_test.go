package mutants

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"dryfit/prove"
)

var only = flag.String("only", "", "run only the mutants of checks with this in their name")

// A mutant is one fault in one file.
type mutant struct{ check, file, old, new string }

func list(t *testing.T) (out []mutant) {
	t.Helper()
	b, err := os.ReadFile("list.txt")
	if err != nil {
		t.Fatal(err)
	}
	var check, file string
	for i, line := range strings.Split(string(b), "\n") {
		switch mark, rest, _ := strings.Cut(line, " "); mark {
		case "", "#":
		case "==":
			f := strings.Fields(rest)
			if len(f) != 2 {
				t.Fatalf("list.txt:%d: expected == CHECK FILE", i+1)
			}
			check, file = f[0], f[1]
		case "-":
			out = append(out, mutant{check: check, file: file, old: rest})
		case "+":
			out[len(out)-1].new = rest
		default:
			t.Fatalf("list.txt:%d: expected ==, - or +", i+1)
		}
	}
	return out
}

// with returns the source of the file with the fault in it.
func (m mutant) with(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", filepath.FromSlash(m.file)))
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(b), m.old); n != 1 && m.old != "" {
		t.Errorf("%s: %q is there %d times, expected once: bring list.txt up to date", m.file, m.old, n)
	}
	return strings.Replace(string(b), m.old, m.new, 1)
}

func TestListFitsTheCode(t *testing.T) {
	of := map[string]int{}
	for _, m := range list(t) {
		m.with(t)
		of[m.check]++
	}
	for _, c := range prove.Checks {
		if of[c.ID] == 0 {
			t.Errorf("%s has no mutant", c.ID)
		}
	}
}

var failed = regexp.MustCompile(`(?m)^\s*--- FAIL: (\S+)`)

// TestMutantsAreCaught is make mutants: some minutes for each check.
func TestMutantsAreCaught(t *testing.T) {
	if os.Getenv("DRYFIT_MUTANTS") == "" {
		t.Skip("make mutants runs them all")
	}
	if by := (mutant{file: "prove/prove.go"}).caught(t); by != "" {
		t.Fatalf("%s fails without any fault", by)
	}
	var b strings.Builder
	b.WriteString("# Mutants\n\nFaults put into the checks one at a time, and the test that caught each. Written by `make mutants`.\n\n| check | in place of | put | caught by |\n|---|---|---|---|\n")
	code := func(s string) string { return "`" + strings.ReplaceAll(strings.TrimSpace(s), "|", "\\|") + "`" }
	for _, m := range list(t) {
		if !strings.Contains(m.check, *only) {
			continue
		}
		by := m.caught(t)
		if by == "" {
			t.Errorf("%s lives on: %s, in place of %s", m.check, m.new, m.old)
			by = "nothing"
		}
		t.Logf("%s %s: %s", m.check, m.new, by)
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", m.check, code(m.old), code(m.new), by)
	}
	if *only == "" {
		if err := os.WriteFile("caught.md", []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// caught returns the first test that fails with the fault in the code, "" if none does.
func (m mutant) caught(t *testing.T) string {
	dir := t.TempDir()
	changed := filepath.Join(dir, "mutant.go")
	if err := os.WriteFile(changed, []byte(m.with(t)), 0o644); err != nil {
		t.Fatal(err)
	}
	real, err := filepath.Abs(filepath.Join("..", filepath.FromSlash(m.file)))
	if err != nil {
		t.Fatal(err)
	}
	overlay, _ := json.Marshal(map[string]any{"Replace": map[string]string{real: changed}})
	if err := os.WriteFile(filepath.Join(dir, "overlay.json"), overlay, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, pkg := range []string{"./examples", "./prove/..."} { // the quick ones first
		cmd := exec.Command("go", "test", "-vet=off", "-failfast", "-overlay", filepath.Join(dir, "overlay.json"), pkg)
		cmd.Dir = ".."
		out, err := cmd.CombinedOutput()
		if err == nil {
			continue
		}
		if strings.Contains(string(out), "[build failed]") {
			t.Errorf("%s: %q does not build:\n%s", m.file, m.new, out)
			return "the compiler"
		}
		if names := failed.FindAllStringSubmatch(string(out), -1); len(names) > 0 {
			return strings.Trim(pkg, "./") + " " + names[len(names)-1][1]
		}
		return "a run that does not end well"
	}
	return ""
}
