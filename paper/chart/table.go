package chart

import (
	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/shop/plan"
)

// table lists the tasks in words, then who can do what, what is done in one go, and notes.
func (s *setter) table() {
	box := s.sheets[0].box
	columns := []float64{0, 26, 44, 82} // when, step, who, what
	wide := box.Max.X - box.Min.X
	head := func() *sheet {
		sh := s.room(4 * pitch)
		sh.y -= pitch
		for i, says := range []string{"When", "Step", "Who", "What, and with which tool"} {
			sh.add(draw.Text{At: r2.Vec{X: box.Min.X + columns[i], Y: sh.y}, Says: says, Height: textHeight, Bold: true})
		}
		sh.y -= 1
		sh.add(draw.Path{Line: draw.Thin, Runs: []draw.Run{draw.Polyline(r2.Vec{X: box.Min.X, Y: sh.y}, r2.Vec{X: box.Max.X, Y: sh.y})}})
		return sh
	}
	last := head()
	for _, r := range s.p.Rows() {
		lines := draw.Wrap(r.Says, textHeight, false, wide-columns[3])
		high := float64(len(lines)) * pitch
		if r.Session != "" {
			high += 1.5 * pitch
		}
		sh := s.room(high)
		if sh != last {
			last = head()
			sh = last
		}
		if r.Session != "" {
			sh.y -= 1.5 * pitch
			sh.add(draw.Text{At: r2.Vec{X: box.Min.X, Y: sh.y}, Says: draw.Shorten(r.Session, textHeight, true, wide), Height: textHeight, Bold: true})
		}
		for i, text := range lines {
			sh.y -= pitch
			if i == 0 {
				for k, cell := range []string{plan.Clock(r.Begin) + "–" + plan.Clock(r.Until), r.Number, r.Who} {
					sh.add(draw.Text{At: r2.Vec{X: box.Min.X + columns[k], Y: sh.y}, Says: draw.Shorten(cell, textHeight, false, columns[k+1]-columns[k]-1), Height: textHeight})
				}
			}
			sh.add(draw.Text{At: r2.Vec{X: box.Min.X + columns[3], Y: sh.y}, Says: text, Height: textHeight})
		}
	}
	var who []string
	for _, w := range s.p.Who {
		who = append(who, w.Says())
	}
	s.list("Who can do it", who)
	s.list("In one go", s.p.Advice)
	s.list("Notes", s.p.Notes)
}

// list prints lines under a heading.
func (s *setter) list(title string, says []string) {
	if len(says) == 0 {
		return
	}
	sh := s.room(3.5 * pitch)
	box := sh.box
	sh.y -= 1.5 * pitch
	sh.add(draw.Text{At: r2.Vec{X: box.Min.X, Y: sh.y}, Says: title, Height: textHeight, Bold: true})
	for _, line := range says {
		lines := draw.Wrap(line, textHeight, false, box.Max.X-box.Min.X-4)
		sh = s.room(float64(len(lines)) * pitch)
		for _, text := range lines {
			sh.y -= pitch
			sh.add(draw.Text{At: r2.Vec{X: box.Min.X + 4, Y: sh.y}, Says: text, Height: textHeight})
		}
	}
}
