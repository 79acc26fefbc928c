package guide

import "dryfit/prove"

// A toy that does not pass its proof is drawn and printed all the same, for its designer has
// to see it. Who builds from the paper has to be told.

// Unproved says that a toy does not pass its proof, and how many findings fail; nothing if it
// passes.
func Unproved(rep *prove.Report) string {
	if rep.Passes() {
		return ""
	}
	s := &speaker{}
	if n := len(rep.Failing()); n > 0 {
		return s.say("unproved", "n", n)
	}
	return s.say("unproved.untold")
}

// Warning is what then stands on every pattern.
func Warning(rep *prove.Report) string {
	says := Unproved(rep)
	if says == "" {
		return ""
	}
	return (&speaker{}).says("unproved.pattern", "what", says)
}
