package shop

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"dryfit/measure"
)

// csvHead is the columns of CSV. Lengths stand twice: as the shop writes them,
// with their unit so that no spreadsheet takes 3/4 for a date, and in mm.
var csvHead = []string{"list", "stock", "wood", "form", "part", "pieces", "spare", "numbers", "goes_to", "length", "width", "thickness",
	"rough_length", "rough_width", "grain", "length_follows", "bit", "diameter", "operation", "side", "hole", "x_from", "x", "y_from", "y",
	"depth", "lean", "toward", "length_mm", "width_mm", "thickness_mm", "rough_length_mm", "rough_width_mm", "diameter_mm", "x_mm", "y_mm", "depth_mm", "note",
	"toy", "saw", "blade", "radius_mm", "pierce_mm", "amount", "unit", "price", "sum", "left_mm",
	"rough_thickness_mm", "allow_length_mm", "allow_width_mm"}

// CSV returns all lists as one table of RFC 4180, lines ended by CRLF: a line for
// each blank, each length of dowel, each stick as it is cut or bought, what is short, each saw cut,
// each hole, and so on; the column list tells which.
// Text that a spreadsheet would take for a formula has an apostrophe before it.
func (l *Lists) CSV() ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.UseCRLF = true
	rows := [][]string{csvHead}
	row := func(cells map[string]string) {
		r := make([]string, len(csvHead))
		for i, h := range csvHead {
			r[i] = cells[h]
			if h != "pieces" && h != "spare" && h != "amount" && h != "price" && h != "sum" && !strings.HasSuffix(h, "_mm") {
				r[i] = guard(r[i])
			}
		}
		rows = append(rows, r)
	}
	for _, s := range l.Stock {
		for _, b := range s.Blanks {
			c := map[string]string{"list": "stock", "toy": b.Toy, "stock": s.Name, "wood": s.Wood, "form": s.Form, "part": b.Part, "numbers": Numbers(b.Numbers), "grain": b.Grain,
				"pieces": strconv.Itoa(b.Count), "spare": strconv.Itoa(b.Spare), "length_follows": yes(b.Follows), "operation": b.Made}
			l.put(c, "length", b.LengthMM)
			l.put(c, "width", b.WidthMM)
			l.put(c, "thickness", b.ThickMM)
			if b.RoughLengthMM > 0 {
				l.put(c, "rough_length", b.RoughLengthMM)
				l.put(c, "rough_width", b.RoughWidthMM)
				c["rough_thickness_mm"], c["allow_length_mm"], c["allow_width_mm"] = decimal(b.RoughThickMM), decimal(b.AllowLengthMM), decimal(b.AllowWidthMM)
			}
			if b.Shape != ShapeBlock {
				l.put(c, "diameter", b.WidthMM)
			}
			row(c)
		}
		if s.ShortM2 > 0 {
			c := map[string]string{"list": "short", "stock": s.Name, "wood": s.Wood, "form": s.Form, "amount": decimal(s.ShortM2), "unit": "m2"}
			l.put(c, "thickness", s.ThickMM)
			row(c)
		}
	}
	for _, d := range l.Dowels {
		for _, x := range d.Lengths {
			c := map[string]string{"list": "dowel", "toy": x.Toy, "stock": strings.Join(d.Stock, ", "), "wood": d.Wood, "form": "dowel",
				"part": strings.Join(x.Parts, ", "), "numbers": Numbers(x.Numbers), "goes_to": strings.Join(x.For, "; "), "pieces": strconv.Itoa(x.Count), "spare": strconv.Itoa(x.Spare), "length_follows": yes(x.Follows)}
			l.put(c, "length", x.LengthMM)
			l.put(c, "diameter", d.DiaMM)
			row(c)
		}
	}
	l.stickRows(row)
	l.sawRows(row)
	for _, b := range l.Bits {
		for i := range b.SetUps {
			s := &b.SetUps[i]
			for _, h := range s.Holes {
				row(l.holeCells(b, s, h))
			}
		}
	}
	l.otherRows(row)
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// stickRows writes a line for each way in which a stick is cut, each that is bought, and each length
// that is short.
func (l *Lists) stickRows(row func(map[string]string)) {
	for i := range l.Dowels {
		d := &l.Dowels[i]
		for _, s := range d.Sticks {
			var cuts []string
			for _, c := range s.Cuts {
				cuts = append(cuts, fmt.Sprintf("%d × %s", c.Count, l.length(c.LengthMM)))
			}
			c := map[string]string{"list": "stick", "stock": s.Name, "wood": d.Wood, "form": "dowel", "pieces": strconv.Itoa(s.Times), "operation": s.From, "note": strings.Join(cuts, ", "), "left_mm": decimal(s.LeftMM)}
			l.put(c, "length", s.LengthMM)
			l.put(c, "diameter", d.DiaMM)
			row(c)
		}
		for _, b := range d.Buy {
			c := map[string]string{"list": "buy", "stock": b.Name, "wood": d.Wood, "form": "dowel", "pieces": strconv.Itoa(b.Count), "operation": b.From}
			if b.Price > 0 {
				c["price"] = decimal(b.Price)
			}
			l.put(c, "length", b.LengthMM)
			l.put(c, "diameter", d.DiaMM)
			row(c)
		}
		for _, x := range d.Short {
			c := map[string]string{"list": "short", "wood": d.Wood, "form": "dowel", "pieces": strconv.Itoa(x.Count)}
			l.put(c, "length", x.LengthMM)
			l.put(c, "diameter", d.DiaMM)
			row(c)
		}
	}
}

