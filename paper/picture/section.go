package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/geom/solid"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/paper/draw"
)

// Sections (ISO 128-3 and ISO 128-50, from memory): a piece is cut by a plane, the half
// before it taken away, what is cut hatched at 45 degrees in thin lines, and what is seen
// behind it drawn as ever.

// Cut is where a section goes, in the frame of a blank: looked at against Normal, with Up
// upwards.
type Cut struct{ At, Normal, Up r3.Vec }

// hatchStep is the distance of hatching, mm on paper.
const hatchStep = 2.0

// Section draws what a cut shows of a piece at a scale, in the frame that the middle of the
// cut comes to the origin.
func Section(p *assembly.Piece, c Cut, scale float64) []draw.Item {
	s := c.sight()
	half := p.Made.Bored().Clip(solid.PlaneAt(c.At, c.Normal), solid.Seam)
	if half.Empty() {
		return nil
	}
	o := &object{bodies: []solid.Body{half}, looks: []Look{Plain}, edges: edgesOf(half, false)}
	from := s.flat(c.At)
	var face []draw.Run
	for _, ch := range chains(c.outline(o, scale)) {
		if r := ch.run(scale); ch.closed {
			face = append(face, r)
		}
	}
	items := []draw.Item{draw.Hatch(face, math.Pi/4, hatchStep)}
	return append(items, s.ink(o, scale, from, r2.Vec{})...)
}

func (c Cut) sight() sight {
	up := c.Up.Sub(c.Normal.Scale(c.Up.Dot(c.Normal))).Unit()
	return sight{toward: c.Normal, right: up.Cross(c.Normal).Unit(), up: up}
}

// outline returns the edges of what is cut, on paper.
func (c Cut) outline(o *object, scale float64) (out []stroke) {
	s := c.sight()
	from := s.flat(c.At)
	for i := range o.edges {
		e := &o.edges[i]
		in := e.N[0].Dot(c.Normal) > 1-tol.Clip || e.N[1].Dot(c.Normal) > 1-tol.Clip
		if in && math.Abs(e.A.Sub(c.At).Dot(c.Normal)) < tol.Page && math.Abs(e.B.Sub(c.At).Dot(c.Normal)) < tol.Page {
			out = append(out, stroke{a: s.flat(e.A).Sub(from).Scale(scale), b: s.flat(e.B).Sub(from).Scale(scale), round: e.round})
		}
	}
	return out
}

// blindCuts returns the cuts along the blind holes of a piece, with the numbers of the
// holes that each shows: of holes that are alike the first.
func blindCuts(p *assembly.Piece) (cuts []Cut, bores [][]int) {
	size := p.Made.Size
	long := []r3.Vec{r3.X, r3.Y, r3.Z}
	for i := range long { // the longest first
		for j := i; j > 0 && size.Dot(long[j]) > size.Dot(long[j-1])+tol.Page; j-- {
			long[j], long[j-1] = long[j-1], long[j]
		}
	}
	type kind struct{ r, depth float64 }
	told := map[kind]bool{}
	for i, b := range p.Made.Bores {
		k := kind{math.Round(b.R * 1000), math.Round(b.Hi * 1000)}
		if !b.Blind || told[k] {
			continue
		}
		told[k] = true
		for _, e := range long {
			if math.Abs(e.Dot(b.Dir)) < 0.9 {
				c := Cut{b.Point, b.Dir.Cross(e).Unit(), b.Dir.Neg()}
				if k := slices.IndexFunc(cuts, func(o Cut) bool {
					return o.Normal.Dot(c.Normal) > 1-tol.Clip && o.Up.Dot(c.Up) > 1-tol.Clip && math.Abs(c.At.Sub(o.At).Dot(c.Normal)) < tol.Page
				}); k >= 0 {
					bores[k] = append(bores[k], i)
				} else {
					cuts, bores = append(cuts, c), append(bores, []int{i})
				}
				break
			}
		}
	}
	return cuts, bores
}

// SectionPage draws the sections through the blind holes of a part, with the diameter and
// the depth of each, on one page.
func (d *Drafter) SectionPage(part string, opt Options) (draw.Page, error) {
	pages, err := d.sections(part, opt, 1)
	if err != nil {
		return draw.Page{}, err
	}
	return pages[0], nil
}

// SectionPages draws them on as many pages as it takes to show them at half size, or as
// large as a page shows one of them.
func (d *Drafter) SectionPages(part string, opt Options) ([]draw.Page, error) {
	return d.sections(part, opt, math.MaxInt)
}

