package guide

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/measure"
	"dryfit/prove"
	"dryfit/shop"
	"dryfit/toy"
)

// What stands before the steps: cover, what is needed, cautions, habits, pieces.

// Words are the headings that pages are lettered with.
type Words struct {
	Guide, Needs, Cautions, Habits, Pieces, Checks, Notes                    string
	Where, Minds, Who, Wait, CheckWhat, CheckIs, CheckMine                   string
	PieceNumber, PieceName, PieceCount, PieceSize, PieceFrom, Patterns, Done string
	Page, OnPage, Made, NotSeen                                              string
}

func (s *speaker) labels() Words {
	l := func(key string) string { return s.say("label." + key) }
	return Words{Guide: l("guide"), Needs: l("needs"), Cautions: l("cautions"), Habits: l("habits"), Pieces: l("pieces"), Checks: l("checks"), Notes: l("notes"),
		Where: l("where"), Minds: l("minds"), Who: l("who"), Wait: l("wait"), CheckWhat: l("check-what"), CheckIs: l("check-is"), CheckMine: l("check-mine"),
		PieceNumber: l("piece-number"), PieceName: l("piece-name"), PieceCount: l("piece-count"), PieceSize: l("piece-size"), PieceFrom: l("piece-from"), Patterns: l("patterns"), Done: phrases["label.done"],
		Page: phrases["label.page"], OnPage: phrases["label.on-page"], NotSeen: l("not-seen"), Made: l("made")}
}

// Of letters "page 1 of 9".
func (w Words) Of(page, pages int) string {
	return fill("label.page", w.Page, map[string]any{"page": page, "pages": pages})
}

// On says on which pages a pattern of n sides is.
func (w Words) On(n int, pages string) string {
	return capital(fill("label.on-page", w.OnPage, map[string]any{"n": n, "pages": pages}))
}

// SeePage letters what is wrong with a toy, and on which page more is said of it.
func (w Words) SeePage(what string, page int) string {
	return capital(fill("unproved.page", phrases["unproved.page"], map[string]any{"what": what, "page": page}))
}

// SeeNotes is SeePage where there are no pages.
func (w Words) SeeNotes(what string) string {
	return capital(fill("unproved.chapter", phrases["unproved.chapter"], map[string]any{"what": what, "chapter": w.Notes}))
}

func (b *book) box() r3.Box {
	box := r3.EmptyBox()
	for _, p := range b.Model.Pieces {
		box = box.Union(p.Body.Bounds())
	}
	return box
}

func (b *book) cover() {
	t := b.Model.Toy
	months := t.Ages.FromMonths
	age := b.say("age.years", "n", months/12)
	if months < 24 {
		age = b.say("age.months", "n", months)
	}
	size := b.box().Size()
	b.g.Facts = []string{
		b.says("cover.age", "age", age),
		b.says("cover.size", "size", b.by(size.X, size.Y, prove.Height(b.Model))),
		b.says("cover.pieces", "n", len(b.Model.Pieces), "weight", b.weight(b.Lists.WeightKg)),
	}
	var ed []string
	if t.Edition > 0 {
		ed = append(ed, b.says("edition", "n", t.Edition))
	}
	if t.Licence != "" {
		ed = append(ed, capital(t.Licence))
	}
	b.g.Edition = strings.Join(ed, " · ")
	if len(b.Model.Without) > 0 {
		b.g.Facts = append(b.g.Facts, b.says("cover.without", "groups", b.listed(b.Model.Without)))
	}
}

func (b *book) weight(kg float64) string {
	n, unit := kg*1000, "g"
	if b.unit == measure.Inch {
		n, unit = kg/ounce, "oz"
	}
	if n < 0.95 { // below one: in tenths, and never nothing
		return fmt.Sprintf("%.1f %s", max(0.1, n), unit)
	}
	return fmt.Sprintf("%.0f %s", n, unit)
}

// ounce is the avoirdupois ounce in kg (international yard and pound agreement, 1959).
const ounce = 0.028349523125

