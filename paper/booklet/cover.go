package booklet

import (
	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/paper/picture"
)

// The largest photograph on a cover of any paper, mm.
const (
	PhotoWide = 216 - 2*sideMargin
	PhotoHigh = 190.0
)

// Heights of letters and gaps of the cover, mm.
const (
	messageText = 3.4
	linkText    = 2.8
	coverGap    = 7.0
	leastDrawn  = 36.0 // less room than this below the photograph, and the toy is not drawn as well
	leastDense  = 60.0 // points in an inch: a coarser photograph is not blown up
)

// cover is the first page: the toy, large, and whom it is for. The designer's photograph
// takes the place of the drawing, which then stands small below it where there is room.
func (p *press) cover() {
	p.fresh()
	p.outline = append(p.outline, entry(p.b.Toy, 0))
	body := p.body()
	p.y = p.size.Y - topMargin - 8
	c := column{width: p.width()}
	title := style{height: 11, bold: true}
	for title.height > 5 && len(draw.Wrap(p.b.Toy, title.height, true, c.width)) > 2 {
		title.height--
	}
	c.para(p.b.Toy, title)
	c.gap(1)
	c.para(p.b.Words.Guide, style{height: 4.2, tone: draw.Pencil})
	c.gap(3)
	c.rule(draw.Outline)
	p.put(c.items, 0, c.height())
	if p.b.Unproved != "" {
		p.warning(0) // its page is not known yet: as much room as any number takes
	}

	foot := column{width: p.width()}
	foot.rule(draw.Thin)
	foot.gap(5)
	for i, f := range p.b.Facts {
		s := style{height: 3.1}
		if i == 0 {
			s = style{height: 3.6, bold: true}
		}
		foot.para(f, s)
		foot.gap(1)
	}
	low := body.Min.Y + foot.height() + 2
	word := p.message()
	free := p.y - low - coverGap // for what is seen, with the message
	if word.height() > 0 {
		free -= word.height() + coverGap
	}
	if p.b.Photo != nil {
		free -= p.photo(free) + coverGap
		p.put(word.items, 0, word.height())
		if free >= leastDrawn {
			d := &drawing{scene: picture.Whole(p.b.m), size: r2.Vec{X: p.width(), Y: free - coverGap/2}}
			p.picture(d, 0, coverGap/2)
		}
	} else {
		d := &drawing{scene: picture.Whole(p.b.m), size: r2.Vec{X: p.width(), Y: free - coverGap}}
		p.picture(d, 0, coverGap)
		p.y -= free + coverGap
		p.put(word.items, 0, word.height())
	}
	p.y = low
	p.put(foot.items, 0, foot.height())
}

// warning is the line on the cover of a toy that is not proved, which leads to the page where
// more is said. Without a page it only takes its room.
func (p *press) warning(page int) {
	const above, high = 4.0, 4.2
	c := column{width: p.width()}
	c.gap(above)
	if page > 0 {
		c.para(p.b.Words.SeePage(p.b.Unproved, page), style{height: high, bold: true})
		pg := &p.pages[0]
		pg.Items = append(pg.Items, at(r2.Vec{X: p.body().Min.X, Y: p.warnAt}, c.items))
		return
	}
	c.para(p.b.Words.SeePage(p.b.Unproved, 9999), style{height: high, bold: true})
	p.warnAt = p.y
	p.y -= c.height()
}

// photo lays the photograph on the page, as large as it goes, and returns how high it is.
func (p *press) photo(free float64) float64 {
	photo := p.b.Photo
	w, h := float64(photo.Width), float64(photo.Height)
	by := min(p.width()/w, min(free-coverGap, PhotoHigh)/h, 25.4/leastDense)
	size := r2.Vec{X: float64(w * by), Y: float64(h * by)}
	low := r2.Vec{X: (p.width() - size.X) / 2, Y: -coverGap - size.Y}
	box := r2.Box{Min: low, Max: low.Add(size)}
	p.put([]draw.Item{
		draw.ImageIn(box, photo, p.b.Toy),
		draw.Path{Line: draw.Construction, Runs: []draw.Run{draw.Rect(box)}},
	}, 0, size.Y+2*coverGap)
	return size.Y + coverGap
}

// message is what the designer says, and where more of it is found.
func (p *press) message() column {
	c := column{width: p.width()}
	cover := p.b.m.Toy.Cover
	if cover == nil {
		return c
	}
	if cover.Message != "" {
		c.para(cover.Message, style{height: messageText})
	}
	if cover.Message != "" && cover.Link != "" {
		c.gap(1)
	}
	if cover.Link != "" {
		from := len(c.items)
		s := style{height: linkText, tone: draw.Pencil}
		c.lines(cutLetters(cover.Link, s, c.width), 0, s)
		for i := from; i < len(c.items); i++ {
			t := c.items[i].(draw.Text)
			t.Link = cover.Link
			c.items[i] = t
		}
	}
	return c
}

// cutLetters breaks what has no spaces into lines.
func cutLetters(says string, s style, width float64) (lines []string) {
	line := ""
	for _, r := range says {
		if line != "" && draw.TextWidth(line+string(r), s.height, s.bold) > width {
			lines, line = append(lines, line), ""
		}
		line += string(r)
	}
	return append(lines, line)
}
