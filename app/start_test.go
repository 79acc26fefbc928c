package app

import (
	"strings"
	"testing"

	"dryfit/measure"
	"dryfit/prove"
)

// Whatever is answered, a new toy holds: nothing is red before its maker has asked anything of it.
func TestBegin(t *testing.T) {
	mm := func(n float64) measure.Length { return measure.FromMM(n) }
	in := func(n float64) measure.Length { return measure.Inch.Of(n) }
	for _, o := range []Beginning{
		{}, {Units: measure.Inch},
		{Hitched: true}, {Units: measure.Inch, Hitched: true},
		{Axles: 3}, {Axles: 4, Units: measure.Inch}, {Axles: 3, Hitched: true}, {Axles: 4, Hitched: true, Units: measure.Inch},
		{Length: mm(94)}, {Length: mm(400)}, {Length: in(4), Units: measure.Inch}, {Length: in(12), Units: measure.Inch, Hitched: true},
		{Board: mm(12), Dowel: mm(5)}, {Board: mm(15), Hitched: true}, {Board: mm(25), Dowel: mm(8), Hitched: true}, {Board: mm(40), Dowel: mm(13)},
		{Board: in(1. / 2), Dowel: in(3. / 16), Units: measure.Inch}, {Board: in(1), Dowel: in(3. / 8), Units: measure.Inch, Hitched: true, Axles: 3}, {Board: in(1.5), Dowel: in(1. / 2), Units: measure.Inch},
		{Board: mm(19), Dowel: mm(6), Units: measure.Inch}, {Board: mm(16.5), Dowel: mm(6.35), Length: mm(151.5), Axles: 3},
		{Board: mm(40), Dowel: mm(5), Length: mm(600), Axles: 4, Hitched: true},
	} {
		o.Name = "Barge"
		text, err := Begin(o)
		if err != nil {
			t.Errorf("%+v: %v", o, err)
			continue
		}
		toy, probs := Open("barge.yaml", text, nil, nil)
		if len(probs) > 0 {
			t.Errorf("%+v: %v\n%s", o, probs, text)
			continue
		}
		rep, probs := toy.Prove()
		if len(probs) > 0 {
			t.Errorf("%+v: %v", o, probs)
			continue
		}
		heavy := o.Hitched && o.Length > mm(250) // a finger in a heavy coupling is to be minded, whoever draws it
		for _, f := range rep.Findings {
			if f.Verdict != prove.Holds && !(heavy && f.Check == "child.pinch" && f.Verdict == prove.Mind) {
				t.Errorf("%+v: %v %s: %s", o, f.Verdict, f.ID, f.Says)
			}
		}
	}
}

func TestBeginRefuses(t *testing.T) {
	mm := func(n float64) measure.Length { return measure.FromMM(n) }
	for _, c := range []struct {
		o    Beginning
		want string
	}{
		{Beginning{Axles: 5}, "2 to 4 axles, not 5"},
		{Beginning{Board: mm(3)}, "boards from 12 mm to 40 mm, not 3 mm"},
		{Beginning{Dowel: mm(20)}, "dowels from 4.5 mm to 13 mm, not 20 mm"},
		{Beginning{Board: mm(12), Dowel: mm(10)}, "too thin for axles of 10 mm"},
		{Beginning{Length: mm(60)}, "with 2 axles and wheels of 30 mm it is from 94 mm to 600 mm long, not 60 mm"},
		{Beginning{Length: mm(2000)}, "not 2000 mm"},
	} {
		if _, err := Begin(c.o); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.o, err, c.want)
		}
	}
}
