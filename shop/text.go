package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/measure"
	"dryfit/toy"
)

// How finished weights and rough amounts are printed for an inch toy: avoirdupois
// ounce (28.349523125 g) and the square foot, exact by the 1959 agreement.
const (
	kgPerOunce = 0.028349523125
	m2PerFoot2 = 12 * 12 * inch * inch * 1e-6
)

// wasteWord is wasteShare in words.
const wasteWord = "a quarter"

// Text prints the lists for a terminal or a sheet on the bench, in the units of
// the toy and at most Columns wide.
func (l *Lists) Text() string {
	p := &setter{}
	for _, b := range l.words() {
		p.set(b)
	}
	return strings.Map(func(r rune) rune { // a name must not steer the terminal
		if r == tie {
			return ' '
		}
		if r != '\n' && !unicode.IsPrint(r) {
			return unicode.ReplacementChar
		}
		return r
	}, p.b.String())
}

// Words says the lists in words as Text does, for whoever sets them otherwise.
func (l *Lists) Words() []Block {
	out := l.words()
	for i := range out {
		b := &out[i]
		b.Says = whole(b.Says)
		for _, r := range b.Rows {
			for k := range r {
				r[k] = whole(r[k])
			}
		}
	}
	return out
}

// whole puts the blank that no line is broken at for what stands for it.
func whole(s string) string { return strings.ReplaceAll(s, string(tie), "\u00a0") }

func (l *Lists) words() []Block {
	p := &page{}
	p.title(l.title() + ": wood, saws, drilling, and what else to get")
	l.headText(p)
	p.blank()
	l.stockText(p)
	for _, part := range []func(*page){l.dowelText, l.sawText, l.drillText, l.wheelText, l.handText, l.hardwareText, l.consumableText, l.costText} {
		part(p)
	}
	p.blank()
	l.spotText(p)
	if p.near() {
		p.blank()
		p.para("", "≈ is the nearest 1/64 in; the true length is a little off it.")
	}
	return p.blocks
}

// near tells whether a length was said that is not quite what it is.
func (p *page) near() bool {
	has := func(s string) bool { return strings.Contains(s, "≈") }
	return slices.ContainsFunc(p.blocks, func(b Block) bool {
		return has(b.Says) || slices.ContainsFunc(b.Rows, func(r []string) bool { return slices.ContainsFunc(r, has) })
	})
}

// title names the toys and how many of each.
func (l *Lists) title() string {
	var out []string
	for _, t := range l.Toys {
		if t.Count > 1 {
			out = append(out, fmt.Sprintf("%d × %s", t.Count, t.Toy))
		} else {
			out = append(out, t.Toy)
		}
	}
	return listed(out)
}

func (l *Lists) headText(p *page) {
	finished := "when finished"
	if l.made() > 1 {
		finished = "in all when finished"
	}
	p.para("", fmt.Sprintf("%d pieces, %s %s, spares not counted. Lengths are in %s.", l.Pieces, l.weight(l.WeightKg), finished, l.unitName()))
	if l.Shop != "" {
		p.para("", "What there is and what is sold is that of "+l.Shop+".")
	}
	for _, t := range l.Toys {
		says := ""
		if len(l.Toys) > 1 {
			says = t.Toy + ": "
		}
		switch {
		case len(t.Without) > 0:
			p.para("", says+"Left out: "+strings.Join(t.Without, ", ")+".")
		case len(l.Toys) > 1 || t.Count > 1:
			p.para("", fmt.Sprintf("%s%d %s of %d pieces, %s each.", says, t.Count, plural(t.Count, "toy", "toys"), t.Pieces, l.weight(t.WeightKg)))
		}
	}
	for _, n := range l.Notes {
		p.para("", "Note: "+n+".")
	}
}

// several tells whether rows have to say of which toy they are.
func (l *Lists) several() bool { return len(l.Toys) > 1 }

