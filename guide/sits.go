package guide

import (
	"strings"

	"dryfit/toy"
)

// Where a piece sits, line by line, in the words of the toy: left, right, front,
// back, top and bottom are those of the toy, which drives forward.

// middleAxis tells which direction a middle is meant in: the one that the other lines
// leave; false if only the geometry knows.
func (b *book) middleAxis(p toy.Put, own, within string) (int, bool) {
	word := map[string]int{"middle-along": 0, "middle-across": 1, "middle-up": 2}
	if a, ok := word[own]; ok {
		return a, true
	}
	var taken [3]bool
	for _, s := range p.Sits {
		if s.Own == "middle" && own == "middle" {
			continue
		}
		a, _, ok := toy.SideAxis(s.Own)
		if w, is := word[s.Own]; is {
			a, ok = w, true
		}
		if ok {
			taken[a] = true
			continue
		}
		if within != "" {
			s.Target.Piece = within + "/" + s.Target.Piece
		}
		along, known := b.along(s.Target)
		if !known {
			return 0, false
		}
		for i := range taken { // a hole on a hole settles both directions across it
			taken[i] = taken[i] || i != along
		}
	}
	free, n := 0, 0
	for a := range taken {
		if !taken[a] {
			free, n = a, n+1
		}
	}
	return free, n == 1
}

// along tells the axis that a hole runs along.
func (b *book) along(r toy.Ref) (int, bool) {
	for _, i := range b.Model.Find(r.Piece) {
		p := b.Model.Pieces[i]
		for k := range p.Made.Bores {
			if p.Made.Bores[k].Name != r.Feature {
				continue
			}
			d := p.Bore(k).Dir
			for a := range 3 {
				if c := d.At(a); c > 0.999 || c < -0.999 {
					return a, true
				}
			}
		}
	}
	return 0, false
}

// meets tells whether a line says that a piece lies against its target, rather than how
// far along it.
func (b *book) meets(s toy.Sit) bool {
	_, p, ok := toy.SideAxis(s.Own)
	_, tp, tok := toy.SideAxis(s.Target.Feature)
	return ok && s.Off == 0 && (tok && p != tp || !tok && b.isFlat(s.Target) && (s.Own == "bottom" || s.Own == "top"))
}

// isFlat tells whether a reference names a flat of an outline.
func (b *book) isFlat(r toy.Ref) bool { return toy.HasFlat(b.workOf(r.Piece), r.Feature) }

func (b *book) isHole(r toy.Ref) bool {
	for _, w := range b.workOf(r.Piece) {
		if d, ok := w.(toy.Drill); ok {
			for _, h := range d.Holes {
				if h.Name == r.Feature {
					return true
				}
			}
		}
	}
	return false
}

// workOf is the work on what an id stands for: a part, a glue-up, or a piece of the
// glue-up being told.
func (b *book) workOf(id string) []toy.Work {
	for _, g := range b.Model.GlueUps {
		if g.ID == id {
			return g.Spec.Work
		}
	}
	for _, i := range b.Model.Find(id) {
		return b.Model.Pieces[i].Part.Work
	}
	return nil
}

// measures says where a piece sits; within is the id of the glue-up that names are
// inside of, "" in the build.
func (b *book) measures(p toy.Put, within string) (out []Measure) {
	for _, s := range p.Sits {
		out = append(out, b.measure(p, s, within))
	}
	return out
}

func (b *book) measure(p toy.Put, s toy.Sit, within string) Measure {
	return b.measureOf(p, s, within, true)
}

// measureOf is measure; listed tells that it stands in a list of the piece's sides, where
// a piece that is called as a side is needs more words.
func (b *book) measureOf(p toy.Put, s toy.Sit, within string, listed bool) Measure {
	ref := s.Target
	if within != "" {
		ref.Piece = within + "/" + ref.Piece
	}
	host, name := b.nameOf(ref.Piece, ""), b.nameOf(p.ID, within)
	clash := listed && (soundsLikeASide(host) || soundsLikeASide(name))
	if soundsLikeASide(host) {
		host = b.say("dowels.name", "name", host, "numbers", numbers(b.Model.Find(ref.Piece)))
	}
	own, at := b.feature(toy.Ref{Piece: p.ID, Feature: s.Own}, within), b.feature(ref, "")
	slots := []any{"at", at, "host", host, "off", b.mm(max(s.Off.MM(), -s.Off.MM()))}
	axis, positive, side := toy.SideAxis(s.Own)
	_, tp, tside := toy.SideAxis(s.Target.Feature)
	if strings.HasPrefix(s.Own, "middle") {
		own = b.say("middle")
		known := false
		if axis, known = b.middleAxis(p, s.Own, within); known {
			own = b.say("middle." + [...]string{"along", "across", "up"}[axis])
		}
		switch {
		case s.Off != 0 && known:
			return Measure{"", own, b.say("at."+b.away(axis, s.Off > 0), slots...)}
		case s.Off != 0:
			return Measure{"", own, b.say("at.off", slots...)}
		case s.Target.Feature == "middle":
			return Measure{"", own, b.say("at.middle", slots...)}
		}
		return Measure{"", own, b.say("at.over", slots...)}
	}
	if _, _, is := toy.SideAxis(s.Own); is && clash {
		own = b.say("its", "side", own)
	}
	flat := b.isFlat(ref)
	switch {
	case side && s.Off != 0:
		return Measure{"", own, b.say("at."+b.away(axis, s.Off > 0), slots...)}
	case side && s.Own == s.Target.Feature && clash:
		return Measure{"", own, b.say("at.flush.that", slots...)}
	case side && s.Own == s.Target.Feature:
		return Measure{"", own, b.say("at.flush", slots...)}
	case side && (tside && positive != tp || flat) && s.Own == "bottom":
		return Measure{"", own, b.say("at.on", slots...)}
	case side && (tside && positive != tp || flat):
		return Measure{"", own, b.say("at.against", slots...)}
	case side:
		return Measure{"", own, b.say("at.level", slots...)}
	case s.Off != 0:
		return Measure{"", own, b.say("at.off", slots...)}
	case flat:
		return Measure{"", own, b.say("at.on", slots...)}
	}
	return Measure{"", own, b.say("at.over", slots...)}
}

// soundsLikeASide tells whether a piece is called as a side is, so that words must tell the
// two apart.
func soundsLikeASide(name string) bool {
	for _, w := range strings.Fields(name) {
		switch w {
		case "front", "back", "left", "right", "top", "bottom", "side":
			return true
		}
	}
	return false
}

// away is the word for a way along an axis.
func (b *book) away(axis int, positive bool) string {
	words := [3][2]string{{"behind", "ahead"}, {"right", "left"}, {"below", "above"}}
	if positive {
		return words[axis][1]
	}
	return words[axis][0]
}

// feature is the word for a side, hole or flat.
func (b *book) feature(r toy.Ref, within string) string {
	if within != "" {
		r.Piece = within + "/" + r.Piece
	}
	if _, _, ok := toy.SideAxis(r.Feature); ok || r.Feature == "middle" {
		return b.say("side." + r.Feature)
	}
	if b.isHole(r) {
		return b.say("hole", "name", plain(r.Feature))
	}
	return plain(r.Feature)
}
