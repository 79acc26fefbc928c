package boards

import (
	"math"

	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/measure"
	"dryfit/shop/nest"
)

// What is left is looked for on a grid of cells, and a cell counts only if nothing touches it, so
// that the rectangle that is said is really there.
const (
	cellInch  = facts.MMPerInch / 8
	cellMM    = 3.0
	leastRest = 0.02 // of a board: less is waste
	leastSide = 20.0 // mm: what is narrower is as well
)

// restOf returns the largest rectangle of a board that no piece comes nearer to than the
// gap; nil where only waste is left.
func restOf(board nest.Shape, laid []nest.Shape, gap float64, u measure.Unit) *Rest {
	step := cellMM
	if u == measure.Inch {
		step = cellInch
	}
	var lines [][]r2.Vec
	for _, s := range laid {
		lines = append(lines, s.Outer)
	}
	return largest(board, lines, gap, step)
}

// largest is restOf on cells of a size, for lines that are laid.
func largest(board nest.Shape, laid [][]r2.Vec, gap, step float64) *Rest {
	box := r2.Around(board.Outer...)
	for step < box.Size().X/600 || step < box.Size().Y/600 {
		step *= 2
	}
	w, h := int(box.Size().X/step+1e-9), int(box.Size().Y/step+1e-9)
	if w == 0 || h == 0 {
		return nil
	}
	shut := make([]bool, w*h)
	cell := func(x, y int, by float64) r2.Box {
		at := box.Min.Add(r2.Vec{X: float64(float64(x) * step), Y: float64(float64(y) * step)})
		return r2.Box{Min: at.Sub(r2.Vec{X: by, Y: by}), Max: at.Add(r2.Vec{X: step + by, Y: step + by})}
	}
	for y := 0; y < h; y++ {
		for x := 0; x < w; x++ {
			c := cell(x, y, -1e-6)
			shut[y*w+x] = crosses(board.Outer, c) || !inside(board.Outer, c.Min)
		}
	}
	block := func(poly []r2.Vec, by float64) {
		b := r2.Around(poly...)
		x0, x1 := int(math.Floor((b.Min.X-by-box.Min.X)/step)), int(math.Floor((b.Max.X+by-box.Min.X)/step))
		y0, y1 := int(math.Floor((b.Min.Y-by-box.Min.Y)/step)), int(math.Floor((b.Max.Y+by-box.Min.Y)/step))
		for y := max(0, y0); y <= min(h-1, y1); y++ {
			for x := max(0, x0); x <= min(w-1, x1); x++ {
				if c := cell(x, y, by-1e-6); !shut[y*w+x] && (crosses(poly, c) || inside(poly, c.Min)) {
					shut[y*w+x] = true
				}
			}
		}
	}
	for _, k := range board.Holes {
		block(k, 0)
	}
	for _, line := range laid {
		block(line, gap)
	}
	// the largest rectangle under a skyline, row by row
	high := make([]int, w+1)
	best, at := 0, [4]int{}
	var stack []int
	for y := 0; y < h; y++ {
		stack = stack[:0]
		for x := 0; x <= w; x++ {
			if x < w {
				if high[x]++; shut[y*w+x] {
					high[x] = 0
				}
			}
			for len(stack) > 0 && high[stack[len(stack)-1]] >= high[x] {
				k := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				from := 0
				if len(stack) > 0 {
					from = stack[len(stack)-1] + 1
				}
				if a := high[k] * (x - from); a > best && float64(high[k])*step >= leastSide && float64(x-from)*step >= leastSide {
					best, at = a, [4]int{from, y - high[k] + 1, x, y + 1}
				}
			}
			stack = append(stack, x)
		}
	}
	if float64(float64(best)*step*step) < leastRest*areaOf(nest.Shape{Outer: board.Outer}) {
		return nil
	}
	f := func(n int) float64 { return rounded(float64(n) * step) }
	return &Rest{XMM: f(at[0]), YMM: f(at[1]), LengthMM: f(at[2] - at[0]), WidthMM: f(at[3] - at[1])}
}