func (b *book) needs() {
	l := b.Lists
	wood := List{Title: b.say("need.wood")}
	for _, s := range l.Stock {
		if s.Form == "dowel" {
			continue
		}
		if s.Form == "ball" {
			for _, x := range s.Blanks {
				wood.Items = append(wood.Items, b.says("need.ball", "n", x.Count+x.Spare, "dia", b.mm(s.DiaMM), "wood", s.Wood))
			}
			continue
		}
		var blanks []string
		bought := true
		for _, x := range s.Blanks {
			n := x.Count + x.Spare
			if x.Made == "bought" {
				blanks = append(blanks, b.say("need.bought", "count", n, "name", nounOf(x.Part, n), "dia", b.mm(x.LengthMM)))
				continue
			}
			bought = false
			blanks = append(blanks, b.say("need.blank", "count", n, "name", nounOf(x.Part, n), "size", b.by(x.RoughLengthMM, x.RoughWidthMM)))
		}
		key := "need.board"
		if s.Form == "sheet" {
			key = "need.sheet"
		}
		if bought {
			key = "need.wheels"
		}
		wood.Items = append(wood.Items, b.says(key, "wood", s.Wood, "thick", b.about(s.ThickMM), "blanks", strings.Join(blanks, "; ")))
	}
	for _, d := range l.Dowels {
		if len(d.Short) == 0 {
			var sticks []string
			for _, s := range d.Buy {
				sticks = append(sticks, b.say("need.stick", "n", s.Count, "stick", b.about(s.LengthMM)))
			}
			wood.Items = append(wood.Items, b.says("need.dowel", "wood", d.Wood, "dia", b.mm(d.DiaMM), "sticks", b.listed(sticks), "need", b.about(d.NeedMM)))
		} else {
			wood.Items = append(wood.Items, b.says("need.dowel.long", "wood", d.Wood, "dia", b.mm(d.DiaMM), "need", b.about(d.NeedMM)))
		}
	}
	if c := b.Model.Toy.Cord; c != nil {
		wood.Items = append(wood.Items, b.says("need.cord", "length", b.mm(c.Length.MM())))
	}

	tools := List{Title: b.say("need.tools")}
	var bits []string
	for _, x := range l.Bits {
		if !x.Drills() {
			continue
		}
		name := x.Name
		if name == "" {
			name = b.say("need.bit.none", "dia", b.mm(x.DiaMM))
		}
		deep := 0.0 // the deepest hole of it that is deeper than it reaches
		for _, h := range b.deep {
			if math.Abs(h.Dia-x.DiaMM) <= tol.Drill {
				deep = max(deep, h.Deep)
			}
		}
		if deep > 0 {
			name = b.say("need.bit.deep", "bit", name, "deep", b.about(deep))
		}
		bits = append(bits, name)
	}
	if len(bits) > 0 {
		tools.Items = append(tools.Items, b.says("need.drill"), b.says("need.bits", "bits", b.listed(bits), "n", len(bits)))
	}
	has := b.kinds()
	tools.Items = append(tools.Items, b.saws()...)
	if has["pierced"] {
		tools.Items = append(tools.Items, b.pierceTool())
	}
	if has["turned"] {
		tools.Items = append(tools.Items, b.says("need.turned"))
	}
	var stamped []string
	for _, w := range l.Wheels {
		if w.StampedMM > 0 && !slices.Contains(stamped, b.mm(w.StampedMM)) {
			stamped = append(stamped, b.mm(w.StampedMM))
		}
	}
	if len(stamped) > 0 {
		tools.Items = append(tools.Items, b.says("need.hole-saw", "n", len(stamped), "sizes", b.listed(stamped)))
	}
	if has["deep"] {
		tools.Items = append(tools.Items, b.says("need.deep"))
	}
	if n := b.deepRecesses(); n > 0 {
		tools.Items = append(tools.Items, b.says("need.bore", "n", n))
	}
	tools.Items = append(tools.Items, b.says("need.hand"))
	if len(b.Model.Glues) > 0 {
		tools.Items = append(tools.Items, b.says("need.clamps"))
	}

	rest := List{Title: b.say("need.rest"), Items: []string{b.says("need.paper"), b.says("need.sandpaper"), b.says("need.glue")}}
	if b.hasRunning() {
		rest.Items = append(rest.Items, b.says("need.wax"))
	}
	if f := b.Model.Toy.Finish; f != "" {
		rest.Items = append(rest.Items, b.says("need.finish.said", "finish", f))
	} else {
		rest.Items = append(rest.Items, b.says("need.finish"))
	}
	rest.Items = append(rest.Items, b.says("need.safety"))
	b.g.Needs = []List{wood, tools, rest}
}

