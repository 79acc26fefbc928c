package schedule

import "slices"

// destructive raises lb for as long as a makespan of lb can be refuted by
// propagation alone (Klein and Scholl 1999), by halving between lb and upper: a
// makespan that is refuted refutes all below it.
func (in *instance) destructive(items [][]item, lb, upper int, stop func() bool) int {
	w := windows{stop: stop, in: in, items: items, est: make([]int, in.n), lst: make([]int, in.n)}
	for lb < upper {
		mid := lb + (upper-lb-1)/2
		if !w.refute(mid) {
			upper = mid
			continue
		}
		lb = mid + 1
	}
	return lb
}

// windows are the earliest and latest starts under a makespan.
type windows struct {
	stop     func() bool
	in       *instance
	items    [][]item
	makespan int
	est, lst []int
}

func (w *windows) refute(makespan int) bool {
	in := w.in
	w.makespan = makespan
	for i := range in.n {
		w.est[i], w.lst[i] = in.head[i], makespan-in.tail[i]-in.shortest[i]
	}
	for range 8 {
		before := slices.Clone(w.est)
		after := slices.Clone(w.lst)
		for r := range w.items {
			if w.stop() {
				return false
			}
			if !w.energetic(r) {
				return true
			}
		}
		for _, i := range in.topo {
			for _, j := range in.succ[i] {
				w.est[j] = max(w.est[j], w.est[i]+in.shortest[i])
			}
		}
		for q := len(in.topo) - 1; q >= 0; q-- {
			i := in.topo[q]
			for _, j := range in.succ[i] {
				w.lst[i] = min(w.lst[i], w.lst[j]-in.shortest[i])
			}
			if w.lst[i] < w.est[i] {
				return true
			}
		}
		if slices.Equal(before, w.est) && slices.Equal(after, w.lst) {
			return false
		}
	}
	return false
}

func (w *windows) window(x item) (est, lst int) {
	if x.task < 0 {
		return x.head, w.makespan - x.tail - x.length
	}
	return w.est[x.task], w.lst[x.task]
}

// inside is the least time of an item in [from, to), shifted left and right.
func inside(from, to, length, est, lst int) int {
	return max(0, min(to-from, length, est+length-from, to-lst))
}

// energetic looks at the intervals between starts and ends of windows (Baptiste, Le
// Pape, Nuijten 1999): what has to lie inside must have room, and an item for which
// there is no room as far left as it can be has to leave the interval late, or early.
func (w *windows) energetic(r int) bool {
	var from, to []int
	for _, x := range w.items[r] {
		est, lst := w.window(x)
		if lst < est {
			return false
		}
		from = append(from, est, lst, est+x.length)
		to = append(to, lst+x.length, est+x.length, lst)
	}
	slices.Sort(from)
	slices.Sort(to)
	from, to = slices.Compact(from), slices.Compact(to)
	capacity := w.in.capacity[r]
	for _, a := range from {
		for _, b := range to {
			if b <= a {
				continue
			}
			room := capacity * (b - a)
			for _, x := range w.items[r] {
				est, lst := w.window(x)
				room -= x.units * inside(a, b, x.length, est, lst)
			}
			if room < 0 {
				return false
			}
			w.adjust(r, a, b, room)
		}
	}
	return true
}

func (w *windows) adjust(r, a, b, room int) {
	for _, x := range w.items[r] {
		est, lst := w.window(x)
		if x.task < 0 {
			continue
		}
		here := room + x.units*inside(a, b, x.length, est, lst)
		// As far left as it can be it holds this long inside:
		if left := max(0, min(b-a, est+x.length-a, x.length)); est < b && x.units*left > here {
			w.est[x.task] = max(est, b-here/x.units)
		}
		if right := max(0, min(b-a, b-lst, x.length)); lst+x.length > a && x.units*right > here {
			w.lst[x.task] = min(lst, a+here/x.units-x.length)
		}
	}
}
