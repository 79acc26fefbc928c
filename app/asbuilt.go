package app

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/prove/asbuilt"
	"dryfit/prove/forgive"
	"dryfit/toy"
	"dryfit/toy/file"
)

// MeasuresSheet is a measures file of a toy to be filled in: every piece and hole, with what is drawn
// in a comment. Pieces of one part stand together.
func (t *Toy) MeasuresSheet() (string, source.Problems) {
	m, probs := t.Model()
	if len(probs) > 0 {
		return "", probs
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# What the pieces of a build measured. Take the # from the lines of what was measured, and put your\n# figures in the place of those that are drawn; leave the rest.\ndryfit: 1\nmeasures-of: %s\nunits: %s\npieces:\n", quoted(t.Name), t.Units)
	for _, p := range m.Pieces {
		fmt.Fprintf(&b, "  - piece: %s\n", quoted(p.ID))
		for _, s := range asbuilt.Sizes(p) {
			fmt.Fprintf(&b, "    # %s: %s\n", s.Key, t.bare(s.Drawn))
		}
		for i, h := range asbuilt.Holes(p) {
			if i == 0 {
				b.WriteString("    # holes:\n")
			}
			depth := ""
			if h.Depth > 0 {
				depth = ", depth: " + t.bare(h.Depth)
			}
			fmt.Fprintf(&b, "    #   - {hole: %s, dia: %s, at: [%s, %s]%s}\n", h.Name, t.bare(h.Dia), t.bare(h.X), t.bare(h.Y), depth)
		}
	}
	return b.String(), nil
}

// bare is a length in the units of the toy, as a file has it: without the unit.
func (t *Toy) bare(mm float64) string {
	says := measure.FromMM(mm).Format(t.Units)
	return strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(says, "in"), "mm"))
}

func quoted(s string) string {
	if strings.ContainsAny(s, ":#'\"{}[],&*!|>%@`") {
		return "'" + strings.ReplaceAll(s, "'", "''") + "'"
	}
	return s
}

// Measured is what is known of a build of a toy.
type Measured = asbuilt.Build

// AsBuilt is the proof of a toy as it was built.
type AsBuilt struct {
	*asbuilt.Build
	Things []BuiltThing // what is off, worst first
	Holds  []string     // checks that nothing is said against
	toy    *Toy
}

// BuiltThing is what a check says of a toy as it was built and does not say of the drawing.
type BuiltThing struct {
	prove.Finding
	Drawn prove.Verdict
}

// ReadMeasures reads what a build of the toy measured.
func (t *Toy) ReadMeasures(name, text string) (*asbuilt.Build, error) {
	ms, probs := file.ReadMeasures(source.New(name, text))
	if len(probs) > 0 {
		return nil, probs
	}
	m, probs := t.Model()
	if len(probs) > 0 {
		return nil, probs
	}
	b, probs := asbuilt.Read(m, ms)
	if len(probs) > 0 {
		return nil, probs
	}
	return b, nil
}

// ProveBuilt proves the toy with what was measured in the place of what is drawn; what was not
// measured is taken as drawn.
func (t *Toy) ProveBuilt(b *asbuilt.Build) (*AsBuilt, error) {
	m, probs := t.Model()
	if len(probs) > 0 {
		return nil, probs
	}
	drawn := prove.Of(m)
	checks := forgive.Varying()
	make := func(dev assembly.Deviations) (map[string]prove.Finding, []string, error) {
		built, probs := assembly.Derive(t.Toy, assembly.Options{Cache: t.cache, Dev: dev, Drawn: m})
		if len(probs) > 0 {
			return nil, nil, probs
		}
		by, order := map[string]prove.Finding{}, []string(nil)
		for _, f := range prove.Built(built, drawn).Make(checks, nil) {
			if old, ok := by[f.ID]; !ok {
				order = append(order, f.ID)
			} else if old.Verdict >= f.Verdict {
				continue
			}
			by[f.ID] = f
		}
		return by, order, nil
	}
	was, _, err := make(assembly.Deviations{})
	if err != nil {
		return nil, err
	}
	is, order, err := make(b.Dev)
	if err != nil {
		return nil, err
	}
	out := &AsBuilt{Build: b, toy: t}
	bad := map[string]bool{}
	for _, id := range order {
		if f := is[id]; f.Verdict >= prove.Mind {
			out.Things = append(out.Things, BuiltThing{f, was[id].Verdict})
			bad[f.Check] = true
		}
	}
	slices.SortStableFunc(out.Things, func(a, b BuiltThing) int { return int(b.Verdict) - int(a.Verdict) })
	for _, c := range checks {
		if !bad[c] {
			out.Holds = append(out.Holds, c)
		}
	}
	return out, nil
}

// Passes tells whether nothing fails and all could be told.
func (a *AsBuilt) Passes() bool {
	return !slices.ContainsFunc(a.Things, func(t BuiltThing) bool { return t.Verdict >= prove.CannotTell })
}

