package booklet

import (
	"math"
	"strings"

	"dryfit/geom/r2"
	"dryfit/guide"
	"dryfit/paper/draw"
	"dryfit/paper/pdf"
)

// A step is a drawing with the words beside it. It never goes over a page, unless it
// alone is more than one.

const (
	drawShare = 0.43 // of the width, for the drawing of a step of the build
	partShare = 0.33 // and of a part by itself
	leastDraw = 58.0 // height of a drawing, mm
	leastPart = 40.0
	apartCell = 30.0 // height of each of several drawings
	mostDraw  = 95.0
	tallest   = 0.9 // height of a drawing to its width
	stepGap   = 5.0 // between steps
	numberCap = 5.2
)

func entry(title string, page int) pdf.Entry { return pdf.Entry{Title: title, Page: page} }

func (p *press) steps() {
	for _, c := range p.b.Chapters {
		p.chapter = c.Title
		for k, s := range c.Steps {
			st := p.set(s)
			if k == 0 { // heading and first step stay together
				head := p.heading(c.Title, c.Says)
				if len(p.pages) == 0 || p.room() < 10+head.height()+st.height {
					p.fresh()
				} else {
					p.y -= 8
				}
				p.blocks = append(p.blocks, block{len(p.last().Items), len(p.slots)})
				p.title(c.Title, c.Says)
			} else if p.room() < st.height {
				p.fresh()
			}
			p.place(st, k == 0)
		}
	}
}

// stepSet is a step set to lines.
type stepSet struct {
	step   guide.Step
	words  column
	height float64
	pics   []*drawing
	draw   r2.Vec // size of the room for drawings
}

func (p *press) set(s guide.Step) stepSet {
	out := stepSet{step: s}
	scenes := p.b.scenes(s.Shows)
	left := 0.0
	if len(scenes) > 0 {
		left = p.width() * drawShare
		if s.Shows.Group < 0 && (s.Shows.Apart || len(s.Shows.Pieces) == 1) {
			left = p.width() * partShare
		}
	}
	gap := 5.0
	if left == 0 {
		gap = 0
	}
	c := column{width: p.width() - left - gap, x: 0}
	c.gap(2.5)
	p.words(&c, s)
	out.words = c
	h := c.height()
	if left > 0 {
		least := leastDraw
		switch {
		case s.Shows.Apart:
			_, lines := grid(len(scenes))
			least = float64(lines) * apartCell
		case s.Shows.Group < 0:
			least = leastPart
		}
		h = math.Max(h, least)
	}
	out.draw = r2.Vec{X: left, Y: math.Min(h-2, math.Min(mostDraw, left*tallest))} // high up, beside the title
	if s.Shows.Apart {
		out.draw.Y = math.Min(h-2, mostDraw)
	}
	for _, sc := range scenes {
		out.pics = append(out.pics, &drawing{scene: sc})
	}
	out.height = h + stepGap
	return out
}

// words sets title, sentences, measures, warnings and who does it.
func (p *press) words(c *column, s guide.Step) {
	num := p.number(s)
	in := draw.TextWidth(num, numberCap, true) + 3
	title := draw.Wrap(s.Title, stepTitle, true, c.width-in)
	top := c.y
	c.items = append(c.items, draw.Text{At: r2.Vec{X: c.x, Y: top}, Says: num, Height: numberCap, Bold: true, Up: draw.Top})
	c.y = top - (numberCap-stepTitle)/2
	c.lines(title, c.x+in, style{height: stepTitle, bold: true})
	c.y = math.Min(c.y, top-numberCap-2.5)
	c.gap(0.8)
	for _, d := range s.Does {
		c.bullet(d, plainStyle)
		c.cut()
	}
	p.measures(c, s)
	for _, m := range s.Minds {
		c.cut()
		c.gap(0.8)
		c.boxed(p.b.Words.Minds+":", m)
	}
	c.gap(0.6)
	if len(s.Who) > 0 {
		c.lead(p.b.Words.Who+":", strings.Join(s.Who, "; "), quietStyle)
	}
	if s.Dry != "" {
		c.lead(p.b.Words.Wait+":", s.Dry, quietStyle)
	}
}

// measures sets the measures as a table, under the names of the pieces where they are of
// several.
func (p *press) measures(c *column, s guide.Step) {
	if len(s.Measures) == 0 {
		return
	}
	c.gap(1)
	c.rule(draw.Construction)
	share := c.width * 0.38
	of := s.Ofs()
	last := ""
	for k, m := range s.Measures {
		if len(of) > 1 && m.Of != last {
			last = m.Of
			c.row([]string{m.Of}, []float64{c.width}, []style{{height: smallText, bold: true}})
		}
		if k > 0 && m.Of == s.Measures[k-1].Of {
			c.cut()
		}
		c.row([]string{m.What, m.Is}, []float64{share, c.width - share}, []style{{height: smallText, tone: draw.Pencil}, smallStyle})
	}
	c.gap(1.5)
}

func (p *press) number(s guide.Step) string { return itoa(s.Number) }

func (p *press) place(st stepSet, head bool) {
	if !head { // a chapter's first step has its heading with it
		p.blocks = append(p.blocks, block{len(p.last().Items), len(p.slots)})
	}
	top := column{width: p.width()}
	top.rule(draw.Thin)
	p.put(top.items, 0, 0)
	left := st.draw.X
	p.spread(st)
	x := 0.0
	if left > 0 {
		x = left + 5
	}
	if st.height-stepGap <= p.room() {
		p.put(st.words.items, x, st.height)
		return
	}
	// More than a page: it goes on on the next, beside nothing.
	from := cut{}
	for k := 0; k <= len(st.words.cuts); k++ {
		last := k == len(st.words.cuts)
		low := st.words.y
		if !last {
			low = st.words.cuts[k].y
		}
		if from.y-low <= p.room() && !last {
			continue
		}
		if from.y-low > p.room() && k > 0 && st.words.cuts[k-1].item > from.item {
			to := st.words.cuts[k-1]
			p.put([]draw.Item{at(r2.Vec{Y: -from.y}, st.words.items[from.item:to.item])}, x, from.y-to.y)
			p.fresh()
			from = to
		}
	}
	p.put([]draw.Item{at(r2.Vec{Y: -from.y}, st.words.items[from.item:])}, x, from.y-st.words.y+stepGap)
}

// spread asks for the drawings of a step: one in all the room, several in a grid.
func (p *press) spread(st stepSet) {
	n := len(st.pics)
	if n == 0 {
		return
	}
	cols, lines := grid(n)
	cell := r2.Vec{X: st.draw.X / float64(cols), Y: st.draw.Y / float64(lines)}
	for k, d := range st.pics {
		d.size = cell.Sub(r2.Vec{X: 2, Y: 3})
		x, y := float64(k%cols)*cell.X, 2.5+float64(k/cols)*cell.Y
		if st.step.Shows.Apart {
			d.size.Y -= 6
			says := draw.Shorten(p.b.numbersOf(st.step.Shows.Pieces[k]), smallText, false, cell.X-2)
			p.last().Items = append(p.last().Items, draw.Text{At: r2.Vec{X: p.body().Min.X + x + cell.X/2 - 1, Y: p.y - y - d.size.Y - 4.5},
				Says: says, Height: smallText, Across: draw.Middle, Tone: draw.Pencil})
		}
		p.picture(d, x, y)
	}
}

// grid says how several drawings stand beside and below each other.
func grid(n int) (cols, lines int) {
	for cols = 1; cols*cols < n; cols++ {
	}
	return cols, (n + cols - 1) / cols
}
