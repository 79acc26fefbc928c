package shop

import (
	"strings"

	"dryfit/toy"
)

// Where a put piece sits, in plain words: what touches first, then what is flush,
// then the rest, in the order of the file.

// away says which way along an axis something lies, first the negative way.
var away = [3][2]string{{"behind", "ahead of"}, {"to the right of", "to the left of"}, {"below", "above"}}

// middles are the words for the middle in one direction of the toy.
var middles = [3]string{"in the middle, front to back", "in the middle", "in the middle of its height"}

func (w *words) put(s toy.Put, head string) string {
	var says, flush []string
	with := ""
	close := func() {
		if len(flush) > 0 {
			says = append(says, listed(flush)+" flush with "+with+"'s")
		}
		flush = nil
	}
	for _, sit := range s.Sits {
		_, _, side := toy.SideAxis(sit.Own)
		if side && sit.Own == sit.Target.Feature && sit.Off == 0 {
			if with != sit.Target.Piece {
				close()
			}
			with, flush = sit.Target.Piece, append(flush, sit.Own)
			continue
		}
		close()
		says = append(says, w.sit(s, sit))
	}
	close()
	out := head + strings.Join(says, ", ")
	if s.Saddle != nil {
		word := "straddles "
		if s.Saddle.Word == "slot" {
			word = "in a slot of "
		}
		out += "; " + word + s.Saddle.Over
	}
	switch {
	case s.Glued && len(s.GlueTo) > 0:
		out += "; glued to " + listed(s.GlueTo)
	case s.Glued || s.Saddle != nil && s.Saddle.Glued:
		out += "; glued"
	default:
		out += "; not glued"
	}
	if s.Lies != nil {
		if lies := Lies(*s.Lies); lies != "" {
			out += "; " + lies
		}
	}
	if s.Keyed != "" {
		out += ", held by " + s.Keyed + " while the glue sets"
	}
	if s.Leave != "" {
		out += "; may be left out"
	}
	return out
}

// sit says one line of where a piece sits.
func (w *words) sit(s toy.Put, sit toy.Sit) string {
	of := sit.Target.Piece + "'s "
	target := of + sit.Target.Feature
	axis, positive, side := toy.SideAxis(sit.Own)
	_, tp, targetSide := toy.SideAxis(sit.Target.Feature)
	if rest, ok := strings.CutPrefix(sit.Own, "middle"); ok {
		known := true
		switch rest {
		case "-along":
			axis = 0
		case "-across":
			axis = 1
		case "-up":
			axis = 2
		default:
			axis, known = w.free(s)
		}
		switch {
		case sit.Target.Feature != "middle" && sit.Off == 0:
			return "its middle on " + target
		case sit.Off != 0 && known:
			return "its middle " + w.off(sit, axis) + target
		case sit.Off != 0:
			return "its middle " + sit.Off.Format(w.unit) + " off " + target + " (forward, left and up are +)"
		case !known:
			return "in the middle of " + sit.Target.Piece
		}
		return middles[axis] + w.ofOther(s, sit)
	}
	flat := w.flat(sit.Target)
	switch {
	case side && sit.Off != 0:
		return sit.Own + " " + w.off(sit, axis) + target
	case side && (targetSide && positive != tp || flat) && sit.Own == "bottom":
		return sit.Own + " on " + target
	case side && (targetSide && positive != tp || flat):
		return sit.Own + " against " + target
	case side:
		return sit.Own + " level with " + target
	case flat && sit.Off == 0:
		return sit.Own + " on " + target
	case flat:
		return sit.Own + " " + sit.Off.Format(w.unit) + " off " + target + " (forward, left and up are +)"
	case sit.Off != 0:
		return sit.Own + " " + sit.Off.Format(w.unit) + " off " + target + " (forward, left and up are +)"
	}
	return sit.Own + " in line with " + target
}

// off is a distance with its direction: 3/16 in behind.
func (w *words) off(sit toy.Sit, axis int) string {
	if sit.Off < 0 {
		return (-sit.Off).Format(w.unit) + " " + away[axis][0] + " "
	}
	return sit.Off.Format(w.unit) + " " + away[axis][1] + " "
}

// ofOther names the piece that a middle is meant of, unless another line already
// speaks of that piece.
func (w *words) ofOther(s toy.Put, sit toy.Sit) string {
	for _, o := range s.Sits {
		if o.Target.Piece == sit.Target.Piece && !strings.HasPrefix(o.Own, "middle") {
			return ""
		}
	}
	return " of " + sit.Target.Piece
}

// free returns the direction that the sides of a put leave to its middle; false
// if other lines settle directions that their words do not tell.
func (w *words) free(s toy.Put) (axis int, ok bool) {
	var taken [3]bool
	left := 3
	for _, sit := range s.Sits {
		a, _, side := toy.SideAxis(sit.Own)
		switch {
		case sit.Own == "middle":
			continue
		case sit.Own == "middle-along":
			a = 0
		case sit.Own == "middle-across":
			a = 1
		case sit.Own == "middle-up":
			a = 2
		case !side:
			return 0, false
		}
		if !taken[a] {
			taken[a] = true
			left--
		}
	}
	for a := range taken {
		if !taken[a] {
			axis = a
		}
	}
	return axis, left == 1
}

// flat tells whether a reference means a flat that an outline names.
func (w *words) flat(r toy.Ref) bool {
	put, ok := w.step[r.Piece].(toy.Put)
	if !ok {
		return false
	}
	var work []toy.Work
	if p, ok := w.toy.PartNamed(put.Part); ok {
		work = p.Work
	} else if g, ok := w.toy.GlueUpNamed(put.Part); ok {
		work = g.Work
	}
	return toy.HasFlat(work, r.Feature)
}

// Lies says how a blank lies in the toy, "" if its face is up and its length
// forward. Its sides are named by the trade's words alone: top and front would be
// those of the blank, not of the toy that this speaks of.
func Lies(l toy.Lies) string {
	if l == toy.Natural || !l.Said && l == (toy.Lies{}) {
		return ""
	}
	n := toy.Natural
	n.Said, n.At = l.Said, l.At
	if l == n {
		return ""
	}
	point := [...]string{"points up", "points down", "points to the right", "points to the left", "points forward", "points back"}
	says := "the " + SideWord(l.Side) + " " + looksWord(l.Faces) + ", the " + SideWord(toy.Front) + " " + point[l.Length]
	if l.Lean != 0 {
		says += ", leaning " + l.Lean.Format()
	}
	return says
}
