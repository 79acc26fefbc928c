package app

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"dryfit/assembly"
	"dryfit/exchange"
	"dryfit/geom/r3"
)

type example struct {
	name string
	toy  *Toy
	m    *assembly.Model
}

// examples are both toys and the shelf of plain ones, made once.
var examples = sync.OnceValue(func() (out []example) {
	names, _ := filepath.Glob("../examples/*.yaml")
	plain, _ := filepath.Glob("../examples/plain/*.yaml")
	for _, name := range append(names, plain...) {
		text, err := os.ReadFile(name)
		if err != nil {
			panic(err)
		}
		toy, probs := Open(name, string(text), nil, nil)
		if len(probs) > 0 {
			panic(probs)
		}
		m, probs := toy.Model()
		if len(probs) > 0 {
			panic(probs)
		}
		out = append(out, example{strings.TrimSuffix(filepath.Base(name), ".yaml"), toy, m})
	}
	return out
})

func exported(t *testing.T, each func(t *testing.T, toy *Toy, m *assembly.Model)) {
	t.Helper()
	if n := len(examples()); n < 20 {
		t.Fatalf("only %d examples", n)
	}
	for _, e := range examples() {
		t.Run(e.name, func(t *testing.T) { each(t, e.toy, e.m) })
	}
}

// written exports a toy into a folder and returns the names of the files.
func written(t *testing.T, dir string, toy *Toy, format string) (files []string) {
	t.Helper()
	made, err := toy.Export(format)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		t.Fatal(err)
	}
	for _, f := range made {
		name := filepath.Join(dir, f.Name)
		if slices.Contains(files, name) {
			t.Fatalf("%s is written twice", f.Name)
		}
		if err := os.WriteFile(name, f.Bytes, 0o644); err != nil {
			t.Fatal(err)
		}
		files = append(files, name)
	}
	return files
}

// Parts whose names differ in signs that a file name has not, or in the case of letters,
// are still written to files of their own.
func TestExportOwnNames(t *testing.T) {
	const text = `dryfit: 1
toy: Names
units: mm
stock: {b: {wood: beech, form: board, thick: 20}, d: {wood: beech, form: dowel, dia: 8}}
parts:
  block: {from: b, blank: [40, 40]}
  Block: {from: b, blank: [50, 40]}
  block-face: {from: b, blank: [60, 40]}
build:
  - put: block
  - {put: Block, sits: {bottom: block.top, back: block.back, left: block.left}, glued: yes}
  - {put: block-face, sits: {bottom: Block.top, back: block.back, left: block.left}, glued: yes}
`
	toy, probs := Open("names.yaml", text, nil, nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	for _, format := range []string{"svg", "dxf", "stl"} {
		made, err := toy.Export(format)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]bool{}
		for _, m := range made {
			if l := strings.ToLower(m.Name); seen[l] {
				t.Errorf("%s is written twice", m.Name)
			} else {
				seen[l] = true
			}
		}
		if len(made) != 3 {
			t.Errorf("%s: %d files", format, len(made))
		}
	}
	o := ownNames{}
	for _, c := range [][2]string{{"toy-peg-2", "toy-peg-2"}, {"toy-peg-2", "toy-peg-2-2"}, {"toy-peg-2-2", "toy-peg-2-2-2"}, {"Toy-Peg-2", "Toy-Peg-2-3"}} {
		if got := o.own(c[0]); got != c[1] {
			t.Errorf("%s: %s, want %s", c[0], got, c[1])
		}
	}
}

// outside runs a reader that is not ours.
func outside(t *testing.T, program string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		t.Fatalf("%s is missing: run make tools", program)
	}
	var errs bytes.Buffer
	cmd := exec.Command(path, args...)
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s%s", program, err, out, errs.String())
	}
	return string(out)
}

// answers reads one line of JSON for each file.
func answers[T any](t *testing.T, out string, files []string) []T {
	t.Helper()
	var list []T
	lines := bufio.NewScanner(strings.NewReader(out))
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var a T
		if err := json.Unmarshal(lines.Bytes(), &a); err != nil {
			t.Fatalf("%v in %s", err, lines.Text())
		}
		list = append(list, a)
	}
	if len(list) != len(files) {
		t.Fatalf("%d answers for %d files", len(list), len(files))
	}
	return list
}

