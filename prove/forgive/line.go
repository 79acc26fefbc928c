package forgive

import (
	"context"
	"math"
	"slices"

	"dryfit/facts"
	"dryfit/geom/tol"
	"dryfit/prove"
)

// The margins of a build without making it: each is taken as that of the toy as drawn and what every
// error by itself adds, which is straight to either side of nought. How wrong that is is seen on builds
// that are made (study.go), and where it could matter the build is made.

// slope is what an error of 1 adds to a margin, to either side.
type slope struct {
	input    int
	less, up float64
}

// lines are the margins of all constraints that errors can reach.
type lines struct {
	base []state
	of   [][][]slope // by constraint and part; nil: not followed
}

// steps are how far an error is tried to either side, in its spreads: about as far as most go.
func steps(e facts.Error) [2]float64 {
	switch e.Shape {
	case facts.Uniform:
		return [2]float64{-1, 1}
	case facts.Over:
		return [2]float64{0, 1.5}
	}
	return [2]float64{-1.5, 1.5}
}

// linesOf tries every error by itself, on the checks that have something within reach. Errors that bear
// on nothing in common are tried in one build: which those are is found out first by builds in which
// all errors of one piece, part or stock are made.
func (b *bench) linesOf(ctx context.Context, lanes int, base []state, follow []bool, checks []string) *lines {
	l := &lines{base, make([][][]slope, len(follow))}
	units := b.units()
	asked := map[string]bool{}
	for k := range follow {
		if follow[k] {
			asked[b.names[k].id] = true
		}
	}
	bears := b.bears(ctx, lanes, units, base, follow, checks, asked)
	for k := range follow {
		if from := of(base, k); follow[k] && from.finite() {
			l.of[k] = make([][]slope, len(from.parts))
		}
	}
	for _, check := range checks {
		for _, together := range apart(units, bears, func(k int) bool { return l.of[k] != nil && b.names[k].check == check }) {
			b.tryTogether(ctx, lanes, l, check, asked, units, bears, together)
			if ctx.Err() != nil {
				return l
			}
		}
	}
	for k := range l.of {
		for _, slopes := range l.of[k] {
			slices.SortFunc(slopes, func(a, b slope) int { return a.input - b.input })
		}
	}
	return l
}

// unit is the errors that are made on one piece, on a part as a whole, or on a stock.
type unit []int

func (b *bench) units() (out []unit) {
	at := map[string]int{}
	for i, in := range b.in.list {
		u, ok := at[in.On]
		if !ok {
			u = len(out)
			at[in.On] = u
			out = append(out, nil)
		}
		out[u] = append(out[u], i)
	}
	return out
}

// bears tells for each unit which constraints its errors change.
func (b *bench) bears(ctx context.Context, lanes int, units []unit, base []state, follow []bool, checks []string, asked map[string]bool) [][]bool {
	out := make([][]bool, len(units))
	each(ctx, lanes, len(units), func(u int) {
		out[u] = make([]bool, len(follow))
		for _, second := range []bool{false, true} {
			x := make([]float64, len(b.in.list))
			for _, i := range units[u] {
				x[i] = b.probed(i, second)
			}
			got := b.build(x, b.cache, checks, asked)
			for k := range follow {
				from, to := of(base, k), of(got, k)
				out[u][k] = out[u][k] || follow[k] && (to.there != from.there || !slices.EqualFunc(from.parts, to.parts, func(p, q float64) bool { return math.Abs(p-q) < tol.Page/2 }))
			}
		}
	})
	return out
}

// probed is an error by which it is found out what bears on what. It is tried twice, to either side,
// because what only touches may change to one side alone, and not twice as large, because all errors of
// a unit may happen to cancel.
func (b *bench) probed(i int, second bool) float64 {
	in := b.in.list[i]
	x := b.in.one(probe, i)
	size := math.Abs(x)
	if second {
		size = math.Abs(b.in.one(probe+1, i))
	}
	size += in.Spread / 2 // enough to be seen, and no two alike, which might just make up for each other
	if in.Shape != facts.Over && second == (x > 0) {
		return -size
	}
	return size
}

// probe is the seed of the errors that are tried, and that after it.
const probe = 0x70726f6265

// apart puts units into sets of which no two bear on the same constraint of those that count, and
// leaves out those that bear on none.
func apart(units []unit, bears [][]bool, counts func(k int) bool) (sets [][]int) {
	var taken []map[int]bool
	for u := range units {
		var on []int
		for k, bear := range bears[u] {
			if bear && counts(k) {
				on = append(on, k)
			}
		}
		if len(on) == 0 {
			continue
		}
		set := slices.IndexFunc(taken, func(has map[int]bool) bool {
			return !slices.ContainsFunc(on, func(k int) bool { return has[k] })
		})
		if set < 0 {
			set = len(taken)
			taken, sets = append(taken, map[int]bool{}), append(sets, nil)
		}
		sets[set] = append(sets[set], u)
		for _, k := range on {
			taken[set][k] = true
		}
	}
	return sets
}

