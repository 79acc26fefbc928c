package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"sort"
	"strings"
	"testing"
)

var contracts = filepath.Join("..", "..", "docs", "contracts.md")

// shapeOf reads the JSON block below a heading of docs/contracts.md: the shape
// that programs may rely on.
func shapeOf(t *testing.T, heading string) any {
	t.Helper()
	text, err := os.ReadFile(contracts)
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(text), "\n## "+heading+"\n")
	_, rest, ok2 := strings.Cut(rest, "```json\n")
	block, _, ok3 := strings.Cut(rest, "```")
	if !ok || !ok2 || !ok3 {
		t.Fatalf("%s has no JSON under %s", contracts, heading)
	}
	return decoded(t, block)
}

func decoded(t *testing.T, text string) any {
	t.Helper()
	var v any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		t.Fatalf("%v in %.200s", err, text)
	}
	return v
}

// sameShape compares keys and kinds: a list has the shape of its first element,
// but a list of numbers its length too, unless it numbers tasks or lines. A number may be null.
func sameShape(t *testing.T, path string, want, got any) {
	t.Helper()
	switch w := want.(type) {
	case map[string]any:
		g, ok := got.(map[string]any)
		if !ok {
			t.Errorf("%s is %T, want an object", path, got)
			return
		}
		if a, b := keys(w), keys(g); !slices.Equal(a, b) {
			t.Errorf("%s has the keys %v, want %v", path, b, a)
		}
		for k := range w {
			if v, ok := g[k]; ok {
				sameShape(t, path+"."+k, w[k], v)
			}
		}
	case []any:
		g, ok := got.([]any)
		if !ok {
			t.Errorf("%s is %T, want a list", path, got)
			return
		}
		if _, numbers := w[0].(float64); numbers && len(g) != len(w) && !strings.HasSuffix(path, ".after") && !strings.HasSuffix(path, ".lines") {
			t.Errorf("%s has %d numbers, want %d", path, len(g), len(w))
		}
		for _, v := range g {
			sameShape(t, path+"[]", w[0], v)
		}
	case float64:
		nullable := slices.Contains([]string{"value", "limit", "margin", "margin_was", "margin_now"}, path[strings.LastIndexByte(path, '.')+1:])
		if _, ok := got.(float64); !ok && (got != nil || !nullable) {
			t.Errorf("%s is %v, want a number", path, got)
		}
	default:
		if reflect.TypeOf(want) != reflect.TypeOf(got) {
			t.Errorf("%s is %T, want %T", path, got, want)
		}
	}
}

func keys(m map[string]any) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// reportOf is the part of a proof that is looked into further.
type reportOf struct {
	Format   int
	Toy      string
	Verdict  string
	Pieces   int
	Mass     float64 `json:"mass_kg"`
	Findings []struct {
		ID, Check, About, Verdict, Unit, Says string
		Op                                    string `json:"limit_op"`
		Source                                string `json:"limit_source"`
		Margin                                *float64
		Places                                []struct {
			Piece     string
			Line, Col int
		}
	}
	NotAsked []struct{ Check, Why string } `json:"not_asked"`
}