// of is the name of the toy of a row, "" where there is but one.
func (l *Lists) of(name string) string {
	if l.several() {
		return name
	}
	return ""
}

func (l *Lists) stockText(p *page) {
	p.title("Stock")
	a := l.Allowance
	says := fmt.Sprintf("Sizes are length × width × thickness. The numbers are those on the picture and the patterns. Rough sizes allow %s in length and %s in width for sawing, discs %s both ways", l.size(a.LengthMM), l.size(a.WidthMM), l.size(a.WidthMM))
	if a.ThickMM > 0 {
		says += ", and rough boards lose " + l.size(a.ThickMM) + " to the planer"
	}
	if a.From != usualAllowance {
		says += ", as " + a.From + " says"
	}
	p.para("", says+".")
	p.para("", "What to buy of boards and sheets is reckoned by area. Whole boards can be more: dryfit layout says which, and what lies on each.")
	for _, s := range l.Stock {
		p.blank()
		size := s.ThickMM
		what := " thick"
		if s.DiaMM > 0 {
			size, what = s.DiaMM, " diameter"
		}
		p.para("", fmt.Sprintf("%s: %s %s, %s%s", s.Name, s.Wood, s.Form, l.size(size), what))
		var rows [][]string
		for _, b := range s.Blanks {
			rows = append(rows, []string{l.of(b.Toy), Numbers(b.Numbers), b.Part, strconv.Itoa(b.Count), plus(b.Spare), l.finished(b), l.rough(b), shortGrain.Replace(b.Grain)})
		}
		p.table("  ", []string{"toy", "no.", "part", ">pieces", ">spare", "finished", "rough", "grain"}, rows)
		p.para("  ", l.amount(s))
		for _, x := range s.Strips {
			p.para("  ", fmt.Sprintf("or rip strips %s wide, %s of them in all, and cut %d blanks to length: %s", l.size(x.WidthMM), l.size(x.LengthMM), x.Pieces, strings.Join(x.Parts, ", ")))
		}
		for _, n := range s.Notes {
			p.para("  ", "Note: "+n+".")
		}
	}
}

// shortGrain says where the grain runs in few words.
var shortGrain = strings.NewReplacer("along the length", "along", "face grain along", "face along")

func (l *Lists) finished(b Blank) string {
	switch b.Shape {
	case ShapeDisc:
		return l.number(b.LengthMM) + " dia × " + l.number(b.ThickMM)
	case ShapeRod:
		return l.number(b.LengthMM) + " long" + star(b.Follows)
	case ShapeBall:
		return l.number(b.LengthMM) + " dia"
	}
	return l.number(b.LengthMM) + " × " + l.number(b.WidthMM) + " × " + l.number(b.ThickMM)
}

func (l *Lists) rough(b Blank) string {
	switch {
	case b.RoughLengthMM == 0:
		return "bought"
	case b.Shape == ShapeRod:
		return "see dowels"
	}
	return l.number(b.RoughLengthMM) + " × " + l.number(b.RoughWidthMM) + " × " + l.number(b.RoughThickMM)
}

