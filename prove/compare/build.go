package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/geom/tol"
)

// What of the build is different: what is glued, what turns, which fits there are, in which order.
// The old toy is spoken of by the names of the new one.

// fact is something that a toy has or has not, or has in some way.
type fact struct {
	key  string // the same in both toys
	what string // how it is said
	says string // how it is; "" if there is nothing to say of it
}

// factChanges compares two lists: what is new, what is gone, what is another way.
func factChanges(kind string, was, now []fact, newly, gone, other string) (out []Change) {
	find := func(list []fact, key string) *fact {
		i := slices.IndexFunc(list, func(f fact) bool { return f.key == key })
		if i < 0 {
			return nil
		}
		return &list[i]
	}
	for _, n := range now {
		switch w := find(was, n.key); {
		case w == nil:
			out = append(out, Change{Kind: kind + " new", About: n.key, Says: fmt.Sprintf(newly, n.what, n.says)})
		case w.says != n.says:
			out = append(out, Change{Kind: kind + " other", About: n.key, Says: fmt.Sprintf(other, n.what, n.says, w.says)})
		}
	}
	for _, w := range was {
		if find(now, w.key) == nil {
			out = append(out, Change{Kind: kind + " gone", About: w.key, Says: fmt.Sprintf(gone, w.what, w.says)})
		}
	}
	return out
}

func (d *differ) build() []Change {
	out := []Change{}
	out = append(out, factChanges("glue", d.glues(d.was, true), d.glues(d.now, false), "%s%s: now glued", "%s%s: no longer glued", "%s: %s, was: %s")...)
	out = append(out, factChanges("saddle", d.saddles(d.was, true), d.saddles(d.now, false), "%s now, %s", "no longer: %s, %s", "%s: %s, was: %s")...)
	out = append(out, factChanges("hinge", d.hinges(d.was, true), d.hinges(d.now, false), "a new hinge, %s: %s", "the hinge %s is no longer there (%s)", "the hinge %s: %s, was: %s")...)
	out = append(out, factChanges("axle", d.axles(d.was, true), d.axles(d.now, false), "wheels on a new axle, %s: %s", "the axle %s with its wheels is no longer there (%s)", "%s: %s, was: %s")...)
	out = append(out, d.fits()...)
	out = append(out, factChanges("left out", d.leaves(d.was, true), d.leaves(d.now, false), "%s%s: may now be left out", "%s%s: may no longer be left out", "%s: %s, was: %s")...)
	return append(out, d.sequence()...)
}

// caller names what belongs to one of the toys by what the new one calls it.
func (d *differ) caller(old bool) func(string) string {
	if old {
		return d.called
	}
	return func(id string) string { return id }
}

