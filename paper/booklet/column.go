package booklet

import (
	"math"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
)

// Heights of capitals, mm. The face's capitals are 0.73 of its size: 2.57 mm are 10
// points, 2.3 mm are 9, which is what is kept for tables.
const (
	bodyText  = 2.57
	smallText = 2.3
	tinyText  = 1.9 // foot of the page
	stepTitle = 3.3
	bigTitle  = 6.0
)

// column is text set from the top down: (0, 0) is its upper left corner.
type column struct {
	items []draw.Item
	y     float64 // of the top of what comes next; goes down
	width float64
	x     float64
	cuts  []cut
}

// cut is where a column may go on on another page.
type cut struct {
	item int
	y    float64
	row  bool // between rows of a table
}

// cut allows a break here.
func (c *column) cut() { c.cuts = append(c.cuts, cut{item: len(c.items), y: c.y}) }

// cutRow allows a break between two rows of a table, where it cannot be helped.
func (c *column) cutRow() { c.cuts = append(c.cuts, cut{len(c.items), c.y, true}) }

func (c *column) gap(mm float64) { c.y -= mm }

// height is how deep the column is by now.
func (c *column) height() float64 { return -c.y }

// style is how lines are set.
type style struct {
	height float64
	bold   bool
	tone   draw.Tone
}

var (
	plainStyle = style{height: bodyText}
	smallStyle = style{height: smallText}
	boldStyle  = style{height: bodyText, bold: true}
	quietStyle = style{height: smallText, tone: draw.Pencil}
)

// lead is from line to line.
func (s style) lead() float64 { return s.height * 1.72 }

// para sets a paragraph within the column's width.
func (c *column) para(says string, s style) {
	c.lines(draw.Wrap(says, s.height, s.bold, c.width), c.x, s)
}

func (c *column) lines(lines []string, x float64, s style) {
	for _, l := range lines {
		c.items = append(c.items, draw.Text{At: r2.Vec{X: x, Y: c.y}, Says: l, Height: s.height, Bold: s.bold, Tone: s.tone, Up: draw.Top})
		c.y -= s.lead()
	}
}

// bullet sets a paragraph with a small square before it.
func (c *column) bullet(says string, s style) {
	const in = 4.0
	side := s.height * 0.42
	at := r2.Vec{X: c.x + 0.6, Y: c.y - s.height/2 - side/2}
	c.items = append(c.items, draw.Path{Fill: draw.Pencil, Runs: []draw.Run{draw.Rect(r2.Box{Min: at, Max: at.Add(r2.Vec{X: side, Y: side})})}})
	c.lines(draw.Wrap(says, s.height, s.bold, c.width-in), c.x+in, s)
	c.gap(0.7)
}

// rule draws a line across.
func (c *column) rule(l draw.Line) {
	c.items = append(c.items, draw.Path{Line: l, Runs: []draw.Run{draw.Polyline(r2.Vec{X: c.x, Y: c.y}, r2.Vec{X: c.x + c.width, Y: c.y})}})
}

// row sets cells beside each other, each wrapped to its width, with a thin line below.
func (c *column) row(cells []string, widths []float64, styles []style) {
	top, low := c.y-1.3, c.y
	x := c.x
	for i, says := range cells {
		sub := column{y: top, x: x, width: widths[i] - 2}
		sub.para(says, styles[i])
		c.items = append(c.items, sub.items...)
		low = math.Min(low, sub.y)
		x += widths[i]
	}
	c.y = low + 0.3
	c.rule(draw.Construction)
}

// boxed sets a note on light grey with a bold word before it.
func (c *column) boxed(word, says string) {
	const in = 2.0
	inner := column{y: c.y - in - 0.3, x: c.x + in, width: c.width - 2*in}
	inner.lead(word, says, style{height: smallText})
	low := inner.y + 0.9 - in
	c.items = append(c.items, draw.Path{Fill: draw.Light, Runs: []draw.Run{draw.Rect(r2.Box{Min: r2.Vec{X: c.x, Y: low}, Max: r2.Vec{X: c.x + c.width, Y: c.y}})}})
	c.items = append(c.items, inner.items...)
	c.y = low - 1.5
}

// lead sets a paragraph whose first words are bold.
func (c *column) lead(word, says string, s style) {
	bold := s
	bold.bold = true
	w := draw.TextWidth(word, s.height, true) + draw.TextWidth("  ", s.height, false)
	first := draw.Wrap(says, s.height, s.bold, c.width-w)
	if len(first) == 0 {
		first = []string{""}
	}
	y := c.y
	c.items = append(c.items, draw.Text{At: r2.Vec{X: c.x, Y: y}, Says: word, Height: s.height, Bold: true, Tone: s.tone, Up: draw.Top})
	c.lines(first[:1], c.x+w, s)
	rest := says[min(len(says), len(first[0])):]
	c.lines(draw.Wrap(rest, s.height, s.bold, c.width), c.x, s)
}

// at moves what was set, its upper left corner to p.
func at(p r2.Vec, items []draw.Item) draw.Group {
	return draw.Group{Move: draw.Translate(p), Items: items}
}
