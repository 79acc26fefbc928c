package page

import (
	"dryfit/app"
	"dryfit/prove"
)

// Findings is what the proof has found so far of a text.
type Findings struct {
	Hash     string           `json:"hash"`
	Checks   []string         `json:"checks"` // those that this brings the findings of
	Findings []app.Finding    `json:"findings"`
	Done     bool             `json:"done"` // nothing more comes
	Verdict  string           `json:"verdict"`
	Pieces   int              `json:"pieces"`
	MassKg   float64          `json:"massKg"`
	NotAsked []prove.NotAsked `json:"notAsked"`
}

// PartOf is what one check has found.
func PartOf(hash string, p prove.Part) Findings {
	out := Findings{Hash: hash, Checks: []string{p.Check}, Findings: []app.Finding{}, NotAsked: []prove.NotAsked{}}
	for _, f := range p.Findings {
		out.Findings = append(out.Findings, app.FindingOf(f))
	}
	return out
}

// Join adds what another check has found.
func (f *Findings) Join(p prove.Part) {
	more := PartOf(f.Hash, p)
	f.Checks = append(f.Checks, more.Checks...)
	f.Findings = append(f.Findings, more.Findings...)
}

// End is what there is to say once all checks are made.
func End(hash string, r *prove.Report) Findings {
	return Findings{Hash: hash, Checks: []string{}, Findings: []app.Finding{}, Done: true, Verdict: r.Verdict.String(), Pieces: r.Pieces, MassKg: r.MassKg, NotAsked: r.NotAsked}
}
