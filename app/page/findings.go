package page

import (
	"slices"

	"dryfit/app"
	"dryfit/prove"
)

// Findings is what the proof has found so far of a text.
type Findings struct {
	Hash     string           `json:"hash"`
	Checks   []string         `json:"checks"` // those that this brings the findings of
	Findings []app.Finding    `json:"findings"`
	Quick    bool             `json:"quick"` // all quick checks are made
	Done     bool             `json:"done"`  // nothing more comes
	Verdict  string           `json:"verdict"`
	Pieces   int              `json:"pieces"`
	MassKg   float64          `json:"massKg"`
	NotAsked []prove.NotAsked `json:"notAsked"`
}

// Join adds what another check has found, and returns that alone.
func (f *Findings) Join(p prove.Part) Findings {
	more := Findings{Hash: f.Hash, Checks: []string{p.Check}, Findings: []app.Finding{}, NotAsked: []prove.NotAsked{}}
	for _, x := range p.Findings {
		more.Findings = append(more.Findings, app.FindingOf(x))
	}
	f.Checks = append(f.Checks, more.Checks...)
	f.Findings = append(f.Findings, more.Findings...)
	f.Quick = quickIn(f.Checks)
	more.Quick = f.Quick
	return more
}

// quickIn tells whether all quick checks are among these.
func quickIn(made []string) bool {
	for _, c := range prove.Checks {
		if !c.Slow && !slices.Contains(made, c.ID) {
			return false
		}
	}
	return true
}

// End is what there is to say once all checks are made.
func End(hash string, r *prove.Report) Findings {
	return Findings{Hash: hash, Checks: []string{}, Findings: []app.Finding{}, Quick: true, Done: true, Verdict: r.Verdict.String(), Pieces: r.Pieces, MassKg: r.MassKg, NotAsked: r.NotAsked}
}
