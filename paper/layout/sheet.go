package layout

import (
	"fmt"
	"math"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// The layers that this package draws on; blocks bring their own.
const (
	LayerPage   = "Page"
	layerTitles = "Titles"
	LayerMarks  = "Match marks"
)

// sheet is what all pages of a job have in common, in mm before the page's stretch.
type sheet struct {
	paper Paper
	job   Job
	live  r2.Box // where the printer prints
	frame r2.Box
	body  r2.Box      // where blocks go
	foot  []draw.Text // from the top down: what does not fit beside the check bar, and the caution
	aside bool        // the advice stands beside the check bar
}

const (
	headRoom      = 7.5  // above the frame
	barRoom       = 10.5 // left of the frame and below it, for a check bar
	inset         = 2.5  // from frame to body
	cautionHeight = 1.8
	warningHeight = 2.6
	adviceHeight  = 2.2
	adviceGap     = 8
	leastBody     = 60 // less room than this is no paper to print patterns on
)

func newSheet(paper Paper, job Job) (*sheet, error) {
	if err := paper.check(); err != nil {
		return nil, err
	}
	s := &sheet{paper: paper, job: job}
	if paper.Roll {
		s.paper.H = longest
	}
	m, by := paper.Margin, paper.Stretch()
	s.live = r2.Box{Min: r2.Vec{X: m.Left / by.X, Y: m.Bottom / by.Y},
		Max: r2.Vec{X: (paper.W - m.Right) / by.X, Y: (s.paper.H - m.Top) / by.Y}}
	besideBar := s.live.Size().X - barRoom - barLength - adviceGap
	s.aside = draw.Widest(advice[:], adviceHeight, true) <= besideBar
	if !s.aside {
		s.foot = append(s.foot, draw.Text{Says: advice[0] + " " + advice[1], Height: cautionHeight, Bold: true})
	}
	for _, l := range draw.Wrap(job.Warning, warningHeight, true, s.live.Size().X) {
		s.foot = append(s.foot, draw.Text{Says: l, Height: warningHeight, Bold: true})
	}
	if paper.Measured != (r2.Vec{}) {
		for _, l := range draw.Wrap(corrected(paper.Measured), cautionHeight, true, s.live.Size().X) {
			s.foot = append(s.foot, draw.Text{Says: l, Height: cautionHeight, Bold: true})
		}
	}
	for _, says := range []string{job.Caution, job.Licence} {
		for _, l := range draw.Wrap(says, cautionHeight, false, s.live.Size().X) {
			s.foot = append(s.foot, draw.Text{Says: l, Height: cautionHeight, Tone: draw.Pencil})
		}
	}
	foot := 0.0
	for _, l := range s.foot {
		foot += draw.LineStep(l.Height)
	}
	s.frame = r2.Box{
		Min: r2.Vec{X: s.live.Min.X + barRoom, Y: s.live.Min.Y + barRoom + foot},
		Max: r2.Vec{X: s.live.Max.X, Y: s.live.Max.Y - headRoom},
	}
	in := r2.Vec{X: inset, Y: inset}
	s.body = r2.Box{Min: s.frame.Min.Add(in), Max: s.frame.Max.Sub(in)}
	size := s.body.Size()
	if !(size.X >= leastBody && size.Y >= leastBody && s.frame.Size().X >= barLength && s.frame.Size().Y >= barLength) {
		return nil, fmt.Errorf("paper %s: %g × %g mm with its margins leaves no room for patterns and check bars",
			paper.Name, paper.W, s.paper.H)
	}
	return s, nil
}

// cutTo makes a page off a roll just long enough for what lies in the upper used
// mm of its body.
func (s *sheet) cutTo(used float64) {
	least := math.Max(leastBody, barLength-2*inset)
	less := s.body.Size().Y - math.Max(math.Ceil(used), least)
	for _, b := range []*r2.Box{&s.live, &s.frame, &s.body} {
		b.Max.Y -= less
	}
	s.paper.H -= less * s.paper.Stretch().Y
}

// furniture draws what stands around the blocks of page n of total. alone names
// the block that fills the page and has no lettering of its own.
func (s *sheet) furniture(n, total int, alone string) []draw.Item {
	f := s.frame
	right := fmt.Sprintf(pageOf, s.paper.Name, n, total)
	room := f.Size().X - draw.TextWidth(right, 2.2, false) - 6
	base := f.Max.Y + 2.6
	title, height := s.job.Title, 3.2
	if s.job.Edition != "" {
		title += ", " + s.job.Edition
	}
	if alone != "" {
		title += ": " + alone
	}
	for height > 2 && draw.TextWidth(title, height, true) > room {
		height -= 0.3
	}
	items := []draw.Item{
		draw.Path{Runs: []draw.Run{draw.Rect(f)}, Line: draw.Thin},
		draw.Text{At: r2.Vec{X: f.Min.X, Y: base}, Says: draw.Shorten(title, height, true, room), Height: height, Bold: true},
		draw.Text{At: r2.Vec{X: f.Max.X, Y: base}, Says: right, Height: 2.2, Across: draw.Right},
	}
	y := s.live.Min.Y + draw.Descent(cautionHeight, false)
	for i := len(s.foot) - 1; i >= 0; i-- {
		line := s.foot[i]
		line.At = r2.Vec{X: s.live.Min.X, Y: y}
		items = append(items, line)
		y += draw.LineStep(line.Height)
	}
	across := r2.Vec{X: f.Min.X, Y: f.Min.Y - barRoom/2}
	upward := r2.Vec{X: f.Min.X - barRoom/2, Y: f.Min.Y}
	items = append(items,
		draw.Group{Move: draw.Translate(across), Items: checkBar()},
		draw.Group{Move: draw.Transform{Turn: math.Pi / 2, Shift: upward}, Items: checkBar()})
	if s.aside {
		for i, l := range advice {
			at := r2.Vec{X: f.Min.X + barLength + adviceGap, Y: across.Y + (0.5-float64(i))*draw.LineStep(adviceHeight)}
			items = append(items, draw.Text{At: at, Says: l, Height: adviceHeight, Bold: true, Up: draw.Half})
		}
	}
	return []draw.Item{draw.Group{Layer: LayerPage, Items: items}}
}

const inch = 25.4

// barLength is the longer of the two scales of a check bar: 4 inches.
const barLength = 4 * inch

// checkBar draws a bar of 100 mm over one of 4 in from the origin along x, both
// divided, with ticks at every division and longer ones at the ends.
func checkBar() []draw.Item {
	const thick = 1.2
	var items []draw.Item
	var ticks []draw.Run
	scale := func(side, step float64, n int, label func(i int) string) {
		for i := range n {
			a, b := float64(i)*step, float64(i+1)*step
			if i%2 == 0 {
				items = append(items, draw.Path{Fill: draw.Pencil, Runs: []draw.Run{draw.Rect(r2.Around(r2.Vec{X: a}, r2.Vec{X: b, Y: side * thick}))}})
			}
		}
		ticks = append(ticks, draw.Rect(r2.Around(r2.Vec{}, r2.Vec{X: float64(n) * step, Y: side * thick})))
		for i := range n + 1 {
			x, reach := float64(i)*step, thick+0.6
			if i == 0 || i == n {
				reach = thick + 3
			}
			ticks = append(ticks, draw.Polyline(r2.Vec{X: x, Y: side * thick}, r2.Vec{X: x, Y: side * reach}))
			if says := label(i); says != "" {
				t := draw.Text{At: r2.Vec{X: x, Y: side * (thick + 1.1)}, Says: says, Height: 1.8, Across: draw.Middle, Up: draw.Base}
				if side < 0 {
					t.Up = draw.Top
				}
				switch i {
				case 0:
					t.At.X, t.Across = x+0.8, draw.Left
				case n:
					t.At.X, t.Across = x-0.8, draw.Right
				}
				items = append(items, t)
			}
		}
	}
	scale(1, 10, 10, func(i int) string { return map[int]string{0: "0", 5: "50", 10: "100 mm"}[i] })
	scale(-1, inch/2, 8, func(i int) string { return map[int]string{0: "0", 2: "1", 4: "2", 6: "3", 8: "4 in"}[i] })
	return append(items, draw.Path{Runs: ticks, Line: draw.Construction})
}