// group is how some pieces are called together.
func (d *differ) group(m *assembly.Model, list []int, call func(string) string) string {
	if len(list) > 1 {
		g := m.Pieces[list[0]].GlueUp
		if g != "" && !slices.ContainsFunc(list, func(i int) bool { return m.Pieces[i].GlueUp != g }) {
			return call(g)
		}
	}
	var names []string
	for _, i := range list {
		names = append(names, call(m.Pieces[i].ID))
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}

// two names two groups in one order, whichever was said first.
func (d *differ) two(m *assembly.Model, a, b []int, call func(string) string) (key, says string) {
	x, y := d.group(m, a, call), d.group(m, b, call)
	return min(x, y) + "~" + max(x, y), min(x, y) + " to " + max(x, y)
}

func (d *differ) glues(m *assembly.Model, old bool) (out []fact) {
	for _, g := range m.Glues {
		key, says := d.two(m, g.A, g.B, d.caller(old))
		if !slices.ContainsFunc(out, func(f fact) bool { return f.key == key }) {
			out = append(out, fact{key: key, what: says})
		}
	}
	return out
}

func (d *differ) saddles(m *assembly.Model, old bool) (out []fact) {
	for _, s := range m.Saddles {
		key, says := d.two(m, s.A, s.B, d.caller(old))
		how := "loose"
		if s.Spec.Glued {
			how = "glued"
		}
		out = append(out, fact{key, "a " + s.Spec.Word + ", " + says, how})
	}
	for _, k := range m.Keys {
		key, says := d.two(m, k.A, k.B, d.caller(old))
		out = append(out, fact{"keyed " + key, "kept in place while the glue sets, " + says, "keyed"})
	}
	return out
}

func (d *differ) holes(m *assembly.Model, list []assembly.Hole, old bool) string {
	var names []string
	for _, h := range list {
		names = append(names, d.hole(m, h, old))
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}

// hole names a hole of a piece; one that an old piece has by what the new one calls it.
func (d *differ) hole(m *assembly.Model, h assembly.Hole, old bool) string {
	p := m.Pieces[h.Piece]
	name := p.Made.Bores[h.Bore].Name
	if !old {
		return p.ID + "/" + name
	}
	if now, ok := d.toNow[p.ID+"/"+name]; ok {
		return now
	}
	return d.called(p.ID) + "/" + name
}

// boresNow lists the holes of a new piece that the old one had.
func (d *differ) boresNow(a, b *assembly.Piece) (out []hole) {
	r := d.relate(a, b)
	was, now := boresOf(a), boresOf(b)
	for i := range was {
		was[i].Bore = was[i].Moved(r.align)
	}
	matchBores(was, now)
	for _, n := range now {
		if n.from != nil {
			out = append(out, n)
		}
	}
	return out
}

func (d *differ) hinges(m *assembly.Model, old bool) (out []fact) {
	for _, h := range m.Hinges {
		name := h.Name
		if old {
			name = d.hingeCalled(name)
		}
		says := "glued into " + d.holes(m, h.Fixed, old) + ", turns in " + d.holes(m, h.Runs, old)
		if h.Spec.LiftsOff {
			says += ", lifts off"
		}
		if h.Spec.Proud != 0 {
			says += ", its pin " + d.len(h.Spec.Proud.MM()) + " proud"
		}
		out = append(out, fact{name, name, says})
	}
	return out
}

func (d *differ) axles(m *assembly.Model, old bool) (out []fact) {
	for _, a := range m.Axles {
		name := d.caller(old)(m.Pieces[a.Rod].ID)
		says := "1 wheel"
		if n := len(a.Wheels[0]) + len(a.Wheels[1]); n != 1 {
			says = fmt.Sprintf("%d wheels", n)
		}
		says += ", play " + d.len(a.Play) + ", " + d.len(a.Proud) + " proud"
		if a.Gap > tol.Touch {
			says += ", gap " + d.len(a.Gap)
		}
		out = append(out, fact{name, name, says})
	}
	return out
}

// fits compares rods in the holes that somebody said they go in.
func (d *differ) fits() (out []Change) {
	type fit struct {
		key, says string
		kind      assembly.FitKind
		slack     float64
	}
	list := func(m *assembly.Model, old bool) (out []fit) {
		for _, f := range m.Fits {
			if f.Passing {
				continue
			}
			rod, at := d.caller(old)(m.Pieces[f.Rod].ID), d.hole(m, assembly.Hole{Piece: f.Piece, Bore: f.Bore}, old)
			out = append(out, fit{rod + "~" + at, rod + " in " + at, f.Kind, m.Slack(f)})
		}
		return out
	}
	words := map[assembly.FitKind]string{assembly.Glued: "glued", assembly.Running: "running"}
	was := list(d.was, true)
	for _, n := range list(d.now, false) {
		i := slices.IndexFunc(was, func(f fit) bool { return f.key == n.key })
		if i < 0 {
			continue // said of the pieces
		}
		w := was[i]
		if w.kind != n.kind {
			out = append(out, Change{Kind: "fit", About: n.key, Says: fmt.Sprintf("%s: %s, was: %s", n.says, words[n.kind], words[w.kind])})
		}
		if by := n.slack - w.slack; math.Abs(by) > tol.Touch {
			word := "looser"
			if by < 0 {
				word = "tighter"
			}
			out = append(out, Change{Kind: "fit slack", About: n.key, By: page(by), Says: n.says + ": " + d.len(math.Abs(by)) + " " + word})
		}
	}
	return out
}

func (d *differ) leaves(m *assembly.Model, old bool) (out []fact) {
	for i, p := range m.Pieces {
		if p.Leave == "" {
			continue
		}
		_, stays := d.ofWas[i]
		if !old {
			_, stays = d.ofNow[i]
		}
		if stays { // else it is new or gone, which is said
			id := d.caller(old)(p.ID)
			out = append(out, fact{key: id, what: id})
		}
	}
	return out
}
