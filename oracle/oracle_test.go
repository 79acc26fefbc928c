package oracle

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"dryfit/geom/r3"
)

var (
	full  = flag.Bool("full", false, "200 random parts, times, and write table.md")
	parts = flag.Int("parts", 40, "how many random parts, without -full")
	seed  = flag.Int64("seed", 1, "of the first random part, without -full")
)

// The bar: what two answers in double precision on the same polygons may differ by.
const (
	relative = 1e-6
	absolute = 1e-6 // mm or mm³
)

// toys are the files that are compared besides the random parts.
var toys = []string{"../examples/quay-tram.yaml", "../examples/tipping-wagon.yaml", "testdata/glued.yaml",
	"../examples/plain/left-and-right.yaml", "../examples/plain/pair-of-ducks.yaml"}

// answer is what oracle.mjs prints.
type answer struct {
	Toys [][]struct {
		Volume float64    `json:"volume"`
		Centre [3]float64 `json:"centre"`
	} `json:"toys"`
	Pairs []struct {
		Overlap   float64 `json:"overlap"`
		Gap       float64 `json:"gap"`
		OverlapMS float64 `json:"overlap_ms"`
		GapMS     float64 `json:"gap_ms"`
	} `json:"pairs"`
}

// TestAgainstOracle compares every piece of the example toys and random parts,
// pairs of pieces near each other, and random pairs of random parts, with what
// manifold-3d makes of the same files.
func TestAgainstOracle(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatal("node is missing: install Node 20 or later, with which the geometry is checked against a second reading")
	}
	for _, name := range []string{"node_modules/manifold-3d/manifold.js", "node_modules/yaml/package.json"} {
		if _, err := os.Stat(name); err != nil {
			t.Fatalf("oracle/%s is missing: run `npm ci --omit=optional --ignore-scripts` in oracle/ (needs Node 20 or later)", name)
		}
	}
	var q Request
	if *full {
		q.Times = 3
	}
	for _, name := range toys {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if probs := q.Read(strings.TrimSuffix(filepath.Base(name), ".yaml"), string(text)); len(probs) > 0 {
			t.Fatal(probs)
		}
	}
	if *full {
		*parts, *seed = 200, 1
	}
	refused := q.random(t, *parts, *seed)
	got := ask(t, node, &q)
	rows := compare(t, &q, got)
	worst := 0.0
	for _, r := range rows {
		worst = math.Max(worst, r.share())
		if r.share() > 1 {
			t.Errorf("%s of %s: engine %.12g, manifold %.12g, %.3g times what is allowed", r.what, r.of, r.ours, r.theirs, r.share())
			if r.toy >= len(toys) {
				t.Log(q.Toys[r.toy].Text)
			}
		}
	}
	t.Logf("%d values, worst %.3g of the bar; %d random parts refused by the engine", len(rows), worst, refused)
	if *full && !t.Failed() {
		if err := os.WriteFile("table.md", table(&q, got, rows, refused), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// random adds so many random parts, and as many pairs of them.
func (q *Request) random(t *testing.T, n int, seed int64) (refused int) {
	first := len(q.Toys)
	g := rand.New(rand.NewSource(seed))
	for ; len(q.Toys) < first+n; seed++ {
		if probs := q.Read(fmt.Sprintf("random %d", seed), randomPart(seed)); len(probs) > 0 {
			if refused++; refused > n || probs[0].Code != "work" {
				t.Fatalf("random part %d: %v\n%s", seed, probs, randomPart(seed))
			}
		}
	}
	for k := 0; k < n; k++ {
		i, j := first+g.Intn(n), first+g.Intn(n)
		a, b := &q.Toys[i].Pieces[0], &q.Toys[j].Pieces[0]
		back := func(p *Piece) r3.Pose {
			return r3.Shift(r3.Vec{X: -p.Centre[0], Y: -p.Centre[1], Z: -p.Centre[2]})
		}
		q.pair(fmt.Sprintf("%s ~ %s", q.Toys[i].Name, q.Toys[j].Name),
			End{i, 0, flat(back(a).Then(randomPose(g, 0)))}, End{j, 0, flat(back(b).Then(randomPose(g, 90)))})
	}
	return refused
}

func ask(t *testing.T, node string, q *Request) *answer {
	t.Helper()
	in, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "oracle.mjs")
	cmd.Stdin = bytes.NewReader(in)
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Fatalf("node oracle.mjs: %v\n%s", err, errs.String())
	}
	var a answer
	if err := json.Unmarshal(out.Bytes(), &a); err != nil {
		t.Fatal(err)
	}
	return &a
}

// row is one value of both sides.
type row struct {
	of, what     string
	toy          int
	ours, theirs float64
}

// share is the difference as a share of what is allowed.
func (r row) share() float64 {
	return math.Abs(r.ours-r.theirs) / (absolute + relative*math.Max(math.Abs(r.ours), math.Abs(r.theirs)))
}

func (r row) rel() float64 {
	return math.Abs(r.ours-r.theirs) / math.Max(1e-300, math.Max(math.Abs(r.ours), math.Abs(r.theirs)))
}

func compare(t *testing.T, q *Request, got *answer) []row {
	t.Helper()
	if len(got.Toys) != len(q.Toys) || len(got.Pairs) != len(q.Pairs) {
		t.Fatal("the oracle did not answer everything")
	}
	var rows []row
	for i, toy := range q.Toys {
		if len(got.Toys[i]) != len(toy.Pieces) {
			t.Fatalf("the oracle made %d pieces of %s, not %d", len(got.Toys[i]), toy.Name, len(toy.Pieces))
		}
		for j, p := range toy.Pieces {
			of := toy.Name + ", " + p.ID
			a := got.Toys[i][j]
			rows = append(rows, row{of, "volume", i, p.Volume, a.Volume})
			for x, axis := range []string{"centre x", "centre y", "centre z"} {
				rows = append(rows, row{of, axis, i, p.Centre[x], a.Centre[x]})
			}
		}
	}
	for k, p := range q.Pairs {
		rows = append(rows, row{p.Name, "overlap", p.A.Toy, p.Overlap, got.Pairs[k].Overlap}, row{p.Name, "clearance", p.A.Toy, p.Gap, got.Pairs[k].Gap})
	}
	return rows
}

