package shop

import (
	"slices"
	"sort"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/measure"
	"dryfit/toy"
)

// Bit is a bit and all that is drilled with it.
type Bit struct {
	Name   string  `json:"name"` // "9/32 in", "6.5 mm"; "" if no bit of that size is sold in inches or millimetres
	DiaMM  float64 `json:"dia_mm"`
	Kind   string  `json:"kind,omitempty"`  // fraction, metric, forstner, metric forstner
	Lacks  bool    `json:"lacks,omitempty"` // the shop says which bits it has, and has none of this size
	Below  string  `json:"below,omitempty"`
	Above  string  `json:"above,omitempty"` // the nearest that there are: in the shop, or where it says nothing in the toy's own units
	SetUps []SetUp `json:"set_ups"`
}

// What a set-up makes.
const (
	OpHole        = "hole"
	OpCounterbore = "counterbore" // before the hole that it is the mouth of
	OpBore        = "bore"        // through the middle of a disc
	OpPierce      = "pierce"      // where a blade goes in, as the pattern marks it
)

// SetUp is the holes of one bit in one part that are drilled alike: one setting
// of fence, stop and table.
type SetUp struct {
	Toy  string `json:"toy"`
	Part string `json:"part"` // or the glue-up
	// Parts that are Part turned over, drilled with it; Pieces and Spare have them.
	TurnedOver []string `json:"turned_over,omitempty"`
	GlueUp     bool     `json:"glue_up,omitempty"`
	Op         string   `json:"op"`
	DrawnMM    float64  `json:"drawn_dia_mm"`
	Side       string   `json:"side"` // drilled from: "edge (right)"
	Through    bool     `json:"through"`
	DepthMM    float64  `json:"depth_mm,omitempty"` // to the full diameter
	WoodMM     float64  `json:"wood_mm,omitempty"`  // of the blank from that side, where the hole is through and square
	LeanRad    float64  `json:"lean_rad,omitempty"` // off square, toward
	Toward     string   `json:"toward,omitempty"`   // a direction on the side as seen: right, left, up, down
	Counter    float64  `json:"counterbore_dia_mm,omitempty"`
	CounterD   float64  `json:"counterbore_depth_mm,omitempty"`
	// Positions are from two sides of the blank; of a glue-up, of its first piece.
	XFrom     string `json:"x_from"`
	YFrom     string `json:"y_from"`
	FromPiece string `json:"from_piece,omitempty"`
	Holes     []Hole `json:"holes"`
	Pieces    int    `json:"pieces"`
	Spare     int    `json:"spare"`
	AfterSaw  bool   `json:"after_saw,omitempty"` // an outline was sawn before: the edges to measure from are gone
	Made      string `json:"made,omitempty"`      // of a disc
	// Stack is how many thin pieces are drilled in one go, taped together; 0: one by one.
	Stack int `json:"stack,omitempty"`
}

// Hole is a place on the side, from XFrom and YFrom.
type Hole struct {
	Name string  `json:"name,omitempty"`
	XMM  float64 `json:"x_mm"`
	YMM  float64 `json:"y_mm"`
}

// from returns the sides that x and y are measured from: those that meet in the
// lower left corner of the side as seen, see assembly.SideFrame.
func from(s toy.Side) (x, y toy.Side) {
	switch s {
	case toy.Top:
		return toy.Back, toy.Right
	case toy.Bottom:
		return toy.Back, toy.Left
	case toy.Right:
		return toy.Back, toy.Bottom
	case toy.Left:
		return toy.Front, toy.Bottom
	case toy.Front:
		return toy.Right, toy.Bottom
	}
	return toy.Left, toy.Bottom
}

// across is how much wood lies behind a side of the blank, mm.
func across(p *toy.Part, s toy.Side) float64 {
	switch s {
	case toy.Top, toy.Bottom:
		return p.Thick.MM()
	case toy.Right, toy.Left:
		return p.Width.MM()
	}
	return p.Length.MM() // 0 for a rod whose length follows
}

