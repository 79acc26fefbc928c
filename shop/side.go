package shop

import (
	"fmt"
	"strings"

	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/toy"
)

// SideName is how every list, pattern and drawing names a side of a blank: the
// trade's word, and in brackets where it lies with the face up and the length
// forward, as the toy file may name it too.
func SideName(s toy.Side) string { return SideWord(s) + " (" + s.String() + ")" }

// SideWord is the trade's word for a side alone.
func SideWord(s toy.Side) string {
	return [...]string{toy.Top: "face", toy.Bottom: "other face", toy.Right: "edge", toy.Left: "other edge", toy.Front: "end", toy.Back: "other end"}[s]
}

// Looks returns which way a side of a piece looks in the toy; false if it leans.
func Looks(p *assembly.Piece, s toy.Side) (toy.Dir, bool) {
	out := p.Pose.Dir(assembly.SideFrame(s, p.Made.Size).W)
	for axis, dirs := range [3][2]toy.Dir{{toy.Backward, toy.Forward}, {toy.ToRight, toy.ToLeft}, {toy.Down, toy.Up}} {
		switch c := out.At(axis); {
		case c > looksMost:
			return dirs[1], true
		case c < -looksMost:
			return dirs[0], true
		}
	}
	return 0, false
}

// looksMost is the cosine up to which a side that leans a little still looks one way.
const looksMost = 0.9

// looksWord says which way a side looks: looks up, looks to the right.
func looksWord(d toy.Dir) string {
	return [...]string{"looks up", "looks down", "looks to the right", "looks to the left", "looks forward", "looks back"}[d]
}

// DirSide is what the side of a toy that looks so is called: the top, the right side.
func DirSide(d toy.Dir) string {
	return [...]string{"top", "bottom", "right side", "left side", "front", "back"}[d]
}

// ByHand says what is done to arrises and in sanding flush, a sentence each.
func ByHand(work []toy.Work, u measure.Unit) []string {
	var out []string
	for _, w := range work {
		switch w := w.(type) {
		case toy.Arris:
			verb := "chamfer "
			if w.Round {
				verb = "round "
			}
			where := "every arris"
			if len(w.Sides) > 0 {
				var names []string
				for _, p := range w.Sides {
					names = append(names, SideName(p[0])+" to "+SideName(p[1]))
				}
				where = "the arris " + strings.Join(names, ", ")
			}
			out = append(out, verb+where+" by "+w.By.Format(u))
		case toy.Flush:
			out = append(out, "sand the "+SideName(w.Side)+" flush with "+w.With)
		}
	}
	return out
}

// Hand is work by hand on a part or glue-up: arrises, and sanding flush.
type Hand struct {
	Toy     string   `json:"toy"`
	Part    string   `json:"part"`
	GlueUp  bool     `json:"glue_up,omitempty"`
	Pieces  int      `json:"pieces"`
	Spare   int      `json:"spare"`
	Numbers []int    `json:"numbers,omitempty"`
	Says    []string `json:"says"`
}

// byHand gathers the work by hand: parts, then glue-ups, in file order.
func byHand(o Order, used []usage) []Hand {
	var out []Hand
	m := o.Model
	for i := range m.Toy.Parts {
		p := &m.Toy.Parts[i]
		h := Hand{Toy: o.name, Part: p.Name, Pieces: countOf(used, p), Spare: spareOf(used, p), Says: ByHand(p.Work, m.Toy.Units)}
		for k, q := range m.Pieces {
			if q.Part.Name == p.Name {
				h.Numbers = append(h.Numbers, Number(k))
			}
		}
		if h.Pieces > 0 && len(h.Says) > 0 {
			out = append(out, h)
		}
	}
	for i := range m.Toy.GlueUps {
		g := &m.Toy.GlueUps[i]
		h := Hand{Toy: o.name, Part: g.Name, GlueUp: true, Says: ByHand(g.Work, m.Toy.Units)}
		for _, u := range m.GlueUps {
			if u.Spec.Name == g.Name {
				h.Pieces += o.Count
				for _, k := range u.Pieces {
					h.Numbers = append(h.Numbers, Number(k))
				}
			}
		}
		if h.Pieces > 0 && len(h.Says) > 0 {
			out = append(out, h)
		}
	}
	return out
}

// Numbers writes numbers of pieces: 1, 3–5.
func Numbers(n []int) string {
	var out []string
	for i := 0; i < len(n); {
		j := i
		for j+1 < len(n) && n[j+1] == n[j]+1 {
			j++
		}
		switch {
		case j == i:
			out = append(out, fmt.Sprint(n[i]))
		case j == i+1:
			out = append(out, fmt.Sprint(n[i]), fmt.Sprint(n[j]))
		default:
			out = append(out, fmt.Sprintf("%d–%d", n[i], n[j]))
		}
		i = j + 1
	}
	return strings.Join(out, ", ")
}

// listed joins words: a, b and c.
func listed(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