// kind gathers the times of pairs that lie to each other in one way: overlap and
// clearance, the engine's and the other side's.
type kind struct {
	name string
	ms   [4][]float64
}

func (k *kind) n() int { return len(k.ms[0]) }

// pins names the libraries of the other side.
func pins() string {
	var p struct{ Dependencies map[string]string }
	text, err := os.ReadFile("package.json")
	if err == nil {
		err = json.Unmarshal(text, &p)
	}
	if err != nil {
		return err.Error()
	}
	var out []string
	for name, version := range p.Dependencies {
		out = append(out, name+" "+version)
	}
	sort.Strings(out)
	return strings.Join(out, " and ")
}

// table writes the committed table: the worst values first, then every piece and pair.
func table(q *Request, got *answer, rows []row, refused int) []byte {
	var b bytes.Buffer
	pieces, examples := 0, 0
	for i, t := range q.Toys {
		pieces += len(t.Pieces)
		if i < len(toys) {
			examples += len(t.Pieces)
		}
	}
	kinds := []*kind{{name: "overlap"}, {name: "touch"}, {name: fmt.Sprintf("up to %g mm apart", Search)}, {name: "farther apart"}}
	for k, p := range q.Pairs {
		i := 3
		switch {
		case p.Overlap > 0:
			i = 0
		case p.Gap == 0:
			i = 1
		case p.Gap < Search:
			i = 2
		}
		for j, ms := range []float64{p.OverlapMS, got.Pairs[k].OverlapMS, p.GapMS, got.Pairs[k].GapMS} {
			kinds[i].ms[j] = append(kinds[i].ms[j], ms)
		}
	}
	fmt.Fprintf(&b, "# The engine against manifold-3d\n\nWritten by `go test ./oracle -full`; do not edit. The other side is `oracle.mjs` with %s,\n"+
		"which reads the toy files by itself and knows of the engine only where the pieces lie.\n\n", pins())
	fmt.Fprintf(&b, "%d pieces of the two example toys and of testdata/glued.yaml, and %d random compound parts (%d more were refused by the engine, each for an outline that cannot\nbe sawn or for a hole or cut that misses the wood);\n"+
		"%d pairs, of which %d overlap, %d touch and %d are less than %g mm apart. A value agrees when it is within %.0e relative plus %.0e (mm, mm³);\n"+
		"share is the difference as a share of that. %d values, all agree.\n\n", examples, pieces-examples, refused, len(q.Pairs), kinds[0].n(), kinds[1].n(), kinds[2].n(), Search, relative, absolute, len(rows))
	b.WriteString("Times in ms per pair, middle value (and largest), both sides on the same machine in the same run.\n\n" +
		"| pairs that | number | overlap, engine | manifold-3d | clearance, engine | manifold-3d |\n|---|---:|---:|---:|---:|---:|\n")
	for _, k := range kinds {
		fmt.Fprintf(&b, "| %s | %d |", k.name, k.n())
		for _, ms := range k.ms {
			sort.Float64s(ms)
			fmt.Fprintf(&b, " %.4f (%.1f) |", ms[len(ms)/2], ms[len(ms)-1])
		}
		b.WriteString("\n")
	}
	b.WriteString("\n")
	sorted := append([]row(nil), rows...)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].share() > sorted[j].share() })
	b.WriteString("## Worst\n\n| of | what | engine | manifold-3d | relative difference | share |\n|---|---|---:|---:|---:|---:|\n")
	for _, r := range sorted[:20] {
		fmt.Fprintf(&b, "| %s | %s | %.10g | %.10g | %.1e | %.1e |\n", r.of, r.what, r.ours, r.theirs, r.rel(), r.share())
	}
	b.WriteString("\n## Pieces\n\nVolume in mm³; centre in the frame of the blank, with the largest difference of its coordinates in mm.\n\n" +
		"| piece | volume, engine | manifold-3d | relative difference | centre, engine | off by |\n|---|---:|---:|---:|---|---:|\n")
	for i := 0; i < 4*pieces; i += 4 {
		v, c := rows[i], rows[i+1:i+4]
		off := 0.0
		for _, r := range c {
			off = math.Max(off, math.Abs(r.ours-r.theirs))
		}
		fmt.Fprintf(&b, "| %s | %.6f | %.6f | %.1e | %.4f, %.4f, %.4f | %.1e |\n", v.of, v.ours, v.theirs, v.rel(), c[0].ours, c[1].ours, c[2].ours, off)
	}
	fmt.Fprintf(&b, "\n## Pairs\n\nOverlap in mm³, clearance in mm (%g: that or more); times in ms, engine / manifold-3d.\n\n"+
		"| pair | overlap, engine | manifold-3d | clearance, engine | manifold-3d | overlap ms | clearance ms |\n|---|---:|---:|---:|---:|---:|---:|\n", Search)
	for k, p := range q.Pairs {
		a := got.Pairs[k]
		fmt.Fprintf(&b, "| %s | %.6f | %.6f | %.7f | %.7f | %.3f / %.2f | %.3f / %.2f |\n", p.Name, p.Overlap, a.Overlap, p.Gap, a.Gap, p.OverlapMS, a.OverlapMS, p.GapMS, a.GapMS)
	}
	return b.Bytes()
}