// amount says how much to buy of a stock, and what is left of it in the toy.
func (l *Lists) amount(s Stock) string {
	var parts []string
	switch {
	case s.RoughAreaM2 == 0:
	case l.unit == measure.Inch && s.Form == toy.Board.String():
		from := ""
		if s.Nominal != "" {
			from = "of " + s.Nominal + " "
		}
		says := fmt.Sprintf("rough blanks %.2f board feet %s(%.2f sq ft; %.6f m³)", s.BoardFeet, from, s.RoughAreaM2/m2PerFoot2, s.RoughVolumeM3)
		if s.tallyMM < thinnestTally {
			says = strings.Replace(says, ")", "; under 1 in thick counts as 1 in)", 1)
		}
		parts = append(parts, fmt.Sprintf("%s, with %s more for waste %.2f board feet", says, wasteWord, s.BoardFeet*(1+wasteShare)))
	case l.unit == measure.Inch:
		parts = append(parts, fmt.Sprintf("rough blanks %.2f sq ft (%.6f m³), with %s more for waste %.2f sq ft", s.RoughAreaM2/m2PerFoot2, s.RoughVolumeM3, wasteWord, s.BuyAreaM2/m2PerFoot2))
	default:
		parts = append(parts, fmt.Sprintf("rough blanks %.4f m² (%.6f m³; %.2f board feet), with %s more for waste %.4f m²", s.RoughAreaM2, s.RoughVolumeM3, s.BoardFeet, wasteWord, s.BuyAreaM2))
		parts[0] = strings.Replace(parts[0], "; 0.00 board feet", "", 1)
	}
	if l.rack != nil && s.RoughAreaM2 > 0 && (len(l.rack.Boards) > 0 || len(l.rack.Sold.Boards) > 0) {
		switch {
		case len(s.OnRack) == 0:
			parts = append(parts, "the rack has no such "+s.Form)
		default:
			left, enough := "", "enough by area"
			if s.TakenM2 > 0 {
				left = " left by what is listed before"
			}
			if s.ShortM2 > 0 {
				enough = l.area(s.ShortM2) + " short by area"
			}
			parts = append(parts, fmt.Sprintf("the rack has %s%s (%s): %s", l.area(s.OnRackM2), left, strings.Join(s.OnRack, ", "), enough))
		}
	}
	return strings.Join(append(parts, "in the finished "+plural(l.made(), "toy", "toys")+" "+l.weight(s.WeightKg)), "; ")
}

// made is how many toys are made.
func (l *Lists) made() (n int) {
	for _, t := range l.Toys {
		n += t.Count
	}
	return n
}

func (l *Lists) dowelText(p *page) {
	if len(l.Dowels) == 0 {
		return
	}
	p.blank()
	p.title("Dowels")
	p.para("", fmt.Sprintf("Each saw cut takes %s, and %s of each stick are lost to a rough end. Cut each stick in the order that is given.", l.size(l.kerf()), l.size(l.waste())))
	follows := false
	for i := range l.Dowels {
		d := &l.Dowels[i]
		p.blank()
		p.para("", fmt.Sprintf("%s %s dowel (%s): %s in all%s", l.size(d.DiaMM), d.Wood, strings.Join(d.Stock, ", "), l.size(d.NeedMM), l.toBuy(d)))
		var rows [][]string
		for _, c := range d.Lengths {
			rows = append(rows, []string{l.of(c.Toy), l.number(c.LengthMM) + star(c.Follows), strconv.Itoa(c.Count), plus(c.Spare), Numbers(c.Numbers), strings.Join(c.For, "; ")})
			follows = follows || c.Follows
		}
		p.table("  ", []string{"toy", "length", ">pieces", ">spare", "no.", "for"}, rows)
		rows = nil
		for _, s := range d.Sticks {
			var cuts []string
			for _, c := range s.Cuts {
				if c.Count == 1 {
					cuts = append(cuts, l.number(c.LengthMM))
				} else {
					cuts = append(cuts, fmt.Sprintf("%d of %s", c.Count, l.number(c.LengthMM)))
				}
			}
			rows = append(rows, []string{strconv.Itoa(s.Times), l.stickName(s), l.number(s.LeftMM), strings.Join(cuts, ", ")})
		}
		p.table("  ", []string{">sticks", "from", "left of each", "cut in this order"}, rows)
		for _, n := range d.Notes {
			p.para("  ", "Note: "+n+".")
		}
	}
	if follows {
		p.blank()
		p.para("", "* follows from the build: measure it on your own parts before you cut.")
	}
}

func (l *Lists) stickName(s Stick) string {
	switch s.From {
	case FromRack:
		return l.number(s.LengthMM) + ", " + s.Name
	case FromSold:
		return l.number(s.LengthMM) + ", to buy (" + s.Name + ")"
	}
	return l.number(s.LengthMM) + ", to buy"
}

