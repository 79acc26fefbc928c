package app

import (
	"bytes"
	"cmp"
	"encoding/json"
	"math"

	"dryfit/facts"
	"dryfit/measure/source"
	"dryfit/prove"
)

// The JSON that programs read (docs/contracts.md). Numbers are brought to
// tol.Page by prove; lengths are mm.

type reportJSON struct {
	Format   int           `json:"format"`
	Toy      string        `json:"toy"`
	Verdict  prove.Verdict `json:"verdict"`
	Pieces   int           `json:"pieces"`
	MassKg   float64       `json:"mass_kg"`
	Findings []Finding     `json:"findings"`
	takenJSON
	Without  []string         `json:"without"`
	NotAsked []prove.NotAsked `json:"not_asked"`
}

// takenJSON says in whose year and shop a toy was proved.
type takenJSON struct {
	Climate climateJSON `json:"climate"`
	Shop    shopJSON    `json:"shop"`
}

func takenOf(r *prove.Report) takenJSON {
	out := takenJSON{climateJSON{cmp.Or(r.YearFrom, usual), airOf(r.Year.Dry), airOf(r.Year.Damp)}, shopJSON{r.ShopFrom}}
	if len(r.ShopFrom) == 0 {
		out.Shop.From = []string{usual}
	}
	return out
}

type climateJSON struct {
	From string  `json:"from"`
	Dry  airJSON `json:"dry"`
	Damp airJSON `json:"damp"`
}

type airJSON struct {
	Name     string  `json:"name"`
	Moisture float64 `json:"moisture"` // percent
}

type shopJSON struct {
	From []string `json:"from"`
}

// usual is who says what neither a file nor an option says.
const usual = "usual"

func airOf(c facts.Climate) airJSON {
	return airJSON{c.Name, math.Round(c.Moisture()*1e4) / 1e4}
}

// Finding is a finding as programs read it; a number that does not exist is null.
type Finding struct {
	ID          string        `json:"id"`
	Check       string        `json:"check"`
	About       string        `json:"about"`
	Verdict     prove.Verdict `json:"verdict"`
	Value       *float64      `json:"value"`
	Unit        string        `json:"unit"`
	Limit       *float64      `json:"limit"`
	LimitOp     string        `json:"limit_op"`
	LimitSource string        `json:"limit_source"`
	Margin      *float64      `json:"margin"`
	Says        string        `json:"says"`
	Notes       []string      `json:"notes"`
	Places      []Place       `json:"places"`
	Mend        []prove.Mend  `json:"mend,omitzero"`
}

// Place is where on the toy a finding is, and where in the file that was said.
type Place struct {
	Piece   string     `json:"piece"`
	Feature string     `json:"feature"`
	AtMM    [3]float64 `json:"at_mm"`
	Line    int        `json:"line"`
	Col     int        `json:"col"`
}

// finite returns nil for what JSON has no number for.
func finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	if x == 0 {
		x = 0 // no negative zero
	}
	return &x
}

// FindingOf writes a finding as programs read it.
func FindingOf(f prove.Finding) Finding {
	j := Finding{ID: f.ID, Check: f.Check, About: f.About, Verdict: f.Verdict, Value: finite(f.Value), Unit: f.Unit, Limit: finite(f.Limit),
		LimitOp: f.LimitOp, LimitSource: f.Source, Margin: finite(f.Margin), Says: f.Says, Notes: append([]string{}, f.Notes...), Places: []Place{}, Mend: f.Mend}
	for _, p := range f.Places {
		j.Places = append(j.Places, Place{p.Piece, p.Feature, [3]float64{p.At.X, p.At.Y, p.At.Z}, p.Line, p.Col})
	}
	return j
}

// ReportJSON writes a proof as JSON.
func ReportJSON(r *prove.Report) []byte {
	out := reportJSON{Format: 1, Toy: r.Toy, Verdict: r.Verdict, Pieces: r.Pieces, MassKg: math.Round(r.MassKg*1e6) / 1e6, Without: append([]string{}, r.Without...), NotAsked: r.NotAsked, Findings: []Finding{}, takenJSON: takenOf(r)}
	for _, f := range r.Findings {
		out.Findings = append(out.Findings, FindingOf(f))
	}
	return encode(out)
}

// ProblemsJSON writes problems as JSON.
func ProblemsJSON(p source.Problems) []byte {
	return encode(struct {
		Format   int             `json:"format"`
		Problems source.Problems `json:"problems"`
	}{1, p})
}

func encode(v any) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		panic("app: bug: what is written as JSON can be written: " + err.Error())
	}
	return b.Bytes()
}
