package photo

import "image"

// scale makes a picture smaller: each point is the mean of what it covers, by area. w
// and h are not above the picture's own.
func scale(src *image.RGBA, w, h int) *image.RGBA {
	sw, sh := src.Rect.Dx(), src.Rect.Dy()
	if w == sw && h == sh {
		return src
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	// Along a row a source point is w units long and a point of the result sw units;
	// the same up the page with h and sh. So every share is a whole number.
	sums := make([]uint64, 3*w)
	row := make([]uint64, 3*w)
	whole := uint64(sw) * uint64(sh)
	y, left := 0, sh // the row being summed, and how much of it is still to come
	for sy := range sh {
		across(src.Pix[sy*src.Stride:], sw, w, row)
		for part := h; part > 0; {
			take := min(part, left)
			for i, v := range row {
				sums[i] += v * uint64(take)
			}
			if part, left = part-take, left-take; left > 0 {
				continue
			}
			for x := range w {
				at := out.Pix[y*out.Stride+4*x:]
				for c := range 3 {
					at[c] = uint8((sums[3*x+c] + whole/2) / whole)
				}
				at[3] = 255
			}
			clear(sums)
			y, left = y+1, sh
		}
	}
	return out
}

// across sums a row of the source into w points, each sw units long.
func across(pix []uint8, sw, w int, row []uint64) {
	clear(row)
	x, left := 0, sw
	for sx := range sw {
		for part := w; part > 0; {
			take := min(part, left)
			for c := range 3 {
				row[3*x+c] += uint64(pix[4*sx+c]) * uint64(take)
			}
			if part, left = part-take, left-take; left == 0 {
				x, left = x+1, sw
			}
		}
	}
}
