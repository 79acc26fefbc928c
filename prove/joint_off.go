package prove

import (
	"math"
	"slices"
)

// comesOff lists what would come off under the pulls, twists and presses of this age: of
// every joint that does not carry them both sides, since what a wheel was glued to may slip
// out once it is gone, and wheels that nothing keeps on. untold are pieces of which this
// is not known: wood without figures, or glue that touches nothing.
func (r *run) comesOff() (things [][]int, untold map[int]bool) {
	untold = map[int]bool{}
	for _, j := range r.judged() {
		switch {
		case !j.told:
			for _, i := range j.off {
				untold[i] = true
			}
		case j.f.over() < 0:
			things = append(things, j.off, j.from)
		}
	}
	for _, a := range r.m.Axles {
		if !a.Held {
			for _, end := range a.Wheels {
				for _, w := range end {
					things = append(things, []int{w})
				}
			}
		}
	}
	bonded := map[int]bool{}
	for _, b := range r.bonds() {
		bonded[b.a], bonded[b.b] = true, true
	}
	for _, g := range r.m.Glues {
		for _, side := range [][]int{g.A, g.B} {
			if !slices.ContainsFunc(side, func(i int) bool { return bonded[i] }) {
				for _, i := range side {
					untold[i] = true
				}
			}
		}
	}
	return things, untold
}

// staysBy returns how many times its load the weakest joint of a piece holds.
func (r *run) staysBy(i int) factor {
	f := factor{math.Inf(1), 1}
	for _, j := range r.judged() {
		if slices.Contains(j.off, i) && j.f.over() < f.over() {
			f = j.f
		}
	}
	return f
}
