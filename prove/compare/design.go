package compare

import (
	"fmt"
	"strings"

	"dryfit/toy"
)

// What else the file says: stock, what the toy must do, whom it is for.

// stock compares what is bought: by name, and else by what it is.
func (d *differ) stock() []Change {
	is := func(s toy.Stock) string {
		size := s.Thick
		if s.Form == toy.Dowel || s.Form == toy.Ball {
			size = s.Dia
		}
		says := fmt.Sprintf("%s %s, %s", s.Wood, s.Form, size.Format(d.unit))
		if s.Sawn != "" {
			says += ", " + s.Sawn + " sawn"
		}
		if s.Longest > 0 {
			says += ", up to " + s.Longest.Format(d.unit) + " long"
		}
		return says
	}
	was, now := d.was.Toy.Stock, d.now.Toy.Stock
	called := make([]string, len(was))
	taken := map[string]bool{}
	for i, w := range was {
		if _, ok := d.now.Toy.StockNamed(w.Name); ok {
			called[i], taken[w.Name] = w.Name, true
		}
	}
	for i, w := range was {
		for _, n := range now {
			if called[i] == "" && !taken[n.Name] && is(n) == is(w) {
				called[i], taken[n.Name] = n.Name, true
			}
		}
		if called[i] == "" {
			called[i] = w.Name
		}
	}
	var a, b []fact
	for i, s := range was {
		a = append(a, fact{called[i], called[i], is(s)})
	}
	for _, s := range now {
		b = append(b, fact{s.Name, s.Name, is(s)})
	}
	out := append([]Change{}, factChanges("stock", a, b, "new, %s: %s", "no longer needed, %s: %s", "%s: %s, was: %s")...)
	for _, n := range d.now.Toy.Parts { // what one buys or makes more of
		name := n.Name
		for _, p := range d.pairs {
			if d.now.Pieces[p.now].Part.Name == n.Name {
				name = d.was.Pieces[p.was].Part.Name
				break
			}
		}
		w, ok := d.was.Toy.PartNamed(name)
		if !ok {
			continue
		}
		if w.Made != n.Made && w.Shape == n.Shape {
			out = append(out, Change{Kind: "made", About: n.Name, Says: fmt.Sprintf("%s: %s, was: %s", n.Name, plainName(n.Made), plainName(w.Made))})
		}
		if w.Spare != n.Spare {
			out = append(out, Change{Kind: "spare", About: n.Name, Says: fmt.Sprintf("%s: %d spare, was: %d", n.Name, n.Spare, w.Spare)})
		}
	}
	return out
}

func (d *differ) musts() []Change {
	list := func(t *toy.Toy, call func(string) string) (out []fact) { // of hinges
		for _, m := range t.Musts {
			var f fact
			switch m.Kind {
			case toy.MustRoll:
				f = fact{key: "rolls", what: "it rolls"}
			case toy.MustSwing:
				h := call(m.Hinge)
				f = fact{"swings " + h, "the hinge " + h + " swings", "by at least " + m.Angle.Format()}
				if m.EachWay {
					f.says += " each way"
				}
			case toy.MustStand:
				f = fact{"stands", "it stands on a slope", "of " + m.Angle.Format()}
			case toy.MustClear:
				f = fact{"clears", "it clears the floor", "by " + m.Length.Format(d.unit)}
			case toy.MustTurn:
				f = fact{"turns", "it turns in a circle", "of " + m.Length.Format(d.unit)}
			}
			out = append(out, f)
		}
		return out
	}
	return tidy(factChanges("must", list(d.was.Toy, d.hingeCalled), list(d.now.Toy, d.caller(false)), "now asked: %s %s", "no longer asked: %s %s", "%s %s, was: %s"))
}

// tidy takes away the blank that an empty word leaves.
func tidy(list []Change) []Change {
	out := []Change{}
	for _, c := range list {
		c.Says = strings.TrimSpace(c.Says)
		out = append(out, c)
	}
	return out
}

func (d *differ) ages() []Change {
	out := []Change{}
	was, now := d.was.Toy.Ages, d.now.Toy.Ages
	if was.FromMonths != now.FromMonths {
		out = append(out, Change{Kind: "ages", Says: "from " + months(now.FromMonths) + ", was: from " + months(was.FromMonths)})
	}
	return out
}

func months(n int) string {
	switch {
	case n == 12:
		return "1 year"
	case n%12 == 0:
		return fmt.Sprintf("%d years", n/12)
	}
	return fmt.Sprintf("%d months", n)
}

// other compares what belongs to the whole toy.
func (d *differ) other() []Change {
	list := func(t *toy.Toy, call func(string) string) (out []fact) {
		add := func(what, says string) {
			if says != "" {
				out = append(out, fact{what, what, says})
			}
		}
		add("name", t.Name)
		if t.Edition > 0 {
			add("edition", fmt.Sprint(t.Edition))
		}
		if t.Ease > 0 {
			add("every arris eased by", t.Ease.Format(d.unit))
		}
		add("finish", t.Finish)
		add("licence", t.Licence)
		if c := t.Cord; c != nil {
			add("pull cord", fmt.Sprintf("%s free from %s, its end: %s", c.Length.Format(d.unit), call(c.From.Piece)+"."+c.From.Feature, c.End))
		}
		if t.Climate != nil && t.Climate.From == toy.FromFile {
			add("climate", t.Climate.Text)
		}
		for _, w := range t.Waivers {
			add("waived, "+w.Check+":"+rename(w.About, call), w.Reason)
		}
		return out
	}
	return append([]Change{}, factChanges("other", list(d.was.Toy, d.called), list(d.now.Toy, d.caller(false)), "now said, %s: %s", "no longer said, %s: %s", "%s: %s, was: %s")...)
}
