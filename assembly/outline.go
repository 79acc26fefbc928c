package assembly

import (
	"errors"
	"fmt"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/toy"
)

func pt(p toy.Point) r2.Vec { return r2.Vec{X: p.X.MM(), Y: p.Y.MM()} }

// Line returns the closed line that an outline describes, in mm on its side.
// The error speaks to the author of the toy and knows its place in the file.
func Line(o toy.Outline) (outline.Path, error) {
	p, err := line(o)
	if err == nil {
		if f := p.Check(); f != nil {
			err = errors.New("this outline cannot be sawn: " + f.Says)
		}
	}
	if err == nil {
		return p, nil
	}
	w := &workError{at: o.At, says: err.Error()}
	var ce *outline.CornerError
	if errors.As(err, &ce) {
		w.need, w.have = ce.Need, ce.Have
		if o.Mirror == "" && ce.At < len(o.Corners) {
			w.at, w.says = o.Corners[ce.At].In, ce.Says
		}
	}
	return p, w
}

func line(o toy.Outline) (outline.Path, error) {
	switch {
	case o.Circle != nil:
		return outline.Circle(pt(o.Circle.Centre), o.Circle.Dia.MM()/2), nil
	case o.Path != "":
		paths, serr := outline.ParseSVG(o.Path)
		if serr != nil {
			return outline.Path{}, fmt.Errorf("path data, character %d: %s", serr.At+1, serr.Says)
		}
		if len(paths) != 1 {
			return outline.Path{}, fmt.Errorf("an outline is one closed line; the path data has %d", len(paths))
		}
		return paths[0].Transform(outline.Scaled(o.Unit.MM()).Then(over(o.Over))), nil
	}
	cs := make([]outline.Corner, len(o.Corners))
	for i, c := range o.Corners {
		cs[i] = outline.Corner{P: pt(c.Point), Radius: c.Radius.MM()}
		if c.Through != nil {
			v := pt(*c.Through)
			cs[i].Via = &v
		}
	}
	if o.Mirror != "" {
		// The mirror line runs through the last point, along the side or across it.
		if len(cs) < 2 {
			return outline.Path{}, errors.New("half an outline needs at least two corners")
		}
		a := cs[len(cs)-1].P
		b := a.Add(r2.Vec{X: 1})
		if o.Mirror == "across" {
			b = a.Add(r2.Vec{Y: 1})
		}
		whole, err := outline.MirrorCorners(cs, a, b)
		if err != nil {
			return outline.Path{}, err
		}
		cs = whole
	}
	return outline.Corners(cs)
}

// over is the mirror image that path data is read in.
func over(at toy.Point) outline.Similar {
	switch {
	case at.X != 0:
		return outline.FlippedX().Then(outline.Shifted(r2.Vec{X: at.X.MM()}))
	case at.Y != 0:
		return outline.FlippedY().Then(outline.Shifted(r2.Vec{Y: at.Y.MM()}))
	}
	return outline.Same
}
