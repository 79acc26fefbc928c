package page

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"dryfit/toy"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

// Glue returns the edits that make a glue-up of two pieces: the step of b goes into one with that of
// a, and all that speaks of either speaks of it inside the glue-up. b has to sit on a alone.
func Glue(root *tree.Node, b *Builds, first, second int, name string) ([]tree.Edit, error) {
	build := b.of("")
	if build == nil || first < 0 || second <= first || second >= len(build.Steps) {
		return nil, fmt.Errorf("there are no two such steps")
	}
	one, two := &build.Steps[first], &build.Steps[second]
	if err := gluable(root, build, one, two); err != nil {
		return nil, err
	}
	if root.At(tree.Join("parts", name)) != nil || root.At(tree.Join("glue-ups", name)) != nil {
		return nil, fmt.Errorf("there is already a part or a glue-up %s", name)
	}
	in := &describer{count: map[string]int{}} // inside the glue-up ids begin anew
	names := map[string]string{one.IDs[0]: in.id(one.Part), two.IDs[0]: in.id(orElse(two.Fields[0].Text, two.Part))}
	to := renamed(root, build, first, second, name, names)
	edits := []tree.Edit{}
	refer := func(path, text string) {
		if piece, feature, off, ok := file.SplitRef(text); ok && to[piece] != "" && to[piece] != piece {
			edits = append(edits, tree.Edit{Op: "set", Path: path, Value: strings.TrimSpace(to[piece] + "." + feature + " " + off), As: tree.AsText})
		}
	}
	for i, s := range build.Steps {
		if i == second {
			continue
		}
		for _, sit := range s.Sits {
			refer(sit.Path, sit.Text)
		}
		pieces(root, s, refer, func(path, id string) {
			if to[id] != "" && to[id] != id {
				edits = append(edits, tree.Edit{Op: "set", Path: path, Value: to[id], As: tree.AsText})
			}
		})
	}
	if n := root.At("cord.from"); n != nil {
		refer("cord.from", n.Text)
	}
	edits = append(edits, tree.Edit{Op: "set", Path: one.PartPath, Value: name, As: tree.AsText})
	under := []string{"put: " + one.Part}
	if one.Lies != nil && one.Lies.Said {
		under = append(under, "lies: "+flow(root.At(one.Lies.Path)))
		edits = append(edits, tree.Edit{Op: "remove", Path: one.Lies.Path})
	}
	value := "pieces:\n  - {" + strings.Join(under, ", ") + "}\n  - {" + inside(root, two, one.IDs[0], names) + "}"
	if root.At("glue-ups") == nil {
		edits = append(edits, tree.Edit{Op: "insert", Path: "glue-ups", Value: name + ":\n  " + strings.ReplaceAll(value, "\n", "\n  "), As: tree.AsYAML, To: "build"})
	} else {
		edits = append(edits, tree.Edit{Op: "insert", Path: tree.Join("glue-ups", name), Value: value, As: tree.AsYAML})
	}
	return append(edits, tree.Edit{Op: "remove", Path: two.Path}), nil
}

