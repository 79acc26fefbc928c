package booklet

import (
	"slices"

	"dryfit/geom/r2"
	"dryfit/guide"
	"dryfit/paper/draw"
	"dryfit/paper/pdf"
	"dryfit/shop"
)

// A step stands in a column: its number and title, its drawing across the column, and
// the words below. It may go on in the next column of its page, and over pages only where it
// alone is more than a column.

const (
	numberCap  = 5.2
	apartCell  = 27.0 // height of each of several drawings, mm
	mostPart   = 40.0 // height of the drawing of a part by itself, as it is asked for first
	mostBuild  = 62.0 // and of a step of the build
	leastShare = 0.62 // of that: what a full column may take it down to
	leastDraw  = 24.0
)

func entry(title string, page int) pdf.Entry { return pdf.Entry{Title: title, Page: page} }

// cell is what stands together in a column: a step, with the heading of the chapter that
// it begins; or what a column could not hold of one.
type cell struct {
	step              guide.Step
	chapter           guide.Chapter // that begins here
	in                string        // title of the chapter
	goesOn            bool
	head              column // chapter and title
	words             column
	pics              []*drawing
	section           *drawing // above the words; nil: none
	least, most, full float64  // heights for the drawings: at least, as it should be, and what more is lost
	draw              float64
}

func (c *cell) fixed() float64 { return c.head.height() + c.words.height() }

// cells sets all steps in a width for columns of a height.
func (p *press) cells(width, height float64) (out []*cell) {
	var all []*cell
	for _, ch := range p.b.Chapters {
		for k, s := range ch.Steps {
			c := &cell{step: s, in: ch.Title}
			c.head, c.words = column{width: width}, column{width: width}
			if k == 0 {
				c.chapter = ch
				c.head.para(ch.Title, style{height: bigTitle * 0.8, bold: true})
				if ch.Says != "" {
					c.head.gap(0.5)
					c.head.para(ch.Says, smallStyle)
				}
				c.head.gap(3)
			}
			p.stepTitle(&c.head, s)
			if c.section = p.b.section(s.Shows, width); c.section != nil {
				c.words.gap(c.section.size.Y + 4)
			}
			p.words(&c.words, s)
			for _, sc := range p.b.scenes(s.Shows) {
				c.pics = append(c.pics, &drawing{scene: sc})
			}
			all = append(all, c)
		}
	}
	p.scaled(all, width)
	for _, c := range all {
		p.drawings(c, width)
		out = append(out, c.parted(height)...)
	}
	return out
}

// scaled keeps the drawings that belong together near one scale: of a glue-up, of the build,
// and of the parts by themselves. None is drawn at more than the scale of the middle
// one of them, in the room that a step asks for first: what is then smaller is what
// would not fit.
func (p *press) scaled(cells []*cell, width float64) {
	of := map[string][]*drawing{}
	most := map[string]float64{}
	fits := map[*drawing]float64{}
	for _, c := range cells {
		sh := c.step.Shows
		key := "part"
		high := mostPart
		switch {
		case sh.Apart || len(sh.Pieces) > 1:
			continue
		case sh.Group >= 0:
			key, high = "build "+p.b.steps[sh.Group].GlueUp, mostBuild
		}
		for _, d := range c.pics {
			if box := p.b.draft.Extent(d.scene); box.X > 0 && box.Y > 0 {
				of[key] = append(of[key], d)
				fits[d] = min((width-scaleEdge)/box.X, (high-scaleEdge)/box.Y)
			}
		}
	}
	for key, list := range of {
		var all []float64
		for _, d := range list {
			all = append(all, fits[d])
		}
		slices.Sort(all)
		most[key] = all[len(all)/2]
		if key == "part" { // the largest says what a small one looks like
			most[key] = min(most[key], partsApart*all[0])
		}
		for _, d := range list {
			d.scene.Most = most[key]
		}
	}
}

const (
	partsApart = 2.2  // how much larger than the largest part a small one may be drawn
	scaleEdge  = 10.0 // room for numbers and arrows, mm
)

// drawings asks for the drawings of a step and says how high they should be.
func (p *press) drawings(c *cell, width float64) {
	for _, d := range c.pics {
		c.full = p.b.draft.High(d.scene, width) + 3
	}
	sh := c.step.Shows
	switch {
	case len(c.pics) == 0:
		return
	case sh.Apart:
		_, lines := grid(len(c.pics))
		c.most = float64(lines) * apartCell
		c.full = c.most
	case sh.Group < 0 && len(sh.Pieces) == 1:
		c.most = min(c.full, mostPart)
	default:
		c.most = min(c.full, mostBuild)
	}
	c.least = min(c.most, max(leastDraw, c.most*leastShare))
}