func (d *Drafter) sections(part string, opt Options, most int) ([]draw.Page, error) {
	var p *assembly.Piece
	spoken := strings.ReplaceAll(part, " ", "-") // as the guide says it
	for _, q := range d.m.Pieces {
		if p == nil && (q.Part.Name == spoken || q.ID == spoken) {
			p = q
		}
	}
	if p == nil {
		return nil, noPart(d.m, part)
	}
	cuts, bores := blindCuts(p)
	if len(cuts) == 0 {
		return nil, fmt.Errorf("%s has no hole that ends in the wood: there is nothing to cut through", part)
	}
	boxes := make([]r2.Box, len(cuts))
	for i, c := range cuts {
		boxes[i] = c.extent(p)
	}
	papers := papers(opt.Size, d.third())
	enough := leastSection
	for _, b := range boxes {
		enough = min(enough, sectionGrid(papers, []r2.Box{b}).scale)
	}
	var each int // sections on a page
	for n := 1; n <= min(most, len(cuts)); n++ {
		each = (len(cuts) + n - 1) / n
		least := enough
		for from := 0; from < len(boxes); from += each {
			least = min(least, sectionGrid(papers, boxes[from:min(len(boxes), from+each)]).scale)
		}
		if least >= enough {
			break
		}
	}
	var out []draw.Page
	for from := 0; from < len(cuts); from += each {
		to := min(len(cuts), from+each)
		out = append(out, d.sectionPage(p, cuts[from:to], bores[from:to], sectionGrid(papers, boxes[from:to]), boxes[from:to]))
	}
	return out, nil
}

// noPart says that no part has a name: which is the nearest, or, of a glue-up, which are in it.
func noPart(m *assembly.Model, part string) error {
	var names []string
	add := func(s string) {
		if !slices.Contains(names, s) {
			names = append(names, s)
		}
	}
	for _, g := range m.GlueUps {
		if g.ID != part && g.Spec.Name != part {
			continue
		}
		for _, i := range g.Pieces {
			add(m.Pieces[i].Part.Name)
		}
		return fmt.Errorf("%s is a glue-up: expected one of its parts: %s", part, strings.Join(names, ", "))
	}
	for _, p := range m.Pieces {
		add(p.Part.Name)
		add(p.ID)
	}
	if near := source.Nearest(part, names); near != "" {
		return fmt.Errorf("no part is called %s; did you mean %s?", part, near)
	}
	return fmt.Errorf("no part is called %s", part)
}

// leastSection is the scale below which sections go on on another page.
const leastSection = 0.5

// Room around a section for its dimensions, mm on paper.
const (
	sectionSide  = 20.0
	sectionAbove = 14.0
	sectionName  = 7.0
)

// extent is the box of a piece as a cut looks at it, from the middle of the cut.
func (c Cut) extent(p *assembly.Piece) r2.Box {
	s := c.sight()
	b := s.bounds(&object{bodies: []solid.Body{p.Made.Bored()}})
	return r2.Box{Min: b.Min.Sub(s.flat(c.At)), Max: b.Max.Sub(s.flat(c.At))}
}

// grid is sections in rows of some columns, filled down and then to the right.
type grid struct {
	size       r2.Vec // of the paper
	cols, rows int
	scale      float64
}

// mostColumns is the most columns of sections.
const mostColumns = 4

// sectionGrid finds the paper and the columns that show sections at the largest scale, with
// the fewest columns.
func sectionGrid(papers []r2.Vec, boxes []r2.Box) grid {
	for _, k := range scales {
		f := k.paper / k.toy
		for cols := 1; cols <= min(mostColumns, len(boxes)); cols++ {
			for _, size := range papers {
				g := grid{size, cols, (len(boxes) + cols - 1) / cols, f}
				if wide, high := g.needs(boxes); wide <= body(size).Size().X && high <= body(size).Size().Y {
					return g
				}
			}
		}
	}
	last := scales[len(scales)-1]
	return grid{papers[0], 1, len(boxes), last.paper / last.toy}
}

// needs returns the room of all columns beside each other, and of the highest.
func (g grid) needs(boxes []r2.Box) (wide, high float64) {
	for c := range g.cols {
		down := sectionName
		for _, b := range boxes[min(len(boxes), c*g.rows):min(len(boxes), (c+1)*g.rows)] {
			wide = max(wide, float64(b.Size().X*g.scale)+2*sectionSide)
			down += float64(b.Size().Y*g.scale) + sectionAbove + sectionName
		}
		high = max(high, down)
	}
	return float64(wide * float64(g.cols)), high
}

