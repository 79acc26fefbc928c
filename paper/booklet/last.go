package booklet

import (
	"strconv"

	"dryfit/geom/r2"
	"dryfit/guide"
	"dryfit/paper/picture"
)

func itoa(n int) string { return strconv.Itoa(n) }

// checks is the last page: what to measure on the finished toy.
func (p *press) checks() {
	w := p.b.Words
	p.chapter = w.Checks
	p.fresh()
	p.title(w.Checks, "")
	var lines [][]string
	for _, c := range p.b.Checks {
		lines = append(lines, []string{c.What, c.Is, ""})
	}
	table := p.tabled([]string{w.CheckWhat, w.CheckIs, w.CheckMine}, []float64{0.42, 0.42, 0.16}, lines)
	c := column{width: p.width()}
	c.para(w.Made, plainStyle)
	notes := []guide.List{{Items: p.b.Notes}}
	_, below := p.columns(notes, smallStyle)
	below += table.height() + c.height() - p.heading(w.Notes, "").y + 22
	p.y -= p.views(max(leastView, min(mostView, p.room()-below))) + 5
	p.table(table)
	p.y -= 8
	p.put(c.items, 0, c.height()+2)
	p.section(w.Notes, notes, smallStyle)
}

// Heights of the side and front views beside each other, mm.
const (
	leastView = 40.0
	mostView  = 75.0
)

// views draws the toy from the side and from the front at one scale, and returns how high
// that is.
func (p *press) views(height float64) float64 {
	const between = 12.0
	var pics []*drawing
	wide, high := 0.0, 0.0
	for _, v := range []picture.View{picture.FromSide, picture.FromFront} {
		d := &drawing{scene: picture.Whole(p.b.m)}
		d.scene.View = v
		d.size = p.b.draft.Extent(d.scene)
		wide, high = wide+d.size.X, max(high, d.size.Y)
		pics = append(pics, d)
	}
	if wide <= 0 || high <= 0 {
		return 0
	}
	scale := min((p.width()-between-2)/wide, (height-1)/high, 1.5)
	x := (p.width() - between - 2 - float64(wide*scale)) / 2
	for _, d := range pics {
		d.size = d.size.Scale(scale).Add(r2.Vec{X: 1, Y: 1})
		p.picture(d, x, float64(high*scale)+1-d.size.Y)
		x += d.size.X + between
	}
	return float64(high*scale) + 1
}
