package chart

import (
	"strings"

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
	for _, t := range s.p.Tasks {
		who, until := strings.Join(t.Hands, " + "), t.Free
		if t.Waits() {
			who, until = "(wait)", t.End
		}
		says := t.Says()
		if w := t.With(); w != "" {
			says += " [" + w + "]"
		}
		if !t.Waits() && t.End > t.Free {
			says += "; then wait until " + plan.Clock(t.End)
		}
		lines := folded(says, textHeight, wide-columns[3])
		sh := s.room(float64(len(lines)) * pitch)
		if sh != last {
			last = head()
			sh = last
		}
		for i, text := range lines {
			sh.y -= pitch
			if i == 0 {
				for k, cell := range []string{plan.Clock(t.Begin) + "–" + plan.Clock(until), s.p.Number(t), who} {
					sh.add(draw.Text{At: r2.Vec{X: box.Min.X + columns[k], Y: sh.y}, Says: shortened(cell, textHeight, columns[k+1]-columns[k]-1), Height: textHeight})
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
		lines := folded(line, textHeight, box.Max.X-box.Min.X-4)
		sh = s.room(float64(len(lines)) * pitch)
		for _, text := range lines {
			sh.y -= pitch
			sh.add(draw.Text{At: r2.Vec{X: box.Min.X + 4, Y: sh.y}, Says: text, Height: textHeight})
		}
	}
}

// folded breaks a text into lines that fit.
func folded(says string, height, wide float64) (out []string) {
	line := ""
	for _, w := range strings.Fields(says) {
		if line != "" && draw.TextWidth(line+" "+w, height, false) > wide {
			out = append(out, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	return append(out, shortened(line, height, wide))
}
