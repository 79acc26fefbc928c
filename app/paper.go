package app

import (
	"fmt"
	"strings"

	"dryfit/measure"
	"dryfit/measure/formula"
	"dryfit/paper/layout"
)

// Print is what patterns are printed on, in words. The zero value is A4 on a
// printer that is true.
type Print struct {
	Paper              string  // a name of layout.Papers, or "roll=WIDTH"; "" is A4
	Margin             string  // "10 mm", "7 mm,bottom=15 mm"; "" is the usual one
	CorrectX, CorrectY float64 // what 100 mm across and up measured on paper, mm; 0: true
	// Care says where builders go wrong most, of those with that practice (facts.Skills); "" says nothing.
	Care string
	// Read returns the bytes of a file that the toy file names relative to itself: the
	// photograph for the cover. nil: the toy is drawn there instead.
	Read func(name string) ([]byte, error)
}

// PaperNames lists what Print.Paper may be, for help.
func PaperNames() []string {
	var names []string
	for _, p := range layout.Papers() {
		names = append(names, strings.ToLower(p.Name))
	}
	return append(names, "roll=WIDTH")
}

// paper reads the words. Numbers without a unit are in unit.
func (w Print) paper(unit measure.Unit) (layout.Paper, error) {
	p, err := paperNamed(w.Paper, unit)
	if err != nil {
		return p, err
	}
	if p.Margin, err = margins(w.Margin, p.Margin, unit); err != nil {
		return p, err
	}
	p.Measured.X, p.Measured.Y = w.CorrectX, w.CorrectY
	return p, nil
}

func paperNamed(name string, unit measure.Unit) (layout.Paper, error) {
	if name == "" {
		return layout.A4, nil
	}
	if kind, width, ok := strings.Cut(name, "="); ok && strings.EqualFold(strings.TrimSpace(kind), "roll") {
		w, err := lengthOf(width, unit)
		if err != nil {
			return layout.Paper{}, fmt.Errorf("paper %s: %w", name, err)
		}
		p := layout.Roll(w.MM())
		p.Name = "roll " + w.Format(unit)
		return p, nil
	}
	for _, p := range layout.Papers() {
		if strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			return p, nil
		}
	}
	return layout.Paper{}, fmt.Errorf("no paper is called %s: expected one of %s", name, strings.Join(PaperNames(), ", "))
}

// margins reads one length for all sides, or SIDE=LENGTH, or both by commas.
func margins(says string, m layout.Margin, unit measure.Unit) (layout.Margin, error) {
	if says == "" {
		return m, nil
	}
	for _, part := range strings.Split(says, ",") {
		side, text, named := strings.Cut(part, "=")
		if !named {
			side, text = "", part
		}
		l, err := lengthOf(text, unit)
		if err != nil {
			return m, fmt.Errorf("margin %s: %w", strings.TrimSpace(part), err)
		}
		switch strings.TrimSpace(side) {
		case "":
			m = layout.Even(l.MM())
		case "left":
			m.Left = l.MM()
		case "right":
			m.Right = l.MM()
		case "top":
			m.Top = l.MM()
		case "bottom":
			m.Bottom = l.MM()
		default:
			return m, fmt.Errorf("margin %s: expected left, right, top or bottom before =", strings.TrimSpace(part))
		}
	}
	return m, nil
}

// lengthOf reads a length such as "610 mm", "24 in" or "1/4".
func lengthOf(text string, unit measure.Unit) (measure.Length, error) {
	bad := fmt.Errorf("%q is no length: expected such as 10 mm or 1/2 in", strings.TrimSpace(text))
	e, fault := formula.Parse(strings.TrimSpace(text))
	if fault != nil || len(e.Names()) > 0 {
		return 0, bad
	}
	v, fault := e.Eval(unit, func(string) (formula.Value, bool) { return formula.Value{}, false }, nil)
	l, ok := v.AsLength(unit)
	if fault != nil || !ok || l < 0 {
		return 0, bad
	}
	return l, nil
}
