package page

import (
	"fmt"
	"strings"

	"dryfit/app"
	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/tree"
)

// Builds is how a toy is put together, as its file has it at present, even where pieces do not
// stand yet: a direction that is free has to be mended where it is written.
type Builds struct {
	Hash  string  `json:"hash"`  // of the text that it is of
	Lists []Build `json:"lists"` // that of the toy first, then those of its glue-ups
}

// Build is a list of steps.
type Build struct {
	GlueUp string      `json:"glueUp"` // whose pieces they are; empty: the toy's
	Path   string      `json:"path"`   // of the list
	Steps  []BuildStep `json:"steps"`
	Seats  []Seat      `json:"seats"` // what can be sat on, in the order in which it comes
}

// BuildStep is a put, or wheels, a peg, a hinge.
type BuildStep struct {
	Path     string     `json:"path"` // of the item of the list
	Kind     string     `json:"kind"` // put, wheels, peg, hinge
	IDs      []string   `json:"ids"`  // of the pieces that it adds
	Part     string     `json:"part"` // what is put; the axle, dowel or pin
	PartPath string     `json:"partPath"`
	Says     string     `json:"says"`
	Lines    [2]int     `json:"lines"`  // of the file, first and last
	Body     string     `json:"body"`   // path of the map that holds what follows
	Fields   []Field    `json:"fields"` // all that may be typed; without a text where nothing is said
	Words    []WordList `json:"words"`  // lists of holes and wheels
	Sits     []BuildSit `json:"sits"`
	Lies     *BuildLies `json:"lies"` // null where nothing is laid: a glue-up, a dowel in its hole
	Yes      []Flag     `json:"yes"`  // what is yes or no
	GlueTo   []string   `json:"glueTo"`
}

// Flag is a value that is yes or no.
type Flag struct {
	Name string `json:"name"`
	Path string `json:"path"`
	Said bool   `json:"said"` // in the file
	Yes  bool   `json:"yes"`
}

// WordList is names in the file: one, or several in brackets.
type WordList struct {
	Name  string   `json:"name"`
	Path  string   `json:"path"`
	Items []string `json:"items"`
	Of    string   `json:"of"` // holes or discs
}

// BuildSit is a line of sits.
type BuildSit struct {
	Own     string   `json:"own"`
	Path    string   `json:"path"`
	Text    string   `json:"text"`
	Piece   string   `json:"piece"`
	Feature string   `json:"feature"`
	Off     string   `json:"off"`  // "- 3/16"; empty: none
	Said    string   `json:"said"` // that, with a unit behind every number that is a length
	MM      *float64 `json:"mm"`   // that, forward, left or up; null where it is not known
	Axes    []int    `json:"axes"` // that it settles: 0 forward and back, 1 left and right, 2 up and down; none: not known
}

// BuildLies is how a blank is laid.
type BuildLies struct {
	Path   string `json:"path"`
	Said   bool   `json:"said"`   // in this step; else it is laid as its part says
	Length string `json:"length"` // which way its length points
	Way    string `json:"way"`    // a second direction, and the side of the blank that looks there
	Side   string `json:"side"`
}

// Seat is a piece or a glue-up, with the names that its own features have; sides and middle are
// there beside them.
type Seat struct {
	ID       string     `json:"id"`
	Part     string     `json:"part"`
	Step     int        `json:"step"` // that adds it
	Low      [3]float64 `json:"low"`  // where it is in the toy, both nothing where that is not known
	High     [3]float64 `json:"high"`
	Features []SeatSpot `json:"features"`
}

// SeatSpot is a feature with a name of its own.
type SeatSpot struct {
	Name  string  `json:"name"`
	Kind  string  `json:"kind"`  // hole, flat, point, axis
	Faces string  `json:"faces"` // of a flat in its place: the side of the piece that it faces like
	At    float64 `json:"at"`    // how far forward, left or up it is
}

// BuildsOf describes the builds of a text. t is what was read of it and m its pieces in space; where
// it cannot be read as a toy, or not be built, they are nil, and what only they tell is as it was
// before.
func BuildsOf(text string, t *app.Toy, m *assembly.Model, before *Builds) (*Builds, bool) {
	f := source.New("", text)
	root, probs := tree.Parse(f)
	if len(probs) > 0 {
		return before, false
	}
	out := &Builds{Hash: tree.Hash(text), Lists: []Build{}}
	add := func(glueUp, path string) {
		d := describer{f: f, root: root, t: t, m: m, count: map[string]int{}}
		if glueUp != "" && m != nil {
			for _, u := range m.GlueUps {
				if u.Spec.Name == glueUp {
					d.inside = u.ID + "/"
				}
			}
		}
		b := Build{GlueUp: glueUp, Path: path, Steps: []BuildStep{}, Seats: []Seat{}}
		if t != nil {
			d.hand = handOf(t.Toy)
		} else if n := root.At("units"); n != nil {
			d.hand.unit, _ = measure.ParseUnit(n.Text)
		}
		if n := root.At(path); n != nil {
			for i, it := range n.Items {
				b.Steps = append(b.Steps, d.step(it, fmt.Sprintf("%s[%d]", path, i), i == 0))
			}
		}
		if t != nil {
			b.Seats = seatsOf(t.Toy, m, b.Steps, d.inside)
		} else if old := before.of(glueUp); old != nil {
			b.Seats = old.Seats
		}
		out.Lists = append(out.Lists, b)
	}
	add("", "build")
	if n := root.At("glue-ups"); n != nil {
		for _, e := range n.Entries {
			add(e.Key.Text, tree.Join("glue-ups", e.Key.Text)+".pieces")
		}
	}
	return out, true
}

func (b *Builds) of(glueUp string) *Build {
	if b == nil {
		return nil
	}
	for i := range b.Lists {
		if b.Lists[i].GlueUp == glueUp {
			return &b.Lists[i]
		}
	}
	return nil
}

// facing are the sides that a flat can face like, by the number that assembly gives them.
var facing = [...]string{"back", "front", "right", "left", "bottom", "top"}

// seatsOf lists what the steps add, with the features of each. inside is what their ids begin with
// in the toy.
func seatsOf(t *toy.Toy, m *assembly.Model, steps []BuildStep, inside string) []Seat {
	out := []Seat{}
	add := func(step int, id, part string, list []toy.Feature) {
		s := Seat{ID: id, Part: part, Step: step, Features: []SeatSpot{}}
		box := r3.EmptyBox()
		if m != nil {
			box = m.Bounds(inside + id)
		}
		if box.Min.X <= box.Max.X {
			s.Low, s.High = floats(box.Min), floats(box.Max)
		}
		for _, f := range list {
			spot := SeatSpot{Name: f.Name, Kind: f.Kind.String()}
			if f.Kind == toy.FlatFeature && box.Min.X <= box.Max.X {
				if face, at, ok := m.Flat(inside+id, f.Name); ok {
					spot.Faces, spot.At = facing[face], at
				}
			}
			s.Features = append(s.Features, spot)
		}
		out = append(out, s)
	}
	for i, s := range steps {
		for k, id := range s.IDs {
			part := s.Part
			if k > 0 { // a wheel on its axle
				part, _, _ = strings.Cut(id, ".")
			}
			if g, ok := t.GlueUpNamed(part); ok {
				add(i, id, part, toy.FeaturesOf(g.Work))
				for _, q := range g.Pieces {
					if p, ok := t.PartNamed(q.Part); ok {
						add(i, id+"/"+q.ID, q.Part, p.Features())
					}
				}
			} else if p, ok := t.PartNamed(part); ok {
				add(i, id, part, p.Features())
			}
		}
	}
	return out
}
