package prove_test

import (
	"os"
	"slices"
	"testing"

	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/prove"
)

// What lifts off a pin is built apart and hung on last: nothing is glued to what only lies
// loose on the other car, the pin goes in before what covers its hole, and the whole comes
// off along the way that is told.
func TestWhatLiftsOffIsBuiltApart(t *testing.T) {
	for name, c := range map[string]struct{ pin, hung, never string }{
		"../examples/quay-tram.yaml":        {"coupling-pin", "trailer-frame", "frame"},
		"../examples/plain/quay-crane.yaml": {"turning-pin", "turntable", "base"},
		"../examples/plain/lift-off.yaml":   {"coupling-pin", "drawbar", "engine"},
	} {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		m := model(t, string(text))
		seq := prove.Order(m)
		if !seq.Found || !seq.FileOrder {
			t.Fatal(name, "has no order")
		}
		of := func(id string) int { return m.Find(id)[0] }
		hung, pin := of(c.hung), of(c.pin)
		joined := false
		for k, st := range seq.Steps {
			if st.Step < 0 {
				joined = joined || slices.Contains(st.Pieces, hung)
				if k != len(seq.Steps)-1 || !slices.Contains(st.Onto, pin) {
					t.Errorf("%s: it is hung on at move %d of %d, before the pin is there", name, k+1, len(seq.Steps))
				}
				for _, i := range st.Pieces {
					for _, j := range st.Onto {
						for _, out := range st.Out {
							if hit := solid.FirstContactSlide(m.Pieces[j].Body, m.Pieces[i].Body, out.Unit(), out.Len(), 4*tol.Touch); hit.Hit && j != pin && i != pin && out != (r3.Vec{}) {
								t.Errorf("%s: %s meets %s on its way", name, m.Pieces[i].ID, m.Pieces[j].ID)
							}
						}
					}
				}
				continue
			}
			if st.GlueUp == "" && slices.Contains(st.Onto, hung) && slices.Contains(st.Onto, of(c.never)) {
				t.Errorf("%s: %s is put to it where it lies loose on the %s", name, st.Name, c.never)
			}
		}
		if !joined {
			t.Errorf("%s: the %s is not built apart", name, c.hung)
		}
	}
}
