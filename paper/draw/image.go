package draw

import "dryfit/geom/r2"

// Image is a photograph laid on the page. Its lower left corner is at At; Along and Up
// are its lower and its left side, so that a group may turn or mirror it.
type Image struct {
	At, Along, Up r2.Vec
	Photo         *Photo
	Says          string // what it shows, for those who cannot see it
}

// Photo is a picture made of points, in 8 bits a sample, ready to go into a file: either
// a whole JPEG file or plain samples, row by row from the top.
type Photo struct {
	Width, Height int
	Grey          bool   // one sample a point, else red, green and blue
	JPEG          []byte // baseline or progressive, upright
	Samples       []byte // where JPEG is nil: Width * Height samples, three times that in colour
}

// ImageIn returns an image that fills a box.
func ImageIn(box r2.Box, p *Photo, says string) Image {
	size := box.Size()
	return Image{At: box.Min, Along: r2.Vec{X: size.X}, Up: r2.Vec{Y: size.Y}, Photo: p, Says: says}
}

// Corners returns the corners, from the lower left one on.
func (i Image) Corners() [4]r2.Vec {
	return [4]r2.Vec{i.At, i.At.Add(i.Along), i.At.Add(i.Along).Add(i.Up), i.At.Add(i.Up)}
}

func (i Image) moved(t Transform) Image {
	from := t.Apply(i.At)
	i.Along, i.Up = t.Apply(i.At.Add(i.Along)).Sub(from), t.Apply(i.At.Add(i.Up)).Sub(from)
	i.At = from
	return i
}
