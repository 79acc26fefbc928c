package picture

import (
	"slices"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// The new pieces of a scene are filled with light grey where they are seen. The border
// of the fill lies under their heavy lines, so that squares of a seventh of a
// millimetre are fine enough to find it.

// fine is the size of those squares, mm.
const fine = 0.15

// looked returns what is seen of the object on the paper.
func looked(o *object, at place) *raster {
	box := at.bounds(o)
	box = r2.Around(box.Min.Sub(at.from).Scale(at.scale).Add(at.to), box.Max.Sub(at.from).Scale(at.scale).Add(at.to))
	return newRaster(o, at, box, fine)
}

// wash fills what is seen of the new pieces.
func wash(o *object, r *raster) []draw.Item {
	if !slices.Contains(o.looks, New) {
		return nil
	}
	in := make([]bool, len(r.body))
	for i, b := range r.body {
		in[i] = b >= 0 && o.looks[b] == New
	}
	var runs []draw.Run
	for _, loop := range r.borders(in) {
		runs = append(runs, draw.Polygon(loop...))
	}
	if len(runs) == 0 {
		return nil
	}
	return []draw.Item{draw.Path{Runs: runs, Fill: draw.Light}}
}

// borders returns the closed lines around the squares of a set, on the paper. They run
// through the middles of the sides between squares in and out, which rounds the stairs.
func (r *raster) borders(in []bool) (out [][]r2.Vec) {
	has := func(x, y int) bool { return x >= 0 && y >= 0 && x < r.w && y < r.h && in[y*r.w+x] }
	// A side starts at the corner (x, y) and has the set to its left: 0 runs to the
	// right, 1 up, 2 to the left, 3 down.
	step := [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}}
	left := [4][2]int{{0, 0}, {-1, 0}, {-1, -1}, {0, -1}}
	right := [4][2]int{{0, -1}, {0, 0}, {-1, 0}, {-1, -1}}
	side := func(x, y, d int) bool {
		return has(x+left[d][0], y+left[d][1]) && !has(x+right[d][0], y+right[d][1])
	}
	done := make([]bool, (r.w+1)*(r.h+1))
	for y := range r.h {
		for x := range r.w {
			if !side(x, y, 0) || done[y*(r.w+1)+x] {
				continue
			}
			var loop []r2.Vec
			cx, cy, d := x, y, 0
			for {
				if d == 0 {
					done[cy*(r.w+1)+cx] = true
				}
				mid := r2.Vec{X: float64(cx) + float64(step[d][0])/2, Y: float64(cy) + float64(step[d][1])/2}
				loop = append(loop, r.origin.Add(mid.Scale(r.cell)))
				cx, cy = cx+step[d][0], cy+step[d][1]
				for _, turn := range [3]int{3, 0, 1} { // right first: squares that touch at a corner stay apart
					if n := (d + turn) % 4; side(cx, cy, n) {
						d = n
						break
					}
				}
				if cx == x && cy == y && d == 0 {
					break
				}
			}
			if loop = straighten(loop, r.cell*0.75); len(loop) > 2 {
				out = append(out, loop)
			}
		}
	}
	return out
}

// straighten leaves out points of a closed line that lie within slack of the straight
// lines between those that stay.
func straighten(loop []r2.Vec, slack float64) []r2.Vec {
	if len(loop) < 4 {
		return loop
	}
	far := 0
	for i, p := range loop {
		if p.Sub(loop[0]).Len() > loop[far].Sub(loop[0]).Len() {
			far = i
		}
	}
	open := append(append([]r2.Vec(nil), loop...), loop[0])
	keep := make([]bool, len(open))
	keep[0], keep[far], keep[len(open)-1] = true, true, true
	todo := [][2]int{{0, far}, {far, len(open) - 1}}
	for len(todo) > 0 {
		i, j := todo[len(todo)-1][0], todo[len(todo)-1][1]
		todo = todo[:len(todo)-1]
		a, d := open[i], open[j].Sub(open[i])
		worst, at := slack, -1
		for k := i + 1; k < j; k++ {
			t := 0.0
			if l := d.Dot(d); l > 0 {
				t = max(0, min(1, open[k].Sub(a).Dot(d)/l))
			}
			if off := open[k].Sub(a.Add(d.Scale(t))).Len(); off > worst {
				worst, at = off, k
			}
		}
		if at >= 0 {
			keep[at] = true
			todo = append(todo, [2]int{i, at}, [2]int{at, j})
		}
	}
	var out []r2.Vec
	for i := range loop {
		if keep[i] {
			out = append(out, loop[i])
		}
	}
	return out
}