// prove --json prints exactly what docs/contracts.md shows, for good toys and for
// broken ones, and the exit code is that of its table.
func TestProofJSON(t *testing.T) {
	shape := shapeOf(t, "Findings")
	units := []string{"mm", "mm2", "degree", "kg", ""} // none: yes is 1 and no is 0
	verdicts := []string{"holds", "waived", "mind", "cannot tell", "fails"}
	seen := map[string]bool{}
	tram := globs(t, "quay-tram.yaml")[0]
	cases := [][]string{{tram, "--set", "running=3/16"}, {tram, "--set", "running=0", "--set", "board=18 mm"}}
	for _, name := range globs(t, "*.yaml", "broken/*.yaml", "plain/*.yaml") {
		cases = append(cases, []string{name})
	}
	for _, args := range cases {
		name := args[0]
		t.Run(strings.Join(args, " "), func(t *testing.T) {
			code, out, errs := invoke(append([]string{"prove", "--json"}, args...)...)
			if errs != "" || code != exitOK && code != exitFails {
				t.Fatalf("exit code %d, %q", code, errs)
			}
			sameShape(t, "proof", shape, decoded(t, out))
			var r reportOf
			if err := json.Unmarshal([]byte(out), &r); err != nil {
				t.Fatal(err)
			}
			if r.Format != 1 || r.Toy == "" || r.Pieces < 1 || r.Mass <= 0 || len(r.Findings) == 0 {
				t.Errorf("format %d, toy %q, %d pieces, %g kg, %d findings", r.Format, r.Toy, r.Pieces, r.Mass, len(r.Findings))
			}
			text := strings.Split(read(t, name), "\n")
			worst, ids := "holds", map[string]bool{}
			for _, f := range r.Findings {
				seen[f.Verdict] = true
				if !slices.Contains(verdicts, f.Verdict) {
					t.Errorf("%s: verdict %q", f.ID, f.Verdict)
				}
				if f.ID != f.Check+":"+f.About || ids[f.ID] {
					t.Errorf("id %q of check %q about %q, or twice", f.ID, f.Check, f.About)
				}
				ids[f.ID] = true
				if f.Says == "" || f.Source == "" || !slices.Contains(units, f.Unit) || f.Op != ">=" && f.Op != "<=" {
					t.Errorf("%s: says %q, source %q, unit %q, %q", f.ID, f.Says, f.Source, f.Unit, f.Op)
				}
				if f.Margin != nil && (f.Verdict == "holds" && *f.Margin < 0 || f.Verdict == "fails" && *f.Margin >= 0) {
					t.Errorf("%s %s with margin %g", f.ID, f.Verdict, *f.Margin)
				}
				for _, p := range f.Places {
					if p.Piece == "" || p.Line < 1 || p.Line > len(text) || p.Col < 1 || p.Col > len([]rune(text[p.Line-1])) {
						t.Errorf("%s: %s at %d:%d is not in the file", f.ID, p.Piece, p.Line, p.Col)
					}
				}
				if f.Verdict != "waived" && slices.Index(verdicts, f.Verdict) > slices.Index(verdicts, worst) {
					worst = f.Verdict
				}
			}
			if (code == exitFails) != (worst == "fails") {
				t.Errorf("exit code %d, and the worst is %q", code, worst)
			}
			if worst == "fails" != (r.Verdict == "fails") {
				t.Errorf("verdict %q, and the worst is %q", r.Verdict, worst)
			}
			for _, n := range r.NotAsked {
				if n.Check == "" || n.Why == "" {
					t.Errorf("not asked: %q, because %q", n.Check, n.Why)
				}
			}
		})
	}
	for _, v := range []string{"holds", "mind", "fails"} {
		if !seen[v] {
			t.Errorf("no toy here has a finding that is %q: the test is too narrow", v)
		}
	}
}

// With --mends what fails has a list of mends, and solve --json prints the shape that
// docs/contracts.md shows, whether there is a mend or not.
func TestMendsJSON(t *testing.T) {
	shape := shapeOf(t, "Mends")
	for _, name := range globs(t, "broken/fit.dowel-running-too-tight.yaml", "broken/fit.reach-wheels-come-off.yaml", "broken/fit.contact-beside.yaml", "quay-tram.yaml") {
		check, _, _ := strings.Cut(filepath.Base(name), "-")
		want := exitFails
		if check == "fit.dowel" || check == "quay" {
			want = exitOK
		}
		if check == "quay" {
			check = "balance"
		}
		code, out, errs := invoke("solve", name, "--check", check, "--json")
		if code != want || errs != "" {
			t.Errorf("%s: exit code %d, %q", name, code, errs)
		}
		sameShape(t, "solution", shape, decoded(t, out))
		code, out, errs = invoke("prove", name, "--mends", "--json")
		if code != exitOK && code != exitFails || errs != "" {
			t.Errorf("%s: exit code %d, %q", name, code, errs)
		}
		for _, f := range decoded(t, out).(map[string]any)["findings"].([]any) {
			f := f.(map[string]any)
			if mends, ok := f["mend"].([]any); ok != (f["verdict"] == "fails") || ok && len(mends) > 0 != (check == "fit.dowel") {
				t.Errorf("%s: %s %v has mends %v", name, f["verdict"], f["id"], f["mend"])
			} else {
				for _, m := range mends {
					sameShape(t, "mend", shape.(map[string]any)["mend"].([]any)[0], m)
				}
			}
		}
	}
}

// adapt --json prints the shape that docs/contracts.md shows, and the text that -o writes.
func TestAdaptJSON(t *testing.T) {
	shape := shapeOf(t, "Adapting")
	for _, c := range []struct {
		name, scale string
		code        int
	}{{"plain/wheel-wells.yaml", "1.5", exitFails}, {"quay-tram.yaml", "1.5", exitOK}, {"plain/svg-path.yaml", "1", exitOK}} {
		out := filepath.Join(t.TempDir(), "new.yaml")
		code, got, _ := invoke("adapt", globs(t, c.name)[0], "--scale", c.scale, "--json", "-o", out)
		if code != c.code {
			t.Errorf("%s: exit code %d, want %d", c.name, code, c.code)
		}
		v := decoded(t, got)
		sameShape(t, "adapted", shape, v)
		if v.(map[string]any)["text"] != read(t, out) {
			t.Errorf("%s: the text is another than the file", c.name)
		}
	}
}

