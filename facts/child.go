package facts

import (
	"fmt"
	"math"
	"slices"
)

// Limit is a figure of a published toy-safety rule, or of custom where Source says so.
type Limit struct {
	ID          string
	Value       float64 // in Unit
	Unit        string  // mm, kg, N, Nm, deg, ppm
	FromMonths  int     // reaches toys for children from this age ...
	UnderMonths int     // ... to under this one; 0 if for all
	What        string
	Origin
}

// Reaches tells whether the limit counts for a toy for children from the given
// age in months on: a toy that spans classes meets the most stringent, so
// only the youngest child matters, and a limit that starts later always counts.
func (l Limit) Reaches(months int) bool { return l.UnderMonths == 0 || months < l.UnderMonths }

// The limits by their id; each is a row of data/child.csv.
const (
	SmallBore    = "small.bore"
	SmallShallow = "small.shallow"
	SmallDeep    = "small.deep"
	SmallLabel   = "small.label"
	BallHole     = "ball.hole"
	BallLabel    = "ball.label"
	RattleLong   = "rattle.long"
	RattleShort  = "rattle.short"
	RattleDepth  = "rattle.depth"
	RoundEnd     = "round.end"
	PegHead      = "peg.head"
	PegLength    = "peg.length"
	FigureLength = "figure.length"

	FingerRod   = "finger.rod"
	FingerClear = "finger.clear"
	HingeWeight = "hinge.weight"
	HoleThin    = "hole.thin"
	HoleRod     = "hole.rod"
	HoleDepth   = "hole.depth"

	CordShort     = "cord.short"
	CordLoop      = "cord.loop"
	CordThick     = "cord.thick"
	CordNoose     = "cord.noose"
	CordPerimeter = "cord.perimeter"
	CordPull      = "cord.pull"

	ArrisUsual    = "arris.usual"
	ArrisUnder3   = "arris.under3"
	SectionUsual  = "section.usual"
	SectionUnder3 = "section.under3"

	SlopeHand      = "slope.hand"
	SlopePull      = "slope.pull"
	SlopeRideSide  = "slope.ride.side"
	SlopeRideAlong = "slope.ride.along"

	PressDisc       = "press.disc"
	TensionEnvelope = "tension.envelope"
	TorqueEnvelope  = "torque.envelope"
	PressEnvelope   = "press.envelope"

	LeadCoating = "lead.coating"
	LeadTotal   = "lead.total"
)

// Child returns the limit with one of the ids above; any other id is a bug.
func Child(id string) Limit {
	for _, l := range all().limits {
		if l.ID == id {
			return l
		}
	}
	panic(fmt.Sprintf("bug in facts.Child: no limit %q", id))
}

// ChildLimits returns all limits in the order of the table.
func ChildLimits() []Limit { return slices.Clone(all().limits) }

// FingerGap tells whether a gap of mm between moving parts can trap a finger: it admits
// the rod of 5 mm but not that of 13 mm. Source: ASTM F963 4.18.1.
func FingerGap(mm float64) bool {
	return mm >= Child(FingerRod).Value && mm < Child(FingerClear).Value
}

// Abuse is a set of use-and-abuse tests. A figure that a standard does not have is NaN.
type Abuse struct {
	Name                 string
	FromMonths, ToMonths int     // ages of the class: over From, up to To
	BelowKg              float64 // drops are for toys lighter than this
	Drops                int
	DropMM               float64
	Torque               float64 // newton metres
	Tension              float64 // newtons
	TensionSmall         float64 // newtons, on what is 6 mm or less across
	Compression          float64 // newtons
	Bite                 float64 // newtons
	Origin
}

// AbuseTests returns all sets in the order of the table.
func AbuseTests() []Abuse { return slices.Clone(all().abuse) }

// AbuseFor returns the sets that a toy for children from months on has to stand: of
// each standard the class of the youngest child and, since a toy that spans classes
// meets the most stringent, of every older one up to to months.
func AbuseFor(months, to int) []Abuse {
	var out []Abuse
	for _, a := range all().abuse {
		if months < a.ToMonths && to > a.FromMonths {
			out = append(out, a)
		}
	}
	return out
}

// Caution is a plain sentence for the shop.
type Caution struct {
	Topic string // saw, drill, dust, lathe, glue, finish, wood, small parts, child, screening
	Text  string
	Origin
}

// Cautions returns the sentences of the topics, in the order of the table; all without a topic.
func Cautions(topics ...string) []Caution {
	var out []Caution
	for _, c := range all().cautions {
		if len(topics) == 0 || slices.Contains(topics, c.Topic) {
			out = append(out, c)
		}
	}
	return out
}

func (t *tables) addLimit(r *record) {
	months := func(name string) int {
		v := r.optional(name)
		if math.IsNaN(v) {
			return 0
		}
		if v != math.Trunc(v) || v < 0 {
			r.fail("%s %g", name, v)
		}
		return int(v)
	}
	l := Limit{ID: r.text("id"), Value: r.number("value"), Unit: r.text("unit"),
		FromMonths: months("from_months"), UnderMonths: months("under_months"), What: r.text("what"), Origin: r.origin()}
	if slices.ContainsFunc(t.limits, func(o Limit) bool { return o.ID == l.ID }) {
		r.fail("id %q is taken", l.ID)
	}
	if !(l.Value > 0) {
		r.fail("value %g", l.Value)
	}
	t.limits = append(t.limits, l)
}

func (t *tables) addAbuse(r *record) {
	t.abuse = append(t.abuse, Abuse{
		Name: r.text("name"), FromMonths: int(r.number("from_months")), ToMonths: int(r.number("to_months")),
		BelowKg: r.optional("below_kg"), Drops: int(r.number("drops")), DropMM: r.number("drop_mm"),
		Torque: r.number("torque_nm"), Tension: r.number("tension_n"), TensionSmall: r.number("tension_small_n"),
		Compression: r.number("compression_n"), Bite: r.optional("bite_n"), Origin: r.origin(),
	})
}

func (t *tables) addCaution(r *record) {
	t.cautions = append(t.cautions, Caution{r.text("topic"), r.text("text"), r.origin()})
}
