package booklet

import (
	"strings"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/pdf"
)

// Margins of the booklet's pages, mm: wide enough to punch on the left.
const (
	sideMargin = 18.0
	topMargin  = 15.0
	footMargin = 12.0
	headRoom   = 9.0 // from the running head to the text
	footRoom   = 9.0
)

// press fills pages from the top down.
type press struct {
	b       *Book
	size    r2.Vec
	pages   []draw.Page
	outline []pdf.Entry
	chapter string   // in the running head of new pages
	heads   []string // of each page
	y       float64  // top of what is free on the last page
	full    []*drawing
	slots   []slot
	// patterns are the pages that the patterns of parts and glue-ups are on.
	patterns map[patternKey][]int
	warnAt   float64 // where on the cover it is said that the toy is not proved
	after    int     // pages of the same document that come after these
}

// slot is where on which page a drawing goes.
type slot struct {
	page int
	at   r2.Vec // lower left corner
	d    *drawing
}

func (p *press) body() r2.Box {
	return r2.Box{Min: r2.Vec{X: sideMargin, Y: footMargin + footRoom}, Max: r2.Vec{X: p.size.X - sideMargin, Y: p.size.Y - topMargin - headRoom}}
}

func (p *press) width() float64 { return p.body().Size().X }

// fresh starts a page.
func (p *press) fresh() {
	p.pages = append(p.pages, draw.Page{Size: p.size})
	p.heads = append(p.heads, p.chapter)
	p.y = p.body().Max.Y
}

func (p *press) last() *draw.Page { return &p.pages[len(p.pages)-1] }

// room is how much is free below y.
func (p *press) room() float64 { return p.y - p.body().Min.Y }

// put sets a column at the left margin and goes on below it.
func (p *press) put(items []draw.Item, x, height float64) {
	p.last().Items = append(p.last().Items, at(r2.Vec{X: p.body().Min.X + x, Y: p.y}, items))
	p.y -= height
}

// picture asks for a drawing in a box whose upper left corner is at x right of the
// margin and dy below what is free.
func (p *press) picture(d *drawing, x, dy float64) {
	p.full = append(p.full, d)
	p.slots = append(p.slots, slot{len(p.pages) - 1, r2.Vec{X: p.body().Min.X + x, Y: p.y - dy - d.size.Y}, d})
}

// title sets a chapter's heading and notes it in the outline.
func (p *press) title(says, under string) {
	p.outline = append(p.outline, pdf.Entry{Title: says, Page: len(p.pages) - 1, Top: p.y + 4})
	c := p.heading(says, under)
	p.put(c.items, 0, c.height())
}

func (p *press) heading(says, under string) column {
	c := column{width: p.width()}
	c.para(says, style{height: bigTitle * 0.85, bold: true})
	if under != "" {
		c.gap(0.5)
		c.para(under, plainStyle)
	}
	c.gap(3)
	return c
}

// finish draws the drawings and the furniture of all pages.
func (p *press) finish(skipCover bool) {
	p.b.ink(p.full)
	for _, s := range p.slots {
		pg := &p.pages[s.page]
		pg.Items = append(pg.Items, at(s.at, s.d.items))
	}
	body := p.body()
	for i := range p.pages {
		foot := footMargin + 1.0
		var items []draw.Item
		right := p.b.Words.Of(i+1, len(p.pages)+p.after)
		line := func(y float64) draw.Item {
			return draw.Path{Line: draw.Construction, Runs: []draw.Run{draw.Polyline(r2.Vec{X: body.Min.X, Y: y}, r2.Vec{X: body.Max.X, Y: y})}}
		}
		items = append(items, line(foot+4.2),
			draw.Text{At: r2.Vec{X: body.Max.X, Y: foot}, Says: right, Height: tinyText, Across: draw.Right, Tone: draw.Pencil})
		if room := body.Size().X - draw.TextWidth(right, tinyText, false) - 8; p.b.Edition != "" {
			items = append(items, draw.Text{At: r2.Vec{X: body.Min.X, Y: foot}, Says: draw.Shorten(p.b.Edition, tinyText, false, room), Height: tinyText, Tone: draw.Pencil})
		}
		if i > 0 || !skipCover {
			top := p.size.Y - topMargin
			name := strings.TrimSpace(p.b.Toy)
			items = append(items, draw.Text{At: r2.Vec{X: body.Min.X, Y: top}, Says: draw.Shorten(name, tinyText, true, body.Size().X/2), Height: tinyText, Bold: true, Tone: draw.Pencil},
				draw.Text{At: r2.Vec{X: body.Max.X, Y: top}, Says: p.heads[i], Height: tinyText, Across: draw.Right, Tone: draw.Pencil}, line(top-2))
		}
		p.pages[i].Items = append(p.pages[i].Items, items...)
	}
}

// Pages lays the guide out on paper, with the entries of its outline.
func (b *Book) Pages(paper layout.Paper) ([]draw.Page, []pdf.Entry) {
	p := b.set(paper, nil)
	p.finish(true)
	return p.pages, p.outline
}

// set fills the pages, all but drawings, heads and feet. patterns are the pages that steps
// find their patterns on; nil where these are no part of the document.
func (b *Book) set(paper layout.Paper, patterns map[patternKey][]int) *press {
	p := &press{b: b, size: r2.Vec{X: paper.W, Y: paper.H}, patterns: patterns}
	p.cover()
	p.lists()
	p.pieces()
	p.steps()
	p.checks()
	if b.Unproved != "" {
		p.warning(p.outline[len(p.outline)-1].Page + 1) // the last chapter is what to know
	}
	return p
}
