package app

import (
	"bytes"
	"fmt"
	"strings"

	"dryfit/exchange/drawing"
)

// Outlines says what to read of a drawing.
type Outlines struct {
	Units string   // one unit of the drawing: mm, inch or px; empty: as the drawing says
	Pick  []string // names or layers; none: all lines, where one holds them
	Loose bool     // all lines, also where no one of them holds the others
	As    string   // the unit of the toy file: mm or inch
}

// Traced is a line of a drawing as a toy file has it.
type Traced struct {
	Name   string  `json:"name"`
	Layer  string  `json:"layer"`
	Holder string  `json:"holder"` // the line from whose lower left corner it is measured; empty: its own
	Width  float64 `json:"width"`  // mm
	Height float64 `json:"height"`
	Says   string  `json:"says"` // outline: ...
}

// Trace reads a drawing, SVG or PDF, and returns its outlines, and notes of what was left out.
func Trace(data []byte, o Outlines) (out []Traced, notes []string, err error) {
	opt := drawing.Options{Unit: drawing.Units[o.Units]}
	if o.Units != "" && opt.Unit == 0 {
		return nil, nil, fmt.Errorf("units %s: expected mm, inch or px", o.Units)
	}
	read := drawing.SVG
	if bytes.Contains(data[:min(len(data), 1024)], []byte("%PDF-")) {
		read = drawing.PDF
	}
	d, err := read(data, opt)
	if err != nil {
		return nil, nil, err
	}
	picked := d.All()
	if !o.Loose {
		if picked, err = d.Pick(o.Pick...); err != nil {
			return nil, d.Notes, err
		}
	}
	for _, p := range picked {
		said, err := drawing.Say(p.Path, p.Origin, o.unit())
		if err != nil {
			return nil, d.Notes, fmt.Errorf("%s: %w", p.Name, err)
		}
		size := p.Path.Bounds().Size()
		out = append(out, Traced{Name: p.Name, Layer: p.Layer, Holder: p.Holder, Width: size.X, Height: size.Y, Says: said})
	}
	return out, d.Notes, nil
}

// unit is that of the toy file, in mm.
func (o Outlines) unit() float64 {
	if o.As == "inch" {
		return 25.4
	}
	return 1
}

// Outline is Trace as a text to be pasted into a toy file.
func Outline(data []byte, o Outlines) (text string, notes []string, err error) {
	lines, notes, err := Trace(data, o)
	if err != nil {
		return "", notes, err
	}
	word := "mm"
	if o.As == "inch" {
		word = "in"
	}
	var b strings.Builder
	for i, l := range lines {
		if i > 0 {
			b.WriteByte('\n')
		}
		fmt.Fprintf(&b, "# %s", l.Name)
		if l.Layer != "" {
			fmt.Fprintf(&b, ", layer %s", l.Layer)
		}
		fmt.Fprintf(&b, ": %.4g x %.4g %s", l.Width/o.unit(), l.Height/o.unit(), word)
		if l.Holder != "" {
			fmt.Fprintf(&b, ", measured from the lower left corner of %s", l.Holder)
		}
		fmt.Fprintf(&b, "\n%s\n", l.Says)
	}
	return b.String(), notes, nil
}
