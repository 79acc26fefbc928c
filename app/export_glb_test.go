package app

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r3"
)

// The toy as glTF: the public validator finds nothing; every piece is there by its name
// and in its place, in metres with y up; what turns is a node with its move.
func TestExportGLB(t *testing.T) {
	if _, err := os.Stat("../exchange/validator/node_modules/gltf-validator"); err != nil {
		t.Fatal("the validator of glTF is missing: run make tools")
	}
	var files []string
	dir := t.TempDir()
	exported(t, func(t *testing.T, toy *Toy, m *assembly.Model) {
		made, err := toy.Export("glb")
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(dir, fmt.Sprintf("%02d-%s", len(files), made[0].Name))
		if err := os.WriteFile(name, made[0].Bytes, 0o644); err != nil {
			t.Fatal(err)
		}
		files = append(files, name)
		nodesOfGLB(t, m, made[0].Bytes)
	})
	for i, a := range answers[struct {
		Errors, Warnings int
		Messages         []struct{ Code, Message, Pointer string }
	}](t, outside(t, "node", append([]string{"../exchange/validator/validate.mjs"}, files...)...), files) {
		if a.Errors+a.Warnings+len(a.Messages) > 0 {
			t.Errorf("%s: %+v", filepath.Base(files[i]), a)
		}
	}
}

func nodesOfGLB(t *testing.T, m *assembly.Model, b []byte) {
	n := binary.LittleEndian.Uint32(b[12:])
	var doc struct {
		Nodes []struct {
			Name        string
			Mesh        *int
			Children    []int
			Matrix      []float64
			Translation []float64
			Rotation    []float64
			Extras      struct {
				Move     string
				Axis     []float64
				From, To *float64
			}
		}
		Meshes []struct {
			Primitives []struct{ Attributes map[string]int }
		}
		Accessors []struct{ BufferView, Count int }
		Views     []struct {
			ByteOffset int
		} `json:"bufferViews"`
		Animations []struct {
			Channels []struct {
				Target struct{ Node int }
			}
		}
	}
	if err := json.Unmarshal(b[20:20+n], &doc); err != nil {
		t.Fatal(err)
	}
	bin := b[20+n+8:]
	found := map[string]bool{}
	moves := map[string]bool{}
	var walk func(i int, at r3.Pose)
	walk = func(i int, at r3.Pose) {
		d := doc.Nodes[i]
		own := r3.Pose{U: r3.X, V: r3.Y, W: r3.Z}
		if d.Rotation != nil { // the root alone: a quarter back about x
			if i != 0 || math.Abs(d.Rotation[0]+math.Sqrt2/2) > 1e-12 || math.Abs(d.Rotation[3]-math.Sqrt2/2) > 1e-12 {
				t.Fatalf("%s is turned by %v", d.Name, d.Rotation)
			}
			own = r3.Pose{U: r3.X, V: r3.Z.Neg(), W: r3.Y}
		}
		if v := d.Translation; v != nil {
			own.O = r3.Vec{X: v[0], Y: v[1], Z: v[2]}
		}
		if v := d.Matrix; v != nil {
			own = r3.Pose{U: r3.Vec{X: v[0], Y: v[1], Z: v[2]}, V: r3.Vec{X: v[4], Y: v[5], Z: v[6]}, W: r3.Vec{X: v[8], Y: v[9], Z: v[10]}, O: r3.Vec{X: v[12], Y: v[13], Z: v[14]}}
		}
		at = own.Then(at)
		if d.Extras.Move != "" {
			moves[d.Name] = true
		}
		if d.Mesh != nil {
			found[d.Name] = true
			p := m.Pieces[slices.IndexFunc(m.Pieces, func(p *assembly.Piece) bool { return p.ID == d.Name })]
			got := r3.EmptyBox()
			acc := doc.Accessors[doc.Meshes[*d.Mesh].Primitives[0].Attributes["POSITION"]]
			off := doc.Views[acc.BufferView].ByteOffset
			for k := range acc.Count {
				f := func(i int) float64 {
					return float64(math.Float32frombits(binary.LittleEndian.Uint32(bin[off+12*k+4*i:])))
				}
				got = got.Add(at.Point(r3.Vec{X: f(0), Y: f(1), Z: f(2)}))
			}
			want := r3.EmptyBox()
			for _, v := range p.Bored().Vertices() {
				want = want.Add(r3.Vec{X: v.X, Y: v.Z, Z: -v.Y}.Scale(1e-3)) // y up
			}
			if got.Min.Sub(want.Min).Len()+got.Max.Sub(want.Max).Len() > 1e-6 { // a µm
				t.Errorf("%s lies in %v, want %v", d.Name, got, want)
			}
		}
		for _, c := range d.Children {
			walk(c, at)
		}
	}
	walk(0, r3.Pose{U: r3.X, V: r3.Y, W: r3.Z})
	for _, p := range m.Pieces {
		if !found[p.ID] {
			t.Errorf("%s is not there", p.ID)
		}
	}
	for _, a := range m.Axles {
		if !moves[m.Pieces[a.Rod].ID] {
			t.Errorf("axle %s does not move", m.Pieces[a.Rod].ID)
		}
	}
	for _, h := range m.Hinges {
		if !moves[h.Name] {
			t.Errorf("hinge %s does not move", h.Name)
		}
	}
	if len(moves) > 0 && (len(doc.Animations) != 1 || len(doc.Animations[0].Channels) != len(moves)) {
		t.Errorf("%d moves, animations %v", len(moves), doc.Animations)
	}
}
