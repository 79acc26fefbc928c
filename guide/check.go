package guide

import (
	"math"
	"slices"
	"strings"

	"dryfit/facts"
	"dryfit/prove"
	"dryfit/toy"
)

// The last page: what to measure on the finished toy, and what it should be.

func (b *book) checks() {
	add := func(what, is string) { b.g.Checks = append(b.g.Checks, Check{capital(what), is}) }
	size := b.box().Size()
	add(b.say("check.length"), b.about(size.X))
	add(b.say("check.width"), b.about(size.Y))
	add(b.say("check.height"), b.about(prove.Height(b.Model)))
	wheels, dia, mixed := 0, 0.0, false
	for _, a := range b.Model.Axles {
		for end := range a.Wheels {
			for _, w := range a.Wheels[end] {
				_, _, r := b.Model.Pieces[w].Axis()
				mixed = mixed || wheels > 0 && math.Abs(2*r-dia) > 0.1
				wheels, dia = wheels+1, 2*r
			}
		}
	}
	if wheels > 0 && !mixed {
		add(b.say("check.wheel"), b.about(dia))
	}
	for _, f := range b.Report.Findings {
		if f.Verdict == prove.CannotTell || math.IsNaN(f.Value) || math.IsInf(f.Value, 0) {
			continue
		}
		switch {
		case f.Check == "move.ground" && f.About == "wheels" && f.Verdict == prove.Holds && wheels > 0:
			add(b.say("check.floor"), b.say("check.floor.is", "n", wheels))
		case f.Check == "move.ground" && f.About == "clearance" && wheels > 0:
			add(b.say("check.clearance"), b.about(f.Value))
		case f.Check == "move.hinge" && f.About != "toy":
			b.swing(f, add)
		case f.Check == "balance" && f.About == "toy":
			add(b.say("check.slope"), b.say("check.slope.is", "angle", b.degrees(math.Floor(f.Value)), "must", b.degrees(f.Limit)))
		}
	}
	b.playChecks(add)
	if e := b.Model.Toy.Ease.MM(); e > 0 {
		add(b.say("check.arris"), b.say("check.arris.is", "by", b.mm(e)))
	}
	if wheels > 0 {
		add(b.say("check.roll"), b.say("check.roll.is"))
	}
	add(b.say("check.pull"), b.say("check.pull.is", "force", b.pull()))
	add(b.say("check.weight"), b.weight(b.Lists.WeightKg))
	b.notes()
}

// pull is the force that the standards' tests pull with: 90 N, which is a hanging mass of
// about 9 kg, 20 lb. Source: facts.Child(TensionEnvelope).
func (b *book) pull() string {
	n := facts.Child(facts.TensionEnvelope).Value
	if b.unit.Symbol() == "in" {
		return b.say("check.pull.lb", "n", math.Round(n/4.4482216))
	}
	return b.say("check.pull.kg", "n", math.Round(n/9.80665))
}

// swing tells how far a hinge has to turn, and how far it does as drawn.
func (b *book) swing(f prove.Finding, add func(what, is string)) {
	must, each := 0.0, false
	for _, m := range b.Model.Toy.Musts {
		if m.Kind == toy.MustSwing && m.Hinge == f.About {
			must, each = m.Angle.Degrees(), m.EachWay
		}
	}
	key := "check.swing.is"
	by := ""
	if must == 0 {
		by = b.stoppedBy(f.About)
	}
	switch {
	case by != "":
		key = "check.swing.until"
	case f.Value >= 179.5:
		key = "check.swing.half"
	case must > 0 && each:
		key = "check.swing.each"
	case must > 0:
		key = "check.swing.must"
	}
	add(b.say("check.swing", "name", plain(f.About)), b.say(key, "angle", b.degrees(math.Floor(f.Value)), "must", b.degrees(must), "by", by))
}

// stoppedBy names what a hinge is stopped by as it swings farther, where that moves by itself:
// then the angle is another one wherever it stands, and is not told. The hinge is stopped by
// nothing or by what stays: "".
func (b *book) stoppedBy(hinge string) string {
	swings := prove.Swings(b.Model)
	for i, h := range b.Model.Hinges {
		s := swings[i]
		if h.Name != hinge || !s.OK {
			continue
		}
		way := 0
		if s.Ways[1] > s.Ways[0] {
			way = 1
		}
		if s.Stop[way] < 0 {
			return ""
		}
		for j, o := range swings {
			// it moves against the pin of this hinge: one of the two goes with the other hinge
			if j != i && o.OK && slices.Contains(o.Moving, s.Stop[way]) != slices.Contains(o.Moving, h.Pin) {
				return b.the([]int{s.Stop[way]})
			}
		}
	}
	return ""
}

// playChecks are the side plays, a line for those that are the same.
func (b *book) playChecks(add func(what, is string)) {
	var by []float64
	of := map[int][]int{}
	for _, a := range b.Model.Axles {
		k := 0
		for k < len(by) && math.Abs(by[k]-a.Play) > 0.01 {
			k++
		}
		if k == len(by) {
			by = append(by, a.Play)
		}
		of[k] = append(of[k], a.Rod)
	}
	for k, play := range by {
		if play > 0 {
			add(b.say("check.play", "axles", numbers(of[k]), "n", len(of[k])), b.say("axle.each", "by", b.mm(play)))
		}
	}
}

// notes say what the proof minds, and the words about small parts and screening.
func (b *book) notes() {
	add := func(s string) { b.g.Notes = append(b.g.Notes, s) }
	for _, f := range b.Report.Findings {
		switch f.Verdict {
		case prove.Fails:
			add(b.says("note.fails", "what", b.spoken(f.Says)))
		case prove.Mind:
			add(b.says("note.minds", "what", b.spoken(f.Says)))
		case prove.CannotTell:
			add(b.says("note.untold", "what", b.spoken(f.Says)))
		case prove.Waived:
			add(b.says("note.waived", "what", b.spoken(f.Says)))
		}
		if f.Check == "child.small" {
			for _, n := range f.Notes {
				if strings.HasPrefix(n, "label: ") {
					add(b.says("note.label", "what", b.spoken(strings.TrimPrefix(n, "label: "))))
				}
			}
		}
	}
	if !b.Order.Found {
		add(b.says("note.order"))
	} else if !b.Order.FileOrder {
		add(b.says("note.other-order"))
	}
	for _, c := range facts.Cautions("screening") {
		add(c.Text)
	}
}
