package file

import (
	"fmt"
	"reflect"

	"dryfit/toy"
	"dryfit/toy/file/shape"
)

// durations are how long work takes in a shop, where that differs from the table of facts:
// its names, in minutes.
type durations struct {
	shape.Place
	BitChange    shape.Formula `key:"bit-change" says:"Fitting another bit in the drill; left out: 3."`
	BladeChange  shape.Formula `key:"blade-change" says:"Fitting another blade in a saw; left out: 5."`
	DrillSetting shape.Formula `key:"drill-setting" says:"Setting fence, stop and table of the drill for holes that are alike; left out: 3."`
	DrillPiece   shape.Formula `key:"drill-piece" says:"Putting a piece under the drill and clamping it; left out: 0.5."`
	Hole         shape.Formula `key:"hole" says:"Drilling one hole; left out: 0.5."`
	MarkOut      shape.Formula `key:"mark-out" says:"Marking out a blank on a board; left out: 0.5."`
	Planer       shape.Formula `key:"planer" says:"Planing 100 square centimetres of board to thickness at the planer; left out: 0.4."`
	PlaneHand    shape.Formula `key:"plane-hand" says:"Planing 100 square centimetres of board to thickness with a hand plane; left out: 3."`
	Blank        shape.Formula `key:"blank" says:"Sawing a blank to size; left out: 2."`
	BlankHand    shape.Formula `key:"blank-hand" says:"Sawing a blank to size with a hand saw; left out: 5."`
	Pattern      shape.Formula `key:"pattern" says:"Sticking or tracing a pattern on one side; left out: 2."`
	Circle       shape.Formula `key:"circle" says:"Sticking or tracing the circle of a disc; left out: 0.75."`
	Stack        shape.Formula `key:"stack" says:"Taping thin pieces into a stack; left out: 2."`
	BandCut      shape.Formula `key:"band-cut" says:"Sawing 100 mm of line in wood 20 mm thick, at the band saw; left out: 0.5."`
	ScrollCut    shape.Formula `key:"scroll-cut" says:"Sawing 100 mm of line in wood 20 mm thick, at the scroll saw; left out: 2."`
	HandCut      shape.Formula `key:"hand-cut" says:"Sawing 100 mm of line in wood 20 mm thick, with a coping saw; left out: 6."`
	HandLine     shape.Formula `key:"hand-line" says:"Sawing 100 mm of straight line in wood 20 mm thick, with a hand saw; left out: 2.5."`
	Thread       shape.Formula `key:"thread" says:"Threading the blade through an opening; left out: 1.5."`
	TapeBack     shape.Formula `key:"tape-back" says:"Taping the waste back on for the second face; left out: 1."`
	Recess       shape.Formula `key:"recess" says:"Cutting a recess or groove with a chisel or router; left out: 8."`
	Turning      shape.Formula `key:"turning" says:"Turning a disc on the lathe; left out: 12."`
	HoleSaw      shape.Formula `key:"hole-saw" says:"Cutting a disc with a hole saw; left out: 2."`
	Bought       shape.Formula `key:"bought" says:"Trying the hole of a bought wheel; left out: 0.5."`
	Spindle      shape.Formula `key:"spindle" says:"Putting discs on a spindle and clamping them; left out: 5."`
	EdgeMachine  shape.Formula `key:"edge-machine" says:"Sanding 100 mm of edge to the line at a sander; left out: 0.3."`
	EdgeHand     shape.Formula `key:"edge-hand" says:"Sanding 100 mm of edge to the line by hand; left out: 1.2."`
	Face         shape.Formula `key:"face" says:"Sanding 100 square centimetres smooth by hand; left out: 0.4."`
	Arris        shape.Formula `key:"arris" says:"Easing 100 mm of arris by hand; left out: 0.15."`
	Dowel        shape.Formula `key:"dowel" says:"Cutting a dowel in a mitre box; left out: 1.5."`
	DowelEnds    shape.Formula `key:"dowel-ends" says:"Rounding both ends of a dowel with sandpaper; left out: 0.5."`
	Joint        shape.Formula `key:"joint" says:"Spreading glue on a joint and setting it right; left out: 3."`
	Clamping     shape.Formula `key:"clamping" says:"Putting on the clamps of a joint; left out: 1."`
	PutDown      shape.Formula `key:"place" says:"Putting a piece in place without glue; left out: 1."`
	Drive        shape.Formula `key:"drive" says:"Gluing a peg or pin in and tapping it home; left out: 1."`
	Axle         shape.Formula `key:"axle" says:"Waxing an axle and gluing its wheels on; left out: 3."`
	GlueSets     shape.Formula `key:"glue-sets" says:"Glue before the next joint and before the clamps come off; left out: 60."`
	GlueHard     shape.Formula `key:"glue-hard" says:"Glue before it is sawn, drilled or sanded flush, or played with; left out: 1440."`
	LastSanding  shape.Formula `key:"last-sanding" says:"Going over a toy with fine sandpaper and fingertips; left out: 5."`
	Coat         shape.Formula `key:"coat" says:"Putting a coat of finish on a toy and wiping it off; left out: 4."`
	Cord         shape.Formula `key:"cord" says:"Tying the pull cord; left out: 4."`
	Check        shape.Formula `key:"check" says:"Checking a finished toy; left out: 5."`
	ChildSpell   shape.Formula `key:"child-spell" says:"A child's work in one go; left out: 20."`
	ChildPause   shape.Formula `key:"child-pause" says:"A child's pause after it; left out: 5."`
}

// maxMinutes is more than anything in a shop takes: ninety days.
const maxMinutes = 90 * 24 * 60

// durations reads the minutes that are said.
func (v *values) durations(d *durations) (out []toy.Duration) {
	if d == nil {
		return nil
	}
	val := reflect.ValueOf(*d)
	for i := range val.NumField() {
		f, ok := val.Field(i).Interface().(shape.Formula)
		if !ok || f.Text == "" {
			continue
		}
		is, ok := v.eval(f, nil)
		n, plain := is.AsNumber()
		if ok && (!plain || !(n > 0) || n > maxMinutes) {
			v.problem("minutes", f.At, "this is no time in minutes").Expected = fmt.Sprintf("a number of minutes, more than 0 and at most %d", maxMinutes)
		}
		out = append(out, toy.Duration{Name: val.Type().Field(i).Tag.Get("key"), Minutes: n})
	}
	return out
}