// The keys of a problem, as docs/contracts.md lists them.
func TestProblemJSON(t *testing.T) {
	m := regexp.MustCompile("(?s)\n## Problems\n`\\{([^}]*)\\}`").FindStringSubmatch(read(t, contracts))
	if m == nil {
		t.Fatalf("%s does not list the keys of a problem", contracts)
	}
	allowed := strings.Split(strings.ReplaceAll(m[1], " ", ""), ",")
	used := map[string]bool{}
	for _, name := range globs(t, "problems/*.yaml") {
		code, out, errs := invoke("prove", name, "--json")
		if code != exitInput || errs != "" {
			t.Errorf("%s: exit code %d, %q", name, code, errs)
			continue
		}
		var got struct {
			Format   int
			Problems []map[string]any
		}
		if err := json.Unmarshal([]byte(out), &got); err != nil || got.Format != 1 || len(got.Problems) == 0 {
			t.Errorf("%s: %v, format %d, %d problems", name, err, got.Format, len(got.Problems))
		}
		for _, p := range got.Problems {
			for k, v := range p {
				used[k] = true
				if !slices.Contains(allowed, k) {
					t.Errorf("%s: the contract knows no key %s", name, k)
				}
				if n, number := v.(float64); (k == "line" || k == "col") != number || number && n < 1 {
					t.Errorf("%s: %s is %v", name, k, v)
				}
			}
			for _, k := range []string{"code", "says", "file", "line", "col"} {
				if _, ok := p[k]; !ok {
					t.Errorf("%s: a problem without %s", name, k)
				}
			}
			if p["file"] != name {
				t.Errorf("%s: the problem names the file %v", name, p["file"])
			}
		}
	}
	for _, k := range allowed {
		if !used[k] {
			t.Errorf("no problem has the key %s: the test is too narrow", k)
		}
	}
}

// plan --json prints the shape that docs/contracts.md shows.
func TestPlanJSON(t *testing.T) {
	shape := shapeOf(t, "Plans")
	tram, wagon := globs(t, "quay-tram.yaml")[0], globs(t, "tipping-wagon.yaml")[0]
	for _, args := range [][]string{{tram}, {tram, wagon, "--count", "3", "--hands", "adult,child=6", "--session", "2h"}} {
		code, out, errs := invoke(append([]string{"plan", "--json", "--shop", "none"}, args...)...)
		if code != exitOK || errs != "" {
			t.Fatalf("exit code %d, %q", code, errs)
		}
		sameShape(t, "plan", shape, decoded(t, out))
	}
}

// Each faulty file is refused by every command that reads a toy: exit code 2,
// nothing on standard output, each message with file, line and column, and no
// output file.
func TestProblemsOnTheTerminal(t *testing.T) {
	for _, name := range globs(t, "problems/*.yaml") {
		t.Run(filepath.Base(name), func(t *testing.T) {
			at := regexp.MustCompile(`(?m)^` + regexp.QuoteMeta(name) + `:[1-9]\d*:[1-9]\d*: \S`)
			dir := t.TempDir()
			for _, args := range [][]string{{"prove"}, {"stock"}, {"stock", "--csv"}, {"plan", "--shop", "none"}, {"patterns", "-o", filepath.Join(dir, "p.pdf")}, {"picture", "-o", filepath.Join(dir, "p.svg")}} {
				code, out, errs := invoke(append(args, name)...)
				if code != exitInput || out != "" || !at.MatchString(errs) {
					t.Errorf("%v: exit code %d, %q, %q", args, code, out, errs)
				}
				for _, line := range strings.Split(errs, "\n") {
					if line != "" && !strings.HasPrefix(line, "    ") && !at.MatchString(line) {
						t.Errorf("%v: a message without its place: %s", args, line)
					}
				}
			}
			if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
				t.Errorf("left behind: %v, %v", left, err)
			}
		})
	}
}

func globs(t *testing.T, patterns ...string) (out []string) {
	t.Helper()
	for _, p := range patterns {
		names, err := filepath.Glob(filepath.Join("..", "..", "examples", p))
		if err != nil || len(names) == 0 {
			t.Fatalf("no toys match %s: %v", p, err)
		}
		out = append(out, names...)
	}
	return out
}

func read(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
