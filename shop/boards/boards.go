// Package boards lays the flat pieces of toys on the boards that a shop has, so that a
// maker can mark them out with rule and square: which piece on which board, where, and
// which way round; what is left of each board; what is short, why, and what to buy.
//
// [Lay] is the whole of it. shape.go says what shape each part is cut as, match.go which
// boards a stock can come from, rows.go lays pieces in plain rows, search.go looks for the
// fewest and smallest boards (shop/nest has the geometry), fill.go puts what is left into what
// is free, left.go finds what is left over, text.go says it all in words; paper/rack draws it.
package boards

import (
	"context"
	"errors"
	"math"
	"sort"
	"time"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/shop"
	"dryfit/shop/nest"
	"dryfit/toy"
)

// Format is the version of the data that Plan holds.
const Format = 1

// Run is a toy and how many of it are made.
type Run struct {
	Model *assembly.Model
	Count int
}

// Effort is how long to look. Without Time the same effort finds the same layout on any
// machine.
type Effort struct {
	Seed     uint64
	Rounds   int               // of the search, for each stock; 0: usual
	Hands    int               // searches side by side; 0: one
	Time     time.Duration     // for all stocks together; 0: as long as the rounds take
	Progress func(says string) // called with what is being done; may be nil
}

// usualRounds is the search for a stock of which nothing else is said.
const usualRounds = 1

// Plan is where all pieces lie.
type Plan struct {
	Format     int      `json:"format"`
	Units      string   `json:"units"`
	Toys       []Made   `json:"toys"`
	Money      string   `json:"money"`
	KerfMM     float64  `json:"kerf_mm"`     // between pieces
	HandlingMM float64  `json:"handling_mm"` // beyond the kerf between outlines, and from them to the edge
	FlawMM     float64  `json:"flaw_mm"`     // around a flaw, at least
	Stocks     []Stock  `json:"stocks"`
	Unused     []string `json:"unused"` // boards of the rack that nothing lies on
	Notes      []string `json:"notes"`
	Whole      bool     `json:"all_placed"` // on boards of the rack and of what is sold

	unit   measure.Unit
	spares []Board // as Unused, to be drawn
}

// Made is a toy of the plan.
type Made struct {
	Toy   string `json:"toy"`
	Count int    `json:"count"`
}

// Stock is one wood in one form and thickness.
type Stock struct {
	Wood    string  `json:"wood"`
	Form    string  `json:"form"`
	ThickMM float64 `json:"thick_mm"`
	Pieces  int     `json:"pieces"` // that are wanted
	Placed  int     `json:"placed"` // on boards that are there or sold
	Boards  []Board `json:"boards"` // that are used, first those of the rack, then what is to be bought
	Short   []Short `json:"short"`
	Buy     []Buy   `json:"buy"` // of what is sold, and to make up for what is short
	// Of the boards of the rack and what is sold; Share is PiecesM2 of BoardsM2.
	BoardsM2 float64  `json:"boards_m2"`
	PiecesM2 float64  `json:"pieces_m2"`
	Share    float64  `json:"share"`
	Notes    []string `json:"notes"`
}

// Short is pieces without a place.
type Short struct {
	Toy   string `json:"toy"`
	Part  string `json:"part"`
	Count int    `json:"count"`
	Why   string `json:"why"`
}

// Buy is boards to buy.
type Buy struct {
	Name     string  `json:"name"`
	Count    int     `json:"count"`
	LengthMM float64 `json:"length_mm"`
	WidthMM  float64 `json:"width_mm"`
	ThickMM  float64 `json:"thick_mm"`
	Price    float64 `json:"price"` // of all of them
	Source   string  `json:"source"`
}

// Where a board comes from.
const (
	FromRack  = shop.FromRack
	FromSold  = shop.FromSold  // what the shop file says is sold
	FromTrade = shop.FromTrade // what is commonly sold
)

// Board is a board with the pieces on it, as it lies on the bench, face up.
type Board struct {
	Name      string       `json:"name"`
	From      string       `json:"from"`
	ThickMM   float64      `json:"thick_mm"`
	PlaneToMM float64      `json:"plane_to_mm"`  // 0: as it is
	CutMM     float64      `json:"cut_first_mm"` // cut to this length before it is planed; 0: not
	Across    bool         `json:"grain_across"` // the grain runs along y
	Price     float64      `json:"price"`
	OutlineMM [][2]float64 `json:"outline_mm"`
	Flaws     []Flaw       `json:"flaws"`
	Places    []Place      `json:"places"`
	AreaM2    float64      `json:"area_m2"`
	PiecesM2  float64      `json:"pieces_m2"`
	Left      []Rest       `json:"left"` // the largest rectangle that is left in one piece; none: waste only

	shape nest.Shape
	copy  copyOf
}

