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
	As    string   // the unit of the toy file: mm or inch
}

// Outline reads a drawing, SVG or PDF, and returns its outlines as a toy file has them,
// and notes of what was left out.
func Outline(data []byte, o Outlines) (text string, notes []string, err error) {
	opt := drawing.Options{Unit: drawing.Units[o.Units]}
	if o.Units != "" && opt.Unit == 0 {
		return "", nil, fmt.Errorf("units %s: expected mm, inch or px", o.Units)
	}
	read := drawing.SVG
	if bytes.Contains(data[:min(len(data), 1024)], []byte("%PDF-")) {
		read = drawing.PDF
	}
	d, err := read(data, opt)
	if err != nil {
		return "", nil, err
	}
	picked, err := d.Pick(o.Pick...)
	if err != nil {
		return "", d.Notes, err
	}
	unit, word := 1.0, "mm"
	if o.As == "inch" {
		unit, word = 25.4, "in"
	}
	var b strings.Builder
	for i, p := range picked {
		said, err := drawing.Say(p.Path, p.Origin, unit)
		if err != nil {
			return "", d.Notes, fmt.Errorf("%s: %w", p.Name, err)
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		size := p.Path.Bounds().Size()
		fmt.Fprintf(&b, "# %s", p.Name)
		if p.Layer != "" {
			fmt.Fprintf(&b, ", layer %s", p.Layer)
		}
		fmt.Fprintf(&b, ": %.4g x %.4g %s", size.X/unit, size.Y/unit, word)
		if p.Holder != "" {
			fmt.Fprintf(&b, ", measured from the lower left corner of %s", p.Holder)
		}
		fmt.Fprintf(&b, "\n%s\n", said)
	}
	return b.String(), d.Notes, nil
}
