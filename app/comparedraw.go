package app

import (
	"errors"

	"dryfit/measure"
	"dryfit/paper/layout"
	"dryfit/paper/overlay"
	"dryfit/paper/pdf"
	"dryfit/paper/svg"
)

// CompareFormats are what a comparison can be drawn as.
var CompareFormats = []string{"pdf", "svg"}

var errCompareRoll = errors.New("what changed is drawn on sheets of paper, not on a roll")

func comparePaper(on Print, u measure.Unit) (layout.Paper, error) {
	paper, err := on.paper(u)
	if err == nil && paper.Roll {
		err = errCompareRoll
	}
	return paper, err
}

// CheckComparePaper refuses a paper that what changed is not drawn on.
func CheckComparePaper(on Print) error {
	_, err := comparePaper(on, measure.MM)
	return err
}

// Draw draws the parts that changed, the old outline dashed and the new one solid: pages as PDF, or
// one picture of them all as SVG.
func (c *Comparison) Draw(format string, on Print) ([]byte, error) {
	paper, err := comparePaper(on, c.now.Model.Toy.Units)
	if err != nil {
		return nil, err
	}
	pages, entries, err := overlay.Pages(c.Result, c.was.Model, c.now.Model, why, paper)
	if err != nil {
		return nil, err
	}
	title := overlay.Title(c.Result)
	if format == "svg" {
		return svg.Write(stacked(pages), svg.Meta{Title: title, Describes: c.Text()}), nil
	}
	return pdf.Write(pages, pdf.Meta{Title: title, Outline: entries})
}
