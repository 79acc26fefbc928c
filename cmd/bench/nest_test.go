package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Layouts are written, pass the check, and no longer do once something is moved.
func TestLayouts(t *testing.T) {
	const items = `"items": [{"id": 7, "demand": 3, "rotations_deg": [0, 90], "polygon": [[0,0],[4,0],[4,2],[0,2]]}, {"id": 9, "demand": 1, "rotations_deg": [0], "polygon": [[0,0],[3,0],[0,3]]}]}`
	for kind, text := range map[string]string{"nest": `{"strip_height": 6, ` + items, "bins": `{"board_width": 6, "board_height": 5, ` + items} {
		dir, out := t.TempDir(), t.TempDir()
		write := func(path, text string) {
			if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		write(filepath.Join(dir, "few.json"), text)
		write(filepath.Join(dir, "notes.json"), `{"best": 1}`)
		if err := run([]string{kind, dir, "--seconds", "0.2", "-o", out}); err != nil {
			t.Fatal(err)
		}
		check := func() error { return run([]string{"check", kind, dir, out}) }
		if err := check(); err != nil {
			t.Errorf("%s: %v", kind, err)
		}
		path := filepath.Join(out, "few.json")
		good, _ := os.ReadFile(path)
		for from, to := range map[string]string{`"item":7`: `"item":9`, `"r":`: `"r":45,"was":`, `"value":`: `"value":1e-3,"was":`, `"x":`: `"x":-1,"was":`} {
			bad := strings.Replace(string(good), from, to, 1)
			if bad == string(good) {
				t.Fatalf("%s: nothing to change %s in %s", kind, from, good)
			}
			write(path, bad)
			if err := check(); err == nil {
				t.Errorf("%s: %s for %s was not refused", kind, to, from)
			}
		}
	}
}
