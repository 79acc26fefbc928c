package chart

import (
	"cmp"
	"slices"
	"strings"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/shop/plan"
)

// Sizes of bands, mm.
const (
	mostWide  = 0.8 // a minute of work, and in long plans
	leastWide = 0.3
	fewBands  = 6   // that are a long plan
	pastEnd   = 6.0 // room for the last time
	gapWide   = 9.0 // of time in which nobody works
	leastGap  = 25  // minutes of it that are drawn short
	barHigh   = 3.4
	rowHigh   = 8.9  // with two lines of numbers above the bar
	waitHigh  = 5.4  // with none
	nameWide  = 24.0 // for the names of rows
	axisHigh  = 7.0
	bandGap   = 4.0
	tickEvery = 30 // minutes
)

// bar is a stretch of a row.
type bar struct {
	from, to int
	setUp    int // of it, at its beginning
	number   string
	waits    bool
}

// row is a line of bars.
type row struct {
	name  string
	bars  []bar
	high  float64
	hands bool
}

// rows are hands, tools, and as many lines of waiting as overlap.
func rows(p *plan.Plan) (out []row) {
	for _, h := range p.Hands {
		r := row{name: h.Name, high: rowHigh, hands: true}
		for _, t := range p.Tasks {
			if slices.Contains(t.Hands, h.Name) {
				r.bars = append(r.bars, bar{t.Begin, t.Free, t.SetUp, p.Number(t), false})
			}
		}
		out = append(out, r)
	}
	for _, tool := range p.Tools() {
		var bars []bar
		for _, t := range p.Tasks {
			if t.Tool == tool {
				bars = append(bars, bar{t.Begin, t.Free, t.SetUp, p.Number(t), false})
			}
		}
		out = append(out, lanes(tool, bars, rowHigh)...) // of hand saws there are several
	}
	var waits []bar
	for _, t := range p.Tasks {
		if t.End > t.Free {
			waits = append(waits, bar{t.Free, t.End, 0, p.Number(t), true})
		}
	}
	return append(out, lanes("glue and finish", waits, waitHigh)...)
}

// lanes are as many rows as bars need that lie side by side; the first has the name.
func lanes(name string, bars []bar, high float64) (out []row) {
	slices.SortStableFunc(bars, func(a, b bar) int { return cmp.Compare(a.from, b.from) })
	for _, w := range bars {
		k := slices.IndexFunc(out, func(l row) bool { return l.bars[len(l.bars)-1].to <= w.from })
		if k < 0 {
			out = append(out, row{high: high})
			k = len(out) - 1
		}
		out[k].bars = append(out[k].bars, w)
	}
	if len(out) > 0 {
		out[0].name = name
	}
	return out
}

// piece of time on paper: from and to in minutes, at x and so wide, mm.
type piece struct {
	from, to int
	x, wide  float64
	gap      bool
}

// pieces cuts time into work and gaps, and work into what a band holds.
func pieces(p *plan.Plan, room float64) (bands [][]piece) {
	var busy [][2]int
	for _, t := range p.Tasks { // by when they begin
		if t.Waits() {
			continue
		}
		if n := len(busy); n > 0 && t.Begin < busy[n-1][1]+leastGap {
			busy[n-1][1] = max(busy[n-1][1], t.Free)
		} else {
			busy = append(busy, [2]int{t.Begin, t.Free})
		}
	}
	x, now := 0.0, 0
	work := 0
	for _, b := range busy {
		work += b[1] - b[0]
	}
	perMinute := max(leastWide, min(mostWide, fewBands*room/float64(work+1)))
	band := []piece{}
	end := func() {
		if len(band) > 0 {
			bands = append(bands, band)
		}
		band, x = []piece{}, 0
	}
	gap := func(to int) {
		if to > now {
			if x+gapWide > room {
				end()
			}
			band = append(band, piece{now, to, x, gapWide, true})
			x, now = x+gapWide, to
		}
	}
	for _, b := range busy {
		gap(b[0])
		for now < b[1] {
			fit := int((room - x) / perMinute)
			if fit < min(20, b[1]-now) {
				end()
				continue
			}
			to := min(b[1], now+fit)
			band = append(band, piece{now, to, x, float64(to-now) * perMinute, false})
			x, now = x+float64(to-now)*perMinute, to
		}
	}
	gap(p.Elapsed)
	end()
	return bands
}

// bands draws the bars, one band below the other.
func (s *setter) bands() {
	list := rows(s.p)
	box := s.sheets[0].box
	for _, band := range pieces(s.p, box.Max.X-box.Min.X-nameWide-pastEnd) {
		from, to := band[0].from, band[len(band)-1].to
		var seen []row // hands always, tools and waiting where there is any
		high := axisHigh + bandGap
		for _, r := range list {
			used := slices.ContainsFunc(r.bars, func(b bar) bool { return b.from < to && b.to > from })
			if used || r.hands {
				seen = append(seen, r)
				high += r.high
			}
		}
		s.band(s.room(high), band, seen)
	}
}

