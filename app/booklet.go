package app

import (
	"dryfit/measure"
	"dryfit/paper/booklet"
	"dryfit/paper/layout"
)

// Guide returns the guide to build the toy by, as "pdf" or "html".
func (t *Toy) Guide(format string, on Print) ([]byte, error) {
	b, paper, err := t.book(on)
	if err != nil {
		return nil, err
	}
	if format == "html" {
		return b.HTML(), nil
	}
	return b.PDF(readingPaper(paper, t.Units))
}

// Pack returns guide and patterns in one PDF file, to be given away.
func (t *Toy) Pack(on Print) ([]byte, error) {
	b, paper, err := t.book(on)
	if err != nil {
		return nil, err
	}
	return b.Pack(readingPaper(paper, t.Units), paper)
}

func (t *Toy) book(on Print) (*booklet.Book, layout.Paper, error) {
	paper, err := on.paper(t.Units)
	if err != nil {
		return nil, paper, err
	}
	rep, probs := t.Prove()
	if len(probs) > 0 {
		return nil, paper, probs
	}
	m, probs := t.Model()
	if len(probs) > 0 {
		return nil, paper, probs
	}
	return booklet.New(m, rep, t.cache), paper, nil
}

// readingPaper is what the guide is printed on where the patterns are on that paper: a
// sheet that lies on a bench.
func readingPaper(p layout.Paper, u measure.Unit) layout.Paper {
	switch {
	case p.Name == layout.Letter.Name || p.Name == "Legal" || p.Name == "Tabloid" || p.Roll && u == measure.Inch:
		return layout.Letter
	}
	return layout.A4
}
