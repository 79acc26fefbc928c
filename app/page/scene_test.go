package page_test

import (
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/app"
	"dryfit/app/page"
	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/prove"
)

// examples are the toys that the repository shows.
func examples(t *testing.T) (files []string) {
	for _, in := range []string{"../../examples/*.yaml", "../../examples/plain/*.yaml"} {
		found, err := filepath.Glob(in)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	if len(files) < 30 {
		t.Fatalf("only %d examples", len(files))
	}
	return files
}

func sceneOf(t *testing.T, file string, shapes *page.Shapes) (*assembly.Model, *page.Scene) {
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	toy, probs := app.OpenWith(file, string(text), app.Options{Cache: &assembly.Cache{}})
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	m, probs := toy.Model()
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return m, page.SceneOf(toy, m, prove.Swings(m), "", shapes)
}

func TestScenesOfAllExamples(t *testing.T) {
	for _, file := range examples(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			m, s := sceneOf(t, file, &page.Shapes{})
			swingsAreProved(t, m, s)
			bodiesHangTogether(t, s)
			for _, p := range s.Pieces {
				rigid(t, p)
			}
			for _, mesh := range s.Meshes {
				closed(t, mesh)
			}
			if s.Floor != s.Low[2] {
				t.Errorf("the floor is at %v, the lowest point at %v", s.Floor, s.Low[2])
			}
		})
	}
}

// swingsAreProved holds every hinge that can be turned by hand to what the proof says of it.
func swingsAreProved(t *testing.T, m *assembly.Model, s *page.Scene) {
	of := map[string]page.Body{}
	for _, b := range s.Bodies {
		of[b.Name] = b
	}
	for i, sw := range prove.Swings(m) {
		b, ok := of[m.Hinges[i].Name]
		if ok != sw.OK {
			t.Errorf("%s: a body of its own: %v, that can be turned: %v", m.Hinges[i].Name, ok, sw.OK)
		}
		if !ok {
			continue
		}
		if b.Kind != "hinge" || b.High != sw.Ways[0] || b.Low != -sw.Ways[1] {
			t.Errorf("%s: %s from %v to %v, proved are %v", b.Name, b.Kind, b.Low, b.High, sw.Ways)
		}
		for way, stop := range []page.Stop{b.Stops[1], b.Stops[0]} {
			want := ""
			if sw.Stop[way] >= 0 {
				want = m.Pieces[sw.Stop[way]].ID
			}
			if stop.Piece != want || (stop.By == "") != (want == "") {
				t.Errorf("%s: stopped by %+v, proved is %q", b.Name, stop, want)
			}
			at := r3.Vec{X: stop.At[0], Y: stop.At[1], Z: stop.At[2]}
			if want != "" && m.Pieces[sw.Stop[way]].Body.Bounds().Distance(r3.Box{Min: at, Max: at}) > 0.1 {
				t.Errorf("%s: touches %s at %v, which is nowhere near it", b.Name, want, stop.At)
			}
		}
	}
}

func bodiesHangTogether(t *testing.T, s *page.Scene) {
	for k, b := range s.Bodies {
		if (k == 0) != (b.On < 0) || b.On >= len(s.Bodies) {
			t.Errorf("body %d %s hangs on %d", k, b.Name, b.On)
		}
		if a := b.Axis; b.Kind != "" && math.Abs(math.Hypot(math.Hypot(a[0], a[1]), a[2])-1) > 1e-9 {
			t.Errorf("%s turns about %v", b.Name, a)
		}
	}
	if s.Leads < 0 || s.Leads >= len(s.Bodies) {
		t.Errorf("body %d leads", s.Leads)
	}
}

func rigid(t *testing.T, p page.Piece) {
	axis := func(i int) r3.Vec { return r3.Vec{X: p.Pose[3*i], Y: p.Pose[3*i+1], Z: p.Pose[3*i+2]} }
	for i := range 3 {
		next := (i + 1) % 3
		if d := axis(i).Cross(axis(next)).Sub(axis((i + 2) % 3)).Len(); d > 1e-9 {
			t.Errorf("%s: its axes are %v", p.ID, p.Pose)
			return
		}
	}
}

// closed tells whether every side of a triangle is that of one other too, the other way round, and
// whether what they enclose is in the blank.
func closed(t *testing.T, m page.Mesh) {
	corners := make([]r3.Vec, len(m.Corners)/12)
	for i := range corners {
		at := func(k int) float64 {
			return float64(math.Float32frombits(binary.LittleEndian.Uint32(m.Corners[12*i+4*k:])))
		}
		corners[i] = r3.Vec{X: at(0), Y: at(1), Z: at(2)}
	}
	sides := map[[2]uint32]int{}
	volume := 0.0
	for i := 0; i < len(m.Triangles); i += 12 {
		var c [3]uint32
		for k := range c {
			c[k] = binary.LittleEndian.Uint32(m.Triangles[i+4*k:])
		}
		for k := range c {
			sides[[2]uint32{c[k], c[(k+1)%3]}]++
			sides[[2]uint32{c[(k+1)%3], c[k]}]--
		}
		volume += corners[c[0]].Dot(corners[c[1]].Cross(corners[c[2]])) / 6
	}
	for side, n := range sides {
		if n != 0 {
			t.Errorf("%s: open between corners %v", m.Key, side)
			break
		}
	}
	if blank := m.Size[0] * m.Size[1] * m.Size[2]; volume <= 0 || volume > blank*1.001 {
		t.Errorf("%s: %.1f mm³ of a blank of %.1f mm³", m.Key, volume, blank)
	}
	if len(m.Faces) != len(m.Triangles)/3 {
		t.Errorf("%s: %d faces of %d triangles", m.Key, len(m.Faces)/4, len(m.Triangles)/12)
	}
}

// A shape that is the same after a change keeps its name, so that no page fetches it again.
func TestOnlyChangedShapesAreNew(t *testing.T) {
	text, err := os.ReadFile("../../examples/quay-tram.yaml")
	if err != nil {
		t.Fatal(err)
	}
	shapes, cache := &page.Shapes{}, &assembly.Cache{}
	have := map[string]bool{}
	sent := func(text string) int {
		toy, probs := app.OpenWith("tram.yaml", text, app.Options{Cache: cache})
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		m, probs := toy.Model()
		if len(probs) > 0 {
			t.Fatal(probs)
		}
		s := page.SceneOf(toy, m, prove.Swings(m), "", shapes).Without(have)
		for _, mesh := range s.Meshes {
			have[mesh.Key] = true
		}
		return len(s.Meshes)
	}
	all := sent(string(text))
	changed := sent(replaced(t, string(text), "wheel: 1 1/8", "wheel: 1 1/4"))
	if all < 9 || changed != 1 {
		t.Errorf("%d shapes at first, %d after another size of wheels; want 1", all, changed)
	}
}

func replaced(t *testing.T, text, old, by string) string {
	out := strings.Replace(text, old, by, 1)
	if out == text {
		t.Fatalf("no %q to replace", old)
	}
	return out
}

func TestWhatLeads(t *testing.T) {
	for file, want := range map[string]string{
		"../../examples/quay-tram.yaml":            "frame", // the foremost wheels
		"../../examples/plain/steered-waggon.yaml": "beam",  // the cord
	} {
		_, s := sceneOf(t, file, &page.Shapes{})
		for _, p := range s.Pieces {
			if p.ID == want && p.Body != s.Leads {
				t.Errorf("%s: body %d leads, %s is of body %d", file, s.Leads, want, p.Body)
			}
		}
	}
}
