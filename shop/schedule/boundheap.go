package schedule

// boundHeap keeps the bounds "x is at least v" by how often they were lately in a
// conflict (variable state independent decaying sum: M. Moskewicz and others,
// "Chaff: engineering an efficient SAT solver", DAC 2001). Bounds that never were
// in one are not in it.
type boundHeap struct {
	base     []int32 // first bound of each number; bound 0 of x is x >= lo+1
	lo, hi   []int32
	activity []float64
	owner    []int32
	place    []int32 // in heap, -1 if not there
	heap     []int32
}

func (h *boundHeap) number(lo, hi int) {
	x := int32(len(h.base))
	h.base = append(h.base, int32(len(h.activity)))
	h.lo, h.hi = append(h.lo, int32(lo)), append(h.hi, int32(hi))
	for v := lo + 1; v <= hi; v++ {
		h.activity = append(h.activity, 0)
		h.owner = append(h.owner, x)
		h.place = append(h.place, -1)
	}
}

// bound gives number and value of a bound.
func (h *boundHeap) bound(k int32) (x, v int32) {
	x = h.owner[k]
	return x, k - h.base[x] + h.lo[x] + 1
}

func (h *boundHeap) bump(l literal, by float64) {
	x, v := l.side>>1, l.v
	if l.side&1 == 1 {
		v = 1 - l.v
	}
	if v <= h.lo[x] || v > h.hi[x] {
		return
	}
	k := h.base[x] + v - h.lo[x] - 1
	h.activity[k] += by
	if h.place[k] >= 0 {
		h.up(int(h.place[k]))
	} else {
		h.push(k)
	}
}

// free puts back the bounds that are open again when a side falls from v to old.
func (h *boundHeap) free(side, old, v int32) {
	x := side >> 1
	from, to := old+1, v // x >= from .. x >= to
	if side&1 == 1 {
		from, to = 1-v, -old
	}
	from, to = max(from, h.lo[x]+1), min(to, h.hi[x])
	for v := from; v <= to; v++ {
		if k := h.base[x] + v - h.lo[x] - 1; h.place[k] < 0 && h.activity[k] > 0 {
			h.push(k)
		}
	}
}

func (h *boundHeap) scale(by float64) {
	for k := range h.activity {
		h.activity[k] *= by
	}
}

func (h *boundHeap) push(k int32) {
	h.place[k] = int32(len(h.heap))
	h.heap = append(h.heap, k)
	h.up(len(h.heap) - 1)
}

func (h *boundHeap) pop() int32 {
	top, last := h.heap[0], len(h.heap)-1
	h.swap(0, last)
	h.heap = h.heap[:last]
	h.place[top] = -1
	for k := 0; ; {
		c := 2*k + 1
		if c >= last {
			return top
		}
		if c+1 < last && h.before(c+1, c) {
			c++
		}
		if !h.before(c, k) {
			return top
		}
		h.swap(c, k)
		k = c
	}
}

func (h *boundHeap) up(k int) {
	for k > 0 && h.before(k, (k-1)/2) {
		h.swap(k, (k-1)/2)
		k = (k - 1) / 2
	}
}

func (h *boundHeap) before(a, b int) bool {
	x, y := h.heap[a], h.heap[b]
	return h.activity[x] > h.activity[y] || h.activity[x] == h.activity[y] && x < y
}

func (h *boundHeap) swap(a, b int) {
	h.heap[a], h.heap[b] = h.heap[b], h.heap[a]
	h.place[h.heap[a]], h.place[h.heap[b]] = int32(a), int32(b)
}