// Flaw is a place to keep clear of.
type Flaw struct {
	Why      string       `json:"why"`
	At       [][2]float64 `json:"at_mm"`
	Round    bool         `json:"round"`
	XMM      float64      `json:"x_mm"` // from the board's lower left corner to its own; of a round to its middle
	YMM      float64      `json:"y_mm"`
	LengthMM float64      `json:"length_mm"` // along x; of a round its diameter
	WidthMM  float64      `json:"width_mm"`
}

// Rest is a rectangle of a board.
type Rest struct {
	XMM      float64 `json:"x_mm"`
	YMM      float64 `json:"y_mm"`
	LengthMM float64 `json:"length_mm"` // along x
	WidthMM  float64 `json:"width_mm"`
}

// What a piece is laid as.
const (
	AsOutline = "outline" // its true line, sawn to
	AsBlank   = "blank"   // squared, to be worked on
	AsRound   = "round"   // a round to saw
	AsPlug    = "plug"    // what a hole saw takes out
)

// Place is where a piece lies on its board. X and Y are from the board's lower left corner:
// to the lower left corner of the box around the piece, of a round to its middle.
type Place struct {
	Mark     int            `json:"mark"` // counted over a board, as it is drawn
	Toy      string         `json:"toy"`
	Part     string         `json:"part"`
	Number   int            `json:"number"` // of the piece, as on picture and patterns; 0: a spare
	As       string         `json:"as"`
	XMM      float64        `json:"x_mm"`
	YMM      float64        `json:"y_mm"`
	LengthMM float64        `json:"length_mm"` // of the piece itself, along its grain; of a round its diameter
	WidthMM  float64        `json:"width_mm"`
	Turn     int            `json:"turn_deg"`   // counter-clockwise
	Over     bool           `json:"over"`       // its other face is up
	Outline  [][2]float64   `json:"outline_mm"` // where it lies, but of rounds
	Holes    [][][2]float64 `json:"holes_mm"`
}

// Usual room around pieces where the shop says nothing, mm, to follow a line by hand. Common
// practice, no source.
const (
	usualHandlingInch = facts.MMPerInch / 8
	usualHandlingMM   = 3.0
)

// margins are what is lost between pieces, mm.
type margins struct{ kerf, handling float64 }

func marginsOf(s *toy.Shop, u measure.Unit) margins {
	m := margins{shop.KerfOf(s, u), usualHandlingMM}
	if u == measure.Inch {
		m.handling = usualHandlingInch
	}
	if s != nil && s.Rack != nil && s.Rack.Handling != nil {
		m.handling = s.Rack.Handling.MM()
	}
	return m
}

// Lay lays the pieces of all toys, spares with them, on the boards of a shop: as few and as
// small ones as it finds, those of the rack before those that are sold, and of these what costs
// least. The shop may be nil. When the context ends, what is found by then is returned; the
// error is of a shape that no layout can be made of, or of no toys.
func Lay(ctx context.Context, runs []Run, s *toy.Shop, e Effort) (*Plan, error) {
	if len(runs) == 0 {
		return nil, errors.New("there is no toy to lay the pieces of")
	}
	p := &Plan{Format: Format, Stocks: []Stock{}, Unused: []string{}, Notes: []string{}, Toys: []Made{}, Whole: true}
	if e.Rounds == 0 {
		e.Rounds = usualRounds
	}
	p.unit = runs[0].Model.Toy.Units
	p.Units = p.unit.String()
	m := marginsOf(s, p.unit)
	p.KerfMM, p.HandlingMM, p.FlawMM = m.kerf, m.handling, m.flaw()
	rack := &toy.Rack{}
	if s != nil && s.Rack != nil {
		rack = s.Rack
	}
	p.Money = rack.Money
	var groups []*group
	for _, r := range runs {
		p.Toys = append(p.Toys, Made{r.Model.Toy.Name, r.Count})
		if err := gather(ctx, &groups, r, len(runs) > 1, m); err != nil {
			return nil, err
		}
	}
	hard := make([]float64, len(groups))
	for i, g := range groups {
		g.find(rack, p.unit)
		hard[i] = float64(g.pieces()) * math.Sqrt(float64(1+len(g.has)))
	}
	end := time.Now().Add(e.Time)
	taken := map[copyOf]bool{} // boards of the rack
	for i, g := range groups {
		over, cancel := ctx, context.CancelFunc(func() {})
		if e.Time > 0 {
			over, cancel = context.WithTimeout(ctx, share(time.Until(end), hard[i:]))
		}
		if e.Progress != nil {
			e.Progress(g.says(p.unit))
		}
		st, err := g.lay(ctx, over, p, taken, m, e)
		cancel()
		if err != nil {
			return nil, err
		}
		p.Stocks = append(p.Stocks, st)
		p.Whole = p.Whole && len(st.Short) == 0
	}
	p.number(rack.Boards)
	for _, b := range rack.Boards {
		for n, c := range copies(b) {
			if !taken[copyOf{b.Name, n + 1}] {
				p.Unused = append(p.Unused, c.Name)
				p.spares = append(p.spares, boardOf(c, FromRack, 0))
			}
		}
	}
	return p, nil
}

