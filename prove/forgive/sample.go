package forgive

import (
	"context"
	"math"

	"dryfit/assembly"
	"dryfit/prove"
	"dryfit/toy"
)

// Sample has the margins of builds, to foretell what other sizes of the drawing would make of them.
type Sample struct {
	s      *study
	builds [][]sampled // by build
	checks []string    // that something is near failing of, in what is asked
	asked  map[string]bool
}

// sampled is a constraint of a build that it can fail.
type sampled struct {
	at    int
	parts []float64
}

// Drawn are the margins of a toy as drawn, by finding.
type Drawn map[string][]float64

// StudySample is Study that hands out the margins of its first builds too, at most n.
func StudySample(ctx context.Context, t *toy.Toy, m *assembly.Model, cache *assembly.Cache, o Options, n int) (*Report, *Sample, error) {
	s := begin(t, m, cache, o)
	err := s.run(ctx)
	out := &Sample{s: s}
	for i := 0; i < min(n, s.looked) && err == nil; i++ {
		out.builds = append(out.builds, s.marginsOf(i))
	}
	out.ask()
	return s.report(err == nil), out, err
}

// near is how near nought the margin of a build has to come for other sizes to be asked about it, as a
// share of that of the drawing.
const near = 0.35

// ask finds out what may fail at other sizes: what comes near it in some build. The rest is for the
// builds that are made of what is found.
func (p *Sample) ask() {
	p.asked = map[string]bool{}
	for _, b := range p.builds {
		for _, m := range b {
			base := of(p.s.base, m.at)
			if st := (state{parts: m.parts, any: base.any}); st.margin() < near*math.Max(0, base.margin()) {
				p.asked[p.s.b.names[m.at].id] = true
			}
		}
	}
	for _, id := range p.s.b.checks {
		for k := range p.s.b.names {
			if c := p.s.b.names[k]; c.check == id && p.asked[c.id] {
				p.checks = append(p.checks, id)
				break
			}
		}
	}
}

// marginsOf are the margins of one build: of what was made as it came out, of the rest by lines.
func (s *study) marginsOf(i int) (out []sampled) {
	x := s.drawn(i)
	for k := range s.b.names {
		base := of(s.base, k)
		if !base.there || !base.finite() || k < len(s.kinds) && s.kinds[k].fails == 0 && s.kinds[k].minds > 0 {
			continue
		}
		m := sampled{at: k}
		if b := s.made[i]; b != nil {
			if st := of(b.states, k); st.finite() && len(st.parts) == len(base.parts) {
				m.parts = st.parts
			}
		}
		switch {
		case m.parts != nil:
		case k < len(s.follow) && s.follow[k] && s.lines != nil && s.lines.of[k] != nil:
			for part := range base.parts {
				m.parts = append(m.parts, s.lines.at(k, part, x))
			}
		default: // out of reach, as long as the drawing is this one
			m.parts = base.parts
		}
		out = append(out, m)
	}
	return out
}

// Drawn puts a toy with other sizes to the checks as it is drawn; ok is false where it cannot be made.
func (p *Sample) Drawn(t *toy.Toy, cache *assembly.Cache) (d Drawn, ok bool) {
	m, probs := assembly.Derive(t, assembly.Options{Cache: cache, Without: p.s.b.model.Without})
	if len(probs) > 0 {
		return nil, false
	}
	built, probs := assembly.Derive(t, assembly.Options{Cache: cache, Without: p.s.b.model.Without, Dev: assembly.Deviations{}, Drawn: m})
	if len(probs) > 0 {
		return nil, false
	}
	d = Drawn{}
	for _, f := range prove.Built(built, prove.Of(m)).Make(p.checks, func(check, about string) bool { return p.asked[check+":"+about] }) {
		parts := f.Parts
		if parts == nil {
			parts = []float64{f.Margin}
		}
		d[f.ID] = parts
	}
	return d, true
}

// Share foretells in which share of the builds nothing fails if the drawing has these margins: each
// build is off by what it was off by before.
func (p *Sample) Share(d Drawn) float64 {
	works := 0
	for _, b := range p.builds {
		ok := true
		for _, m := range b {
			base := of(p.s.base, m.at)
			now := d[p.s.b.names[m.at].id]
			if len(now) != len(base.parts) {
				now = base.parts
			}
			counts := math.Inf(1)
			if base.any {
				counts = math.Inf(-1)
			}
			for part, x := range m.parts {
				x += now[part] - base.parts[part]
				if base.any {
					counts = math.Max(counts, x)
				} else {
					counts = math.Min(counts, x)
				}
			}
			if ok = counts >= 0; !ok {
				break
			}
		}
		if ok {
			works++
		}
	}
	return float64(works) / float64(max(1, len(p.builds)))
}