func nounOf(part string, n int) string {
	if n == 1 {
		return plain(part)
	}
	return plural(plain(part))
}

// pierceTool names the bits that openings are pierced with: those that the patterns name.
func (b *book) pierceTool() string {
	var all []toy.Work
	for i := range b.Model.Toy.Parts {
		if p := &b.Model.Toy.Parts[i]; len(b.piecesOf(p)) > 0 || p.Spare > 0 {
			all = append(all, p.Work...)
		}
	}
	for _, g := range b.Model.GlueUps {
		all = append(all, g.Spec.Work...)
	}
	if bits := b.pierceBits(all); len(bits) > 0 {
		return b.says("need.pierce", "bits", b.listed(bits), "n", len(bits))
	}
	return b.says("need.pierce.fine")
}

// pierceBits are the bits that the openings among some work are pierced with, the largest first.
func (b *book) pierceBits(work []toy.Work) (names []string) {
	var mm []float64
	for _, w := range work {
		if c, ok := w.(toy.Cut); ok {
			if _, dia := shop.Pierced(c, b.Model.Toy); dia > 0 && !slices.Contains(mm, dia) {
				mm = append(mm, dia)
			}
		}
	}
	slices.Sort(mm)
	slices.Reverse(mm)
	for _, dia := range mm {
		names = append(names, b.bit(dia))
	}
	return names
}

// deepRecesses counts what is bored out before it is cut to a depth.
func (b *book) deepRecesses() (n int) {
	count := func(work []toy.Work) {
		for _, w := range work {
			if c, ok := w.(toy.Cut); ok && c.Depth.MM() > prove.DeepRecess+tol.Page {
				n++
			}
		}
	}
	for i := range b.Model.Toy.Parts {
		if p := &b.Model.Toy.Parts[i]; len(b.piecesOf(p)) > 0 || p.Spare > 0 {
			count(p.Work)
		}
	}
	for i := range b.Model.Toy.GlueUps {
		count(b.Model.Toy.GlueUps[i].Work)
	}
	return n
}

// kinds tells what kinds of work the toy has.
func (b *book) kinds() map[string]bool {
	has := map[string]bool{}
	mark := func(work []toy.Work) {
		saws := map[toy.Side]bool{}
		for _, w := range work {
			switch w := w.(type) {
			case toy.Saw:
				has["saw"], saws[w.Side] = true, true
			case toy.Cut:
				_, bored := assembly.BoredCut(w, b.Model.Toy)
				has["drill"] = has["drill"] || bored
				has["cut"] = has["cut"] || w.Depth == 0 && !bored
				has["deep"] = has["deep"] || w.Depth > 0
				has["pierced"] = has["pierced"] || w.Depth == 0 && w.Word == "cut-out" && !bored
			case toy.Drill:
				has["drill"] = true
			}
		}
		has["two sides"] = has["two sides"] || len(saws) > 1
	}
	for i := range b.Model.Toy.Parts {
		p := &b.Model.Toy.Parts[i]
		if len(b.piecesOf(p)) == 0 && p.Spare == 0 {
			continue
		}
		mark(p.Work)
		if p.Shape == toy.Disc {
			has[or(p.Made, "sawn")] = true
			has["spare"] = has["spare"] || p.Spare > 0
		}
		if key := small(p); key != "" {
			has[key] = true
		}
	}
	for _, g := range b.Model.GlueUps {
		mark(g.Spec.Work)
	}
	return has
}

// saws are the saws of the shop's list.
func (b *book) saws() (out []string) {
	var band, scroll float64 // their tightest curves; 0: none
	blade := ""              // the narrowest of the band saw
	for _, s := range b.Lists.Saws {
		least := 0.0
		for _, c := range s.Cuts {
			if c.RadiusMM > 0 && (least == 0 || c.RadiusMM < least) {
				least = c.RadiusMM
			}
		}
		switch s.Saw {
		case shop.SawBand:
			blade = s.Blade // they come wide before narrow
			if band == 0 || least > 0 && least < band {
				band = least
			}
		case shop.SawScroll:
			if scroll == 0 || least > 0 && least < scroll {
				scroll = least
			}
			out = []string{b.says("need.saw.fine")}
		}
	}
	if scroll > 0 {
		out = []string{b.says("need.saw.tight", "radius", b.mm(scroll))}
	}
	if blade != "" {
		out = append([]string{b.says("need.saw.curve", "radius", b.mm(band), "blade", blade)}, out...)
	}
	if len(out) == 0 {
		out = []string{b.says("need.saw")}
	}
	return out
}

