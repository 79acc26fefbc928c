package asbuilt

import (
	"math"
	"strings"

	"dryfit/facts"
	"dryfit/prove/forgive/chance"
)

const (
	// usualCounts is for how many measures what is usual counts: few, so that a dozen measures say
	// more, and enough that three do not make nonsense (common practice, no source).
	usualCounts = 4.0
	// sure is the confidence of the intervals.
	sure = 0.95
)

// Found is what a builder was found to be off by in one operation.
type Found struct {
	facts.Error
	Usual, By float64 // as the shape of the error means them: mm
	Low, High float64 // between which it lies, 95 % sure
	Measured  int     // how many measures it rests on
	Mean      float64 // of what was measured, mm: what a set-up is off by on the whole
}

// spread gathers the errors of one operation.
type spread struct {
	sum, squares float64
	n            int
}

func (s *spread) add(x float64) {
	s.sum += x
	s.squares += float64(x * x)
	s.n++
}

// shared are the operations that a set-up has part in, by the one that each piece has for itself.
var shared = map[string]string{"cut.piece": "cut.stop", "drill.centre": "drill.fence"}

// Spreads gathers the errors of builds by operation, in the order of the table. What pieces that were
// made at one set-up are off by on the average is the set-up's, as far as the usual spreads make it
// that rather than chance, and what each is off from there its own.
func Spreads(builds []*Build, skill facts.Skill) []Found {
	by := map[string]*spread{}
	of := func(op string) *spread {
		if by[op] == nil {
			by[op] = &spread{}
		}
		return by[op]
	}
	for _, b := range builds {
		sets := map[string][]float64{}
		var order []string
		for _, m := range b.Measured {
			if m.SetUp == "" || shared[m.Operation] == "" {
				of(m.Operation).add(m.Off())
				continue
			}
			key := m.Operation + "\x00" + m.SetUp
			if sets[key] == nil {
				order = append(order, key)
			}
			sets[key] = append(sets[key], m.Off())
		}
		for _, key := range order {
			op, _, _ := strings.Cut(key, "\x00")
			setUp(of(shared[op]), of(op), sets[key], facts.ErrorNamed(shared[op]).Spread[skill], facts.ErrorNamed(op).Spread[skill])
		}
	}
	var out []Found
	for _, e := range facts.Errors() {
		s := by[e.Name]
		if s == nil || s.n == 0 {
			continue
		}
		out = append(out, found(e, e.Spread[skill], s))
	}
	return out
}

// setUp parts what pieces of one set-up are off by.
func setUp(set, own *spread, off []float64, usualSet, usualOwn float64) {
	mean := 0.0
	for _, x := range off {
		mean += x / float64(len(off))
	}
	share := float64(usualSet * usualSet)
	share /= share + float64(usualOwn*usualOwn)/float64(len(off))
	set.sum += mean
	set.squares += float64(float64(mean*mean) * share)
	set.n++
	for _, x := range off {
		own.squares += float64((x - mean) * (x - mean))
	}
	own.n += len(off) - 1
}

func found(e facts.Error, usual float64, s *spread) Found {
	scale := 1.0 // of a standard deviation to what the table calls the spread
	if e.Shape == facts.Uniform {
		scale = math.Sqrt(3) // a uniform error of up to w has the standard deviation w / √3
	}
	got, err := chance.SpreadOf(usual/scale, usualCounts, s.squares, s.n, sure)
	if err != nil {
		panic("asbuilt: bug: " + err.Error())
	}
	of := func(sd float64) float64 { return float64(sd * scale) }
	return Found{Error: e, Usual: usual, By: of(got.SD), Low: of(got.Interval.Low), High: of(got.Interval.High), Measured: s.n, Mean: s.sum / float64(s.n)}
}
