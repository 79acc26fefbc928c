package photo

import "image"

// turn sets a picture upright that was taken with the camera held another way. way is
// the orientation of the Exif standard (CIPA DC-008, tag 274, from memory): which side
// of what was seen the first row and the first column of the file are.
//
//	1 top left      2 top right     3 bottom right  4 bottom left
//	5 left top      6 right top     7 right bottom  8 left bottom
func turn(src *image.RGBA, way int) *image.RGBA {
	if way <= 1 || way > 8 {
		return src
	}
	w, h := src.Rect.Dx(), src.Rect.Dy()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if way > 4 {
		out = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for r := range h {
		for c := range w {
			// where the point of row r and column c is seen
			x, y := c, r
			if way > 4 {
				x, y = r, c
			}
			switch way {
			case 2, 6:
				x = out.Rect.Dx() - 1 - x
			case 3, 7:
				x, y = out.Rect.Dx()-1-x, out.Rect.Dy()-1-y
			case 4, 8:
				y = out.Rect.Dy() - 1 - y
			}
			copy(out.Pix[y*out.Stride+4*x:][:4], src.Pix[r*src.Stride+4*c:][:4])
		}
	}
	return out
}
