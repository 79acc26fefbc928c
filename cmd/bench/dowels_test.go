package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func write(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name+".json"), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

const small = `{"name": "small", "stock_length": 12, "optimum": 1, "items_size_demand": [[6,1],[5,1],[4,1],[3,3]]}`

func TestDowels(t *testing.T) {
	dir, out := t.TempDir(), filepath.Join(t.TempDir(), "new", "out")
	write(t, dir, "small", small)
	if err := run([]string{"dowels", dir, "--seconds", "5", "--seed", "3", "-o", out}); err != nil {
		t.Fatal(err)
	}
	if err := run([]string{"check", "dowels", dir, out}); err != nil {
		t.Fatal(err)
	}
	var x dowelResult
	if err := readJSON(out, "small", &x); err != nil || x.Value != 2 || x.Bound != 2 || !x.Proved {
		t.Errorf("%v: %+v", err, x)
	}
}

func TestCheckDowelsRefuses(t *testing.T) {
	dir, out := t.TempDir(), t.TempDir()
	write(t, dir, "small", small)
	const good = `{"instance":"small","patterns":[{"cuts":[[6,1],[3,2]],"times":1},{"cuts":[[5,1],[4,1],[3,1]],"times":1}],"value":2,"bound":2,"proved":true}`
	write(t, out, "small", good)
	if err := checkDowels(dir, out); err != nil {
		t.Fatal(err)
	}
	for _, c := range [][3]string{
		{`[6,1],[3,2]`, `[6,1],[3,3]`, "pattern 1: its pieces are longer"},
		{`[6,1],[3,2]`, `[6,1],[3,1]`, "length 3: 1 too few"},
		{`[5,1],[4,1],[3,1]`, `[5,1],[4,1]`, "length 3: 1 too few"},
		{`[4,1]`, `[2,1]`, "pattern 2: no piece has the length 2"},
		{`[4,1]`, `[4,-1]`, "pattern 2: -1 pieces"},
		{`"times":1}]`, `"times":2}]`, "too many"},
		{`"times":1}]`, `"times":0}]`, "pattern 2"},
		{`"value":2`, `"value":3`, "the value is 2, not 3"},
		{`"bound":2`, `"bound":3`, "bound"},
		{`"bound":2`, `"bound":1`, "proved"},
		{`"small"`, `"large"`, "instance"},
		{`{"instance"`, `"instance"`, "small.json"},
	} {
		bad := strings.Replace(good, c[0], c[1], 1)
		if bad == good {
			t.Fatalf("%s is not there", c[0])
		}
		write(t, out, "small", bad)
		err := checkDowels(dir, out)
		if err == nil || !strings.Contains(err.Error(), c[2]) || !strings.Contains(err.Error(), "small.json") {
			t.Errorf("%s for %s: %v", c[1], c[0], err)
		}
	}
}

func TestUsage(t *testing.T) {
	dir := t.TempDir()
	for _, args := range [][]string{{}, {"planks"}, {"check"}, {"check", "planks", dir, dir}, {"dowels"}, {"dowels", dir},
		{"dowels", dir, "-o", dir}, {"dowels", dir, "--seconds", "0", "-o", dir}, {"dowels", dir, "-o", dir, "more"}} {
		if run(args) == nil {
			t.Errorf("%v is taken", args)
		}
	}
}

// No file makes the reader fall over, and what it takes is a problem that is valid.
func FuzzReadDowels(f *testing.F) {
	f.Add([]byte(small))
	f.Add([]byte(`{"stock_length": 1e3, "items_size_demand": [[1]]}`))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, text []byte) {
		write(t, dir, "x", string(text))
		p, err := readDowels(dir, "x")
		if err == nil && p.Validate() != nil {
			t.Errorf("%s is taken: %v", text, p.Validate())
		}
		var r dowelResult
		if json.Unmarshal(text, &r) == nil && err == nil {
			_ = r.check("x", p)
		}
	})
}
