// Package toy is the design of a toy as plain data: stock, parts as blanks with
// work, glue-ups, the build, and what is required of it. It knows lengths and
// places in the file, and neither how a file is written (toy/file) nor what the
// work makes of the wood (assembly).
//
// Every value carries the place in the file where it was said, so that whatever
// is found later can point there.
package toy

import (
	"cmp"
	"slices"
	"strings"

	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/measure/source"
)

// Toy is one whole design.
type Toy struct {
	File     *source.File
	Name     string
	Edition  int    // of the published design; 0 if not said
	Licence  string // what others may do with it, as the file says it; "" if not said
	Units    measure.Unit
	Ages     Ages
	Ease     measure.Length // every arris rubbed over by hand by this much; 0 if not said
	Sizes    []Size
	Stock    []Stock
	Parts    []Part
	GlueUps  []GlueUp
	Build    []Step
	Musts    []Must
	Waivers  []Waiver
	Finish   string // as the file says it; "" if not said
	FinishAt source.Range
	Cover    *Cover   // nil: nothing said of it
	Cord     *Cord    // nil: no pull cord
	Shop     *Shop    // nil: not said, usual tools are taken
	Climate  *Climate // nil: not said, the usual year is taken
}

// Climate is the air of the toy's year, DRY..DAMP, in the words of facts.ReadYear.
type Climate struct {
	Text string
	From string // who says so: FromFile, or an option
	At   source.Range
}

// FromFile is the toy file as what says something.
const FromFile = "the toy file"

// Cover is what the designer puts on the guide's first page. Empty texts are not said.
type Cover struct {
	Photo   string // a file beside the toy file or below it, by a relative name with slashes
	Message string
	Link    string // a web address, http or https
	PhotoAt source.Range
}

// Cord is the cord that a toy is pulled by.
type Cord struct {
	From   Ref            // the hole it is tied in
	Length measure.Length // free length
	End    string         // bead, loop, knot or plain
	At     source.Range
}

// Shop is what tools there are.
type Shop struct {
	Bits      []string // inch, metric; empty: both
	BandSaw   *Machine
	ScrollSaw *Machine
	Rack      *Rack    // nil but in a shop's own file
	Builder   *Builder // nil but in a shop's own file, where it is said
	From      []string // who says so: FromFile, or the name of a shop's own file
	At        source.Range
}

// Source says where a limit of the shop comes from.
func (s *Shop) Source() string { return strings.Join(s.From, " and ") + ": shop" }

// Over returns the shop of a toy file with what it says nothing of taken, key by key,
// from the builder's own. Either may be nil.
func (s *Shop) Over(own *Shop) *Shop {
	switch {
	case own == nil:
		return s
	case s == nil:
		return own
	}
	out := *s
	out.Rack, out.Builder = own.Rack, own.Builder
	if len(s.Bits) == 0 {
		out.Bits = own.Bits
	}
	out.BandSaw, out.ScrollSaw = s.BandSaw.over(own.BandSaw), s.ScrollSaw.over(own.ScrollSaw)
	if len(out.Bits) > len(s.Bits) || out.BandSaw != s.BandSaw || out.ScrollSaw != s.ScrollSaw {
		out.From = append(slices.Clone(s.From), own.From...)
	}
	return &out
}

// over returns m itself where nothing is taken from own.
func (m *Machine) over(own *Machine) *Machine {
	switch {
	case own == nil:
		return m
	case m == nil:
		return own
	}
	out := *m
	out.Blade, out.Kerf, out.Thickest = cmp.Or(m.Blade, own.Blade), cmp.Or(m.Kerf, own.Kerf), cmp.Or(m.Thickest, own.Thickest)
	if out == *m {
		return m
	}
	return &out
}

// Machine is a saw that follows a line. Blade is the width of its blade, Kerf what
// it takes away, Thickest the wood it takes; 0 is not said.
type Machine struct {
	Blade, Kerf, Thickest measure.Length
	At                    source.Range
}

// Ages is whom the toy is for.
type Ages struct {
	FromMonths int
	Said       bool // false: the file does not say, and 3 years is assumed
	At         source.Range
}

