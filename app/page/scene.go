package page

import (
	"context"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"sync"

	"dryfit/app"
	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/paper/picture"
	"dryfit/prove"
	"dryfit/toy"
)

// Scene is a toy in space: world axes are x forward, y left, z up.
type Scene struct {
	Hash   string     `json:"hash"`
	Meshes []Mesh     `json:"meshes"` // the shapes of its pieces, but for those that were sent before
	Pieces []Piece    `json:"pieces"`
	Bodies []Body     `json:"bodies"` // what moves as one; the first is the toy itself
	Leads  int        `json:"leads"`  // the body that goes first when it is pulled along; 0 where nothing rolls
	Floor  float64    `json:"floor"`  // z
	Low    [3]float64 `json:"low"`
	High   [3]float64 `json:"high"`
}

// Mesh is a shape in the axes of its blank: x along the length and the grain, z through the
// thickness.
type Mesh struct {
	Key       string     `json:"key"`
	Size      [3]float64 `json:"size"`      // of the blank
	Corners   []byte     `json:"corners"`   // float32 x, y, z of each
	Triangles []byte     `json:"triangles"` // uint32, three corners each, counter-clockwise from outside
	Faces     []byte     `json:"faces"`     // uint32 of each triangle: what it is a facet of
	Edges     []byte     `json:"edges"`     // float32, two ends each: where true faces meet
}

// Piece is one part in its place.
type Piece struct {
	ID     string      `json:"id"`
	Part   string      `json:"part"`
	Shape  string      `json:"shape"` // key
	Pose   [12]float64 `json:"pose"`  // columns of the blank's x, y, z and origin in the world
	Wood   string      `json:"wood"`
	Sheet  bool        `json:"sheet"`  // plywood and the like: layers, no rings
	Colour [3]uint8    `json:"colour"` // of the wood
	Body   int         `json:"body"`
}

// Body is what moves as one: about an axis through a point, against the body that carries it.
type Body struct {
	Name   string     `json:"name"`
	On     int        `json:"on"`   // the body that carries it; -1: none
	Kind   string     `json:"kind"` // "", hinge, wheels
	At     [3]float64 `json:"at"`
	Axis   [3]float64 `json:"axis"`
	Low    float64    `json:"low"` // radians, to where something touches; of wheels there is no end
	High   float64    `json:"high"`
	Stops  [2]Stop    `json:"stops"`  // at Low and High
	Radius float64    `json:"radius"` // of wheels: as far as they roll in a radian
}

// Stop is what ends a swing: two pieces that touch. Of a swing that nothing stops it is empty.
type Stop struct {
	Piece string     `json:"piece"` // that stays
	By    string     `json:"by"`    // that has been swung against it
	At    [3]float64 `json:"at"`    // where, once they touch
}

// Leg is things drawn off their place together, along the shifts one after the other.
type Leg struct {
	Pieces []int        `json:"pieces"`
	With   []int        `json:"with"` // carried along, having been drawn off before
	Out    [][3]float64 `json:"out"`
}

// Shapes keeps the meshes that were made, by what they are of. The zero value is ready.
type Shapes struct {
	mu   sync.Mutex
	next int
	made map[*assembly.Made]*Mesh
}

// of returns the mesh of a shape, made once.
func (s *Shapes) of(m *assembly.Made) *Mesh {
	s.mu.Lock()
	defer s.mu.Unlock()
	if got := s.made[m]; got != nil {
		return got
	}
	if s.made == nil {
		s.made = map[*assembly.Made]*Mesh{}
	}
	s.next++
	got := meshOf(fmt.Sprint("s", s.next), m)
	s.made[m] = got
	return got
}

// keep forgets all shapes but these.
func (s *Shapes) keep(used map[*assembly.Made]bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for m := range s.made {
		if !used[m] {
			delete(s.made, m)
		}
	}
}

func meshOf(key string, m *assembly.Made) *Mesh {
	body := m.Bored()
	surface := solid.Surface(body)
	out := &Mesh{Key: key, Size: floats(m.Size)}
	for _, v := range surface.V {
		out.Corners = vec32(out.Corners, v)
	}
	for i, t := range surface.T {
		for _, c := range t {
			out.Triangles = binary.LittleEndian.AppendUint32(out.Triangles, uint32(c))
		}
		out.Faces = binary.LittleEndian.AppendUint32(out.Faces, uint32(surface.Tag[i]))
	}
	for _, e := range solid.FeatureEdges(body) {
		if !e.Smooth {
			out.Edges = vec32(vec32(out.Edges, e.A), e.B)
		}
	}
	return out
}

func vec32(b []byte, v r3.Vec) []byte {
	for _, x := range floats(v) {
		b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(x)))
	}
	return b
}

