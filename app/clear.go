package app

import (
	"context"
	"fmt"
	"math"
	"reflect"

	"dryfit/assembly"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy"
	"dryfit/toy/adapt"
	"dryfit/toy/file"
)

// nudge is by how much a length is changed to see what it does: far above what any place is rounded
// to, and too little to change anything else.
const nudge = 0.05

// clearFit is said of a clearance that is a fit.
const clearFit = "it changes nothing but fits"

// clearances finds which of the small lengths of a toy are clearances, by what they do: a length is one
// if a little more of it changes nothing but fits, the diameters of holes with rods in them and the
// room beside wheels; or if it is as wide as the room between two pieces, or in a saddle or a slot, on
// one side or on both together, and that room changes with it. The answers say how it was seen.
func (t *Toy) clearances(ctx context.Context, s *adapt.Sheet) map[adapt.Spot]string {
	out := map[adapt.Spot]string{}
	m, probs := t.Model()
	if len(probs) > 0 {
		return out
	}
	rooms, saddles := roomsOf(m), t.saddles(ctx, t.Toy)
	was := lengthsOf(t.Toy)
	for _, at := range s.Small() {
		text, err := s.Nudged(at, measure.FromMM(nudge))
		if err != nil {
			continue
		}
		n, probs := file.Read(source.New(t.name, text), nil)
		if len(probs) > 0 {
			continue
		}
		l := s.Length(at).MM()
		if onlyFits(was, lengthsOf(n), l) {
			out[at] = clearFit
			continue
		}
		if m2, probs := assembly.Derive(n, assembly.Options{Cache: t.cache}); len(probs) == 0 {
			if k, ok := changed(rooms, roomsOf(m2), l); ok {
				out[at] = fmt.Sprintf("it is the room between %s and %s", m.Pieces[k.i].ID, m.Pieces[k.j].ID)
				continue
			}
		}
		if len(saddles) > 0 {
			now := t.saddles(ctx, n)
			for about, v := range saddles {
				if opens(v, now[about], l) {
					out[at] = "it is the room of " + about
				}
			}
		}
	}
	return out
}

// room is the space between two pieces that face each other along an axis.
type room struct{ i, j, axis int }

func roomsOf(m *assembly.Model) map[room]float64 {
	out := map[room]float64{}
	for i, p := range m.Pieces {
		a := p.Body.Bounds()
		for j := i + 1; j < len(m.Pieces); j++ {
			b := m.Pieces[j].Body.Bounds()
			gap := [3]float64{}
			apart, axis := 0, 0
			for k, g := range [3][4]float64{{a.Min.X, a.Max.X, b.Min.X, b.Max.X}, {a.Min.Y, a.Max.Y, b.Min.Y, b.Max.Y}, {a.Min.Z, a.Max.Z, b.Min.Z, b.Max.Z}} {
				if gap[k] = math.Max(g[2]-g[1], g[0]-g[3]); gap[k] > -tol.Touch {
					apart, axis = apart+1, k
				}
			}
			if apart == 1 && gap[axis] > tol.Touch {
				out[room{i, j, axis}] = gap[axis]
			}
		}
	}
	return out
}

// changed finds a room that is as wide as a length and changed with it: the first.
func changed(was, now map[room]float64, l float64) (best room, ok bool) {
	for k, v := range was {
		w, there := now[k]
		if !there || !opens(v, w, l) {
			continue
		}
		if !ok || k.i < best.i || k.i == best.i && (k.j < best.j || k.j == best.j && k.axis < best.axis) {
			best, ok = k, true
		}
	}
	return best, ok
}

// opens tells whether a room is a length wide, or half of it, and changed as it was nudged.
func opens(was, now, l float64) bool {
	for _, sides := range []float64{1, 2} {
		if math.Abs(was*sides-l) <= tol.Touch && math.Abs((now-was)*sides-nudge) <= nudge/10 {
			return true
		}
	}
	return false
}

// saddles are the rooms of saddles and slots, by what the finding is about.
func (t *Toy) saddles(ctx context.Context, of *toy.Toy) map[string]float64 {
	out := map[string]float64{}
	m, probs := assembly.Derive(of, assembly.Options{Cache: t.cache})
	if len(probs) > 0 || len(m.Saddles) == 0 {
		return out
	}
	rep, err := prove.RunContext(ctx, of, t.cache, prove.Options{Only: []string{"fit.dowel"}})
	if err != nil {
		return out
	}
	for _, s := range m.Saddles {
		about := m.Pieces[s.A[0]].ID + "~" + m.Pieces[s.B[0]].ID
		for _, f := range rep.Findings {
			if f.About == about {
				out[about] = f.Value
			}
		}
	}
	return out
}

// said is a length of a toy and the field that it is.
type saidLength struct {
	field string
	value measure.Length
}

// onlyFits tells whether all that differs between two readings are fits that a length is a part of.
func onlyFits(was, now []saidLength, l float64) bool {
	some := false
	if len(was) != len(now) {
		return false
	}
	for i, w := range was {
		if w.value == now[i].value {
			continue
		}
		switch some = true; w.field {
		case "Drill.Dia", "Part.Bore":
			if math.Abs(w.value.MM()-l) <= tol.Page {
				return false // it is the hole
			}
		case "Wheels.Play", "Wheels.Gap":
		default:
			return false
		}
	}
	return some
}

var lengthType = reflect.TypeFor[measure.Length]()

// lengthsOf are all lengths of a toy, in a fixed order.
func lengthsOf(t *toy.Toy) (out []saidLength) {
	var walk func(v reflect.Value, field string)
	walk = func(v reflect.Value, field string) {
		if v.Type() == lengthType {
			out = append(out, saidLength{field, measure.Length(v.Float())})
			return
		}
		switch v.Kind() {
		case reflect.Pointer, reflect.Interface:
			if !v.IsNil() && v.Type() != reflect.TypeFor[*source.File]() {
				walk(v.Elem(), field)
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i), field)
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i), v.Type().Name()+"."+v.Type().Field(i).Name)
			}
		}
	}
	walk(reflect.ValueOf(t), "")
	return out
}