// tryTogether tries the errors of units that have nothing in common: one of each in a build, to either
// side, and files what each adds.
func (b *bench) tryTogether(ctx context.Context, lanes int, l *lines, check string, asked map[string]bool, units []unit, bears [][]bool, together []int) {
	most := 0
	for _, u := range together {
		most = max(most, len(units[u]))
	}
	tried := make([][2][]state, most)
	each(ctx, lanes, 2*most, func(job int) {
		n, side := job/2, job%2
		x := make([]float64, len(b.in.list))
		any := false
		for _, u := range together {
			if n < len(units[u]) {
				i := units[u][n]
				x[i] = float64(steps(b.in.list[i].Error)[side] * b.in.list[i].Spread)
				any = any || x[i] != 0
			}
		}
		if any {
			tried[n][side] = b.build(x, b.cache, []string{check}, asked)
		}
	})
	if ctx.Err() != nil {
		return
	}
	for _, u := range together {
		for k, bear := range bears[u] {
			if !bear || l.of[k] == nil || b.names[k].check != check {
				continue
			}
			for part, from := range l.base[k].parts {
				for n, i := range units[u] {
					if s := slopeOf(b.in.list[i], i, tried[n], k, part, from); s.less != 0 || s.up != 0 {
						l.of[k][part] = append(l.of[k][part], s)
					}
				}
			}
		}
	}
}

// slopeOf is what an error adds to one part of a margin.
func slopeOf(in Input, i int, tried [2][]state, k, part int, from float64) slope {
	var to [2]float64
	for side, step := range steps(in.Error) {
		t := of(tried[side], k)
		if step != 0 && t.finite() && part < len(t.parts) {
			to[side] = (t.parts[part] - from) / float64(step*in.Spread)
		}
	}
	return slope{i, to[0], to[1]}
}

// at foretells a part of the margin of a constraint in a build.
func (l *lines) at(k, part int, x []float64) float64 {
	sum := l.base[k].parts[part]
	for _, s := range l.of[k][part] {
		sum += s.adds(x[s.input])
	}
	return sum
}

func (s slope) adds(x float64) float64 {
	if x < 0 {
		return float64(s.less * x)
	}
	return float64(s.up * x)
}

// variance of what one error adds to a margin: of a line that is bent at nought, by the moments of
// half a distribution.
func (s slope) variance(in Input) float64 {
	var first, second float64 // of the half above nought, for a spread of 1
	switch in.Shape {
	case facts.Uniform:
		first, second = 1.0/4, 1.0/6
	case facts.Over:
		return float64(float64(float64(s.up*s.up)*float64(in.Spread*in.Spread)) * (1 - 2/math.Pi))
	default:
		first, second = 1/math.Sqrt(float64(2*math.Pi)), 0.5
	}
	mean := float64((s.up - s.less) * first)
	square := float64((float64(s.up*s.up) + float64(s.less*s.less)) * second)
	return float64((square - float64(mean*mean)) * float64(in.Spread*in.Spread))
}

// farReach is how many standard deviations below its margin as drawn a constraint is held to be out
// of reach: what is taken for one, of a few pilot builds, may be two thirds of it, and four of those leave
// one build in thirty thousand.
const farReach = 6

// reach tells which constraints errors can break, from some builds that were made: what went wrong in
// one of them, and what is no further from going wrong than its spread lets it. What is not there in
// every build is judged by those where it is.
func reach(base []state, pilots [][]state, known int) []bool {
	out := make([]bool, known)
	for k := range out {
		from := of(base, k)
		if from.verdict == prove.Mind && !slices.ContainsFunc(pilots, func(p []state) bool { return of(p, k).verdict > prove.Mind }) {
			continue // what is to be minded as drawn is told with the drawing
		}
		var margins []float64
		for _, p := range pilots {
			s := of(p, k)
			if !s.ok() || s.verdict == prove.Mind && from.verdict != prove.Mind {
				out[k] = true
			}
			if s.finite() {
				margins = append(margins, s.margin())
			}
		}
		if from.there && !from.ok() {
			out[k] = true
		}
		if out[k] || len(margins) == 0 {
			continue
		}
		about, sum := 0.0, 0.0
		for _, m := range margins {
			about += m / float64(len(margins))
		}
		if from.finite() {
			about = from.margin()
		}
		for _, m := range margins {
			sum += float64((m - about) * (m - about))
		}
		out[k] = sum > 0 && about < farReach*math.Sqrt(sum/float64(len(margins)))
	}
	return out
}
