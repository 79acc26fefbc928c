package page

import (
	"fmt"
	"strings"

	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/toy/file"
)

// Shift returns a formula for what lies by so much further than what text says. What hangs on
// other sizes goes on doing so: `length - 3/8` moved by 1/8 is `length - 1/4`. own is the unit of
// the file.
func Shift(text string, by measure.Length, own measure.Unit) (string, error) {
	if by == 0 {
		return text, nil
	}
	if l, ok := constant(text, own); ok {
		return written(l+by, own), nil
	}
	head, tail, minus, ok := lastTerm(text)
	if ok {
		if l, isConst := constant(tail, own); isConst {
			if minus {
				l = -l
			}
			return joined(head, l+by, own), nil
		}
	}
	if _, bad := formula.Parse(text); bad != nil {
		return "", fmt.Errorf("%q cannot be read", text)
	}
	return joined(strings.TrimSpace(text), by, own), nil
}

// Moved is Shift of a length, or ShiftRef of a place on a piece.
func Moved(text string, by measure.Length, own measure.Unit) (string, error) {
	if _, _, _, ok := file.SplitRef(text); ok {
		return ShiftRef(text, by, own)
	}
	return Shift(text, by, own)
}

// ShiftRef returns what text, a place on a piece as frame.front - 3/16, becomes when what sits there
// goes so much further forward, left or up.
func ShiftRef(text string, by measure.Length, own measure.Unit) (string, error) {
	piece, feature, off, ok := file.SplitRef(text)
	if !ok {
		return "", fmt.Errorf("%q is no place on a piece", text)
	}
	place := piece + "." + feature
	if off == "" {
		return joined(place, by, own), nil
	}
	moved, err := Shift("0 "+off, by, own) // the sign belongs to the formula
	if err != nil {
		return "", err
	}
	if l, ok := constant(moved, own); ok {
		return joined(place, l, own), nil
	}
	return place + " " + strings.TrimPrefix(moved, "0 "), nil
}

// constant returns the length that a formula without names is.
func constant(text string, own measure.Unit) (measure.Length, bool) {
	e, bad := formula.Parse(text)
	if bad != nil || len(e.Names()) > 0 {
		return 0, false
	}
	v, bad := e.Eval(own, func(string) (formula.Value, bool) { return formula.Value{}, false }, func() []string { return nil })
	if bad != nil {
		return 0, false
	}
	return v.AsLength(own)
}

// lastTerm parts a sum before its last term, brackets left whole.
func lastTerm(text string) (head, tail string, minus, ok bool) {
	depth := 0
	for i := len(text) - 1; i > 0; i-- {
		switch text[i] {
		case ')':
			depth++
		case '(':
			depth--
		case '+', '-':
			// A sign between two terms stands apart; one in a name or a mixed number does not.
			if depth == 0 && text[i-1] == ' ' && i+1 < len(text) && text[i+1] == ' ' {
				return strings.TrimSpace(text[:i]), strings.TrimSpace(text[i+1:]), text[i] == '-', true
			}
		}
	}
	return "", "", false, false
}

func joined(head string, l measure.Length, own measure.Unit) string {
	switch {
	case l == 0:
		return head
	case l < 0:
		return head + " - " + written(-l, own)
	}
	return head + " + " + written(l, own)
}

// written is a length as one types it: in the unit of the file without naming it.
func written(l measure.Length, own measure.Unit) string {
	return strings.TrimSuffix(l.ExactIn(own), " "+own.Symbol())
}