// toBuy says what sticks to buy, and whether less would do.
func (l *Lists) toBuy(d *Dowel) string {
	says, short := "", 0
	if len(d.Buy) > 0 {
		says = "; buy " + l.Sticks(d)
	}
	for _, x := range d.Short {
		short += x.Count
	}
	switch {
	case short > 0:
		return says + fmt.Sprintf("; %d %s short", short, plural(short, "piece is", "pieces are"))
	case len(d.Buy) == 0 && len(d.Sticks) > 0:
		return "; all of it is on the rack"
	case len(d.Buy) == 0:
		return ""
	}
	what := "length"
	if d.ByPrice {
		what = "price"
	}
	switch {
	case d.Proved:
		return says + " (proved to be the least by " + what + ")"
	case d.ByPrice:
		return says + fmt.Sprintf(" (at least %.2f has to be paid)", d.Least)
	}
	return says + " (at least " + l.size(settled(d.Least)) + " is needed)"
}

// Sticks says how many sticks to buy of a dowel: "1 stick of 36 in and 2 sticks of 48 in".
func (l *Lists) Sticks(d *Dowel) string {
	var out []string
	for _, b := range d.Buy {
		out = append(out, fmt.Sprintf("%d %s of %s", b.Count, plural(b.Count, "stick", "sticks"), l.size(b.LengthMM)))
	}
	return listed(out)
}

func (l *Lists) sawText(p *page) {
	if len(l.Saws) == 0 {
		return
	}
	p.blank()
	p.title("Sawing")
	p.para("", "By blade, so that each is put on once. A cut stands under the widest blade that turns its tightest curve, whose radius is given; a narrower one does it too, more slowly."+l.oneBlade())
	for _, s := range l.Saws {
		p.blank()
		switch {
		case s.Saw == SawStraight && s.Blade != "":
			p.para("", "Straight cuts ("+s.Blade+")")
		case s.Saw == SawStraight:
			p.para("", "Straight cuts")
		case s.Saw == SawByHand:
			p.para("", "By hand")
		default:
			p.para("", strings.ToUpper(s.Saw[:1])+s.Saw[1:]+", "+s.Blade+" blade")
		}
		var rows [][]string
		for _, c := range s.Cuts {
			what := c.Op
			switch c.Op {
			case OpBlank:
				what = "square blanks"
			case OpLength:
				what = "to length"
			case "saw":
				what = "outline"
			}
			if c.Each > 1 {
				what = fmt.Sprintf("%d × %s", c.Each, what)
			}
			if c.Side != "" && c.Op != "disc" {
				what += ", " + c.Side
			}
			if c.GlueUp {
				what += ", glued up"
			}
			radius, pierce := "", ""
			if c.RadiusMM > 0 {
				radius = l.number(c.RadiusMM)
			}
			if c.PierceMM > 0 {
				pierce = l.number(c.PierceMM)
			}
			row := []string{strconv.Itoa(c.Pieces), plus(c.Spare), l.number(c.ThickMM), radius, pierce, what, l.ofPart(c.Toy, c.Part)}
			if c.Why != "" {
				row[len(row)-1] += ": " + c.Why
			}
			rows = append(rows, row)
		}
		p.table("  ", []string{">pieces", ">spare", "thick", "curve", "pierce", "cut", "part"}, rows)
	}
}

// ofPart names a part, and its toy where there are several.
func (l *Lists) ofPart(name, part string) string {
	if l.several() {
		return name + ": " + part
	}
	return part
}

// oneBlade says which blade would do all the band sawing, where there are several.
func (l *Lists) oneBlade() string {
	n, last := 0, Saw{}
	for _, s := range l.Saws {
		if s.Saw == SawBand {
			n, last = n+1, s
		}
	}
	if n < 2 {
		return ""
	}
	return " One blade of " + strings.ReplaceAll(last.Blade, " ", string(tie)) + " does all of the band sawing."
}

