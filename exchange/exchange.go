// Package exchange writes what dryfit knows in open formats that other programs read:
// sheets of outlines as SVG (svg.go) and DXF (dxf.go), solids as STL (stl.go), 3MF
// (threemf.go) and glTF (gltf.go).
//
// It knows no toys: the caller hands it outlines and surfaces with names. Lengths are
// millimetres but in glTF, which has metres. The same input gives the same bytes.
package exchange

import (
	"math"
	"strconv"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
)

// A Sheet is one side of a blank with all that is sawn and drilled there.
type Sheet struct {
	Name  string
	Size  r2.Vec // of the side: its lower left corner is at 0,0
	Lines []Line
}

// bounds is around the side and all its lines: work on a glue-up may lie beside the first
// of its pieces.
func (s Sheet) bounds() r2.Box {
	box := r2.Around(r2.Vec{}, s.Size)
	for _, l := range s.Lines {
		box = box.Union(l.Path.Bounds())
	}
	return box
}

// Line is a closed line on a sheet.
type Line struct {
	Layer string // Blank, Saw, CutOut, Cut or Drill
	Name  string
	Path  outline.Path
}

// The layers of a sheet.
const (
	Blank  = "Blank"  // the side of the blank
	Saw    = "Saw"    // kept inside
	CutOut = "CutOut" // goes right through, waste inside
	Cut    = "Cut"    // to a depth
	Drill  = "Drill"
)

var layers = []string{Blank, Saw, CutOut, Cut, Drill}

// A Solid is one shape with a name, in its own frame. Several Items may share one.
type Solid struct {
	Name    string
	Surface solid.Mesh
	Wood    string
	Colour  [3]uint8 // sRGB
}

// Item is a solid in its place.
type Item struct {
	Name  string
	Solid int // index of the solids
	At    r3.Pose
}

// num prints a number to so many places, without zeros at its end.
func num(v float64, places int) string {
	k := math.Pow(10, float64(places))
	v = math.Round(v*k) / k
	if v == 0 {
		v = 0 // not -0
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
