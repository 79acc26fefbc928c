// Package pattern makes the full-size patterns of a toy: drawings to glue on the
// stock, or to trace, with every outline to saw and every hole to drill at its
// true size. [Lay] puts them on paper, [PDF] writes the file.
//
// Each part is drawn once, with how many to cut. Every side that has work gets a
// view, seen from outside with the origin in the lower left corner
// (assembly.SideFrame). A part that is sawn from two sides that share an arris
// gets one pattern of both views, unfolded about the arris (unfold.go), to be
// folded around the blank. Glue-ups with work of their own get a pattern to use
// once the glue has set. Dowels and balls need no pattern: they are listed with
// bars of their true length (rods.go), and are on a strip of circles to try a dowel
// and a test hole against, beside a legend of the lines that are used (keys.go).
//
// The way of a pattern: view.go gathers what the work draws on a side, clip.go and
// later.go what is done from the far side or after the glue-up, pierce.go where a
// blade starts; views.go makes blocks of views and block.go draws them with
// dimensions and marks; label.go finds room for the words where they cover no line;
// words.go has all that is lettered; and paper/layout puts the blocks on pages.
package pattern

import (
	"fmt"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/pdf"
	"dryfit/toy"
)

// The layers of a pattern, beside those of paper/layout.
const (
	layerCut   = "Cut lines"
	layerHoles = "Holes"
	layerBlank = "Blanks"
	layerWaste = "Waste"
	layerWords = "Words"
	layerLater = "After the glue-up"
)

// Place says where on which page a side of a part came to lie.
type Place struct {
	Of      string // the part or glue-up
	Numbers []int  // of its pieces, as on the lists and the picture
	GlueUp  bool
	Turned  bool // this is another part's view, read from the back of the paper: a mirror image
	Side    toy.Side
	Page    int            // counted from 0
	OnPage  draw.Transform // from the side, in mm from its lower left corner, to the page before its stretch
	Shown   r2.Box         // what shows of the side's block on this page, in page coordinates; all of it unless tiled
}

// Set is the patterns of a toy on one paper.
type Set struct {
	Pages   []draw.Page
	Places  []Place
	Outline []pdf.Entry // one for each block
}

// With is what is said on patterns beside what the toy says.
type With struct {
	Before  int    // pages of the same document that come before these, which are counted
	Warning string // lettered at the foot of every page: that the toy is not proved; may be empty
}

// PDF returns the patterns of a toy as a PDF file with one entry in its outline
// for each block. The same toy gives the same bytes.
func PDF(m *assembly.Model, paper layout.Paper) ([]byte, error) {
	s, err := Lay(m, paper)
	if err != nil {
		return nil, err
	}
	return s.PDF(m, paper)
}

// PDF returns patterns that were laid on paper as a PDF file.
func (s Set) PDF(m *assembly.Model, paper layout.Paper) ([]byte, error) {
	var tags []string
	for _, says := range []string{edition(m.Toy), licence(m.Toy)} {
		if says != "" {
			tags = append(tags, says)
		}
	}
	return pdf.Write(s.Pages, pdf.Meta{
		Title: m.Toy.Name + titleEnd, Keywords: strings.Join(tags, "; "), Subject: fmt.Sprintf(subject, paper.Name),
		Outline: s.Outline,
	})
}

// Lay draws the patterns of a toy and lays them on paper. The error is layout's for a
// paper that is too small, or names a spare part whose outline cannot be sawn.
func Lay(m *assembly.Model, paper layout.Paper) (Set, error) { return LayWith(m, paper, With{}) }

// LayWith is Lay with more to say.
func LayWith(m *assembly.Model, paper layout.Paper, with With) (Set, error) {
	set, err := layWith(m, paper, with, true)
	if err != nil || len(set.Pages) < 2 {
		return set, err
	}
	// The places of holes are a help, but not one that is worth a sheet of paper.
	if bare, err := layWith(m, paper, with, false); err == nil && len(bare.Pages) < len(set.Pages) {
		return bare, nil
	}
	return set, nil
}

func layWith(m *assembly.Model, paper layout.Paper, with With, places bool) (Set, error) {
	drawn, err := blocksWith(m, places)
	if err != nil {
		return Set{}, err
	}
	bs := make([]layout.Block, len(drawn))
	for i, d := range drawn {
		bs[i] = d.Block
	}
	res, err := layout.Pages(bs, paper, layout.Job{Title: m.Toy.Name, Edition: edition(m.Toy), Warning: with.Warning, Caution: caution(m.Toy), Licence: licence(m.Toy), Before: with.Before})
	if err != nil {
		return Set{}, err
	}
	out := Set{Pages: res.Pages}
	for _, p := range res.Places {
		d := drawn[p.Block]
		if p.Row == 0 && p.Col == 0 {
			out.Outline = append(out.Outline, pdf.Entry{Title: d.Title, Page: p.Page, Top: p.Cell.Max.Y})
		}
		for _, v := range d.views {
			at := Place{Of: d.of, Numbers: d.numbers, GlueUp: d.glueUp, Side: v.side, Page: p.Page,
				OnPage: p.OnPage.After(v.move), Shown: r2.Around(p.OnPage.Apply(p.Window.Min), p.OnPage.Apply(p.Window.Max))}
			out.Places = append(out.Places, at)
			for _, o := range d.flips {
				back := at
				back.Of, back.Numbers, back.Turned, back.OnPage = o.name, o.numbers, true, at.OnPage.After(flipped(v.size))
				out.Places = append(out.Places, back)
			}
		}
	}
	return out, nil
}

// caution is what stands at the foot of every page.
func caution(t *toy.Toy) string {
	var says []string
	if t.Ease > 0 {
		says = append(says, fmt.Sprintf(easeBy, t.Ease.Format(t.Units)))
	}
	for _, topic := range []string{"child", "saw"} {
		if c := facts.Cautions(topic); len(c) > 0 {
			says = append(says, c[0].Text)
		}
	}
	return strings.Join(says, " ")
}