func (l *Lists) wheelText(p *page) {
	if len(l.Wheels) == 0 {
		return
	}
	p.blank()
	p.title("Wheels and other discs")
	for _, made := range []struct{ key, says string }{{MadeSawn, "Sawn"}, {MadePlug, "With the hole saw"}, {MadeTurned, "Turned"}, {MadeBought, "Bought"}} {
		for _, w := range l.Wheels {
			if w.Made != made.key {
				continue
			}
			size := l.size(w.DiaMM) + " across, " + l.size(w.ThickMM) + " thick"
			if w.BoreMM > 0 {
				size += ", bore " + l.size(w.BoreMM)
			}
			p.para("  ", fmt.Sprintf("%s: %s, %d%s, %s; %s", made.says, l.ofPart(w.Toy, w.Part), w.Count, spares(w.Spare), size, strings.Join(w.Says, "; ")))
		}
	}
}

func (l *Lists) hardwareText(p *page) { l.thingText(p, "Bought ready made", l.Hardware) }

func (l *Lists) consumableText(p *page) {
	l.thingText(p, "Used up", l.Consumables)
}

func (l *Lists) thingText(p *page, title string, things []Thing) {
	if len(things) == 0 {
		return
	}
	p.blank()
	p.title(title)
	for _, t := range things {
		says := t.counted()
		if t.Unit == "mm" {
			says += ", " + l.size(settled(t.Least)) + " in all"
		} else if t.Unit != "" {
			about, amount := "", fmt.Sprintf("%g", t.Least)
			if t.Estimate {
				about = "about "
			}
			if t.Most > t.Least {
				amount += fmt.Sprintf(" to %g", t.Most)
			}
			unit := t.Unit
			if t.Most == 1 {
				unit = strings.TrimSuffix(unit, "s")
			}
			says += ": " + about + amount + string(tie) + unit
		}
		if t.Note != "" {
			says += "; " + t.Note
		}
		p.para("  ", says)
	}
}

func (l *Lists) costText(p *page) {
	c := l.Cost
	if c == nil {
		return
	}
	p.blank()
	p.title("Cost of what is to be bought")
	p.para("", "Sticks by number; boards and sheets by area, with "+wasteWord+" more for waste, less what is on the rack. They are sold whole: take their number and cost from dryfit layout.")
	var rows [][]string
	for _, x := range c.Lines {
		amount := fmt.Sprintf("%g %s", x.Amount, plural(int(x.Amount), strings.TrimSuffix(x.Unit, "s"), x.Unit))
		if x.Unit == "m2" {
			amount = l.area(x.Amount)
		}
		each := x.Each
		if x.Unit == "m2" && l.unit == measure.Inch {
			each *= m2PerFoot2
		}
		rows = append(rows, []string{fmt.Sprintf("%.2f", x.Sum), fmt.Sprintf("%.2f", each), amount, x.What})
	}
	total := strings.TrimSpace(c.Money + " in all")
	if without := c.without(); without != "" {
		total += ", " + without
	}
	rows = append(rows, []string{fmt.Sprintf("%.2f", c.Total), "", "", total})
	p.table("  ", []string{">sum", ">each", "amount", "for"}, rows)
	for _, u := range c.Unpriced {
		p.para("  ", "Without a price: "+u+".")
	}
}

func (l *Lists) drillText(p *page) {
	if len(l.Bits) == 0 {
		return
	}
	p.blank()
	p.title("Drilling")
	says := "A blank lies with its face up, its other end (back) to your left and its edge (right) toward you. Lay out each hole from the two sides named over it, on the squared blank before any outline is sawn."
	if l.made() > 1 {
		says += " One setting of fence, stop and depth serves all pieces of a line: set it on the first, drill them all, then set the next."
	}
	p.para("", says)
	for _, b := range l.Bits {
		p.blank()
		p.para("", l.bitSays(b))
		for i := range b.SetUps {
			l.setUpText(p, &b.SetUps[i], b.SetUps[i].DrawnMM-b.DiaMM)
		}
	}
}

