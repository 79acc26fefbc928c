package prove

import (
	"fmt"
	"math"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
)

// cut.possible: each part, and each glue-up as one block, is put on the bench once
// (cut_bench.go) and its work gone through: what is sawn (cut_saw.go), what is drilled
// (cut_drill.go), the wood left beside each hole (cut_wall.go, cut_section.go), how it is
// held and what it is cut from (cut_hold.go). What is no fault but worth knowing at the
// bench goes into the notes of the one finding that holds.

// The figures that wood and tools are held against, all common practice without a source
// but where another is named.
const (
	scrollKerf    = 25.4 / 50    // 0.02 in, the thinnest cut of a scroll saw
	bladeHole     = 25.4 / 16    // a plain-end scroll-saw blade goes through it
	pilotHole     = 25.4 / 4     // the drill of a hole saw
	pilotLeast    = 6.0          // and that of a metric one, mm
	pointShare    = 0.3          // height of a 118 degree drill point over its diameter: tan 31 deg / 2
	wallShare     = 0.25         // of the hole's diameter, left beside it
	wallLeast     = 25.4 / 16    // however small the hole
	wallMost      = 25.4 / 8     // more than that is never asked for
	floorLeast    = 25.4 / 16    // under a stopped hole
	pastBlank     = 0.5          // an outline may run past the wood by a pencil line
	recessSlender = 4.0          // and, bored out first, so many times as deep as it is wide
	walkSlope     = math.Pi / 18 // a bit that meets a slope steeper than this walks
	heldLeast     = 3 * 25.4     // what is shorter than this is not held at a saw or drill by itself
	tinyPiece     = 25.4         // and below this, sawn or drilled from two sides, they are risky even so
	tinyRound     = 25.4 / 2     // rounds below this are not sawn by hand
)

// DeepRecess is how deep, in mm, a recess is cut with a chisel or a router alone: what is
// deeper is bored out first. Common practice, no source.
const DeepRecess = 25.4

var cutCheck = Check{
	ID: "cut.possible", Asks: "can ordinary tools, or those of the shop, cut it?", run: cutAll,
	How: "Each part and each glue-up is gone through as work on the bench. Inside curves are compared with what a blade turns (arcs by their radius, drawn-out curves over each 45 degrees of turn; sharp corners are sawn from both sides and always possible), wood with the thickest that the saw takes, holes with the bits that are sold. " +
		"The wood beside a hole is measured in three sections across each stretch of wood it goes through, square to the nearest surface, and to every other hole; wood in front of a stopped hole along its axis.",
	Limits: []Limit{
		{"a scroll saw takes, if the file does not say,", inMM(assembly.ScrollThickest), practice},
		{"a band saw takes, if the file does not say,", inMM(assembly.BandThickest), practice},
		{"the tightest inside curve of a band saw", "by blade width: 3/16 in radius with a 1/8 in blade", "trade tables: R = w²/(4 s), set s 0.025 in"},
		{"the tightest inside curve of a scroll saw", "half the width of its blade", practice},
		{"a hole is drilled by a bit no farther off than", inMM(tol.Drill), "ASME B94.11M sizes; common practice for flat-bottomed bits"},
		{"an ordinary bit reaches", "ten times its diameter, at most 100 mm; twice that where a hole goes right through and square, from both sides", practice + "; jobber drills are about as long (DIN 338, from memory)"},
		{"wood beside a hole", "a quarter of its diameter, at least " + inMM(wallLeast) + ", at most " + inMM(wallMost), practice},
		{"wood under a stopped hole", "the drill's point, 0.3 of its diameter, or " + inMM(floorLeast) + " under a flat-bottomed bit", "118° point; " + practice},
		{"an outline runs past its blank by", "at most " + inMM(pastBlank) + ", a pencil line", practice},
		{"a recess deeper than " + inMM(DeepRecess) + " is bored out first, and is", "at most four times as deep as it is wide", practice},
		{"room for the blade's hole in a cut-out", inMM(bladeHole), practice},
		{"the longest dowel, if the file does not say,", "48 in, or 1000 mm", practice},
	},
}

// cutting is the making of this check.
type cutting struct {
	*run
	found                                                                    []Finding
	byKey                                                                    map[string]int
	backed, taped, first, flat, slots, strip, scraps, cups, vee, both, bored []string // names for the notes
	usual                                                                    bool     // some tool is not said, and the usual one was taken
	curve                                                                    leastAt  // the tightest inside curve
	wall                                                                     leastAt  // the thinnest wall beside a hole, against its limit
}

// leastAt is the place with the least of something.
type leastAt struct {
	value, limit, margin float64
	at                   Place
	name                 string
	some                 bool
}