// Size is a named size of the file with its value.
type Size struct {
	Name  string
	Text  string // as written
	Value formula.Value
	At    source.Range
}

// Form is what stock looks like when it is bought.
type Form int

// The forms of stock.
const (
	Board Form = iota
	Sheet
	Dowel
	Ball
)

func (f Form) String() string { return [...]string{"board", "sheet", "dowel", "ball"}[f] }

// Stock is the material a blank comes from. Thick is set for boards and sheets,
// Dia for dowels and balls.
type Stock struct {
	Name    string
	Wood    string
	Form    Form
	Thick   measure.Length
	Dia     measure.Length
	At      source.Range
	WoodAt  source.Range
	Sawn    string         // flat, quarter or "" if not said: how the growth rings lie
	Longest measure.Length // the longest piece to be had; 0 if not said
}

// Side is one of the six sides of a blank, named as the blank lies with its
// length forward and its face up: axes x forward, y left, z up.
type Side int

// The sides of a blank. Top and Bottom are its faces, Right and Left its edges,
// Front and Back its ends. Opposites differ in the last bit.
const (
	Top Side = iota
	Bottom
	Right
	Left
	Front
	Back
)

func (s Side) String() string {
	return [...]string{"top", "bottom", "right", "left", "front", "back"}[s]
}

// Opposite returns the side across the blank.
func (s Side) Opposite() Side { return s ^ 1 }

// SideAxis tells what a word for a side of a piece in its place means: the axis, 0 front
// to back, 1 side to side, 2 up and down, and whether it is the side toward +.
func SideAxis(word string) (axis int, positive, ok bool) {
	switch word {
	case "front", "back":
		return 0, word == "front", true
	case "left", "right":
		return 1, word == "left", true
	case "top", "bottom":
		return 2, word == "top", true
	}
	return 0, false, false
}

// HasFlat tells whether an outline of the work names a flat so.
func HasFlat(work []Work, name string) bool {
	for _, w := range work {
		var o Outline
		switch w := w.(type) {
		case Saw:
			o = w.Outline
		case Cut:
			o = w.Outline
		}
		for _, f := range o.Flats {
			if f.Name == name {
				return true
			}
		}
	}
	return false
}

// Shape is what a blank is before any work.
type Shape int

// The shapes of blanks. A Disc is a round standing on its faces, a Rod a round
// along its length, a Sphere a ball.
const (
	Block Shape = iota
	Disc
	Rod
	Sphere
)

// Part is a blank with its work. A toy uses it any number of times.
type Part struct {
	Name  string
	Stock string
	Shape Shape
	// Length, Width and Thick are the extents of the blank along x, y and z.
	// For a Disc Length and Width are its diameter, for a Rod Width and Thick,
	// for a Sphere all three. A Rod's Length is 0 when it follows from the build.
	Length, Width, Thick measure.Length
	Lies                 Lies
	Work                 []Work
	Bore                 measure.Length // of a Disc, through its middle; 0: none
	Made                 string         // how a disc is made: sawn, hole saw, turned, bought; "" for others
	Mirrors              string         // the part that this one is the mirror image of; "" for others
	Spare                int
	At                   source.Range
}

// Dir is a direction of the world: x forward, y left, z up (ISO 8855).
type Dir int

// The directions of the world. Opposites differ in the last bit.
const (
	Up Dir = iota
	Down
	ToRight
	ToLeft
	Forward
	Backward
)

func (d Dir) String() string {
	return [...]string{"up", "down", "right", "left", "forward", "back"}[d]
}

// Opposite returns the direction the other way.
func (d Dir) Opposite() Dir { return d ^ 1 }

// Axis returns 0, 1 or 2 for x, y or z, and whether d points along it or against.
func (d Dir) Axis() (axis int, positive bool) {
	switch d {
	case Up, Down:
		return 2, d == Up
	case ToRight, ToLeft:
		return 1, d == ToLeft
	}
	return 0, d == Forward
}

