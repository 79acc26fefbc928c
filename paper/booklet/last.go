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
	const h = 48.0
	half := p.width()/2 - 4
	for k, v := range []picture.View{picture.FromSide, picture.FromFront} {
		sc := picture.Whole(p.b.m)
		sc.View = v
		p.picture(&drawing{scene: sc, size: r2.Vec{X: half, Y: h}}, float64(k)*(half+8), 0)
	}
	p.y -= h + 5
	var lines [][]string
	for _, c := range p.b.Checks {
		lines = append(lines, []string{c.What, c.Is, ""})
	}
	p.table(p.tabled([]string{w.CheckWhat, w.CheckIs, w.CheckMine}, []float64{0.42, 0.42, 0.16}, lines))
	p.y -= 8
	c := column{width: p.width()}
	c.para(w.Made, plainStyle)
	p.put(c.items, 0, c.height()+2)
	p.section(w.Notes, []guide.List{{Items: p.b.Notes}})
}