// sectionPage sets sections on a page.
func (d *Drafter) sectionPage(p *assembly.Piece, cuts []Cut, bores [][]int, g grid, boxes []r2.Box) draw.Page {
	third := d.third()
	size, scale, in := g.size, g.scale, body(g.size)
	page := draw.Page{Size: size}
	_, high := g.needs(boxes)
	top := in.Max.Y - draw.LabelHeight - max(0, (in.Size().Y-high)/2)
	wide := in.Size().X / float64(g.cols)
	y := top
	for i, c := range cuts {
		left := in.Min.X + float64(wide*float64(i/g.rows))
		if i%g.rows == 0 {
			y = top
		}
		b := boxes[i]
		y -= sectionAbove
		at := r2.Vec{X: left + wide/2 - float64((b.Min.X+b.Max.X)/2*scale), Y: y - float64(b.Max.Y*scale)}
		page.Items = append(page.Items, draw.Group{Layer: layerToy, Move: draw.Translate(at), Items: Section(p, c, scale)})
		for _, k := range bores[i] {
			hole, s := p.Made.Bores[k], c.sight()
			by := s.flat(hole.Point).Sub(s.flat(c.At))
			page.Items = append(page.Items, draw.Group{Layer: layerDimensions, Move: draw.Translate(at.Add(by.Scale(scale))),
				Items: d.holeMarks(hole, r2.Box{Min: b.Min.Sub(by), Max: b.Max.Sub(by)}, scale)})
		}
		// Its name stands below it: left of it and above it are its measures.
		y -= float64(b.Size().Y*scale) + sectionName
		from := at.X + float64(b.Min.X*scale)
		says := draw.Shorten(fmt.Sprintf(wordSection, p.Part.Name, holeNames(p, bores[i])), draw.LabelHeight, false, left+wide-inset-from)
		page.Items = append(page.Items, draw.Group{Layer: layerTitles, Items: []draw.Item{
			draw.Text{At: r2.Vec{X: from, Y: y + 1}, Says: says, Height: draw.LabelHeight, Tone: draw.Pencil},
		}})
	}
	frame := r2.Box{Min: r2.Vec{X: margin, Y: margin}, Max: size.Sub(r2.Vec{X: margin, Y: margin})}
	page.Items = append(page.Items, titles(d.m, frame, third, ratio(scale))...)
	return page
}

// holeNames lists the holes of a cut by their names.
func holeNames(p *assembly.Piece, bores []int) string {
	var names []string
	for _, k := range bores {
		if b := p.Made.Bores[k]; b.Named {
			names = append(names, b.Name)
		}
	}
	switch {
	case len(names) == 0 && len(bores) > 1:
		return wordHoles
	case len(names) == 0:
		return wordHole
	}
	return strings.Join(names, ", ")
}

// holeMarks are the centre line, the diameter and the depth of a hole whose mouth is at the
// origin, in a section of the given extents.
func (d *Drafter) holeMarks(b assembly.Bore, box r2.Box, scale float64) []draw.Item {
	r, depth := float64(b.R*scale), float64(b.Hi*scale)
	left, right := float64(box.Min.X*scale), float64(box.Max.X*scale)
	over := float64(box.Max.Y*scale) + offset - 2
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	items := []draw.Item{
		draw.Path{Line: draw.Centre, Runs: []draw.Run{draw.Polyline(v(0, over-4), v(0, -depth-3))}},
		draw.Dimension(v(-r, 0), v(r, 0), over, fmt.Sprintf(wordWheel, says(d.m, 2*b.R))),
	}
	if right <= -left { // to the nearer side
		return append(items, draw.Dimension(v(r, -depth), v(r, 0), -(right-r+offset), says(d.m, b.Hi)))
	}
	return append(items, draw.Dimension(v(-r, -depth), v(-r, 0), -left-r+offset, says(d.m, b.Hi)))
}

func (d *Drafter) third() bool { return d.m.Toy.Units == measure.Inch }

// upright is a cut through the same plane, looked at so that the face of the blank is up, from
// the side that the usual view is from; a cut along the face is looked at from above.
func (c Cut) upright() Cut {
	if math.Abs(c.Normal.Z) > 0.99 {
		return Cut{c.At, r3.Z, r3.Y}
	}
	if c.Normal.Dot(FrontRight.sight().toward) < 0 {
		c.Normal = c.Normal.Neg()
	}
	return Cut{c.At, c.Normal, r3.Z}
}

