package exchange

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/trig"
)

// A Node is a body of a toy that moves as one: it hangs on another, turns about a pin or
// rolls. Frame is its place in the world as drawn.
type Node struct {
	Name   string
	Parent int // index of the nodes, -1: the toy itself
	Pivot  r3.Vec
	Items  []int   // what it carries
	Move   *Motion // nil: fixed to its parent
}

// Motion is how a node turns against its parent: about the axis through its pivot, from
// Lo to Hi in radians; a wheel has no limits and both are infinite.
type Motion struct {
	Name   string
	Axis   r3.Vec
	Lo, Hi float64
}

// GLB returns the toy as binary glTF 2.0 (ISO/IEC 12113): metres, y up, one node a body,
// one mesh a solid, flat shaded. What a node may do is in its "extras": its axis in its own
// frame, and how far it goes each way in radians; and where something moves, one animation
// "moves" turns each node there and back, or once round.
func GLB(title string, solids []Solid, items []Item, nodes []Node) ([]byte, error) {
	g := &gltf{}
	root := g.node(map[string]any{"name": title, "rotation": []float64{-math.Sqrt2 / 2, 0, 0, math.Sqrt2 / 2}}) // z up becomes y up
	mats := map[string]int{}
	mesh := make([]int, len(solids))
	for i, s := range solids {
		m, ok := mats[s.Wood]
		if !ok {
			m = len(mats)
			mats[s.Wood] = m
			g.Materials = append(g.Materials, map[string]any{"name": s.Wood, "pbrMetallicRoughness": map[string]any{
				"baseColorFactor": []float64{linear(s.Colour[0]), linear(s.Colour[1]), linear(s.Colour[2]), 1}, "metallicFactor": 0, "roughnessFactor": 0.8}})
		}
		mesh[i] = len(g.Meshes)
		g.Meshes = append(g.Meshes, map[string]any{"name": s.Name, "primitives": []any{g.primitive(s.Surface, m)}})
	}
	at := make([]int, len(nodes))
	for i, n := range nodes {
		from, parent := r3.Vec{}, root
		if n.Parent >= 0 {
			from, parent = nodes[n.Parent].Pivot, at[n.Parent]
		}
		data := map[string]any{"name": n.Name, "translation": metres(n.Pivot.Sub(from))}
		if n.Move != nil {
			extras := map[string]any{"move": n.Move.Name, "axis": round3(n.Move.Axis)}
			if !math.IsInf(n.Move.Lo, 0) {
				extras["from"], extras["to"] = round(n.Move.Lo, 6), round(n.Move.Hi, 6)
			}
			data["extras"] = extras
		}
		at[i] = g.node(data)
		g.hang(parent, at[i])
		for _, k := range n.Items {
			it := items[k]
			p := it.At
			p.O = p.O.Sub(n.Pivot)
			t := metres(p.O)
			data := map[string]any{"name": it.Name, "mesh": mesh[it.Solid]}
			if m := [16]float64{round(p.U.X, 9), round(p.U.Y, 9), round(p.U.Z, 9), 0, round(p.V.X, 9), round(p.V.Y, 9), round(p.V.Z, 9), 0,
				round(p.W.X, 9), round(p.W.Y, 9), round(p.W.Z, 9), 0, t[0], t[1], t[2], 1}; m != unmoved {
				data["matrix"] = m
			}
			g.hang(at[i], g.node(data))
		}
	}
	g.animate(nodes, at)
	return g.bytes(title)
}

// unmoved is the matrix that glTF understands where none is given.
var unmoved = [16]float64{0: 1, 5: 1, 10: 1, 15: 1}

// gltf is a file in the making.
type gltf struct {
	Nodes, Meshes, Materials, Accessors, Views []map[string]any
	Animation                                  map[string]any
	bin                                        []byte
}

func (g *gltf) node(n map[string]any) int {
	g.Nodes = append(g.Nodes, n)
	return len(g.Nodes) - 1
}

func (g *gltf) hang(parent, child int) {
	list, _ := g.Nodes[parent]["children"].([]int)
	g.Nodes[parent]["children"] = append(list, child)
}

const (
	arrayBuffer = 34962 // of corners
	float32s    = 5126
)

// accessor stores float32 values, so many for each entry.
func (g *gltf) accessor(kind string, each int, vs []float32, target int, bounds bool) int {
	for len(g.bin)%4 != 0 {
		g.bin = append(g.bin, 0)
	}
	view := map[string]any{"buffer": 0, "byteOffset": len(g.bin), "byteLength": 4 * len(vs)}
	if target != 0 {
		view["target"] = target
	}
	lo, hi := make([]float32, each), make([]float32, each)
	for i, v := range vs {
		if v == 0 {
			v = 0
		}
		g.bin = binary.LittleEndian.AppendUint32(g.bin, math.Float32bits(v))
		if k := i % each; i < each {
			lo[k], hi[k] = v, v
		} else {
			lo[k], hi[k] = min(lo[k], v), max(hi[k], v)
		}
	}
	a := map[string]any{"bufferView": len(g.Views), "componentType": float32s, "count": len(vs) / each, "type": kind}
	if bounds {
		a["min"], a["max"] = lo, hi
	}
	g.Views = append(g.Views, view)
	g.Accessors = append(g.Accessors, a)
	return len(g.Accessors) - 1
}

