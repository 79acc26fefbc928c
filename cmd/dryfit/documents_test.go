package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// pages are the documents whose command lines must work.
var pages = []string{"README.md", "ARCHITECTURE.md", "CHANGELOG.md", "CONTRIBUTING.md", "docs/toy-file.md", "docs/adapting.md", "docs/reference.md", "docs/checks.md", "docs/contracts.md", "docs/measures.md"}

var (
	fence     = regexp.MustCompile("(?ms)^```(\\w*)\n(.*?)^```$")
	inline    = regexp.MustCompile("`([^`\n]+)`")
	wholeToy  = regexp.MustCompile(`(?m)\Adryfit: 1\ntoy: (.*)$`)
	someWords = strings.NewReplacer("FILE...", "examples/quay-tram.yaml", "NAME", "'Test boat'", "FILE", "examples/quay-tram.yaml", "CHECK", "fit.reach", "DRAWING", "drawing.svg")
)

// split is the words of a command line as a shell takes them: quotes kept whole.
func split(t *testing.T, line string) (words []string) {
	t.Helper()
	word, open, quote := "", false, rune(0)
	for _, c := range line {
		switch {
		case quote != 0 && c == quote:
			quote = 0
		case quote != 0:
			word += string(c)
		case c == '"' || c == '\'':
			quote, open = c, true
		case c == ' ':
			if open {
				words = append(words, word)
			}
			word, open = "", false
		case strings.ContainsRune("$*?[]{}|&;<>()\\`", c):
			t.Errorf("%s: a shell would not take %q as it stands", line, c)
			return nil
		default:
			word, open = word+string(c), true
		}
	}
	if quote != 0 {
		t.Errorf("%s: a quote is never closed", line)
	}
	if open {
		words = append(words, word)
	}
	return words
}

// Every command line that a document shows is run, beside the examples and with
// the toys that the page itself describes; every option named is one of help's;
// every make target exists.
func TestDocuments(t *testing.T) {
	root, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	help := read(t, filepath.Join("testdata", "help.golden"))
	makefile := read(t, filepath.Join(root, "Makefile"))
	ran := 0
	for _, page := range pages {
		text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(page)))
		if os.IsNotExist(err) {
			continue
		}
		t.Run(page, func(t *testing.T) {
			atExamples(t, root)
			var lines []string
			for _, f := range fence.FindAllStringSubmatch(string(text), -1) {
				if m := wholeToy.FindStringSubmatch(f[2]); f[1] == "yaml" && m != nil {
					words := strings.Fields(strings.ToLower(m[1]))
					name := words[len(words)-1] + ".yaml"
					if _, err := os.Stat(name); err != nil { // the first of a name is the page's toy
						if err := os.WriteFile(name, []byte(f[2]), 0o644); err != nil {
							t.Fatal(err)
						}
					}
				}
				if f[1] == "sh" || f[1] == "text" && strings.HasPrefix(f[2], "$ ") {
					for _, line := range strings.Split(f[2], "\n") {
						line, _, _ = strings.Cut(line, "  #")
						if line = strings.TrimSpace(strings.TrimPrefix(line, "$ ")); f[1] == "sh" && line != "" {
							lines = append(lines, line)
						}
					}
				}
				if f[1] == "text" {
					compareSample(t, f[2])
				}
			}
			outside := fence.ReplaceAllString(string(text), "")
			for _, m := range inline.FindAllStringSubmatch(outside, -1) {
				switch code := m[1]; {
				case regexp.MustCompile(`^dryfit [a-z]`).MatchString(code), strings.HasPrefix(code, "make "):
					lines = append(lines, code)
				case strings.HasPrefix(code, "--"):
					option, _, _ := strings.Cut(strings.Fields(code)[0], "=")
					if !strings.Contains(help, " "+option) {
						t.Errorf("%s names %s, which is no option", page, code)
					}
				}
			}
			for _, line := range lines {
				words := split(t, someWords.Replace(line))
				switch {
				case len(words) < 2:
				case words[0] == "make":
					if !strings.Contains(makefile, "\n"+words[1]+":") {
						t.Errorf("%s: the Makefile has no such target", line)
					}
				case words[0] != "dryfit":
					t.Errorf("%s: not tried: neither dryfit nor make", line)
				case len(words) == 2 && !slices.Contains([]string{"schema", "version"}, words[1]):
					if !slices.Contains(commands(), words[1]) {
						t.Errorf("%s: there is no such command", line)
					}
				case words[1] == "open": // it serves until it is stopped: the tests of the app run it
				default:
					ran++
					code, out, errs := invoke(words[1:]...)
					proof := words[1] == "prove" && slices.Contains(words, "--set") // may fail what it tries
					if code != exitOK && !(proof && code == exitFails) || errs != "" || out == "" {
						t.Errorf("%s: exit code %d, %q", line, code, errs)
					}
				}
			}
		})
	}
	if ran < 9 {
		t.Errorf("only %d command lines were run", ran)
	}
}

// atExamples makes a new folder with the examples the working folder.
func atExamples(t *testing.T, root string) {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(filepath.Join(dir, "examples"), os.DirFS(filepath.Join(root, "examples"))); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	const drawing = `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="30mm" viewBox="0 0 60 30"><path d="M0 0h60v20a10 10 0 0 1-10 10H0z"/></svg>`
	if err := os.WriteFile("drawing.svg", []byte(drawing), 0o644); err != nil {
		t.Fatal(err)
	}
}

// compareSample wants what a page shows below "$ dryfit …" to be printed so, line
// by line; a page may show a part of it.
func compareSample(t *testing.T, sample string) {
	t.Helper()
	command, shown, ok := strings.Cut(sample, "\n")
	if !ok || !strings.HasPrefix(command, "$ dryfit ") {
		return
	}
	_, out, errs := invoke(split(t, strings.TrimPrefix(command, "$ "))[1:]...)
	if shown = strings.Trim(shown, "\n") + "\n"; len(shown) < 20 || !strings.Contains(out+errs, shown) {
		t.Errorf("%s does not print what the page shows:\n%s\nbut:\n%.900s", command, shown, out+errs)
	}
}

// make demo does the main job: its lines are run as they stand in the Makefile.
func TestDemo(t *testing.T) {
	root, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	_, recipe, ok := strings.Cut(read(t, filepath.Join(root, "Makefile")), "\ndemo: build\n")
	if !ok {
		t.Fatal("the Makefile has no demo that builds first")
	}
	recipe, _, _ = strings.Cut(recipe, "\n\n")
	atExamples(t, root)
	if err := os.Mkdir("out", 0o755); err != nil {
		t.Fatal(err)
	}
	ran := map[string]bool{}
	for _, line := range strings.Split(strings.ReplaceAll(recipe, "$(OUT)", "out"), "\n") {
		line, ok := strings.CutPrefix(line, "\t$(BIN) ")
		if !ok {
			continue
		}
		line, _, _ = strings.Cut(line, " > ")
		words := split(t, line)
		if code, out, errs := invoke(words...); code != exitOK || errs != "" || out == "" {
			t.Errorf("%s: exit code %d, %q", line, code, errs)
		}
		ran[words[0]] = true
	}
	for _, c := range []string{"prove", "stock", "patterns", "picture", "pack", "guide"} {
		if !ran[c] {
			t.Errorf("the demo does not show %s", c)
		}
	}
}