// share is the part of what time is left that the first of some stocks has, by how hard each is.
func share(left time.Duration, hard []float64) time.Duration {
	sum := 0.0
	for _, h := range hard {
		sum += h
	}
	return time.Duration(float64(left) * hard[0] / sum)
}

// A group is all that is cut from one stock.
type group struct {
	wood  facts.Row
	form  toy.Form
	thick float64
	cuts  []cut
	has   []candidate // of the rack
	sold  []candidate
	whys  []string // why boards of this wood do not do
	rack  *toy.Rack
	// all boards that are sold have a price
	priced bool
}

// A cut is a part in its shape, as often as it is wanted.
type cut struct {
	toy, part     string
	as            string
	shape         nest.Shape
	turns         []nest.Turn
	room          float64
	length, width float64
	numbers       []int  // of the pieces of one toy
	spare, runs   int    // spares of all toys, and toys
	rough         r2.Vec // as a squared blank
}

func (c *cut) count() int { return len(c.numbers)*c.runs + c.spare }

// number is that of the piece that is laid after n others: those of one toy after the other, and
// then 0, for spares.
func (c *cut) number(n int) int {
	if n < len(c.numbers)*c.runs {
		return c.numbers[n%len(c.numbers)]
	}
	return 0
}

func (g *group) pieces() (n int) {
	for i := range g.cuts {
		n += g.cuts[i].count()
	}
	return n
}

// gather adds the flat pieces of a toy to the groups.
func gather(ctx context.Context, groups *[]*group, r Run, several bool, m margins) error {
	lists := shop.ListAll(ctx, []shop.Order{{Model: r.Model, Count: 1}})
	for _, st := range lists.Stock {
		spec, _ := r.Model.Toy.StockNamed(st.Name)
		if spec.Form != toy.Board && spec.Form != toy.Sheet {
			continue
		}
		w, err := facts.FindWood(st.Wood)
		if err != nil {
			return err
		}
		var g *group
		for _, o := range *groups {
			if o.wood.Name == w.Name && o.form == spec.Form && math.Abs(o.thick-st.ThickMM) < tol.Page {
				g = o
			}
		}
		for _, b := range st.Blanks {
			if b.RoughLengthMM == 0 {
				continue // bought
			}
			if g == nil {
				g = &group{wood: w, form: spec.Form, thick: st.ThickMM}
				*groups = append(*groups, g)
			}
			p, _ := r.Model.Toy.PartNamed(b.Part)
			c := cutOf(r.Model, p, b, w, m)
			c.runs, c.spare = r.Count, shop.SparesOf(p, r.Count)
			if several {
				c.toy = r.Model.Toy.Name
			}
			g.cuts = append(g.cuts, c)
		}
	}
	return nil
}

func areaOf(s nest.Shape) float64 {
	a := math.Abs(outline.SignedArea(s.Outer))
	for _, h := range s.Holes {
		a -= math.Abs(outline.SignedArea(h))
	}
	return a
}

func pairs(pts []r2.Vec) [][2]float64 {
	out := make([][2]float64, len(pts))
	for i, p := range pts {
		out[i] = [2]float64{rounded(p.X), rounded(p.Y)}
	}
	return out
}

// rounded brings a length to tol.Page.
func rounded(mm float64) float64 {
	r := math.Round(mm/tol.Page) * tol.Page
	return measure.FromMM(r).MM()
}

// kept brings an area in m² or a share to a millionth.
func kept(x float64) float64 { return math.Round(x*1e6) / 1e6 }

// sorted lists the indexes 0 to n-1 by less, equals in order.
func sorted(n int, less func(a, b int) bool) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	sort.SliceStable(out, func(i, j int) bool { return less(out[i], out[j]) })
	return out
}