// Lies is the attitude of a blank: which way its length points, which of its
// sides faces in a second direction, and a lean about one axis.
type Lies struct {
	Length  Dir
	Faces   Dir  // the second direction
	Side    Side // the side of the blank that looks that way
	Lean    measure.Angle
	LeanDir Dir // the axis of the lean, right-handed
	Said    bool
	At      source.Range
}

// Natural is the attitude of a blank that lies with its length forward and its
// face up.
var Natural = Lies{Length: Forward, Faces: Up, Side: Top}

// Point is a place on a side of a blank, from the lower left corner as seen from
// outside.
type Point struct{ X, Y measure.Length }

// Work is one operation on a blank or a glue-up: Drill, Saw, Cut, Arris or Flush.
type Work interface {
	Where() source.Range
}

// SideOf is the side that holes and lines are on; false for other work.
func SideOf(w Work) (Side, bool) {
	switch w := w.(type) {
	case Drill:
		return w.Side, true
	case Saw:
		return w.Side, true
	case Cut:
		return w.Side, true
	}
	return 0, false
}

// Hole is one hole of a Drill.
type Hole struct {
	Name string // "" if it has none
	At   Point
	In   source.Range
}

// Drill bores round holes square to a side, or leaning.
type Drill struct {
	Side         Side
	Dia          measure.Length
	Holes        []Hole
	Depth        measure.Length // 0: through
	Lean         measure.Angle  // off square
	Toward       Seen           // the way the hole leans as it goes in
	CounterDia   measure.Length // 0: none
	CounterDepth measure.Length
	At           source.Range
}

// Seen is a direction on a side as it is seen from outside.
type Seen int

// Directions on a side.
const (
	SeenRight Seen = iota
	SeenLeft
	SeenUp
	SeenDown
)

// Saw keeps what lies inside an outline, all the way through.
type Saw struct {
	Side    Side
	Outline Outline
	At      source.Range
}

// Cut takes away what lies inside an outline: right through, or to a depth.
// Word is the trade's word for it: cut-out, cut-in, notch, groove.
type Cut struct {
	Word    string
	Side    Side
	Outline Outline
	Depth   measure.Length // 0: through
	At      source.Range
}

// Arris takes the sharp line off where two sides meet: rounded by a radius or
// chamfered. An empty Sides means every arris.
type Arris struct {
	Round bool
	By    measure.Length
	Sides [][2]Side
	At    source.Range
}

// Flush sands everything that stands proud of a side of one piece of a glue-up
// down to it. With is the id of that piece inside the glue-up.
type Flush struct {
	Side Side
	With string
	At   source.Range
}

// Where returns the place in the file.
func (w Drill) Where() source.Range { return w.At }

// Where returns the place in the file.
func (w Saw) Where() source.Range { return w.At }

// Where returns the place in the file.
func (w Cut) Where() source.Range { return w.At }

// Where returns the place in the file.
func (w Arris) Where() source.Range { return w.At }

// Where returns the place in the file.
func (w Flush) Where() source.Range { return w.At }

// Corner is a point of an outline, rounded by a radius; with Through set, an arc
// leads to it from the point before, by way of Through.
type Corner struct {
	Point
	Radius  measure.Length
	Through *Point
	In      source.Range
}

// Outline is a closed line on a side. Exactly one of Corners, Path and Circle
// describes it.
type Outline struct {
	Corners []Corner
	Mirror  string         // "", "along" or "across": Corners is one half, mirrored over its open side
	Path    string         // SVG path data, y up
	Unit    measure.Length // of one unit of Path
	Over    Point          // Path is mirrored: of a number that is set here, x becomes X - x, y becomes Y - y
	Circle  *Circle
	Flats   []Named // a straight side of the outline: Index is its first corner
	Points  []Named
	At      source.Range
}

// Circle is a round outline.
type Circle struct {
	Centre Point
	Dia    measure.Length
}

// Named gives a name to a corner of an outline or to the side that starts there.
type Named struct {
	Name  string
	Index int // from 0
	At    source.Range
}

// GlueUp is parts glued into one piece that then gets work of its own. Its frame
// is that of its first piece.
type GlueUp struct {
	Name   string
	Pieces []Put
	Work   []Work
	At     source.Range
}