// drill gathers all drilling of a toy: parts, then glue-ups, in file order under each bit.
func (g *gatherer) drill(o Order, used []usage) {
	m := o.Model
	g.toy = m.Toy
	for i := range m.Toy.Parts {
		p := &m.Toy.Parts[i]
		if countOf(used, p) == 0 || IsTurnedOver(m, p) {
			continue
		}
		base := SetUp{Toy: o.name, Part: p.Name, Made: p.Made}
		base.count(used, p)
		for _, o := range TurnedOver(m, p) {
			if countOf(used, o) > 0 {
				base.TurnedOver = append(base.TurnedOver, o.Name)
				base.count(used, o)
			}
		}
		if p.Bore > 0 {
			s := base
			s.Op, s.Side, s.Through, s.WoodMM = OpBore, SideName(toy.Top), true, p.Thick.MM()
			s.XFrom, s.YFrom = SideName(toy.Back), SideName(toy.Right)
			s.Holes = []Hole{{Name: "bore", XMM: (p.Length / 2).MM(), YMM: (p.Width / 2).MM()}}
			g.add(p.Bore, s)
		}
		size := sizeOf(used, p)
		g.work(p.Work, base, func(s toy.Side) float64 { return across(p, s) }, assembly.SawnThrough(p.Work, size, r3.Box{Max: size}))
	}
	for i := range m.Toy.GlueUps {
		u := &m.Toy.GlueUps[i]
		var of []assembly.GlueUp
		for _, q := range m.GlueUps {
			if q.Spec.Name == u.Name {
				of = append(of, q)
			}
		}
		if len(of) > 0 && len(u.Pieces) > 0 {
			base := SetUp{Toy: o.name, Part: u.Name, GlueUp: true, Pieces: len(of) * o.Count, FromPiece: u.Pieces[0].ID}
			size := m.Pieces[of[0].Pieces[0]].Made.Size
			g.work(u.Work, base, func(toy.Side) float64 { return 0 }, assembly.SawnThrough(u.Work, size, m.Reach(of[0])))
		}
	}
}

// sorted returns the bits by diameter.
func (g *gatherer) sorted() []Bit {
	sort.SliceStable(g.bits, func(i, j int) bool { return g.bits[i].DiaMM < g.bits[j].DiaMM })
	for i := range g.bits {
		for k := range g.bits[i].SetUps {
			g.bits[i].SetUps[k].gang()
		}
	}
	return g.bits
}

// Thin pieces are drilled several at a time, taped together, where the hole goes straight
// through. Common practice, no source: as long as the pile is as thick as one ordinary board.
const (
	stackThin = inch * 3 / 8
	stackPile = inch * 3 / 4
)

func (s *SetUp) gang() {
	if s.Op == OpHole && s.Through && !s.GlueUp && s.LeanRad == 0 && s.Counter == 0 && s.WoodMM > 0 && s.WoodMM <= stackThin && s.Pieces+s.Spare > 1 {
		s.Stack = min(int(stackPile/s.WoodMM), s.Pieces+s.Spare)
	}
}

func (s *SetUp) count(used []usage, p *toy.Part) {
	s.Pieces, s.Spare = s.Pieces+countOf(used, p), s.Spare+spareOf(used, p)
}

// names are the parts of a set-up.
func (s *SetUp) names() string { return strings.Join(append([]string{s.Part}, s.TurnedOver...), ", ") }

type gatherer struct {
	toy  *toy.Toy // whose work it is
	bits []Bit
}

// work adds the drilling among the work on one part or glue-up, through being what is sawn through
// unless a bit makes it whole.
func (g *gatherer) work(work []toy.Work, base SetUp, wood func(toy.Side) float64, through []assembly.Sawn) {
	sawn := false
	for k, w := range work {
		if _, ok := w.(toy.Saw); ok {
			sawn = true
		}
		if c, ok := w.(toy.Cut); ok && !g.bored(through, k, base, wood(c.Side)) {
			g.pierce(c, base, wood(c.Side))
		}
		d, ok := w.(toy.Drill)
		if !ok {
			continue
		}
		s := base
		x, y := from(d.Side)
		s.Op, s.Side, s.XFrom, s.YFrom = OpHole, SideName(d.Side), SideName(x), SideName(y)
		s.Through, s.DepthMM, s.AfterSaw = d.Depth == 0, d.Depth.MM(), sawn
		if d.Lean != 0 {
			s.LeanRad, s.Toward = float64(d.Lean), [...]string{"right", "left", "up", "down"}[d.Toward]
		} else if s.Through {
			s.WoodMM = wood(d.Side)
		}
		for _, h := range d.Holes {
			s.Holes = append(s.Holes, Hole{h.Name, h.At.X.MM(), h.At.Y.MM()})
		}
		if d.CounterDia > 0 {
			c := s
			c.Op, c.Through, c.WoodMM, c.DepthMM = OpCounterbore, false, 0, d.CounterDepth.MM()
			c.Holes = append([]Hole(nil), s.Holes...)
			g.add(d.CounterDia, c)
			s.Counter, s.CounterD = d.CounterDia.MM(), d.CounterDepth.MM()
		}
		g.add(d.Dia, s)
	}
}