func (b *book) cautions() {
	add := func(title string, topics ...string) {
		l := List{Title: b.say(title)}
		for _, c := range facts.Cautions(topics...) {
			l.Items = append(l.Items, c.Text)
		}
		b.g.Cautions = append(b.g.Cautions, l)
	}
	has := b.kinds()
	add("caution.child", "child", "small parts")
	if has["saw"] || has["cut"] || has["sawn"] {
		add("caution.saw", "saw")
	}
	if has["drill"] || len(b.Lists.Bits) > 0 {
		add("caution.drill", "drill")
	}
	if has["turned"] {
		add("caution.lathe", "lathe")
	}
	dust := "caution.dust"
	add(dust, "dust")
	if last := &b.g.Cautions[len(b.g.Cautions)-1]; !b.sensitive() && len(last.Items) > 1 {
		last.Items = last.Items[:1]
	}
	add("caution.glue", "glue", "finish")
}

// sensitive tells whether a wood of the toy has dust that makes skin and lungs sensitive.
func (b *book) sensitive() bool {
	for _, s := range b.Lists.Stock {
		if c, ok := facts.WoodCare(s.Wood); ok && c.Kind == facts.CareMouthed {
			return true
		}
	}
	return false
}

// habits save a beginner: each only where the toy has such a thing.
func (b *book) habits() {
	has := b.kinds()
	add := func(when bool, key string) {
		if when {
			b.g.Habits = append(b.g.Habits, b.says("habit."+key))
		}
	}
	rods := len(b.Lists.Dowels) > 0
	add(true, "read")
	add(true, "thick")
	add(rods && len(b.Lists.Bits) > 0, "scrap")
	add(has["two sides"], "two-sides")
	add(has["sawn"], "wheels")
	add(has["spare"], "spare")
	add(has["small"], "small")
	add(has["small.end"], "small.end")
	add(true, "dry-fit")
	add(b.hasRunning(), "running")
	add(b.hasRunning(), "wax")
	add(len(b.Model.Axles) > 0, "measure")
}

func (b *book) pieces() {
	type row struct {
		Piece
		order int
	}
	var rows []row
	add := func(nums []int, p Piece) {
		order := 1 << 20
		if len(nums) > 0 {
			order = nums[0]
		}
		p.Numbers = shop.Numbers(nums)
		rows = append(rows, row{p, order})
	}
	for _, s := range b.Lists.Stock {
		for _, x := range s.Blanks {
			p := Piece{Name: b.pieceName(x.Part, x.Numbers), Count: fmt.Sprint(x.Count), From: b.wood(s.Name)}
			if x.Spare > 0 {
				p.Count = b.say("piece.spare", "n", x.Count, "spare", x.Spare)
			}
			switch x.Shape {
			case "rod":
				p.Size = b.say("piece.rod", "length", b.mm(x.LengthMM), "dia", b.mm(x.WidthMM))
			case "disc":
				p.Size = b.say("piece.disc", "dia", b.mm(x.LengthMM), "thick", b.mm(x.ThickMM))
			case "ball":
				p.Size = b.say("piece.ball", "dia", b.mm(x.LengthMM))
			default:
				p.Size = b.by(x.LengthMM, x.WidthMM, x.ThickMM)
			}
			add(slices.Sorted(slices.Values(x.Numbers)), p)
		}
	}
	sort.SliceStable(rows, func(i, j int) bool { return rows[i].order < rows[j].order })
	for _, r := range rows {
		b.g.Pieces = append(b.g.Pieces, r.Piece)
	}
}

// pieceName is what the pieces of a part are called, and if that is the part's name, in the
// singular.
func (b *book) pieceName(part string, numbers []int) string {
	p, ok := b.Model.Toy.PartNamed(part)
	if !ok {
		return plain(part)
	}
	var pieces []int
	for _, n := range numbers {
		pieces = append(pieces, n-1)
	}
	return b.calledAll(p, pieces)
}
