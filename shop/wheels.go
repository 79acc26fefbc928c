package shop

import (
	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/toy"
)

// How wheels are made.
const (
	MadeSawn   = "sawn"
	MadePlug   = "hole-saw"
	MadeTurned = "turned"
	MadeBought = "bought"
)

// Wheel is discs of one part and how they are made.
type Wheel struct {
	Toy     string  `json:"toy"`
	Part    string  `json:"part"`
	Made    string  `json:"made"` // sawn, hole-saw, turned, bought
	DiaMM   float64 `json:"dia_mm"`
	ThickMM float64 `json:"thick_mm"`
	BoreMM  float64 `json:"bore_mm,omitempty"`
	Count   int     `json:"count"`
	Spare   int     `json:"spare"`
	// A hole saw is stamped with its outside diameter; its plug is the wheel.
	StampedMM float64  `json:"stamped_mm,omitempty"`
	PilotMM   float64  `json:"pilot_mm,omitempty"`
	Says      []string `json:"says"`
}

// wheels lists the discs of all toys.
func (l *Lists) wheels(all []usage) {
	for _, u := range all {
		p := u.part
		if p.Shape != toy.Disc {
			continue
		}
		w := Wheel{Toy: u.toy, Part: p.Name, Made: p.Made, DiaMM: u.mm, ThickMM: p.Thick.MM(), BoreMM: p.Bore.MM(), Count: u.count, Spare: u.spare, Says: []string{}}
		if w.Made == "" {
			w.Made = MadeSawn
		}
		n := w.Count + w.Spare
		switch w.Made {
		case MadeSawn:
			if w.BoreMM > 0 {
				w.Says = append(w.Says, "bore first, all with one setting of the fence, then saw outside the line")
			}
			if w.BoreMM > 0 && n > 1 {
				w.Says = append(w.Says, "true them on one bolt through their bores, as many at a time as it holds")
			}
		case MadePlug:
			w.StampedMM, w.PilotMM = settled(w.DiaMM+facts.HoleSawTakes), facts.HoleSawPilot
			w.Says = append(w.Says, "hole saw stamped about "+l.length(w.StampedMM)+": its plug is smaller by two kerfs, about "+l.length(facts.HoleSawTakes)+"; measure a first plug")
			switch d := w.BoreMM - w.PilotMM; {
			case d > tol.Drill:
				w.Says = append(w.Says, "its pilot bit is "+l.length(w.PilotMM)+": drill the bore out to "+l.length(w.BoreMM))
			case d < -tol.Drill && w.BoreMM > 0:
				w.Says = append(w.Says, "its usual pilot bit of "+l.length(w.PilotMM)+" is too thick for the bore of "+l.length(w.BoreMM)+": put a thinner one in, or saw these wheels")
			case w.BoreMM > 0:
				w.Says = append(w.Says, "its pilot bit of "+l.length(w.PilotMM)+" makes the bore")
			default:
				w.Says = append(w.Says, "its pilot bit leaves a hole of "+l.length(w.PilotMM)+" in the middle")
			}
		case MadeTurned:
			w.Says = append(w.Says, "turn them between centres or on a screw, and part them off")
		case MadeBought:
			if z, ok := facts.NearestSize("wheel", w.DiaMM, l.unit == measure.MM); ok && !same(z.MM, w.DiaMM) {
				w.Says = append(w.Says, "the nearest that is commonly sold is "+z.Name)
			}
			w.Says = append(w.Says, "measure bore and thickness of what you get")
		}
		l.Wheels = append(l.Wheels, w)
	}
}
