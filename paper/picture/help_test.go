package picture

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"dryfit/assembly"
	"dryfit/assembly/assemblytest"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/paper/svg"
	"dryfit/prove"
)

const tram = "../../examples/quay-tram.yaml"

func load(t testing.TB, name string) *assembly.Model {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return read(t, filepath.Base(name), string(text))
}

func read(t testing.TB, name, text string) *assembly.Model {
	t.Helper()
	return assemblytest.Derive(t, name, text, assembly.Options{})
}

// block returns the model of one block of length x width x thick mm with work.
func block(t testing.TB, length, width, thick float64, work string) *assembly.Model {
	t.Helper()
	return read(t, "block.yaml", fmt.Sprintf(`dryfit: 1
toy: Block
units: mm
stock: {beech: {wood: beech, form: board, thick: %g}}
parts: {block: {from: beech, blank: [%g, %g]%s}}
build: [{put: block}]
`, thick, length, width, work))
}

func v2(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

// sights are all directions that sheets look from, in their order.
var sights = []struct {
	name string
	sight
}{{"right", fromRight}, {"front", fromFront}, {"top", fromAbove}, {"isometric", isometric}}

// span returns where the line through p along d is inside c, by clipping it at
// every face: the plain answer that drawings are held against.
func span(c *solid.Convex, p, d r3.Vec) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for i := range c.Faces {
		f := c.Faces[i].Plane
		side, n := f.Side(p), f.N.Dot(d)
		switch {
		case math.Abs(n) < 1e-12:
			if side > 0 {
				return 1, 0
			}
		case n > 0:
			hi = math.Min(hi, -side/n)
		default:
			lo = math.Max(lo, -side/n)
		}
	}
	return lo, hi
}

// blocked returns how much wood there is in front of p, further than skip.
func blocked(o *object, p, toward r3.Vec, skip float64) float64 {
	most := 0.0
	for _, b := range o.bodies {
		for i := range b.Pieces {
			lo, hi := span(&b.Pieces[i], p, toward)
			if lo = math.Max(lo, skip); hi > lo {
				most = math.Max(most, hi-lo)
			}
		}
	}
	return most
}

// hit is the first surface that a look meets.
type hit struct {
	body  int // -1: none
	depth float64
	n     r3.Vec
}

// look returns what is seen at the place q of the picture.
func look(o *object, s sight, q r2.Vec) hit {
	p := s.right.Scale(q.X).Add(s.up.Scale(q.Y))
	best := hit{body: -1, depth: math.Inf(-1)}
	for k, b := range o.bodies {
		for i := range b.Pieces {
			c := &b.Pieces[i]
			lo, hi := span(c, p, s.toward)
			if hi <= lo+1e-9 || hi <= best.depth {
				continue
			}
			best = hit{body: k, depth: hi}
			at := p.Add(s.toward.Scale(hi))
			for j := range c.Faces {
				if f := c.Faces[j].Plane; f.N.Dot(s.toward) > 0 && math.Abs(f.Side(at)) < 1e-6 {
					best.n = f.N
					break
				}
			}
		}
	}
	return best
}

// away returns how far q is from the stroke.
func (k stroke) away(q r2.Vec) float64 {
	d := k.b.Sub(k.a)
	t := math.Max(0, math.Min(1, q.Sub(k.a).Dot(d)/d.Dot(d)))
	return q.Sub(k.a.Add(d.Scale(t))).Len()
}

// sheetSVG is the sheet as a file. The same model gives the same bytes.
func sheetSVG(m *assembly.Model) []byte {
	return svg.Write(Page(m, Options{}), svg.Meta{Title: m.Toy.Name, Describes: m.Toy.Name + " " + SheetSays})
}

// subject is a toy with what several tests ask of it, made once.
type subject struct {
	m     *assembly.Model
	look  *prospect
	lines [4][]line // by sights
	draft *Drafter
	order func() prove.Sequence
	steps func() []Step
}

var subjects sync.Map // of names: func() *subject

// toyOf returns one of the toys.
func toyOf(t testing.TB, name string) *subject {
	t.Helper()
	f, _ := subjects.LoadOrStore(name, sync.OnceValue(func() *subject {
		m := load(t, name)
		s := &subject{m: m, look: lookAt(m), draft: NewDrafter(m)}
		for i, from := range sights {
			s.lines[i] = from.lines(s.look.o)
			s.look.seen[i] = from.strokes(s.lines[i])
		}
		s.order = sync.OnceValue(func() prove.Sequence { return prove.Order(m) })
		s.steps = sync.OnceValue(func() []Step { return s.draft.Steps(s.order()) })
		return s
	}))
	return f.(func() *subject)()
}