func floats(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// SceneOf lays a toy out in space, with all its meshes. swings are those of its hinges.
func SceneOf(t *app.Toy, m *assembly.Model, swings []prove.Swing, hash string, shapes *Shapes) *Scene {
	out := &Scene{Hash: hash, Meshes: []Mesh{}, Pieces: []Piece{}}
	used := map[*assembly.Made]bool{}
	box := r3.EmptyBox()
	for _, p := range m.Pieces {
		mesh := shapes.of(p.Made)
		if !used[p.Made] {
			used[p.Made] = true
			out.Meshes = append(out.Meshes, *mesh)
		}
		box = box.Union(p.Body.Bounds())
		piece := Piece{ID: p.ID, Part: p.Part.Name, Shape: mesh.Key, Pose: poseOf(p.Pose)}
		if s, ok := t.StockNamed(p.Part.Stock); ok {
			piece.Wood, piece.Sheet = s.Wood, s.Form == toy.Sheet
		}
		piece.Colour = facts.Tint(piece.Wood)
		out.Pieces = append(out.Pieces, piece)
	}
	shapes.keep(used)
	out.bodies(m, swings)
	out.Low, out.High = floats(box.Min), floats(box.Max)
	out.Floor = box.Min.Z
	return out
}

// Without returns the scene without the meshes that somebody has, whose keys are in have.
func (s *Scene) Without(have map[string]bool) *Scene {
	out := *s
	out.Meshes = slices.DeleteFunc(slices.Clone(s.Meshes), func(m Mesh) bool { return have[m.Key] })
	return &out
}

// ApartOf is how a toy comes apart, the last thing put on first; empty where no way is known.
// It takes longer than the rest of the scene; the error is that of ctx.
func ApartOf(ctx context.Context, m *assembly.Model) ([]Leg, error) {
	out := []Leg{}
	seq := prove.Order(m)
	if !seq.Found {
		return out, ctx.Err()
	}
	scene, err := picture.NewDrafter(m).ExplodedContext(ctx, seq)
	if err != nil {
		return nil, err
	}
	for _, mv := range scene.Moves {
		leg := Leg{Pieces: mv.Pieces, With: append([]int{}, mv.With...), Out: [][3]float64{}}
		for _, v := range mv.Out {
			leg.Out = append(leg.Out, floats(v))
		}
		out = append(out, leg)
	}
	slices.Reverse(out)
	return out, nil
}

func poseOf(p r3.Pose) (out [12]float64) {
	for i, v := range []r3.Vec{p.U, p.V, p.W, p.O} {
		out[3*i], out[3*i+1], out[3*i+2] = v.X, v.Y, v.Z
	}
	return out
}

// bodies finds what moves as one: the toy, what turns on hinges, axles with their wheels.
func (s *Scene) bodies(m *assembly.Model, swings []prove.Swing) {
	for _, n := range app.Nodes(m, swings) {
		k := len(s.Bodies)
		b := Body{Name: n.Name, On: n.Parent, At: floats(n.Pivot)}
		for _, i := range n.Items {
			s.Pieces[i].Body = k
		}
		if n.Move != nil {
			b.Kind, b.Axis = "hinge", floats(n.Move.Axis)
			if math.IsInf(n.Move.Hi, 1) {
				b.Kind = "wheels"
			} else {
				b.Low, b.High = n.Move.Lo, n.Move.Hi
			}
		}
		s.Bodies = append(s.Bodies, b)
	}
	for i, p := range m.Pieces {
		if b := &s.Bodies[s.Pieces[i].Body]; b.Kind == "wheels" && p.Part.Shape == toy.Disc {
			_, _, r := p.Axis()
			b.Radius = max(b.Radius, r)
		}
	}
	for i, sw := range swings {
		for k := range s.Bodies {
			if b := &s.Bodies[k]; b.Kind == "hinge" && b.Name == m.Hinges[i].Name {
				for way, end := range sw.Stop {
					if end >= 0 {
						b.Stops[1-way] = Stop{Piece: m.Pieces[end].ID, By: m.Pieces[sw.By[way]].ID, At: floats(sw.At[way])}
					}
				}
			}
		}
	}
	s.leads(m)
}

// leads finds the body that goes first: that with the cord, else that with the foremost wheels.
func (s *Scene) leads(m *assembly.Model) {
	if c := m.Toy.Cord; c != nil {
		if tied := m.Find(c.From.Piece); len(tied) > 0 {
			s.Leads = s.Pieces[tied[0]].Body
			return
		}
	}
	front := math.Inf(-1)
	for _, b := range s.Bodies {
		if b.Kind == "wheels" && b.At[0] > front {
			s.Leads, front = b.On, b.At[0]
		}
	}
}
