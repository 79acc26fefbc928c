package prove

import (
	"dryfit/facts"
)

// child.cord: the pull cord against the limits of the age. A cord on a pull toy may
// be longer than other cords, as long as nothing on it can tangle into a loop.

var cordCheck = Check{
	ID: "child.cord", Asks: "is the pull cord safe for the age?", run: cord,
	How: "The free length and the hand's end, as the file says them, against the clauses that reach the youngest child: under three years a cord longer than 12 in may carry no bead or loop, and no pull cord is longer than 800 mm; under 18 months a plain one beyond 12 in is minded, since the general limit excepts pull toys. How thick the cord is, and how far round its loop, the file does not say.",
	Limits: []Limit{
		{"under 3 years, with a bead or loop at its end", inMM(facts.Child(facts.CordShort).Value), "ASTM F963 4.14.3, from memory"},
		{"under 3 years, any pull cord", inMM(facts.Child(facts.CordPull).Value), facts.Child(facts.CordPull).Source + ", from memory"},
		{"under 18 months, a cord that is not a pull toy's", inMM(facts.Child(facts.CordShort).Value), "ASTM F963 4.14.1, from memory"},
	},
}

func cord(r *run) {
	c := r.m.Toy.Cord
	f := Finding{Check: "child.cord", About: "toy", Verdict: Holds, Unit: "mm", LimitOp: "<=", Source: "ASTM F963 4.14; EN 71-1 5.4", Says: "there is no cord"}
	holes := []int{}
	if c != nil {
		holes = r.m.Find(c.From.Piece)
	}
	if c == nil || len(holes) == 0 { // no cord, or it is left out with its piece
		r.add(f)
		return
	}
	short, pull := facts.Child(facts.CordShort), facts.Child(facts.CordPull)
	length := c.Length.MM()
	tangles := c.End == "bead" || c.End == "loop"
	f.About, f.Value, f.Notes = "cord", length, []string{screening}
	f.Places = []Place{r.place(holes[0], c.From.Feature, r.m.Pieces[holes[0]].Body.Bounds().Center(), c.At)}
	says := "the cord is " + r.len(length) + " long"
	f.Says = says
	if c.End != "plain" {
		f.Says += ", with a " + c.End + " at its end"
	}
	switch {
	case !r.underThree():
		f.Limit, f.known, f.Margin, f.Value = 0, true, 1, length
		f.LimitOp = ">="
		f.Says += "; from 3 years on no limit reaches it"
	case tangles:
		f.Limit, f.Source = short.Value, "ASTM F963 4.14.3 (under 3 years), from memory"
		if length > f.Limit {
			f.Verdict = Fails
			f.Says = says + " and has a " + c.End + " at its end, which can tangle into a loop: under 3 years only up to " + r.len(f.Limit) + ", or leave the end plain"
		}
	default:
		f.Limit, f.Source = pull.Value, pull.Source+" (under 3 years), from memory"
		switch {
		case length > f.Limit:
			f.Verdict = Fails
			f.Says = says + ": a pull cord for under 3 years is at most " + r.len(f.Limit)
		case r.m.Toy.Ages.FromMonths < short.UnderMonths && length > short.Value:
			f.Verdict, f.Limit, f.Source = Mind, short.Value, "ASTM F963 4.14.1 (under 18 months; it excepts pull toys), from memory"
			f.Says = says + ": under 18 months other cords are at most " + r.len(f.Limit) + ", and a cord this long is for a child that walks"
		}
	}
	if r.underThree() {
		f.Notes = append(f.Notes, "how thick the cord is is not said: at least "+inMM(facts.Child(facts.CordThick).Value)+" under 3 years (EN 71-1 5.4)")
		if c.End == "loop" {
			f.Notes = append(f.Notes, "how far round the loop is is not said: less than "+inMM(facts.Child(facts.CordLoop).Value)+" (ASTM F963 4.14.1, from memory)")
		}
	}
	r.add(f)
}