// without says what the total is without, "" if it is whole.
func (c *Cost) without() string {
	if len(c.Unpriced) == 0 {
		return ""
	}
	return "without what has no price"
}

// bitSays names a bit, and what to do where there is none.
func (l *Lists) bitSays(b Bit) string {
	near := assembly.Bit{Below: facts.Drill{Name: b.Below}, Above: facts.Drill{Name: b.Above}}.Near()
	size := b.Name
	if size == "" {
		size = l.exact(b.DiaMM)
	}
	switch {
	case b.Lacks && b.Above == "":
		return "The shop has no bit as large as " + size + ": get one, saw the hole out, or take a hole saw"
	case b.Lacks && b.Name != "":
		return "Bit " + size + ", which the shop has not: get one, or make the hole in the toy file as wide as a bit there is (the nearest: " + near + ")"
	case b.Name == "" && b.Above == "":
		return "No bit is sold as large as " + size + " (the largest: " + b.Below + "): saw the hole out, or take a hole saw"
	case b.Name == "":
		return "No bit is sold for " + size + ": make the hole in the toy file as wide as a bit there is (the nearest: " + near + ")"
	case b.Above == "" && b.Below != "":
		return "Bit " + size + "; bits in " + l.unitName() + " are no larger than " + b.Below
	case b.Below != "":
		return "Bit " + size + "; of those in " + l.unitName() + " the nearest are " + near
	}
	return "Bit " + size
}

// handText prints what is done by hand to the arrises.
func (l *Lists) handText(p *page) {
	ease := false
	for _, t := range l.Toys {
		ease = ease || t.EaseMM > 0
	}
	if len(l.ByHand) == 0 && !ease {
		return
	}
	p.blank()
	p.title("By hand")
	for _, h := range l.ByHand {
		what := l.ofPart(h.Toy, h.Part)
		if h.GlueUp {
			what += " (once it is glued up)"
		}
		p.para("  ", fmt.Sprintf("%s: %d %s%s, %s", what, h.Pieces, plural(h.Pieces, "piece", "pieces"), spares(h.Spare), strings.Join(h.Says, "; ")))
	}
	for _, t := range l.Toys {
		if t.EaseMM > 0 {
			p.para("  ", l.ofPart(t.Toy, "all")+": ease every arris by "+l.size(t.EaseMM))
		}
	}
}

// spotText prints where each piece goes, in the order of the build.
func (l *Lists) spotText(p *page) {
	p.title("Where each piece goes")
	p.para("", "In the order of the build. Left, right, front, back, top and bottom are those of the toy, which drives forward.")
	last := ""
	for _, s := range l.Spots {
		if s.Toy != last && l.several() {
			p.para("", s.Toy+":")
		}
		last = s.Toy
		p.para("  ", Numbers(s.Numbers)+" "+s.Name()+": "+s.Where)
	}
}

