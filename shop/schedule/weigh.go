package schedule

import "slices"

// weighed weighs the resources against each other, so that work which one or
// another can do counts once: whatever the weights, the least weighed energy of all
// tasks does not exceed what the weighed capacities can do in the time (weak
// duality of the linear program that spreads tasks over modes). Of the uses only
// those count that lie between head and the makespan less tail.
type weighed struct {
	in         *instance
	head, tail int
	weight     []int
	load       []int
	best       int
	bestWeight []int
	sure       []sureSetUp
}

// weightOne is the weight of a resource as a whole at the beginning.
const weightOne = 1 << 14

// weighedBound is the best bound over heads and tails, and the weights that gave
// the best one over the whole.
func (in *instance) weighedBound() (int, []int) {
	w := &weighed{in: in, weight: make([]int, in.m), load: make([]int, in.m), bestWeight: make([]int, in.m), sure: in.sureSetUps()}
	for r, c := range in.capacity {
		if c > 0 {
			w.weight[r] = weightOne / c
		}
	}
	copy(w.bestWeight, w.weight)
	if len(in.several) == 0 {
		return 0, w.weight
	}
	w.improve(400)
	whole := slices.Clone(w.bestWeight)
	heads, tails := []int{0}, []int{0}
	for i, modes := range in.modes {
		heads = append(heads, in.head[i])
		for k := range modes {
			for _, u := range modes[k].uses {
				tails = append(tails, modes[k].d-u.length+in.tail[i])
			}
		}
	}
	for _, head := range some(heads, 4) {
		copy(w.weight, whole)
		for _, tail := range some(tails, 60) {
			w.head, w.tail = head, tail
			w.improve(25)
		}
	}
	return w.best, whole
}

// costs says by how many percent the weighed energy of each mode is above the least
// of its task, with a set-up before it or without.
func (in *instance) costs(weight []int, setUp bool) [][]int {
	out := make([][]int, in.n)
	for i, modes := range in.modes {
		least := -1
		for k := range modes {
			e := 1
			for _, u := range modes[k].uses {
				length := u.length
				if setUp && modes[k].fam > 0 {
					length += in.setUp[modes[k].tool]
				}
				e += weight[u.r] * u.units * length
			}
			out[i] = append(out[i], e)
			if least < 0 || e < least {
				least = e
			}
		}
		for k, e := range out[i] {
			out[i][k] = int(100 * int64(e-least) / int64(least))
		}
	}
	return out
}

// some are at most n different values of a list, spread over it, the least among them.
func some(list []int, n int) []int {
	slices.Sort(list)
	list = slices.Compact(list)
	if len(list) <= n {
		return list
	}
	var out []int
	for k := range n {
		out = append(out, list[k*len(list)/n])
	}
	return out
}

// improve moves the weights toward what is loaded most, and keeps the best.
func (w *weighed) improve(rounds int) {
	in := w.in
	for round := range rounds {
		total := w.total()
		room, worst := 0, 1
		for r, c := range in.capacity {
			room += w.weight[r] * c
			if c > 0 {
				worst = max(worst, w.load[r]/c)
			}
		}
		if room == 0 {
			return
		}
		if total > 0 {
			if b := w.head + (total+room-1)/room + w.tail; b > w.best {
				w.best = b
				copy(w.bestWeight, w.weight)
			}
		}
		mean := 0 // load of what is weighed, as the weights see it
		for r := range w.weight {
			mean += w.weight[r] * w.load[r]
		}
		mean /= room
		for r, c := range in.capacity {
			if c > 0 {
				step := weightOne / c / (4 + round/2)
				w.weight[r] = max(0, w.weight[r]+step*(w.load[r]/c-mean)/worst)
			}
		}
	}
}

// total is the least weighed energy; load is where it lies.
func (w *weighed) total() int {
	in := w.in
	clear(w.load)
	total := 0
	for i, modes := range in.modes {
		if in.head[i] < w.head {
			continue
		}
		least, at := 0, 0
		for k := range modes {
			e := 0
			for _, u := range modes[k].uses {
				if modes[k].d-u.length+in.tail[i] >= w.tail {
					e += w.weight[u.r] * u.units * u.all
				}
			}
			if k == 0 || e < least {
				least, at = e, k
			}
		}
		total += least
		for _, u := range modes[at].uses {
			if modes[at].d-u.length+in.tail[i] >= w.tail {
				w.load[u.r] += u.units * u.all
			}
		}
	}
	for _, f := range w.sure {
		if f.head < w.head || f.tail < w.tail {
			continue
		}
		for r, units := range f.units {
			total += w.weight[r] * units * in.setUp[f.tool]
			w.load[r] += units * in.setUp[f.tool]
		}
	}
	return total
}
