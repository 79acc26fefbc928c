package app

import (
	"context"
	"errors"
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/guide"
	"dryfit/measure"
	"dryfit/paper/layout"
	"dryfit/paper/pattern"
	"dryfit/paper/picture"
	"dryfit/shop"
)

// Patterns returns the full-size patterns as PDF.
func (t *Toy) Patterns(on Print) ([]byte, error) {
	set, m, p, err := t.patterns(on)
	if err != nil {
		return nil, err
	}
	return set.PDF(m, p)
}

// patterns lays the patterns on paper.
func (t *Toy) patterns(on Print) (set pattern.Set, m *assembly.Model, p layout.Paper, err error) {
	m, probs := t.Model()
	if len(probs) > 0 {
		return set, m, p, probs
	}
	if p, err = on.paper(m.Toy.Units); err != nil {
		return set, m, p, err
	}
	rep, probs := t.proved()
	if len(probs) > 0 {
		return set, m, p, probs
	}
	set, err = pattern.LayWith(m, p, pattern.With{Warning: guide.Warning(rep)})
	return set, m, p, err
}

// Making is a toy and how many of it are made.
type Making struct {
	Toy   *Toy
	Count int
}

// unproved says of each toy that is not right yet, that it is not.
func unproved(of []Making) (out []string) {
	for _, x := range of {
		if says := x.Toy.Unproved(); says != "" {
			out = append(out, x.Toy.Name+" is "+says)
		}
	}
	return out
}

// Stock returns the shop's lists for one toy.
func (t *Toy) Stock() (*shop.Lists, error) {
	return Stock(context.Background(), []Making{{t, 1}})
}

// Stock returns the shop's lists for some toys; of a toy that is not right yet, that too, in their
// notes. When the context ends, sticks are cut as well as was found by then.
func Stock(ctx context.Context, of []Making) (*shop.Lists, error) {
	var orders []shop.Order
	for _, x := range of {
		m, probs := x.Toy.Model()
		if len(probs) > 0 {
			return nil, probs
		}
		orders = append(orders, shop.Order{Model: m, Count: x.Count})
	}
	l := shop.ListAll(ctx, orders)
	l.Notes = slices.Insert(l.Notes, 0, unproved(of)...)
	units, _ := measure.ParseUnit(l.Units)
	paper, err := Print{}.paper(units) // what patterns are printed on if nothing else is asked for
	if err != nil {
		return nil, err
	}
	pages := make([]int, len(orders))
	for i, o := range orders {
		if set, err := pattern.Lay(o.Model, paper); err == nil { // patterns says what is wrong
			pages[i] = len(set.Pages)
		}
	}
	l.SetPages(pages, paper.Name)
	return l, nil
}

// StockJSON writes the lists as JSON.
func StockJSON(l *shop.Lists) []byte { return encode(l) }

// Made is one output of a toy.
type Made struct {
	Name  string
	Bytes []byte
}

// Everything returns all that this version makes of a toy.
func Everything(t *Toy) ([]Made, error) {
	rep, probs := t.Prove()
	if len(probs) > 0 {
		return nil, probs
	}
	lists, err := t.Stock()
	if err != nil {
		return nil, err
	}
	csv, err := lists.CSV()
	if err != nil {
		return nil, err
	}
	pic, err := t.Picture("svg", Pictures{})
	if err != nil {
		return nil, err
	}
	out := []Made{{"findings", ReportJSON(rep)}, {"lists.json", StockJSON(lists)}, {"lists.txt", []byte(lists.Text())}, {"lists.csv", csv}, {"picture.svg", pic}}
	apart, err := t.Picture("svg", Pictures{Exploded: true})
	if err != nil && !errors.Is(err, picture.ErrNoOrder) {
		return nil, err
	}
	shaded, err := t.Picture("png", Pictures{})
	if err != nil {
		return nil, err
	}
	out = append(out, Made{"exploded.svg", apart}, Made{"picture.png", shaded})
	for _, p := range layout.Papers() {
		pdf, err := t.Patterns(Print{Paper: p.Name})
		if err != nil {
			return nil, err
		}
		out = append(out, Made{"patterns-" + strings.ToLower(p.Name) + ".pdf", pdf})
	}
	books, err := t.booklets()
	if err != nil {
		return nil, err
	}
	out = append(out, books...)
	plans, err := t.plans()
	if err != nil {
		return nil, err
	}
	out = append(out, plans...)
	layouts, err := t.layouts()
	if err != nil {
		return nil, err
	}
	out = append(out, layouts...)
	exports, err := t.exports()
	if err != nil {
		return nil, err
	}
	return append(out, exports...), nil
}
