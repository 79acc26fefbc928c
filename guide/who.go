package guide

import "slices"

// task is a kind of work, and who can do it.
type task struct {
	key   string // of its words: who.KEY
	years int    // a child from this age on can do it; 0: an adult does it
	alone bool   // without an adult's hands on it; an adult is always in the shop
}

// tasks are in the order in which they are told. The ages are a shop teacher's rule of
// thumb for a child who has been shown how: common practice, no source; that an adult
// saws and drills is said by facts.Cautions("child") too.
var tasks = []task{
	{"saw", 0, false},
	{"drill", 0, false},
	{"chisel", 0, false},
	{"turn", 0, false},
	{"pattern", 4, false},
	{"sand", 4, true},
	{"wax", 4, true},
	{"place", 4, false},
	{"glue", 6, false},
	{"tap", 6, false},
	{"clamp", 8, false},
	{"cut-dowel", 8, false},
	{"finish", 8, false},
	{"check", 8, true},
}

// who tells who does some tasks: a line for adults, one for each age.
func (b *book) who(keys ...string) (out []string) {
	type line struct {
		years int
		alone bool
		does  []string
	}
	var lines []line
	for _, t := range tasks {
		if !slices.Contains(keys, t.key) {
			continue
		}
		k := 0
		for k < len(lines) && (lines[k].years != t.years || lines[k].alone != t.alone) {
			k++
		}
		if k == len(lines) {
			lines = append(lines, line{years: t.years, alone: t.alone})
		}
		lines[k].does = append(lines[k].does, b.say("who."+t.key))
	}
	for _, l := range lines {
		k := slices.IndexFunc(lines, func(o line) bool { return o.years == l.years && o.alone != l.alone })
		switch {
		case l.years == 0:
			out = append(out, b.say("who-is.adult", "does", b.listed(l.does)))
		case k >= 0 && l.alone: // of one age: alone, and with an adult
			out = append(out, b.say("who-is.both", "years", l.years, "does", b.listed(l.does), "more", b.listed(lines[k].does)))
		case k >= 0:
		case l.alone:
			out = append(out, b.say("who-is.child", "years", l.years, "does", b.listed(l.does)))
		default:
			out = append(out, b.say("who-is.together", "years", l.years, "does", b.listed(l.does)))
		}
	}
	return out
}

// everyone tells what of all the toy's work an adult does, and a child of which age.
func (b *book) everyone() []string {
	has := b.kinds()
	keys := []string{"saw", "sand", "check", "finish"}
	for key, when := range map[string]bool{"drill": len(b.Lists.Bits) > 0, "chisel": has["deep"], "turn": has["turned"], "glue": len(b.Model.Glues) > 0 || len(b.Model.Axles) > 0,
		"clamp": len(b.Model.Glues) > 0, "wax": b.hasRunning(), "tap": len(b.Lists.Dowels) > 0, "cut-dowel": len(b.Lists.Dowels) > 0, "pattern": has["saw"] || has["cut"] || has["sawn"] || has["drill"], "place": true} {
		if when {
			keys = append(keys, key) // told in the order of the table
		}
	}
	return b.who(keys...)
}