// Ref names a piece, and a side, hole, flat or point of it.
type Ref struct {
	Piece   string // id
	Feature string
	At      source.Range
}

func (r Ref) String() string { return r.Piece + "." + r.Feature }

// Sit fixes one direction of a piece (two, where it lays one hole on another):
// the piece's own side, middle, hole, flat or point comes to Target, further by
// Off (forward, left and up are positive).
type Sit struct {
	Own    string
	Target Ref
	Off    measure.Length
	At     source.Range
}

// Step is one entry of the build: Put, Wheels, Peg or Hinge.
type Step interface {
	Where() source.Range
}

// Put adds a part or a glue-up.
type Put struct {
	Part   string
	ID     string
	Sits   []Sit
	Lies   *Lies // nil: as the part says
	Glued  bool
	GlueTo []string // pieces; empty: those that it sits against
	Keyed  string   // the piece that keeps it in place while the glue sets
	Leave  string   // the group it belongs to that a builder may leave out; "" if not
	Saddle *Saddle
	At     source.Range
}

// Saddle says that the piece goes over (or into) another, with play across.
type Saddle struct {
	Word   string // saddle or slot
	Over   string
	Across Dir
	Glued  bool
	At     source.Range
}

// Wheels puts an axle with wheels into holes. One of Length, Proud, Play and Gap
// may be nil and follows from the others; Gap is nil as well for single wheels.
type Wheels struct {
	In                       []Ref
	Axle                     string
	AxleID                   string
	Outward                  []string    // parts from the body outward, the same at both ends
	WheelIDs                 [2][]string // at the axis' negative end (right) and positive end (left)
	Length, Proud, Play, Gap *measure.Length
	Leave                    string
	At                       source.Range
}

// Peg puts a dowel into holes that share an axis, glued.
type Peg struct {
	Use    string
	ID     string
	In     []Ref
	Proud  measure.Length // beyond the mouth of the last hole
	Length *measure.Length
	Leave  string
	At     source.Range
}

// Hinge joins what a pin is glued into with what turns on it.
type Hinge struct {
	Name     string
	Pin      string
	ID       string
	Fixed    []Ref
	Runs     []Ref
	Proud    measure.Length
	Length   *measure.Length
	LiftsOff bool
	Leave    string
	At       source.Range
}

// Where returns the place in the file.
func (s Put) Where() source.Range { return s.At }

// Where returns the place in the file.
func (s Wheels) Where() source.Range { return s.At }

// Where returns the place in the file.
func (s Peg) Where() source.Range { return s.At }

// Where returns the place in the file.
func (s Hinge) Where() source.Range { return s.At }

// MustKind is what a toy is required to do.
type MustKind int

// The kinds of requirement.
const (
	MustRoll MustKind = iota
	MustSwing
	MustStand
	MustClear
	MustTurn
)

// Must is one requirement.
type Must struct {
	Kind    MustKind
	Hinge   string         // MustSwing
	Angle   measure.Angle  // MustSwing, MustStand
	EachWay bool           // MustSwing: to both sides, else to either
	Length  measure.Length // MustClear: above the floor; MustTurn: the circle's diameter
	At      source.Range
}

// Waiver silences one check for one thing, with a reason that is printed.
type Waiver struct {
	Check  string
	About  string
	Reason string
	At     source.Range
}

// StockNamed returns the stock of that name.
func (t *Toy) StockNamed(name string) (Stock, bool) {
	for _, s := range t.Stock {
		if s.Name == name {
			return s, true
		}
	}
	return Stock{}, false
}

// PartNamed returns the part of that name.
func (t *Toy) PartNamed(name string) (*Part, bool) {
	for i := range t.Parts {
		if t.Parts[i].Name == name {
			return &t.Parts[i], true
		}
	}
	return nil, false
}

// GlueUpNamed returns the glue-up of that name.
func (t *Toy) GlueUpNamed(name string) (*GlueUp, bool) {
	for i := range t.GlueUps {
		if t.GlueUps[i].Name == name {
			return &t.GlueUps[i], true
		}
	}
	return nil, false
}