// parted returns the cells of a step: one, or as many as it takes columns.
func (c *cell) parted(height float64) []*cell {
	if c.fixed()+c.least <= height {
		return []*cell{c}
	}
	all := c.words
	out := []*cell{c}
	room, from := height-c.head.height()-c.least, cut{}
	piece := func(to cut) {
		part := column{width: all.width, y: to.y - from.y, items: []draw.Item{at(r2.Vec{Y: -from.y}, all.items[from.item:to.item])}}
		if from.item == 0 {
			c.words = part
		} else {
			out = append(out, &cell{step: c.step, in: c.in, goesOn: true, head: column{y: -2.5, width: all.width}, words: part})
		}
		from, room = to, height-2.5
	}
	end := cut{item: len(all.items), y: all.y}
	for k, at := range append(all.cuts, end) {
		if from.y-at.y > room && k > 0 && all.cuts[k-1].item > from.item {
			piece(all.cuts[k-1])
		}
	}
	piece(end)
	return out
}

// steps fills the columns of as few pages as hold all steps, none much emptier than
// another.
func (p *press) steps() {
	width := (p.width() - columnGap) / 2
	high := p.body().Size().Y
	cells := p.cells(width, high)
	for k, col := range flow(cells, high) {
		if k%2 == 0 {
			p.chapter = col[0].in
			p.fresh()
			x := p.body().Min.X + p.width()/2
			p.last().Items = append(p.last().Items, draw.Path{Line: draw.Construction, Runs: []draw.Run{draw.Polyline(r2.Vec{X: x, Y: p.body().Max.Y}, r2.Vec{X: x, Y: p.body().Min.Y})}})
		}
		p.y = p.body().Max.Y
		p.columnOf(col, float64(k%2)*(width+columnGap), high)
	}
}

// Room between two steps, mm: at least, and at most.
const (
	leastGap = 5.0
	mostGap  = 14.0
)

// columnOf sets the steps of a column: room that is left over goes to the drawings first.
func (p *press) columnOf(col []*cell, x, high float64) {
	free := high - leastGap*float64(len(col)-1)
	for _, c := range col {
		c.draw = c.least
		free -= c.fixed() + c.draw
	}
	grow := func(to func(c *cell) float64) {
		want := 0.0
		for _, c := range col {
			want += max(0, to(c)-c.draw)
		}
		if want <= 0 || free <= 0 {
			return
		}
		share := min(1, free/want)
		for _, c := range col {
			by := max(0, to(c)-c.draw) * share
			c.draw, free = c.draw+by, free-by
		}
	}
	grow(func(c *cell) float64 { return c.most })
	grow(func(c *cell) float64 { return max(c.draw, min(c.full, 1.5*c.most)) })
	gap := leastGap
	if n := len(col) - 1; n > 0 {
		gap += min(mostGap-leastGap, max(0, free)/float64(n))
	}
	for k, c := range col {
		if k > 0 {
			p.y -= gap
		}
		p.cell(c, x)
	}
}

func (p *press) cell(c *cell, x float64) {
	page := len(p.pages) - 1
	if c.chapter.Title != "" {
		p.outline = append(p.outline, pdf.Entry{Title: c.chapter.Title, Page: page, Top: p.y + 4})
	}
	if !c.goesOn {
		p.outline = append(p.outline, pdf.Entry{Title: itoa(c.step.Number) + " " + c.step.Title, Page: page, Top: p.y + 4, Level: 1})
	}
	p.put(c.head.items, x, c.head.height())
	p.grid(c, x)
	p.y -= c.draw
	if c.section != nil {
		p.picture(c.section, x, 0)
	}
	p.put(c.words.items, x, c.words.height())
}

// flow parts cells into pages of two columns: as few as can be, and as evenly full. A step
// may go on in the second column of its page, between two of its sentences, never over the
// page: its drawing stays in sight.
func flow(cells []*cell, high float64) (out [][]*cell) {
	type state struct {
		pages int
		cost  float64
		from  int
		page  [2][]*cell
	}
	n := len(cells)
	best := make([]*state, n+1)
	best[0] = &state{}
	for j := 1; j <= n; j++ {
		for i := j - 1; i >= 0; i-- {
			page, cost, ok := spread(cells[i:j], high)
			if !ok {
				break
			}
			if s := best[i]; best[j] == nil || s.pages+1 < best[j].pages || s.pages+1 == best[j].pages && s.cost+cost < best[j].cost {
				best[j] = &state{s.pages + 1, s.cost + cost, i, page}
			}
		}
	}
	for j := n; j > 0; j = best[j].from {
		out = append([][]*cell{best[j].page[0], best[j].page[1]}, out...)
	}
	return out
}

const (
	splitCost = 900.0 // of a step in two columns, in mm² of a column's emptiness
	leastTail = 12.0  // height of what goes on in the second column at least, mm
)