// says words what a check found.
func (a *AsBuilt) says(f BuiltThing) string {
	says := f.Says
	if says == "" {
		says = fmt.Sprintf("%s, %s %s", a.value(f.Value, f.Unit), map[string]string{">=": "at least", "<=": "at most"}[f.LimitOp], a.value(f.Limit, f.Unit))
	}
	return fmt.Sprintf("%s %s: %s", f.ID, f.Verdict, says)
}

func (a *AsBuilt) value(x float64, unit string) string {
	if unit == "mm" {
		return measure.FromMM(x).Format(a.toy.Units)
	}
	return strings.TrimSpace(fmt.Sprintf("%.3g %s", x, unit))
}

// Text writes it for a reader.
func (a *AsBuilt) Text() string {
	var b strings.Builder
	line := func(at int, format string, args ...any) {
		b.WriteString(strings.Repeat(" ", at) + indent(fmt.Sprintf(format, args...), at+2, whyWidth)[at+2:])
	}
	fmt.Fprintf(&b, "%s, as it was built\n", a.toy.Name)
	line(0, "%d of its %d sizes were measured; the others are taken as drawn", len(a.Measured), a.Sizes)
	if len(a.Things) == 0 {
		b.WriteString("\nnothing fails\n")
	} else {
		b.WriteString("\nwhat is off\n")
		for _, t := range a.Things {
			also := ""
			if t.Drawn >= prove.Mind {
				also = " (as drawn, too)"
			}
			line(2, "%s%s", a.says(t), also)
		}
	}
	if len(a.Holds) > 0 {
		b.WriteString("\nnothing is said against it by\n")
		line(2, "%s", strings.Join(a.Holds, ", "))
	}
	off := slices.Clone(a.Measured)
	slices.SortStableFunc(off, func(p, q asbuilt.Measured) int {
		switch x, y := abs(p.Off()), abs(q.Off()); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	b.WriteString("\nwhat is off the drawing, the most first\n")
	for _, m := range off[:min(mostThings, len(off))] {
		line(2, "%s, %s: %s", m.Piece, m.What, signed(m.Off()))
	}
	if n := len(off) - mostThings; n > 0 {
		line(2, "and %d that are off less: see --json", n)
	}
	b.WriteString("\nBits, woods, finishes, cords and arrises are for the proof of the drawing. This is screening: it promises nothing.\n")
	return b.String()
}

func abs(x float64) float64 { return max(x, -x) }

// signed says by how much a measure is off, in mm whatever the toy is drawn in: fractions are too coarse.
func signed(mm float64) string {
	switch {
	case abs(mm) < 0.005:
		return "as drawn"
	case mm < 0:
		return fmt.Sprintf("%.2f mm less", -mm)
	}
	return fmt.Sprintf("%.2f mm more", mm)
}

type asBuiltJSON struct {
	Format   int              `json:"format"`
	Toy      string           `json:"toy"`
	Passes   bool             `json:"passes"`
	Sizes    int              `json:"sizes"`
	Measured []measuredJSON   `json:"measured"`
	Things   []builtThingJSON `json:"things"`
	Holds    []string         `json:"holds"`
}

type measuredJSON struct {
	Piece     string  `json:"piece"`
	What      string  `json:"what"`
	Drawn     float64 `json:"drawn_mm"`
	Is        float64 `json:"is_mm"`
	Operation string  `json:"operation"`
}

type builtThingJSON struct {
	ID      string   `json:"id"`
	Check   string   `json:"check"`
	About   string   `json:"about"`
	Verdict string   `json:"verdict"`
	Drawn   string   `json:"as_drawn"`
	Value   *float64 `json:"value"`
	Limit   *float64 `json:"limit"`
	LimitOp string   `json:"limit_op"`
	Unit    string   `json:"unit"`
	Says    string   `json:"says"`
}

// JSON writes it for programs.
func (a *AsBuilt) JSON() []byte {
	out := asBuiltJSON{Format: 1, Toy: a.toy.Name, Passes: a.Passes(), Sizes: a.Sizes, Measured: []measuredJSON{}, Things: []builtThingJSON{}, Holds: a.Holds}
	for _, m := range a.Measured {
		out.Measured = append(out.Measured, measuredJSON{m.Piece, m.What, m.Drawn, m.Is, m.Operation})
	}
	for _, t := range a.Things {
		out.Things = append(out.Things, builtThingJSON{t.ID, t.Check, t.About, t.Verdict.String(), t.Drawn.String(), finite(t.Value), finite(t.Limit), t.LimitOp, t.Unit, a.says(t)})
	}
	b, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		panic(err) // all of it can be written
	}
	return append(b, '\n')
}

// BuilderOf is whose hands are meant where nothing else is said: those of the shop that the toy was
// opened with; nil where there are none.
func (t *Toy) BuilderOf() *toy.Builder {
	if t.Shop == nil {
		return nil
	}
	return t.Shop.Builder
}