// opening is what a hole is called that is an opening.
const opening = "opening"

// bored adds a round opening that a bit makes whole, and tells whether work k is one.
func (g *gatherer) bored(through []assembly.Sawn, k int, base SetUp, wood float64) bool {
	for _, s := range through {
		if _, bored := assembly.BoredWith(s, g.toy.Shop, g.toy.Units); bored && s.Work == k {
			box := s.Line.Bounds()
			g.hole(OpHole, s.Side, opening, box.Min.Add(box.Size().Scale(0.5)), box.Size().X, base, wood)
			return true
		}
	}
	return false
}

// pierce adds the hole that a blade goes in through.
func (g *gatherer) pierce(c toy.Cut, base SetUp, wood float64) {
	if at, dia := Pierced(c, g.toy); dia > 0 {
		g.hole(OpPierce, c.Side, "", at, dia, base, wood)
	}
}

// hole adds a hole right through.
func (g *gatherer) hole(op string, side toy.Side, name string, at r2.Vec, dia float64, base SetUp, wood float64) {
	x, y := from(side)
	base.Op, base.Side, base.XFrom, base.YFrom = op, SideName(side), SideName(x), SideName(y)
	base.Through, base.WoodMM, base.Holes = true, wood, []Hole{{Name: name, XMM: settled(at.X), YMM: settled(at.Y)}}
	g.add(measure.FromMM(dia), base)
}

// add puts a set-up under its bit, with one that is set up alike if there is one.
func (g *gatherer) add(dia measure.Length, s SetUp) {
	s.DrawnMM = dia.MM()
	b := NameBit(s.DrawnMM, g.toy)
	k := 0
	for k < len(g.bits) && (g.bits[k].Name != b.Name || g.bits[k].Lacks != b.Lacks || !same(g.bits[k].DiaMM, b.DiaMM)) {
		k++
	}
	if k == len(g.bits) {
		g.bits = append(g.bits, b)
	}
	list := &g.bits[k].SetUps
	for i := range *list {
		if t := &(*list)[i]; alike(t, &s) {
			t.Holes = append(t.Holes, s.Holes...)
			return
		}
	}
	*list = append(*list, s)
}

func alike(a, b *SetUp) bool {
	return a.Toy == b.Toy && a.Part == b.Part && a.GlueUp == b.GlueUp && a.Op == b.Op && a.Side == b.Side && same(a.DrawnMM, b.DrawnMM) &&
		a.Through == b.Through && same(a.DepthMM, b.DepthMM) && a.LeanRad == b.LeanRad && a.Toward == b.Toward &&
		same(a.Counter, b.Counter) && same(a.CounterD, b.CounterD) && a.AfterSaw == b.AfterSaw && a.Op != OpBore
}

// NameBit finds the bit for a hole of a toy: among those of its shop where that says which there
// are, that of the toy's own units first. One that the shop has not is named all the same, to be
// got, with the nearest that it has; where no shop says anything, the nearest of the toy's own
// units stand beside a bit of the others.
func NameBit(mm float64, t *toy.Toy) Bit {
	b := Bit{DiaMM: settled(mm)}
	is := assembly.BitFor(mm, t.Shop, t.Units)
	says := t.Shop != nil && len(t.Shop.Bits) > 0
	switch own := facts.NameDrill(mm, assembly.BitsOf(nil, t.Units)[0]); {
	case is.Name == "":
		b.Lacks, b.Below, b.Above = says, is.Below.Name, is.Above.Name
		is = assembly.BitFor(mm, nil, t.Units)
	case !says && !own.Exists:
		b.Below, b.Above = own.Below.Name, own.Above.Name
	}
	if is.Name != "" {
		b.Name, b.DiaMM, b.Kind = is.Name, settled(is.MM), is.Kind
	}
	return b
}

// Drills tells whether holes are drilled with a bit, and not only the starts of openings.
func (b *Bit) Drills() bool {
	return slices.ContainsFunc(b.SetUps, func(s SetUp) bool { return s.Op != OpPierce })
}
