package guide

import (
	"slices"

	"dryfit/facts"
)

// Who can do what is facts.Deeds; the words for it are who.NAME.

// who tells who does some tasks: a line for adults, one for each age.
func (b *book) who(keys ...string) (out []string) {
	type line struct {
		years int
		alone bool
		does  []string
	}
	var lines []line
	for _, d := range facts.Deeds() {
		if !slices.Contains(keys, d.Name) {
			continue
		}
		k := 0
		for k < len(lines) && (lines[k].years != d.Years || lines[k].alone != d.Alone) {
			k++
		}
		if k == len(lines) {
			lines = append(lines, line{years: d.Years, alone: d.Alone})
		}
		lines[k].does = append(lines[k].does, b.say("who."+d.Name))
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
	for key, when := range map[string]bool{"drill": has["drill"] || len(b.Lists.Bits) > 0, "chisel": has["deep"], "turn": has["turned"], "glue": len(b.Model.Glues) > 0 || len(b.Model.Axles) > 0,
		"clamp": len(b.Model.Glues) > 0, "wax": b.hasRunning(), "tap": len(b.Lists.Dowels) > 0, "cut-dowel": len(b.Lists.Dowels) > 0, "pattern": has["saw"] || has["cut"] || has["sawn"] || has["drill"], "place": true, "tie": b.Model.Toy.Cord != nil} {
		if when {
			keys = append(keys, key) // told in the order of the table
		}
	}
	return b.who(keys...)
}