// primitive stores a surface flat shaded: every triangle has its own corners.
func (g *gltf) primitive(m solid.Mesh, material int) map[string]any {
	var pos, nor []float32
	for _, t := range m.T {
		n := m.V[t[1]].Sub(m.V[t[0]]).Cross(m.V[t[2]].Sub(m.V[t[0]]))
		l := n.Len()
		if l == 0 {
			continue
		}
		n = n.Scale(1 / l)
		for _, i := range t {
			v := m.V[i].Scale(1e-3)
			pos = append(pos, float32(v.X), float32(v.Y), float32(v.Z))
			nor = append(nor, float32(n.X), float32(n.Y), float32(n.Z))
		}
	}
	return map[string]any{"material": material, "attributes": map[string]any{
		"POSITION": g.accessor("VEC3", 3, pos, arrayBuffer, true), "NORMAL": g.accessor("VEC3", 3, nor, arrayBuffer, false)}}
}

// turnSeconds is the time of one turn, or of a swing there and back, in the animation.
const turnSeconds = 4

// animate turns every node that moves.
func (g *gltf) animate(nodes []Node, at []int) {
	var channels, samplers []any
	input := -1
	for i, n := range nodes {
		if n.Move == nil {
			continue
		}
		if input < 0 {
			input = g.accessor("SCALAR", 1, []float32{0, turnSeconds / 4.0, turnSeconds / 2.0, 3 * turnSeconds / 4.0, turnSeconds}, 0, true)
		}
		stops := [5]float64{0, math.Pi / 2, math.Pi, 3 * math.Pi / 2, 2 * math.Pi}
		if !math.IsInf(n.Move.Lo, 0) {
			stops = [5]float64{0, n.Move.Hi, 0, n.Move.Lo, 0}
		}
		var q []float32
		for _, a := range stops {
			s, c := trig.Sincos(a / 2)
			q = append(q, float32(n.Move.Axis.X*s), float32(n.Move.Axis.Y*s), float32(n.Move.Axis.Z*s), float32(c))
		}
		channels = append(channels, map[string]any{"sampler": len(samplers), "target": map[string]any{"node": at[i], "path": "rotation"}})
		samplers = append(samplers, map[string]any{"input": input, "output": g.accessor("VEC4", 4, q, 0, false)})
	}
	if len(channels) > 0 {
		g.Animation = map[string]any{"name": "moves", "channels": channels, "samplers": samplers}
	}
}

func (g *gltf) bytes(title string) ([]byte, error) {
	for len(g.bin)%4 != 0 {
		g.bin = append(g.bin, 0)
	}
	doc := map[string]any{"asset": map[string]any{"version": "2.0", "generator": "dryfit"}, "scene": 0,
		"scenes": []any{map[string]any{"name": title, "nodes": []int{0}}}, "nodes": g.Nodes}
	if len(g.Meshes) > 0 {
		doc["meshes"], doc["materials"], doc["accessors"], doc["bufferViews"] = g.Meshes, g.Materials, g.Accessors, g.Views
		doc["buffers"] = []any{map[string]any{"byteLength": len(g.bin)}}
	}
	if g.Animation != nil {
		doc["animations"] = []any{g.Animation}
	}
	js, err := json.Marshal(doc)
	if err != nil {
		return nil, fmt.Errorf("glTF: %w", err)
	}
	for len(js)%4 != 0 {
		js = append(js, ' ')
	}
	var out []byte
	u32 := func(v uint32) { out = binary.LittleEndian.AppendUint32(out, v) }
	u32(0x46546c67) // "glTF"
	u32(2)
	u32(uint32(12 + 8 + len(js) + 8 + len(g.bin)))
	u32(uint32(len(js)))
	u32(0x4e4f534a) // "JSON"
	out = append(out, js...)
	u32(uint32(len(g.bin)))
	u32(0x004e4942) // "BIN"
	return append(out, g.bin...), nil
}

func metres(v r3.Vec) [3]float64 {
	return [3]float64{round(v.X/1000, 9), round(v.Y/1000, 9), round(v.Z/1000, 9)}
}

func round3(v r3.Vec) [3]float64 { return [3]float64{round(v.X, 9), round(v.Y, 9), round(v.Z, 9)} }

// round rounds to so many decimal places, and never to -0.
func round(v float64, places int) float64 {
	k := math.Pow(10, float64(places))
	return math.Round(v*k)/k + 0
}

// linear turns an sRGB value into linear light (IEC 61966-2-1).
func linear(c uint8) float64 {
	v := float64(c) / 255
	if v <= 0.04045 {
		return round(v/12.92, 4)
	}
	return round(math.Pow((v+0.055)/1.055, 2.4), 4)
}
