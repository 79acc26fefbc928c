package app

import (
	"context"

	"dryfit/guide"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/paper/booklet"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/photo"
)

// MostPhoto is the largest file that is read as a photograph, in bytes.
const MostPhoto = photo.MostBytes

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
	rep, probs := t.proved()
	if len(probs) > 0 {
		return nil, paper, probs
	}
	m, probs := t.Model()
	if len(probs) > 0 {
		return nil, paper, probs
	}
	b := booklet.New(m, rep, t.cache)
	if b.Photo, err = t.photo(on.Read); err != nil {
		return nil, paper, err
	}
	if on.Care != "" {
		if err := t.takeCare(b, on.Care); err != nil {
			return nil, paper, err
		}
	}
	return b, paper, nil
}

// careBuilds is how many virtual builds are made for a guide: enough to tell what goes wrong most.
const careBuilds = 300

// takeCare adds to the cautions where builders go wrong most.
func (t *Toy) takeCare(b *booklet.Book, skill string) error {
	f, err := t.Forgiving(context.Background(), Builders{Skill: skill, Builds: careBuilds, Seed: 1})
	if err != nil {
		return err
	}
	var care []guide.Care
	for _, c := range f.Care {
		care = append(care, guide.Care{Operation: c.Operation, On: c.On, Detail: c.Detail})
	}
	if len(care) > 0 {
		b.Cautions = append(b.Cautions, guide.TakeCare(b.Model(), care)) // after what keeps people safe
	}
	return nil
}

// photo reads the photograph for the cover, if there is one. What is wrong with it is a
// problem at its place in the toy file.
func (t *Toy) photo(read func(string) ([]byte, error)) (*draw.Photo, error) {
	if t.Cover == nil || t.Cover.Photo == "" || read == nil {
		return nil, nil
	}
	data, err := read(t.Cover.Photo)
	if err == nil {
		var p *draw.Photo
		if p, err = photo.Read(data, booklet.PhotoWide, booklet.PhotoHigh); err == nil {
			return p, nil
		}
	}
	return nil, source.Problems{t.File.Problem("photo", t.Cover.PhotoAt, t.Cover.Photo+": "+err.Error())}
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

// booklets are the outputs of this file.
func (t *Toy) booklets() ([]Made, error) {
	b, paper, err := t.book(Print{})
	if err != nil {
		return nil, err
	}
	guide, err := b.PDF(paper)
	if err != nil {
		return nil, err
	}
	letter, err := b.PDF(layout.Letter)
	if err != nil {
		return nil, err
	}
	pack, err := b.Pack(paper, paper)
	if err != nil {
		return nil, err
	}
	return []Made{{"guide-a4.pdf", guide}, {"guide-letter.pdf", letter}, {"guide.html", b.HTML()}, {"pack.pdf", pack}}, nil
}
