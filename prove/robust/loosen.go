package robust

import (
	"context"
	"math"
	"slices"

	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/prove"
	"dryfit/toy"
)

// Loosening is the size that gives a finding most room.
type Loosening struct {
	Size     string
	From, To measure.Length // today, and a mark of a rule on
	Gain     float64        // of the margin, in its unit
}

// Loosen finds the size by which one finding of a toy gets most room for one mark of a rule; ok is false
// where none gives it any. The error is that of ctx.
func Loosen(ctx context.Context, t *toy.Toy, cache *assembly.Cache, toys Toys, check, about string) (best Loosening, ok bool, err error) {
	s := &search{toys: toys, base: t, cache: cache, out: &Answer{}}
	margin := func(ty *toy.Toy) (float64, bool) {
		m, probs := assembly.Derive(ty, assembly.Options{Cache: cache})
		if len(probs) > 0 {
			return 0, false
		}
		built, probs := assembly.Derive(ty, assembly.Options{Cache: cache, Dev: assembly.Deviations{}, Drawn: m})
		if len(probs) > 0 {
			return 0, false
		}
		for _, f := range prove.Built(built, prove.Of(m)).Make([]string{check}, func(_, a string) bool { return a == about }) {
			if f.About != about {
				continue
			}
			switch {
			case f.Parts == nil:
				return f.Margin, true
			case f.Any:
				return slices.Max(f.Parts), true
			}
			return slices.Min(f.Parts), true
		}
		return 0, false
	}
	was, there := margin(t)
	if !there {
		return best, false, nil
	}
	s.list()
	for _, z := range s.sizes {
		for _, marks := range []int{1, -1} {
			if ctx.Err() != nil {
				return best, false, ctx.Err()
			}
			to := s.value(z, marks)
			if to.MM() < 0 {
				continue
			}
			ty, probs := toys.Read(map[string]string{z.name: to.ExactIn(t.Units)})
			if len(probs) > 0 || s.buysOther(ty) {
				continue
			}
			if now, there := margin(ty); there && now-was > math.Max(best.Gain, leastGain) {
				best, ok = Loosening{z.name, z.from, to, now - was}, true
			}
		}
	}
	return best, ok, nil
}

// leastGain is what a mark of a rule has to give for it to be told, in mm or whatever the margin has.
const leastGain = 0.01
