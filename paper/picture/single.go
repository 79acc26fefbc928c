package picture

import (
	"errors"
	"fmt"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/measure"
	"dryfit/paper/draw"
	"dryfit/paper/pdf"
	"dryfit/paper/svg"
	"dryfit/prove"
	"dryfit/shop"
)

// Kind says what is drawn alone on a page, or shaded.
type Kind struct {
	Exploded bool
	View     View // where that is the whole toy as it stands
}

// ErrNoOrder is why it cannot be drawn apart.
var ErrNoOrder = errors.New("no order was found in which the toy goes together")

// Drawing is one scene with the words above it.
type Drawing struct {
	Scene Scene
	Says  string
}

// Choose returns the drawing of a kind. What is asked for and is not there is an error.
func (d *Drafter) Choose(k Kind) (Drawing, error) {
	switch {
	case k.Exploded:
		seq := prove.Order(d.m)
		if !seq.Found {
			return Drawing{}, fmt.Errorf("it cannot be drawn apart: %w", ErrNoOrder)
		}
		s := d.Exploded(seq)
		s.View = k.View
		return Drawing{s, wordExploded}, nil
	}
	return Drawing{Scene{Shown: numbered(d.m), View: k.View}, k.View.Says()}, nil
}

// Alone returns a drawing on a page of its own, with frame and title block.
func (d *Drafter) Alone(w Drawing, opt Options) draw.Page {
	third := d.m.Toy.Units == measure.Inch
	o := w.Scene.stand(w.Scene.model(d.m))
	from := w.Scene.View.sight()
	box := from.bounds(o)
	sizes := papers(opt.Size, third)
	size, best := sizes[0], 0.0
	for _, s := range sizes {
		if f := fit(box.Size(), aloneRoom(s)); f > best {
			size, best = s, f
		}
	}
	frame := r2.Box{Min: r2.Vec{X: margin, Y: margin}, Max: size.Sub(r2.Vec{X: margin, Y: margin})}
	in := body(size)
	room := in.Size()
	room.Y -= nameRoom
	scale, says := 0.0, wordNoScale
	if from.foreshort() == 1 && len(w.Scene.Moves) == 0 { // lengths can be measured
		for _, s := range scales {
			if scale == 0 && s.paper/s.toy <= best {
				scale = s.paper / s.toy
				says = ratio(scale)
			}
		}
	}
	var list []draw.Item
	if w.Scene.NoArrows { // drawn apart: what the numbers are
		list, room.Y = d.list(in, room)
	}
	items, unseen := d.draw(w.Scene, room, scale)
	head := draw.Text{At: r2.Vec{X: in.Min.X, Y: in.Max.Y - draw.LabelHeight}, Says: w.Says, Height: draw.LabelHeight, Tone: draw.Pencil}
	names := draw.Group{Layer: layerTitles, Items: []draw.Item{head}}
	if len(unseen) > 0 {
		t := head
		t.Says = draw.Shorten(fmt.Sprintf(wordNotSeen, commas(unseen)), head.Height, false, room.X-head.Width()-6)
		t.At.X, t.Across = in.Max.X, draw.Right
		names.Items = append(names.Items, t)
	}
	page := draw.Page{Size: size, Items: []draw.Item{draw.Group{Move: draw.Translate(r2.Vec{X: in.Min.X, Y: in.Max.Y - nameRoom - room.Y}), Items: items}, names}}
	page.Items = append(append(page.Items, list...), titles(d.m, frame, third, says)...)
	return page
}

// list writes at the foot of a page which part has which numbers, and returns the height
// that is left.
func (d *Drafter) list(in r2.Box, room r2.Vec) ([]draw.Item, float64) {
	var names []string
	numbers := map[string][]int{}
	for i, p := range d.m.Pieces {
		n := p.Part.Name
		if len(numbers[n]) == 0 {
			names = append(names, n)
		}
		numbers[n] = append(numbers[n], shop.Number(i))
	}
	var says []string
	for _, n := range names {
		says = append(says, n+" "+commas(numbers[n]))
	}
	lines := draw.Wrap(strings.Join(says, "; "), listHeight, false, room.X)
	step := draw.LineStep(listHeight)
	var items []draw.Item
	for k, l := range lines {
		items = append(items, draw.Text{At: r2.Vec{X: in.Min.X, Y: in.Min.Y + float64(float64(len(lines)-1-k)*step)}, Says: l, Height: listHeight})
	}
	return []draw.Item{draw.Group{Layer: layerTitles, Items: items}}, room.Y - float64(float64(len(lines))*step) - 2
}

// listHeight is the height of the capitals of the list.
const listHeight = 2.2

// aloneRoom is what a page has for a drawing with its numbers.
func aloneRoom(size r2.Vec) r2.Vec {
	return body(size).Size().Sub(r2.Vec{X: 2*ringRoom + 1, Y: 2*ringRoom + 1 + nameRoom})
}

// papers are the sheets that a drawing may go on: the one asked for, or the usual one lying
// or upright.
func papers(size r2.Vec, third bool) []r2.Vec {
	if size != (r2.Vec{}) {
		return []r2.Vec{size}
	}
	short, long := 210.0, 297.0 // A4: ISO 216
	if third {
		short, long = 215.9, 279.4 // Letter: size A of ANSI/ASME Y14.1
	}
	return []r2.Vec{{X: long, Y: short}, {X: short, Y: long}}
}

// File writes a page as svg or pdf. The same page gives the same bytes.
func File(m *assembly.Model, p draw.Page, format, says string) ([]byte, error) {
	return Files(m, []draw.Page{p}, format, says)
}

// Files writes pages as pdf, or one of them as svg.
func Files(m *assembly.Model, pages []draw.Page, format, says string) ([]byte, error) {
	switch format {
	case "svg":
		return svg.Write(pages[0], svg.Meta{Title: m.Toy.Name, Describes: m.Toy.Name + " " + says}), nil
	case "pdf":
		return pdf.Write(pages, pdf.Meta{Title: m.Toy.Name, Subject: says})
	}
	return nil, fmt.Errorf("no picture is written as %s", format)
}
