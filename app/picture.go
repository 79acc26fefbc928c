package app

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"dryfit/paper/booklet"
	"dryfit/paper/picture"
)

// PictureFormats are what Picture writes.
var PictureFormats = []string{"svg", "pdf", "png"}

// Pictures are what Picture looks at: the whole toy from a side, drawn apart, or a step of
// the guide. The zero value is the sheet with three views and an isometric; shaded, the
// isometric.
type Pictures struct {
	Exploded bool
	View     string // iso, front, side or top
	Step     int    // of the guide, from 1
	Section  string // a part, cut through its blind holes; not shaded
	Long     int    // of a shaded picture: elements of its longer side; 0: as many as a page needs
}

// pictureViews are the names of views.
var pictureViews = map[string]picture.View{"": picture.FrontRight, "iso": picture.FrontRight, "front": picture.FromFront, "side": picture.FromSide, "top": picture.FromTop}

// pictureLong is how many elements the longer side of a shaded picture has.
const pictureLong = 1600

// Picture draws the toy: lines as svg or pdf, shaded as png.
func (t *Toy) Picture(format string, o Pictures) ([]byte, error) {
	m, probs := t.Model()
	if len(probs) > 0 {
		return nil, probs
	}
	view, ok := pictureViews[o.View]
	if !ok {
		return nil, fmt.Errorf("no view is called %s: expected iso, front, side or top", o.View)
	}
	if format != "png" && o == (Pictures{}) {
		return picture.File(m, picture.Page(m, picture.Options{}), format, picture.SheetSays)
	}
	d := picture.NewDrafter(m)
	if o.Section != "" {
		if format == "png" {
			return nil, errors.New("a section is not shaded: expected a name that ends in .svg or .pdf")
		}
		if format == "pdf" {
			pages, err := d.SectionPages(o.Section, picture.Options{})
			if err != nil {
				return nil, err
			}
			return picture.Files(m, pages, format, picture.SectionSays)
		}
		p, err := d.SectionPage(o.Section, picture.Options{})
		if err != nil {
			return nil, err
		}
		return picture.File(m, p, format, picture.SectionSays)
	}
	var w picture.Drawing
	var err error
	if o.Step != 0 {
		w, err = booklet.New(m, nil, t.cache).Step(o.Step)
	} else {
		w, err = d.Choose(picture.Kind{Exploded: o.Exploded, View: view})
	}
	if err != nil {
		return nil, err
	}
	switch format {
	case "png":
		return d.PNG(w.Scene, cmp.Or(o.Long, pictureLong))
	case "svg", "pdf":
		return picture.File(m, d.Alone(w, picture.Options{}), format, w.Says)
	}
	return nil, fmt.Errorf("no picture is written as %s: expected one of %s", format, strings.Join(PictureFormats, ", "))
}