func (l *Lists) sawRows(row func(map[string]string)) {
	for _, s := range l.Saws {
		for _, x := range s.Cuts {
			c := map[string]string{"list": "saw", "toy": x.Toy, "part": x.Part, "pieces": strconv.Itoa(x.Pieces), "spare": strconv.Itoa(x.Spare), "saw": s.Saw, "blade": s.Blade, "operation": x.Op, "side": x.Side, "note": x.Why}
			l.put(c, "thickness", x.ThickMM)
			if x.RadiusMM > 0 {
				c["radius_mm"] = decimal(x.RadiusMM)
			}
			if x.PierceMM > 0 {
				c["pierce_mm"] = decimal(x.PierceMM)
			}
			row(c)
		}
	}
}

func (l *Lists) otherRows(row func(map[string]string)) {
	for _, w := range l.Wheels {
		c := map[string]string{"list": "wheel", "toy": w.Toy, "part": w.Part, "pieces": strconv.Itoa(w.Count), "spare": strconv.Itoa(w.Spare), "operation": w.Made, "note": strings.Join(w.Says, "; ")}
		l.put(c, "diameter", w.DiaMM)
		l.put(c, "thickness", w.ThickMM)
		row(c)
	}
	thing := func(list string, t Thing) {
		c := map[string]string{"list": list, "part": t.What, "unit": t.Unit, "note": t.Note}
		if t.Count > 0 {
			c["pieces"] = strconv.Itoa(t.Count)
		}
		if t.Unit != "" {
			c["amount"] = decimal(t.Most)
		}
		row(c)
	}
	for _, t := range l.Hardware {
		thing("hardware", t)
	}
	for _, t := range l.Consumables {
		thing("used up", t)
	}
	if l.Cost != nil {
		for _, x := range l.Cost.Lines {
			row(map[string]string{"list": "cost", "part": x.What, "amount": decimal(x.Amount), "unit": x.Unit, "price": decimal(x.Each), "sum": decimal(x.Sum)})
		}
		for _, what := range l.Cost.Unpriced {
			row(map[string]string{"list": "cost", "part": what, "note": "no price"})
		}
		row(map[string]string{"list": "cost", "part": "in all", "unit": l.Cost.Money, "sum": decimal(l.Cost.Total), "note": l.Cost.without()})
	}
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func (l *Lists) holeCells(b Bit, s *SetUp, h Hole) map[string]string {
	c := map[string]string{"list": "drill", "toy": s.Toy, "part": s.names(), "pieces": strconv.Itoa(s.Pieces), "spare": strconv.Itoa(s.Spare),
		"bit": b.Name, "operation": s.Op, "side": s.Side, "hole": h.Name, "x_from": s.XFrom, "y_from": s.YFrom, "depth": "through"}
	l.put(c, "diameter", s.DrawnMM)
	l.put(c, "x", h.XMM)
	l.put(c, "y", h.YMM)
	if !s.Through {
		l.put(c, "depth", s.DepthMM)
	}
	if s.LeanRad != 0 {
		c["lean"], c["toward"] = measure.Angle(s.LeanRad).Format(), s.Toward
	}
	var notes []string
	if b.Name == "" || b.Lacks {
		notes = append(notes, l.bitSays(b))
	}
	if s.Op == OpPierce {
		notes = append(notes, "where the pattern marks it")
	}
	if s.GlueUp {
		notes = append(notes, "in the glue-up, measured on its piece "+s.FromPiece)
	}
	if s.AfterSaw {
		notes = append(notes, "after sawing")
	}
	c["note"] = strings.Join(notes, "; ")
	return c
}

// put writes a length as the shop writes it and in mm.
func (l *Lists) put(c map[string]string, key string, mm float64) {
	c[key] = l.length(mm)
	c[key+"_mm"] = decimal(mm)
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

// guard keeps a spreadsheet from taking text for a formula: an apostrophe goes
// before what starts, blanks aside, with one of the signs that start one, in
// plain or full width. It is for text: numbers stay numbers.
func guard(s string) string {
	t := strings.TrimLeft(s, " \t\r\n\u00a0")
	if t == "" {
		return s
	}
	if strings.ContainsAny(s[:1], "\t\r\n") || strings.ContainsRune("=+-@＝＋－＠", []rune(t)[0]) {
		return "'" + s
	}
	return s
}
