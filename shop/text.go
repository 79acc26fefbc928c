package shop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"dryfit/measure"
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

// shortGrain says where the grain runs in few words.
var shortGrain = strings.NewReplacer("along the length", "along", "face grain along", "face along")

// made is how many toys are made.
func (l *Lists) made() (n int) {
	for _, t := range l.Toys {
		n += t.Count
	}
	return n
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

// without says what the total is without, "" if it is whole.
func (c *Cost) without() string {
	if len(c.Unpriced) == 0 {
		return ""
	}
	return "without what has no price"
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
