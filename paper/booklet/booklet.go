// Package booklet lays the guide out: as pages for PDF, and as one web page that
// works without a network.
//
// [New] makes the guide of a model with a drawing for every step; [Book.Pages] puts it
// on paper (cover.go; front.go: lists and pieces; step.go: the steps; last.go: the page to
// check the toy against; column.go: lines of text), [Book.PDF] writes the file,
// [Book.HTML] the web page (html.go), and [Book.Pack] guide and patterns in one file.
package booklet

import (
	"runtime"
	"slices"
	"sync"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/guide"
	"dryfit/paper/draw"
	"dryfit/paper/layout"
	"dryfit/paper/pattern"
	"dryfit/paper/pdf"
	"dryfit/paper/picture"
	"dryfit/prove"
	"dryfit/shop"
	"dryfit/toy"
)

// Book is a guide with what its drawings are made from. It is not safe for use by
// several goroutines.
type Book struct {
	guide.Guide
	Photo *draw.Photo // for the cover, in place of the drawing; may be nil
	m     *assembly.Model
	draft *picture.Drafter
	steps []picture.Step
	order prove.Sequence
}

// New makes the guide of a model that was proved; without a report it has the same steps, but
// none of what the proof says. cache may be nil.
func New(m *assembly.Model, rep *prove.Report, cache *assembly.Cache) *Book {
	b := &Book{m: m, draft: picture.NewDrafter(m)}
	order := prove.Order(m)
	if !order.Found { // then as the file has it, without ways
		order.Steps = inFileOrder(m)
	}
	b.order = order
	b.steps = b.draft.Steps(order)
	in := guide.Input{Model: m, Report: rep, Order: order, Lists: shop.List(m), Cache: cache}
	for _, s := range b.steps {
		in.Groups = append(in.Groups, s.Paths)
	}
	b.Guide = guide.Of(in)
	return b
}

// Model is the toy that the book is of.
func (b *Book) Model() *assembly.Model { return b.m }

// inFileOrder is the order of the file, for a toy of which none was found that works.
func inFileOrder(m *assembly.Model) (out []prove.StepPath) {
	var onto []int
	add := func(st prove.StepPath) {
		st.Onto = append([]int(nil), onto...)
		out = append(out, st)
	}
	for k, s := range buildSteps(m) {
		if len(s.pieces) == 0 {
			continue
		}
		for _, g := range m.GlueUps {
			if g.ID != s.id {
				continue
			}
			var there []int
			for n, i := range g.Pieces {
				out = append(out, prove.StepPath{Step: n, GlueUp: g.ID, Name: m.Pieces[i].ID, Pieces: []int{i}, Onto: append([]int(nil), there...)})
				there = append(there, i)
			}
		}
		add(prove.StepPath{Step: k, Name: s.id, Pieces: s.pieces})
		onto = append(onto, s.pieces...)
	}
	return out
}

// PDF returns the guide as a PDF file. The same toy gives the same bytes.
func (b *Book) PDF(paper layout.Paper) ([]byte, error) {
	pages, outline := b.Pages(paper)
	return pdf.Write(pages, pdf.Meta{Title: b.Toy + ": " + b.Words.Guide, Keywords: b.Edition, Outline: outline})
}

// Pack returns the guide on one paper and the patterns on another as one document: the
// pages are counted through, and one outline leads to all of it.
func (b *Book) Pack(reading, paper layout.Paper) ([]byte, error) {
	p := b.set(reading, nil)
	patterns, err := pattern.LayWith(b.m, paper, pattern.With{Before: len(p.pages), Warning: b.Warning})
	if err != nil {
		return nil, err
	}
	// The steps name the pages of their patterns, which come after as many pages as the
	// steps take: more words may take one more.
	for range mostSettings {
		before := len(p.pages)
		p = b.set(reading, pagesOf(patterns.Places, before))
		if len(p.pages) == before {
			break
		}
		if patterns, err = pattern.LayWith(b.m, paper, pattern.With{Before: len(p.pages), Warning: b.Warning}); err != nil {
			return nil, err
		}
	}
	p.after = len(patterns.Pages)
	p.finish(true)
	outline := append(p.outline, pdf.Entry{Title: b.Words.Patterns, Page: len(p.pages)})
	for _, e := range patterns.Outline {
		e.Page, e.Level = e.Page+len(p.pages), e.Level+1
		outline = append(outline, e)
	}
	return pdf.Write(append(p.pages, patterns.Pages...), pdf.Meta{Title: b.Toy, Keywords: b.Edition, Outline: outline})
}

// mostSettings is how often a guide is set at most until its pages stay as many.
const mostSettings = 4