func (s *setter) band(sh *sheet, band []piece, list []row) {
	left := sh.box.Min.X + nameWide
	right := left + band[len(band)-1].x + band[len(band)-1].wide
	top := sh.y - axisHigh
	bottom := top
	for _, r := range list {
		bottom -= r.high
	}
	at := func(minute int) float64 {
		for _, p := range band {
			if minute <= p.to {
				share := float64(minute-p.from) / float64(p.to-p.from)
				return left + p.x + min(1, max(0, share))*p.wide
			}
		}
		return right
	}
	line := func(style draw.Line, x, y, x2, y2 float64) {
		sh.add(draw.Path{Line: style, Runs: []draw.Run{draw.Polyline(r2.Vec{X: x, Y: y}, r2.Vec{X: x2, Y: y2})}})
	}
	// time along the top
	said := left - 100
	tick := func(minute int, bold bool) {
		x := at(minute)
		line(draw.Construction, x, bottom, x, top+1)
		text := plan.Clock(minute)
		if w := draw.TextWidth(text, smallHeight, bold); x-w/2 > said+1 {
			sh.add(draw.Text{At: r2.Vec{X: x, Y: top + 1.6}, Says: text, Height: smallHeight, Bold: bold, Across: draw.Middle})
			said = x + w/2
		}
	}
	for i, p := range band {
		if p.gap {
			x := left + p.x
			zig := []r2.Vec{}
			for k, y := 0, bottom; y <= top; k, y = k+1, y+2 {
				zig = append(zig, r2.Vec{X: x + p.wide/2 + float64(k%2)*1.2 - 0.6, Y: y})
			}
			if len(zig) > 1 {
				sh.add(draw.Path{Line: draw.Construction, Runs: []draw.Run{draw.Polyline(zig...)}})
			}
			if i == len(band)-1 {
				tick(p.to, true)
			}
			continue
		}
		tick(p.from, true)
		for m := (p.from/tickEvery + 1) * tickEvery; m < p.to; m += tickEvery {
			tick(m, false)
		}
		if i == len(band)-1 {
			tick(p.to, true)
		}
	}
	line(draw.Thin, left, top, right, top)
	y := top
	for _, r := range list {
		y -= r.high
		sh.add(draw.Text{At: r2.Vec{X: sh.box.Min.X, Y: y + 1.2}, Says: draw.Shorten(r.name, textHeight, false, nameWide-1), Height: textHeight})
		line(draw.Construction, left, y, right, y)
		s.bars(sh, r, y+0.5, at, band[0].from, band[len(band)-1].to)
	}
	line(draw.Thin, left, bottom, right, bottom)
	sh.y = bottom - bandGap
}

// bars draws a row's bars within a band and writes their numbers: inside where there is room,
// else above. Bars of one step that follow each other have one number.
func (s *setter) bars(sh *sheet, r row, y float64, at func(int) float64, from, to int) {
	above := [2]float64{-1, -1} // how far each line of numbers is written
	for i := 0; i < len(r.bars); i++ {
		first := r.bars[i]
		if first.to <= from || first.from >= to {
			continue
		}
		x, end := at(max(from, first.from)), 0.0
		for k := i; ; k++ {
			b := r.bars[k]
			a, e := at(max(from, b.from)), at(min(to, b.to))
			end = e
			box := draw.Rect(r2.Box{Min: r2.Vec{X: a, Y: y}, Max: r2.Vec{X: e, Y: y + barHigh}})
			if b.waits {
				sh.add(draw.Hatch([]draw.Run{box}, 0.8, 1.2), draw.Path{Line: draw.Thin, Runs: []draw.Run{box}})
			} else {
				sh.add(draw.Path{Line: draw.Thin, Fill: draw.Light, Runs: []draw.Run{box}})
				if b.setUp > 0 && b.from+b.setUp > from {
					dark := draw.Rect(r2.Box{Min: r2.Vec{X: a, Y: y}, Max: r2.Vec{X: at(min(to, b.from+b.setUp)), Y: y + barHigh}})
					sh.add(draw.Path{Line: draw.Thin, Fill: draw.Mid, Runs: []draw.Run{dark}})
				}
			}
			if k+1 == len(r.bars) || r.bars[k+1].number != first.number || r.bars[k+1].from != b.to || r.bars[k+1].from >= to {
				i = k
				break
			}
		}
		label := strings.TrimSpace(first.number)
		wide := draw.TextWidth(label, smallHeight, true)
		text := draw.Text{At: r2.Vec{X: (x + end) / 2, Y: y + barHigh/2}, Says: label, Height: smallHeight, Bold: true, Across: draw.Middle, Up: draw.Half}
		if end-x >= wide+0.8 {
			back := draw.Light // to be read over hatching and the ends of bars
			if first.waits {
				back = draw.White
			}
			half := wide/2 + 0.4
			sh.add(draw.Path{Fill: back, Runs: []draw.Run{draw.Rect(r2.Box{Min: r2.Vec{X: text.At.X - half, Y: y + 0.5}, Max: r2.Vec{X: text.At.X + half, Y: y + barHigh - 0.5}})}})
			sh.add(text)
			continue
		}
		if first.waits {
			continue
		}
		for k := range above {
			if text.At.X-wide/2 > above[k]+0.5 {
				text.At.Y = y + barHigh + 0.5 + float64(k)*(smallHeight+0.3)
				text.Up = draw.Base
				sh.add(text)
				above[k] = text.At.X + wide/2
				break
			}
		}
	}
}
