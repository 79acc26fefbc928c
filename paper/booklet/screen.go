package booklet

import (
	"fmt"

	"dryfit/geom/r2"
	"dryfit/guide"
	"dryfit/paper/draw"
	"dryfit/paper/picture"
	"dryfit/paper/svg"
)

// Sizes of the drawings of a step on a screen, mm: they are shown as wide as their place is, so
// these say how large the numbers in them are.
var (
	screenScene = r2.Vec{X: 90, Y: 72}
	screenPiece = r2.Vec{X: 44, Y: 34} // of those that stand side by side
)

const (
	screenSection = 83.0 // width of a part that is cut through its holes
	screenGap     = 4.0  // between drawings
	screenBelow   = 5.0  // for the words below one
)

// drawings are what stands beside the words of a step on a screen, and the words below each of
// the first of them.
func (b *Book) drawings(s guide.Step) (pics []*drawing, below []string) {
	for k, sc := range b.scenes(s.Shows) {
		d := &drawing{scene: sc, size: screenScene}
		if s.Shows.Apart {
			d.size = screenPiece
			below = append(below, b.numbersOf(s.Shows.Pieces[k]))
		}
		pics = append(pics, d)
	}
	if d := b.section(s.Shows, screenSection); d != nil {
		pics = append(pics, d)
	}
	return pics, below
}

// StepSVG returns the drawings of a step, by its number in the guide, as one picture; nil for a
// step that shows nothing.
func (b *Book) StepSVG(n int) ([]byte, error) {
	step, all := b.stepNumbered(n)
	if step.Number == 0 {
		return nil, fmt.Errorf("there is no step %d: expected 1 to %d", n, all)
	}
	pics, below := b.drawings(step)
	if len(pics) == 0 {
		return nil, nil
	}
	b.ink(pics)
	cols := 1
	if len(below) > 0 {
		cols, _ = grid(len(pics))
	}
	var page draw.Page
	type place struct{ left, down float64 }
	var places []place
	x, y, high := 0.0, 0.0, 0.0
	for k, d := range pics {
		if k%cols == 0 && k > 0 {
			x, y, high = 0, y+high+screenGap, 0
		}
		places = append(places, place{x, y})
		x += d.size.X
		page.Size.X = max(page.Size.X, x)
		x += screenGap
		tall := d.size.Y
		if k < len(below) {
			tall += screenBelow
		}
		high = max(high, tall)
	}
	page.Size.Y = y + high
	for k, d := range pics {
		low := r2.Vec{X: places[k].left, Y: page.Size.Y - places[k].down - d.size.Y}
		page.Items = append(page.Items, at(low, d.items))
		if k < len(below) {
			page.Items = append(page.Items, draw.Text{At: low.Add(r2.Vec{X: d.size.X / 2, Y: -screenBelow + 1}),
				Says: draw.Shorten(below[k], smallText, false, d.size.X), Height: smallText, Across: draw.Middle, Tone: draw.Pencil})
		}
	}
	says := picture.StepSays(n, all, step.Title)
	return svg.Write(page, svg.Meta{Title: says, Describes: b.Toy + ": " + says}), nil
}

// stepNumbered finds a step, and how many there are.
func (b *Book) stepNumbered(n int) (step guide.Step, all int) {
	for _, c := range b.Chapters {
		for _, s := range c.Steps {
			if all++; s.Number == n {
				step = s
			}
		}
	}
	return step, all
}