// Solids as STL are closed by the judgement of admesh, which finds nothing to mend; their
// volume is that of the model.
func TestExportSTL(t *testing.T) {
	exported(t, func(t *testing.T, toy *Toy, m *assembly.Model) {
		files, volume := written(t, t.TempDir(), toy, "stl"), volumes(m)
		if len(files) != len(volume) {
			t.Fatalf("%d files of %d solids", len(files), len(volume))
		}
		for _, file := range files {
			out := outside(t, "admesh", file)
			for _, what := range []string{"Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges", "Normals fixed"} {
				n := regexp.MustCompile(regexp.QuoteMeta(what) + `\s*:\s*(\d+)`).FindStringSubmatch(out)
				if n == nil {
					t.Fatalf("admesh says nothing of %q:\n%s", what, out)
				}
				if n[1] != "0" {
					t.Errorf("%s: %s %s", filepath.Base(file), what, n[1])
				}
			}
			name := regexp.MustCompile(`Header\s*: binary STL, mm: (\S+)`).FindStringSubmatch(out)
			want := volume[name[1]]
			says := regexp.MustCompile(`Volume\s*:\s*([-\d.]+)`).FindStringSubmatch(out)
			if v, err := strconv.ParseFloat(says[1], 64); err != nil || !(math.Abs(v-want) <= 1e-4*want) {
				t.Errorf("%s: admesh finds %s mm³, the model has %g", filepath.Base(file), says[1], want)
			}
			if v := volumeOfSTL(t, file); want == 0 || math.Abs(v-want) > 2e-6*want {
				t.Errorf("%s: %.9g mm³, the model has %.9g", filepath.Base(file), v, want)
			}
		}
	})
}

// volumes are those of the pieces, by the names of their shapes.
func volumes(m *assembly.Model) map[string]float64 {
	all, items := solids(m)
	out := map[string]float64{}
	for i, it := range items {
		out[all[it.Solid].Name] = m.Pieces[i].Made.Moments().Volume
	}
	return out
}

// volumeOfSTL sums the wedges of the triangles from the origin, in double precision.
func volumeOfSTL(t *testing.T, file string) (v float64) {
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	n := int(binary.LittleEndian.Uint32(b[80:]))
	if len(b) != 84+50*n {
		t.Fatalf("%d triangles in %d bytes", n, len(b))
	}
	at := func(k int) r3.Vec {
		f := func(i int) float64 { return float64(math.Float32frombits(binary.LittleEndian.Uint32(b[k+4*i:]))) }
		return r3.Vec{X: f(0), Y: f(1), Z: f(2)}
	}
	for i := range n {
		k := 84 + 50*i
		v += at(k+12).Cross(at(k+24)).Dot(at(k+36)) / 6
	}
	return v
}

type dxfLine struct {
	Layer, Kind string
	Area        float64
	Arcs        int
}

// Outlines as DXF: a general-purpose library finds no error in them and reads the same
// lines, arcs as arcs, with the areas that the outlines have.
func TestExportDXF(t *testing.T) {
	var files []string
	var want []exchange.Sheet
	exported(t, func(t *testing.T, toy *Toy, m *assembly.Model) {
		sheets, err := sheets(m)
		if err != nil {
			t.Fatal(err)
		}
		want = append(want, sheets...)
	})
	dir := t.TempDir()
	for _, e := range examples() {
		files = append(files, written(t, filepath.Join(dir, e.name), e.toy, "dxf")...)
	}
	arcs := 0
	for i, a := range answers[struct {
		Errors  []string
		Version string
		Units   int
		Layers  []string
		Box     [4]float64
		Lines   []dxfLine
	}](t, outside(t, "/usr/bin/python3", append([]string{"testdata/dxf.py"}, files...)...), files) {
		name, s := filepath.Base(files[i]), want[i]
		if len(a.Errors) > 0 || a.Version != "AC1015" || a.Units != 4 {
			t.Errorf("%s: errors %q, version %s, units %d", name, a.Errors, a.Version, a.Units)
		}
		if len(a.Lines) != len(s.Lines) {
			t.Fatalf("%s: %d lines, want %d", name, len(a.Lines), len(s.Lines))
		}
		for k, l := range s.Lines {
			want := dxfLine{Layer: l.Layer, Kind: "lwpolyline", Area: math.Abs(l.Path.Area())}
			for _, s := range l.Path.Segs {
				if s.Round() {
					want.Arcs++
				}
			}
			if len(l.Path.Segs) == 1 {
				want.Kind = "circle"
			}
			got := a.Lines[k]
			arcs += got.Arcs
			near := math.Abs(got.Area-want.Area) <= 1e-6*want.Area
			if got.Area = want.Area; got != want || !near {
				t.Errorf("%s, line %d: %+v, want %+v", name, k, a.Lines[k], want)
			}
			if !slices.Contains(a.Layers, l.Layer) {
				t.Errorf("%s has no layer %s", name, l.Layer)
			}
		}
	}
	if arcs < 100 {
		t.Errorf("only %d arcs in all examples", arcs)
	}
}