// BlindHoles tells whether a piece has holes that end in the wood, and returns how high the
// drawing of the first section through them is in a width, mm; and what draws it. The face
// is up in it, as in the view that it stands below.
func (d *Drafter) BlindHoles(m *assembly.Model, piece int, width float64) (height float64, ink func(r2.Vec) []draw.Item) {
	p := m.Pieces[piece]
	cuts, bores := blindCuts(p)
	if len(cuts) == 0 {
		return 0, nil
	}
	c := cuts[0].upright()
	s, box := c.sight(), c.extent(p)
	scale := min((width-2*sectionSide)/box.Size().X, mostSection/box.Size().Y, largest)
	items := []draw.Item{draw.Group{Layer: layerToy, Items: Section(p, c, scale)}}
	marks := draw.Group{Layer: layerDimensions}
	taken := map[r2.Vec]int{} // dimensions on a side
	for _, k := range bores[0] {
		hole := p.Made.Bores[k]
		way := s.flat(hole.Dir).Unit()
		side := depthSide(way, s.flat(hole.Point.Sub(c.At)), box)
		key := r2.Vec{X: math.Round(side.X * 10), Y: math.Round(side.Y * 10)}
		marks.Items = append(marks.Items, d.depthMarks(hole, s.flat(hole.Point.Sub(c.At)), way, side, box, scale, offset+float64(dimStep*float64(taken[key])))...)
		taken[key]++
	}
	items = append(items, marks)
	all := draw.Bounds(items...)
	return all.Size().Y, func(size r2.Vec) []draw.Item {
		at := r2.Vec{X: size.X/2 - float64((box.Min.X+box.Max.X)/2*scale), Y: size.Y - all.Max.Y}
		return []draw.Item{draw.Group{Move: draw.Translate(at), Items: items}}
	}
}

// reaches is how far a box reaches from a point in a direction.
func reaches(box r2.Box, from, dir r2.Vec) float64 {
	far := r2.Vec{X: box.Max.X, Y: box.Max.Y}
	if dir.X < 0 {
		far.X = box.Min.X
	}
	if dir.Y < 0 {
		far.Y = box.Min.Y
	}
	return far.Sub(from).Dot(dir)
}

// depthSide is the side of a hole to which its depth is measured: the nearer side of the piece,
// of equals the right one, and the upper.
func depthSide(way, mouth r2.Vec, box r2.Box) r2.Vec {
	side := way.Perp()
	if side.X < -tol.Clip || side.X < tol.Clip && side.Y < 0 {
		side = side.Neg()
	}
	if reaches(box, mouth, side.Neg()) < reaches(box, mouth, side)-tol.Page {
		return side.Neg()
	}
	return side
}

// depthMarks are the centre line and the depth of a hole in a section, off the piece by some
// mm. The words beside it name the bit. No line of the dimension lies on the outline: they
// begin at the side of the piece, and the one that the hole ends at is drawn on to there.
func (d *Drafter) depthMarks(b assembly.Bore, mouth, way, side r2.Vec, box r2.Box, scale, off float64) []draw.Item {
	end := mouth.Add(way.Scale(b.Hi))
	beside := reaches(box, mouth, side)
	from, to := end.Add(side.Scale(beside)).Scale(scale), mouth.Add(side.Scale(beside)).Scale(scale)
	if to.Y < from.Y-tol.Page { // the words go up
		from, to = to, from
	}
	if to.Sub(from).Perp().Dot(side) < 0 {
		off = -off
	}
	return []draw.Item{
		draw.Path{Line: draw.Centre, Runs: []draw.Run{draw.Polyline(mouth.Scale(scale).Sub(way.Scale(pastHole+1)), end.Scale(scale).Add(way.Scale(pastHole)))}},
		draw.Path{Line: draw.Thin, Runs: []draw.Run{draw.Polyline(end.Add(side.Scale(b.R)).Scale(scale), end.Add(side.Scale(beside)).Scale(scale))}},
		draw.Dimension(from, to, off, says(d.m, b.Hi)),
	}
}

// pastHole is how far a centre line goes on behind the end of a hole, mm on paper.
const pastHole = 3.0

// mostSection is the most height of a section among the words of a step, mm.
const mostSection = 26.0