func (t *leastAt) meet(value, limit float64, name string, at Place) {
	if m := value - limit; !t.some || m < t.margin {
		*t = leastAt{value, limit, m, at, name, true}
	}
}

func cutAll(r *run) {
	c := &cutting{run: r, byKey: map[string]int{}}
	for _, b := range c.benches() {
		c.saws(b)
		c.drills(b)
		c.walls(b)
		c.holding(b)
	}
	c.between()
	c.stock()
	for _, f := range c.told() {
		r.add(f)
	}
	c.sum()
}

// say files a finding under a key: of the holes of one row, or of anything else that
// shares a key, only the worst.
func (c *cutting) say(key string, f Finding) {
	f.Check, f.known = "cut.possible", true
	i, ok := c.byKey[key]
	if !ok {
		c.byKey[key] = len(c.found)
		c.found = append(c.found, f)
		return
	}
	if old := &c.found[i]; f.Verdict > old.Verdict || f.Verdict == old.Verdict && f.Margin < old.Margin-tol.Page {
		*old = f
	}
}

// told returns what was found with one finding for each thing: what else there is to say
// about it follows in the notes.
func (c *cutting) told() (out []Finding) {
	by := map[string]int{}
	for _, f := range c.found {
		i, ok := by[f.About]
		if !ok {
			by[f.About] = len(out)
			out = append(out, f)
			continue
		}
		if old := out[i]; f.Verdict > old.Verdict {
			f.Notes = append(append(f.Notes, old.Says), old.Notes...)
			out[i] = f
		} else {
			out[i].Notes = append(append(out[i].Notes, f.Says), f.Notes...)
		}
	}
	return out
}

// sum files the finding that holds for all the rest, with what to know at the bench.
func (c *cutting) sum() {
	f := Finding{Check: "cut.possible", About: "toy", Verdict: Holds, Unit: "mm", Source: practice}
	with := "the tools of a small shop"
	if c.m.Toy.Shop != nil {
		with = "the tools of the shop"
	}
	what := "it"
	if len(c.found) > 0 {
		what = "the rest"
	}
	f.Says = with + " cut " + what
	if w := c.wall; w.some && w.margin >= 0 {
		f.Value, f.Limit, f.Places = w.value, w.limit, []Place{w.at}
		f.Says += fmt.Sprintf("; the least wood beside a hole is %s, at %s", c.len(w.value), w.name)
	}
	note := func(list []string, format string) {
		if len(list) > 0 {
			f.Notes = append(f.Notes, fmt.Sprintf(format, strings.Join(list, ", ")))
		}
	}
	if c.usual {
		f.Notes = append(f.Notes, "usual tools are taken where the file names none: bits in inches and in millimetres, a scroll saw for wood up to "+c.len(assembly.ScrollThickest)+", a band saw up to "+c.len(assembly.BandThickest))
	}
	if k := c.curve; k.some {
		f.Notes = append(f.Notes, fmt.Sprintf("the tightest inside curve, of radius %s, is in %s: %s", c.len(k.value), k.name, bladesFor(k.value)))
	}
	note(c.taped, "work from two directions: tape the waste of the first cut back on, so that the wood lies flat for the next (%s)")
	note(c.backed, "back the wood with scrap where a drill comes through (%s)")
	note(c.both, "deeper than an ordinary bit reaches: mark the place on both sides and drill from both, or take a long bit (%s)")
	note(c.bored, "deep recesses: bore most of the wood out with a flat-bottomed bit, then pare to the line with a chisel (%s)")
	note(c.first, "drill the counterbore first, and the hole through its middle (%s)")
	note(c.flat, "a pointed drill would come through: take a flat-bottomed bit (%s)")
	note(c.slots, "part of a round only: drill before the saw takes the wood away, or clamp scrap against it (%s)")
	note(c.strip, "too small to hold by itself: drill and saw it on the end of a longer strip, and cut it off last (%s)")
	note(c.scraps, "too small to hold by itself, and worked on at an end, so that it cannot stay on a strip: clamp it between scraps of wood or in a hand screw, or tape it to a longer block (%s)")
	note(c.cups, "hold the ball in a cup bored in scrap (%s)")
	note(c.vee, "hold the dowel in a V-block to drill it (%s)")
	c.run.add(f)
}

// once adds a name to a list that has it only once.
func once(list *[]string, name string) {
	for _, n := range *list {
		if n == name {
			return
		}
	}
	*list = append(*list, name)
}

// spot is the place of some work in the world.
func (b *bench) spot(at r3.Vec) r3.Vec { return b.frame.Point(at) }