// gluable tells why two steps cannot become one glue-up.
func gluable(root *tree.Node, build *Build, one, two *BuildStep) error {
	a, b := one.IDs[0], two.IDs[0]
	for _, s := range []*BuildStep{one, two} {
		if s.Kind != "put" || root.At(tree.Join("parts", s.Part)) == nil {
			return fmt.Errorf("%s is no part that is put: only parts are glued into one", s.IDs[0])
		}
	}
	for _, key := range []string{"may-leave-out", "saddle", "slot", "keyed-by"} {
		if root.At(two.Path).Get(key) != nil {
			return fmt.Errorf("%s has %s, which is between pieces of the toy", b, key)
		}
	}
	for _, s := range two.Sits {
		if s.Piece != a {
			return fmt.Errorf("%s sits on %s too: place it by %s alone first", b, s.Piece, a)
		}
	}
	for _, id := range two.GlueTo {
		if id != a {
			return fmt.Errorf("%s is glued to %s too", b, id)
		}
	}
	// From now on the sides of both together say where the glue-up is.
	of := func(id string) *Seat {
		return &build.Seats[slices.IndexFunc(build.Seats, func(s Seat) bool { return s.ID == id })]
	}
	x, y := of(a), of(b)
	for _, s := range one.Sits {
		for _, axis := range s.Axes {
			_, positive, side := toy.SideAxis(s.Own)
			low, high := y.Low[axis] >= x.Low[axis], y.High[axis] <= x.High[axis]
			switch {
			case len(s.Axes) > 1 || !side && !strings.HasPrefix(s.Own, "middle"):
				return fmt.Errorf("%s is placed by its %s, which a glue-up does not have", a, s.Own)
			case side && (positive && !high || !positive && !low), !side && !(low && high):
				return fmt.Errorf("%s is placed by its %s, and %s stands out beyond it there", a, s.Own, b)
			}
		}
	}
	return nil
}

// renamed tells what each piece is called afterwards: ids of one name are numbered in their order.
func renamed(root *tree.Node, build *Build, first, second int, name string, inside map[string]string) map[string]string {
	to := map[string]string{}
	d := &describer{count: map[string]int{}}
	for i, s := range build.Steps {
		switch i {
		case second:
		case first:
			id := d.id(orElse(s.Fields[0].Text, name))
			for old, in := range inside {
				to[old] = id + "/" + in
			}
		default:
			for _, old := range s.IDs {
				base, _, _ := strings.Cut(old, ".")
				to[old] = d.id(base)
				if root.At(tree.Join("glue-ups", s.Part)) != nil {
					for _, seat := range build.Seats {
						if rest, ok := strings.CutPrefix(seat.ID, old+"/"); ok {
							to[seat.ID] = to[old] + "/" + rest
						}
					}
				}
			}
		}
	}
	return to
}

// pieces calls back with the holes and the pieces that a step names beside what it sits on.
func pieces(root *tree.Node, s BuildStep, hole, piece func(path, text string)) {
	each := func(path string, f func(path, text string)) {
		n := root.At(path)
		switch {
		case n == nil:
		case n.Kind == tree.Scalar:
			f(path, n.Text)
		default:
			for i, it := range n.Items {
				f(fmt.Sprintf("%s[%d]", path, i), it.Text)
			}
		}
	}
	for _, w := range s.Words {
		if w.Of == "holes" {
			each(w.Path, hole)
		}
	}
	for _, key := range []string{"glue-to", "keyed-by", "saddle.over", "slot.over"} {
		each(s.Path+"."+key, piece)
	}
}

// inside is what a piece that sits on another is in their glue-up, where it is glued anyway.
func inside(root *tree.Node, s *BuildStep, on string, names map[string]string) string {
	out := []string{"put: " + s.Part}
	if as := s.Fields[0].Text; as != "" {
		out = append(out, "as: "+as)
	}
	sits := []string{}
	for _, sit := range s.Sits {
		sits = append(sits, sit.Own+": "+scalar(strings.TrimSpace(names[on]+"."+sit.Feature+" "+sit.Off)))
	}
	out = append(out, "sits: {"+strings.Join(sits, ", ")+"}")
	if s.Lies != nil && s.Lies.Said {
		out = append(out, "lies: "+flow(root.At(s.Lies.Path)))
	}
	return strings.Join(out, ", ")
}

// flow writes a value in brackets.
func flow(n *tree.Node) string {
	parts := []string{}
	switch n.Kind {
	case tree.Map:
		for _, e := range n.Entries {
			parts = append(parts, e.Key.Text+": "+flow(e.Value))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	case tree.List:
		for _, it := range n.Items {
			parts = append(parts, flow(it))
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return scalar(n.Text)
}

func scalar(text string) string {
	if strings.ContainsAny(text, ",[]{}:#\"'") {
		return strconv.Quote(text)
	}
	return text
}