// patternKey is a part or glue-up that patterns are of.
type patternKey struct {
	of     string
	glueUp bool
}

// pagesOf says on which pages, counted from 1 through the whole document, the patterns of
// each thing are.
func pagesOf(places []pattern.Place, before int) map[patternKey][]int {
	out := map[patternKey][]int{}
	for _, pl := range places {
		k, page := patternKey{pl.Of, pl.GlueUp}, before+pl.Page+1
		if !slices.Contains(out[k], page) {
			out[k] = append(out[k], page)
		}
	}
	for _, pages := range out {
		slices.Sort(pages)
	}
	return out
}

// drawing is a picture that is still to be drawn, into a box of the page.
type drawing struct {
	scene picture.Scene
	by    func(size r2.Vec) []draw.Item // draws it, where it is no scene
	size  r2.Vec
	items []draw.Item
}

// ink draws what is asked for, side by side; each goes into its own place, so that the
// pages do not depend on how many hands there are.
func (b *Book) ink(all []*drawing) {
	work := make(chan *drawing)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), 4) {
		wait.Add(1)
		go func() {
			defer wait.Done()
			for d := range work {
				if d.by != nil {
					d.items = d.by(d.size)
				} else {
					d.items = b.snug(d.scene, d.size)
				}
			}
		}()
	}
	for _, d := range all {
		work <- d
	}
	close(work)
	wait.Wait()
}

// snug draws a scene into a box. Numbers may stand on every side, but seldom do: where they
// leave room it is drawn again, larger.
func (b *Book) snug(s picture.Scene, size r2.Vec) []draw.Item {
	items := b.draft.Draw(s, size)
	if len(items) == 0 {
		return nil
	}
	free := size.Sub(draw.Bounds(items...).Size())
	if free.X < size.X*snugLeast || free.Y < size.Y*snugLeast {
		return items
	}
	large := b.draft.Draw(s, size.Add(free))
	box := draw.Bounds(large...)
	if box.Size().X > size.X || box.Size().Y > size.Y {
		return items // other numbers are on other sides now
	}
	return []draw.Item{at(size.Sub(box.Min.Add(box.Max)).Scale(0.5), large)}
}

// snugLeast is the share of a box, left free both ways, that is worth drawing again for.
const snugLeast = 0.12

// scenes are the drawings of a step: one, or several that stand beside each other.
func (b *Book) scenes(s guide.Shows) []picture.Scene {
	if s.Group >= 0 {
		return []picture.Scene{b.steps[s.Group].Scene}
	}
	if len(s.Pieces) == 0 {
		return nil
	}
	if s.Apart || len(s.Pieces) == 1 {
		var out []picture.Scene
		for _, i := range s.Pieces {
			out = append(out, b.alone(i))
		}
		return out
	}
	var scene picture.Scene
	for _, i := range s.Pieces {
		scene.Shown = append(scene.Shown, picture.Shown{Piece: i, Look: picture.Plain})
	}
	return []picture.Scene{scene}
}

// section cuts the part that a step makes through its holes that end in the wood; nil if it
// has none.
func (b *Book) section(s guide.Shows, width float64) *drawing {
	if s.Group >= 0 || s.Apart || len(s.Pieces) != 1 {
		return nil
	}
	sc := b.alone(s.Pieces[0])
	m := b.m
	if sc.Of != nil {
		m = sc.Of
	}
	high, by := b.draft.BlindHoles(m, sc.Shown[0].Piece, width)
	if by == nil {
		return nil
	}
	return &drawing{by: by, size: r2.Vec{X: width, Y: high}}
}

// alone is a piece by itself, before any work on a glue-up that it belongs to.
func (b *Book) alone(piece int) picture.Scene {
	p := b.m.Pieces[piece]
	show := picture.Shown{Piece: piece, Look: picture.Plain}
	if p.GlueUp != "" {
		t := *b.m.Toy
		t.GlueUps, t.Musts, t.Cord = nil, nil, nil
		t.Build = []toy.Step{toy.Put{Part: p.Part.Name, ID: p.Part.Name}}
		if m, probs := assembly.Derive(&t, assembly.Options{}); len(probs) == 0 {
			show.Piece = 0
			return picture.Scene{Of: m, Shown: []picture.Shown{show}}
		}
	}
	return picture.Scene{Shown: []picture.Shown{show}}
}

// numbersOf are the numbers of all pieces of the part that a piece is of.
func (b *Book) numbersOf(piece int) string {
	var n []int
	for i, p := range b.m.Pieces {
		if p.Part == b.m.Pieces[piece].Part {
			n = append(n, shop.Number(i))
		}
	}
	return shop.Numbers(n)
}
