package booklet

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/guide"
	"dryfit/paper/draw"
	"dryfit/paper/pdf"
)

// A step is a drawing with the words beside it. It never goes over a page, unless it
// alone is more than one.

const (
	drawShare = 0.44 // of the width, for the drawing
	leastDraw = 48.0 // height of a drawing, mm
	mostDraw  = 95.0
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
				if len(p.pages) == 0 || p.room() < 10+head.height()+st.height || p.room() < p.body().Size().Y*0.4 {
					p.fresh()
				} else {
					p.y -= 8
				}
				p.title(c.Title, c.Says)
			} else if p.room() < st.height {
				p.fresh()
			}
			p.place(st)
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
		h = math.Max(h, leastDraw)
	}
	out.draw = r2.Vec{X: left, Y: math.Min(h-2, mostDraw)}
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
	}
	if len(s.Measures) > 0 {
		c.gap(1)
		c.rule(draw.Construction)
		share := c.width * 0.44
		for _, m := range s.Measures {
			c.row([]string{m.What, m.Is}, []float64{share, c.width - share}, []style{smallStyle, {height: smallText, bold: true}})
		}
		c.gap(1.5)
	}
	for _, m := range s.Minds {
		c.gap(0.8)
		c.boxed(p.b.Words.Minds+":", m)
	}
	c.gap(0.6)
	for _, w := range s.Who {
		c.para(w, quietStyle)
	}
	if s.Dry != "" {
		c.lead(p.b.Words.Wait+":", s.Dry, quietStyle)
	}
}

func (p *press) number(s guide.Step) string { return itoa(s.Number) }

func (p *press) place(st stepSet) {
	top := column{width: p.width()}
	top.rule(draw.Thin)
	p.put(top.items, 0, 0)
	left := st.draw.X
	p.spread(st)
	x := 0.0
	if left > 0 {
		x = left + 5
	}
	p.put(st.words.items, x, st.height)
}

// spread asks for the drawings of a step: one in all the room, several in a grid.
func (p *press) spread(st stepSet) {
	n := len(st.pics)
	if n == 0 {
		return
	}
	cols := 1
	for cols*cols < n {
		cols++
	}
	lines := (n + cols - 1) / cols
	cell := r2.Vec{X: st.draw.X / float64(cols), Y: st.draw.Y / float64(lines)}
	for k, d := range st.pics {
		d.size = cell.Sub(r2.Vec{X: 2, Y: 3})
		p.picture(d, float64(k%cols)*cell.X, 2.5+float64(k/cols)*cell.Y)
	}
}