// spread lays cells into the two columns of a page; false if they are more than it holds. A
// cell alone always goes.
func spread(cells []*cell, high float64) (page [2][]*cell, cost float64, ok bool) {
	empty := func(col []*cell) (float64, bool) {
		gaps := leastGap * float64(max(0, len(col)-1))
		text, least, most := gaps, 0.0, 0.0
		for _, c := range col {
			text, least, most = text+c.fixed(), least+c.least, most+c.most
		}
		free := high - text - most
		if free < 0 { // drawings are small here
			free *= 3
		}
		return float64(free * free), text+least <= high+1e-9 || len(cells) == 1
	}
	try := func(left, right []*cell, more float64) {
		a, fits := empty(left)
		b, also := empty(right)
		if sum := a + b + more; fits && also && (!ok || sum < cost) {
			page, cost, ok = [2][]*cell{left, right}, sum, true
		}
	}
	for m := 1; m <= len(cells); m++ {
		try(cells[:m], cells[m:], 0)
	}
	for m, c := range cells {
		for k := range c.words.cuts {
			if head, tail, whole := c.split(k); !whole {
				try(append(slices.Clone(cells[:m]), head), append([]*cell{tail}, cells[m+1:]...), splitCost)
			}
		}
	}
	return page, cost, ok
}

// split parts a cell before one of the places where its words may be cut; whole if too
// little would be left on either side.
func (c *cell) split(k int) (head, tail *cell, whole bool) {
	at1 := c.words.cuts[k]
	if c.words.y-at1.y > -leastTail || at1.item == 0 || at1.row {
		return nil, nil, true
	}
	first, rest := *c, cell{step: c.step, in: c.in, goesOn: true}
	first.words = column{width: c.words.width, y: at1.y, items: c.words.items[:at1.item]}
	rest.head = column{y: -2.5, width: c.words.width}
	rest.words = column{width: c.words.width, y: c.words.y - at1.y, items: []draw.Item{at(r2.Vec{Y: -at1.y}, c.words.items[at1.item:])}}
	return &first, &rest, false
}

// stepTitle sets the number and the title of a step below a rule.
func (p *press) stepTitle(c *column, s guide.Step) {
	c.rule(draw.Thin)
	c.gap(3)
	num := itoa(s.Number)
	in := draw.TextWidth(num, numberCap, true) + 3
	top := c.y
	c.items = append(c.items, draw.Text{At: r2.Vec{X: c.x, Y: top}, Says: num, Height: numberCap, Bold: true, Up: draw.Top})
	c.y = top - (numberCap-stepTitle)/2
	c.lines(draw.Wrap(s.Title, stepTitle, true, c.width-in), c.x+in, style{height: stepTitle, bold: true})
	c.y = min(c.y, top-numberCap-2.5)
	c.gap(0.8)
}

// words sets sentences, measures, warnings and who does it.
func (p *press) words(c *column, s guide.Step) {
	for k, d := range s.Does {
		if pages := p.patterns[patternKey{s.Pattern.Of, s.Pattern.GlueUp}]; k == s.Pattern.Does && len(pages) > 0 {
			d += " " + p.b.Words.On(len(pages), shop.Numbers(pages))
		}
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
		c.para(s.Whoever(), quietStyle)
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
	share := 0.0
	for _, m := range s.Measures {
		share = max(share, draw.TextWidth(m.What, smallText, false)+4)
	}
	share = min(share, c.width*0.38)
	of := s.Ofs()
	last := ""
	for k, m := range s.Measures {
		if len(of) > 1 && m.Of != last {
			last = m.Of
			c.row([]string{m.Of}, []float64{c.width}, []style{{height: smallText, bold: true}})
		}
		if k > 0 && m.Of == s.Measures[k-1].Of {
			c.cutRow()
		}
		c.row([]string{m.What, m.Is}, []float64{share, c.width - share}, []style{{height: smallText, tone: draw.Pencil}, smallStyle})
	}
	c.gap(1.5)
}

// grid asks for the drawings of a cell: one in all the room, several in rows.
func (p *press) grid(c *cell, x float64) {
	n := len(c.pics)
	if n == 0 {
		return
	}
	cols, lines := grid(n)
	one := r2.Vec{X: c.head.width / float64(cols), Y: c.draw / float64(lines)}
	for k, d := range c.pics {
		d.size = one.Sub(r2.Vec{X: 0, Y: 3})
		left, down := x+float64(k%cols)*one.X, float64(k/cols)*one.Y
		if c.step.Shows.Apart {
			d.size = d.size.Sub(r2.Vec{X: 2, Y: 4})
			says := draw.Shorten(p.b.numbersOf(c.step.Shows.Pieces[k]), smallText, false, one.X-2)
			p.last().Items = append(p.last().Items, draw.Text{At: r2.Vec{X: p.body().Min.X + left + one.X/2, Y: p.y - down - d.size.Y - 4},
				Says: says, Height: smallText, Across: draw.Middle, Tone: draw.Pencil})
		}
		p.picture(d, left, down)
	}
}

// grid says how several drawings stand beside and below each other.
func grid(n int) (cols, lines int) {
	for cols = 1; cols*cols < n; cols++ {
	}
	return cols, (n + cols - 1) / cols
}
