package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A name that a new toy can have is kept to the letter, and the toy proves; any
// other is refused before a file is made.
func TestNamesOfNewToys(t *testing.T) {
	for name, file := range map[string]string{
		"Wee car":               "wee-car.yaml",
		"  Wee \t car\n":        "wee-car.yaml",
		"Étoile":                "étoile.yaml",
		"日本":                    "日本.yaml",
		"Tom & Co. (no. 3)":     "tom-co-no-3.yaml",
		"a/b":                   "a-b.yaml",
		"../up":                 "up.yaml",
		`C:\toys`:               "c-toys.yaml",
		"yes":                   "yes.yaml",
		"1.50":                  "1-50.yaml",
		"0x1F":                  "0x1f.yaml",
		"frame":                 "frame.yaml",
		strings.Repeat("x", 60): strings.Repeat("x", 60) + ".yaml",

		"": "", " ": "", "…": "", ".": "", "~": "", "null": "", // nothing, or nothing to call a file by
		"a: b": "", "a #b": "", `"a`: "", "'a'": "", "[a]": "", "{a: b}": "", "&a": "", "*a": "", "!a": "", "|a": "", ">a": "", "%a": "", "@a": "", "`a`": "", "?a": "", // YAML reads these otherwise
		"a\x01b": "", "a\x1b[31mb": "", "a\xffb": "", "a\u202eb": "", "a\u200bb": "", // what cannot be seen
		strings.Repeat("x", 61): "", strings.Repeat("é", 61): "",
	} {
		for _, units := range []string{"inch", "mm"} {
			t.Run(name+" "+units, func(t *testing.T) {
				t.Chdir(t.TempDir())
				code, out, errs := invoke("new", name, "--units", units)
				left, err := os.ReadDir(".")
				if err != nil {
					t.Fatal(err)
				}
				if file == "" {
					if code != exitInput || out != "" || len(left) > 0 || !strings.HasPrefix(errs, "dryfit: ") || strings.Contains(errs, "\x1b") {
						t.Errorf("exit code %d, %q, %q, files %v", code, out, errs, left)
					}
					return
				}
				if code != exitOK || errs != "" || len(left) != 1 || left[0].Name() != file {
					t.Fatalf("exit code %d, %q, files %v, want %s", code, errs, left, file)
				}
				code, out, errs = invoke("prove", file)
				if want := strings.Join(strings.Fields(name), " ") + ": 8 pieces, "; code != exitOK || errs != "" || !strings.HasPrefix(out, want) {
					t.Errorf("exit code %d, %q, %.60q, want %q", code, errs, out, want)
				}
			})
		}
	}
}

// Two that make a file of one name at the same time: the second finds it there
// only when it comes to write, and writes nothing.
func TestNewFileIsNeverReplaced(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "toy.yaml")
	if err := writeFile(path, []byte("first"), false); err != nil {
		t.Fatal(err)
	}
	if err := writeFile(path, []byte("second"), false); err == nil || !strings.Contains(err.Error(), "there is already a file of that name") {
		t.Errorf("got %v", err)
	}
	if read(t, path) != "first" {
		t.Error("the first file is lost")
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) != 1 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}
