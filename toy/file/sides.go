package file

import (
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
)

// sideOf reads the words for the sides of a blank: the blank's own (top, right,
// front …) or the shop's (face, edge, end, and the other one of each).
func sideOf(word string) toy.Side {
	switch word {
	case "bottom", "other-face":
		return toy.Bottom
	case "right", "edge":
		return toy.Right
	case "left", "other-edge":
		return toy.Left
	case "front", "end":
		return toy.Front
	case "back", "other-end":
		return toy.Back
	}
	return toy.Top // top, face
}

func dirOf(word string) toy.Dir {
	switch word {
	case "down":
		return toy.Down
	case "right":
		return toy.ToRight
	case "left":
		return toy.ToLeft
	case "forward":
		return toy.Forward
	case "back":
		return toy.Backward
	}
	return toy.Up
}

func seenOf(word string) toy.Seen {
	switch word {
	case "left":
		return toy.SeenLeft
	case "up":
		return toy.SeenUp
	case "down":
		return toy.SeenDown
	}
	return toy.SeenRight
}

// sideSize returns the width and height of a side of a blank as seen.
func sideSize(p *toy.Part, s toy.Side) (w, h measure.Length) {
	switch s {
	case toy.Top, toy.Bottom:
		return p.Length, p.Width
	case toy.Right, toy.Left:
		return p.Length, p.Thick
	}
	return p.Width, p.Thick
}

// sideDepth returns how deep the blank is behind a side.
func sideDepth(p *toy.Part, s toy.Side) measure.Length {
	switch s {
	case toy.Top, toy.Bottom:
		return p.Thick
	case toy.Right, toy.Left:
		return p.Width
	}
	return p.Length
}

// liesOf resolves an attitude: exactly one second direction, square to the
// first, and a side that can look there.
func (r *resolver) liesOf(l *lies) toy.Lies {
	if l == nil {
		return toy.Natural
	}
	out := toy.Lies{Length: dirOf(l.Length.Text), Said: true, At: l.At}
	n := 0
	for _, second := range []struct {
		dir  toy.Dir
		word shape.Word
	}{{toy.Up, l.Up}, {toy.Down, l.Down}, {toy.ToLeft, l.Left}, {toy.ToRight, l.Right}, {toy.Forward, l.Forward}, {toy.Backward, l.Back}} {
		if second.word.Text == "" {
			continue
		}
		n++
		out.Faces, out.Side = second.dir, sideOf(second.word.Text)
		if a, _ := second.dir.Axis(); a == axisOf(out.Length) {
			r.problem("attitude", second.word.At, "the length already points that way or against it").Expected = "a direction square to the length"
		}
		if out.Side == toy.Front || out.Side == toy.Back {
			r.problem("attitude", second.word.At, "an end of a blank looks along its length, which already has a direction").Expected = "a face or an edge"
		}
	}
	if n != 1 {
		r.problem("attitude", l.At, "a blank is laid by two words: which way its length points, and one side and where it faces").Expected = "as {length: forward, up: face}"
		return toy.Natural
	}
	if l.Lean != nil {
		out.LeanDir = dirOf(l.Lean.About.Text)
		out.Lean = r.angle(l.Lean.By, 90)
	}
	return out
}

func axisOf(d toy.Dir) int {
	a, _ := d.Axis()
	return a
}

func rangeOf(at source.Range, otherwise source.Range) source.Range {
	if at == (source.Range{}) {
		return otherwise
	}
	return at
}
