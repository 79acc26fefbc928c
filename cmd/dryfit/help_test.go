package main

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"
)

// commands are the words of the command table, in its order.
func commands() []string {
	var out []string
	for f := range reflect.TypeFor[grammar]().Fields() {
		out = append(out, strings.ToLower(f.Name))
	}
	return out
}

// invoke runs the program in this process.
func invoke(args ...string) (code int, out, errs string) {
	var o, e bytes.Buffer
	code = run(args, strings.NewReader(""), &o, &e)
	return code, o.String(), e.String()
}

// Every word of help, so that a change of the interface is seen and meant:
// go test ./cmd/dryfit -run Golden -update writes it anew.
func TestGoldenHelp(t *testing.T) {
	var b strings.Builder
	for _, args := range append([][]string{{}}, each(commands())...) {
		args = append(args, "--help")
		code, out, errs := invoke(args...)
		if code != exitOK || errs != "" {
			t.Errorf("dryfit %s: exit code %d, %q", strings.Join(args, " "), code, errs)
		}
		for _, line := range strings.Split(out, "\n") {
			if len([]rune(line)) > 80 {
				t.Errorf("dryfit %s: a line wider than 80: %s", strings.Join(args, " "), line)
			}
		}
		b.WriteString("$ dryfit " + strings.Join(args, " ") + "\n" + out + "\n")
	}
	golden := filepath.Join("testdata", "help.golden")
	if *update {
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got := b.String(); got != string(want) {
		t.Errorf("the help differs from %s (-update writes it anew):\n%s", golden, firstDifference(string(want), got))
	}
}

func each(words []string) (out [][]string) {
	for _, w := range words {
		out = append(out, []string{w})
	}
	return out
}

// firstDifference shows the first line in which two texts differ.
func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := 0; i < max(len(w), len(g)); i++ {
		line := func(s []string) string {
			if i < len(s) {
				return s[i]
			}
			return "(no line)"
		}
		if line(w) != line(g) {
			return "line " + strconv.Itoa(i+1) + "\n  want: " + line(w) + "\n  got:  " + line(g)
		}
	}
	return "nothing"
}
