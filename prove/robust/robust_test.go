package robust_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/measure/source"
	"dryfit/prove/forgive"
	"dryfit/prove/robust"
	"dryfit/toy"
	"dryfit/toy/file"
)

// Four wheels on a floor: the gap under the fourth is as wide as the error of one diameter, and may be as
// wide as the slack of the axles, so the share of builds that work is 2 Φ(slack/σ) - 1.
const floor = `
dryfit: 1
toy: Four wheels on a floor
units: mm
sizes: {slack: 1, roof: 20}
stock: {b: {wood: beech, form: board, thick: 20}, thin: {wood: birch plywood, form: sheet, thick: 1}, rod: {wood: birch, form: dowel, dia: 6}}
parts:
  frame: {from: b, blank: [120, 60], work: [{drill: {side: edge, dia: 6 + slack, named: {hind: [20, 8], fore: [100, 8]}}}]}
  hat: {from: b, blank: [30, roof]}
  wheel: {from: thin, disc: 40, bore: 6, made: sawn}
  axle: {from: rod}
build:
  - put: frame
  - {put: hat, sits: {bottom: frame.top, back: frame.back + 40, middle: frame.middle}, glued: yes}
  - wheels: {in: frame.hind, axle: axle, outward: [wheel], play: 1, proud: 2}
  - wheels: {in: frame.fore, axle: axle, outward: [wheel], play: 1, proud: 2}
`

const sigma = 0.6 // of a diameter, mm

func works(slack float64) float64 { return math.Erf(slack / sigma / math.Sqrt2) }

func read(t testing.TB, values map[string]string) *toy.Toy {
	t.Helper()
	var sets []file.Set
	for k, v := range values {
		sets = append(sets, file.Set{Size: k, Value: v})
	}
	ty, probs := file.Read(source.New("toy.yaml", floor), sets)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return ty
}

func find(t *testing.T, ctx context.Context, share float64, sizes []string, why func(*toy.Toy) string) (*robust.Answer, error) {
	t.Helper()
	ty := read(t, nil)
	cache := &assembly.Cache{}
	m, probs := assembly.Derive(ty, assembly.Options{Cache: cache})
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	only := forgive.Spreads{}
	for _, e := range facts.Errors() {
		only[e.Name] = 0
	}
	only["wheel.sawn"] = sigma
	toys := robust.Toys{
		Read: func(values map[string]string) (*toy.Toy, source.Problems) {
			var sets []file.Set
			for k, v := range values {
				sets = append(sets, file.Set{Size: k, Value: v})
			}
			return file.Read(source.New("toy.yaml", floor), sets)
		},
		Proves: func(_ context.Context, now *toy.Toy) (string, error) {
			if why == nil {
				return "", nil
			}
			return why(now), nil
		},
	}
	return robust.Find(ctx, ty, m, cache, toys, robust.Ask{Share: share, Sizes: sizes, Options: forgive.Options{Spreads: only, Builds: 1000, Seed: 3, Lanes: 2, Checks: []string{"move.ground"}}})
}

func said(a *robust.Answer) string {
	var out []string
	for _, c := range a.Changes {
		out = append(out, fmt.Sprintf("%s %g", c.Size, c.To.MM()))
	}
	return strings.Join(out, ", ")
}

// The smallest mark at which the closed form reaches the share, and no other size.
func TestSmallestThatReaches(t *testing.T) {
	for _, c := range []struct {
		share float64
		want  string
	}{{0.8, ""}, {0.95, "slack 1.5"}, {0.985, "slack 2"}} {
		a, err := find(t, context.Background(), c.share, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		if !a.Found || said(a) != c.want {
			t.Errorf("%g: found %v, %q, want %q (as it is %g, then %g)", c.share, a.Found, said(a), c.want, works(1), works(1.5))
			continue
		}
		if a.Is.Works.Lo < c.share {
			t.Errorf("%g: only %g is sure", c.share, a.Is.Works.Lo)
		}
		slack := 1.0
		for _, x := range a.Changes {
			slack = x.To.MM()
		}
		if is := works(slack); is < a.Is.Works.Lo || is > a.Is.Works.Hi {
			t.Errorf("%g: %g by the closed form, told %g to %g", c.share, is, a.Is.Works.Lo, a.Is.Works.Hi)
		}
	}
}

func TestNothingHelps(t *testing.T) {
	a, err := find(t, context.Background(), 0.95, []string{"roof"}, nil)
	if err != nil || a.Found || len(a.Changes) > 0 || a.Tried == 0 {
		t.Errorf("%+v, %v", a, err)
	}
	// what helps builds makes the drawing worse
	a, err = find(t, context.Background(), 0.95, nil, func(*toy.Toy) string { return "move.wheels fails" })
	if err != nil || a.Found || !strings.Contains(a.Why, "move.wheels fails") {
		t.Errorf("%+v, %v", a, err)
	}
	// only the least of it does: then more
	a, err = find(t, context.Background(), 0.95, nil, func(now *toy.Toy) string {
		if v, _ := now.Sizes[0].Value.AsLength(now.Units); v.MM() == 1.5 {
			return "an odd bit"
		}
		return ""
	})
	if err != nil || !a.Found || said(a) != "slack 2" {
		t.Errorf("%+v %s, %v", a, said(a), err)
	}
}

func TestStops(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := find(t, ctx, 0.95, nil, nil); err == nil {
		t.Error("it went on")
	}
}