func (l *Lists) setUpText(p *page, s *SetUp, off float64) {
	n := len(s.Holes)
	what := l.ofPart(s.Toy, s.names())
	if len(s.TurnedOver) > 0 {
		what += " (turned over afterwards)"
	}
	if s.GlueUp {
		what += " (once it is glued up)"
	}
	says := []string{fmt.Sprintf("%s: %d %s%s", what, s.Pieces, plural(s.Pieces, "piece", "pieces"), spares(s.Spare))}
	switch s.Op {
	case OpPierce:
		says = append(says, "from the "+s.Side+", through the waste of "+openings(n)+", where the pattern marks it")
	case OpBore:
		says = append(says, "through the middle, "+l.size(s.WoodMM)+" of wood")
		switch s.Made {
		case MadeBought:
			says = append(says, "bought with a hole: measure it, and drill it out if it is smaller")
		case MadePlug:
			says = append(says, "the pilot bit of the hole saw makes this hole if it is this size")
		}
	case OpCounterbore:
		says = append(says, "from the "+s.Side, "counterbore with a flat bottom "+l.size(s.DepthMM)+" deep, before the hole in its middle")
	default:
		says = append(says, "from the "+s.Side, l.depth(s))
	}
	if s.LeanRad != 0 {
		says = append(says, "leaning "+measure.Angle(s.LeanRad).Format()+" off square, going in toward the "+s.Toward+" as you look at the side")
	}
	if s.Counter > 0 {
		says = append(says, "counterbored first, "+l.size(s.Counter)+" wide and "+l.size(s.CounterD)+" deep")
	}
	if !same(off, 0) {
		says = append(says, "drawn as "+l.exact(s.DrawnMM))
	}
	if n > 1 && s.Op != OpPierce {
		says = append(says, fmt.Sprintf("%d holes in each", n))
	}
	if s.Stack > 1 {
		says = append(says, fmt.Sprintf("%d at a time, taped together", s.Stack))
	}
	if s.AfterSaw {
		says = append(says, "drilled after sawing: mark it before the edges to measure from are gone")
	}
	p.para("  ", strings.Join(says, ", "))
	if s.Op == OpBore || s.Op == OpPierce {
		return
	}
	heads := []string{"hole", "from " + s.XFrom, "from " + s.YFrom}
	if s.FromPiece != "" {
		heads[1] += " of " + s.FromPiece
	}
	var rows [][]string
	for _, h := range s.Holes {
		rows = append(rows, []string{h.Name, l.number(h.XMM), l.number(h.YMM)})
	}
	p.table("      ", heads, rows)
}

// openings says how many a piece has.
func openings(n int) string {
	if n == 1 {
		return "its opening"
	}
	return fmt.Sprintf("each of its %d openings", n)
}

func (l *Lists) depth(s *SetUp) string {
	switch {
	case !s.Through:
		return l.size(s.DepthMM) + " deep"
	case s.WoodMM > 0:
		return "through " + l.size(s.WoodMM)
	}
	return "right through"
}

// exact names a size that no rule shows: inch toys get thousandths beside it.
func (l *Lists) exact(mm float64) string {
	if l.unit == measure.Inch {
		return fmt.Sprintf("%s (%.4f in)", l.size(mm), mm/inch)
	}
	return measure.FromMM(mm).Exact()
}

// size is a length that a line is not broken in.
func (l *Lists) size(mm float64) string {
	return strings.ReplaceAll(l.length(mm), " ", string(tie))
}

func (l *Lists) unitName() string { return unitName(l.unit) }

func unitName(u measure.Unit) string {
	if u == measure.Inch {
		return "inches"
	}
	return "millimetres"
}

func (l *Lists) weight(kg float64) string {
	switch oz := kg / kgPerOunce; {
	case l.unit == measure.Inch && oz >= 48:
		return fmt.Sprintf("%.1f%clb (%s)", oz/16, tie, grams(kg))
	case l.unit == measure.Inch:
		return fmt.Sprintf("%.1f%coz (%s)", oz, tie, grams(kg))
	}
	return grams(kg)
}

// grams prints a weight in grams, from ten kilograms on in those.
func grams(kg float64) string {
	digits := 0
	if kg >= 10 {
		return fmt.Sprintf("%.1f%ckg", kg, tie)
	}
	if kg < 0.01 {
		digits = 1
	}
	return fmt.Sprintf("%.*f%cg", digits, kg*1000, tie)
}

func plural(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

func plus(n int) string {
	if n == 0 {
		return ""
	}
	return "+" + strconv.Itoa(n)
}

func spares(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf(" and %d spare", n)
}

func star(yes bool) string {
	if yes {
		return " *"
	}
	return ""
}
