package booklet

import (
	_ "embed"
	"fmt"
	"html"
	"regexp"
	"strings"

	"dryfit/geom/r2"
	"dryfit/guide"
	"dryfit/paper/draw"
	"dryfit/paper/picture"
	"dryfit/paper/svg"
)

// The web page is one file that asks for nothing else: style, script and drawings are
// inside. Without script all but the memory of the ticks works.

//go:embed page.css
var css string

//go:embed page.js
var script string

type web struct {
	strings.Builder
	b    *Book
	pics int
}

func (w *web) f(format string, args ...any) { fmt.Fprintf(w, format+"\n", args...) }

func esc(s string) string { return html.EscapeString(s) }

// HTML returns the guide as one web page for a tablet in the shop. The same toy gives
// the same bytes.
func (b *Book) HTML() []byte {
	w := &web{b: b}
	words := b.Words
	w.f(`<!DOCTYPE html>`)
	w.f(`<html lang="en">`)
	w.f(`<head>`)
	w.f(`<meta charset="utf-8">`)
	w.f(`<meta name="viewport" content="width=device-width, initial-scale=1">`)
	w.f(`<title>%s: %s</title>`, esc(b.Toy), esc(words.Guide))
	w.f("<style>\n%s</style>", css)
	w.f(`</head>`)
	w.f(`<body data-toy="%s">`, esc(b.Toy+" "+b.Edition))
	w.f(`<header>`)
	w.f(`<h1>%s</h1>`, esc(b.Toy))
	w.f(`<p class="kind">%s</p>`, esc(words.Guide))
	if b.Unproved != "" {
		w.f(`<p class="unproved"><strong>%s</strong></p>`, esc(words.SeeNotes(b.Unproved)))
	}
	w.cover()
	for _, x := range b.Facts {
		w.f(`<p>%s</p>`, esc(x))
	}
	w.f(`</header>`)
	w.f(`<main>`)
	w.lists(words.Needs, b.Needs)
	w.lists(words.Habits, []guide.List{{Items: b.Habits}})
	w.lists(words.Cautions, b.Cautions)
	w.lists(words.Who, []guide.List{{Items: b.Who}})
	w.pieces()
	for _, c := range b.Chapters {
		w.f(`<section class="chapter">`)
		w.f(`<h2>%s</h2>`, esc(c.Title))
		if c.Says != "" {
			w.f(`<p>%s</p>`, esc(c.Says))
		}
		for _, s := range c.Steps {
			w.step(s)
		}
		w.f(`</section>`)
	}
	w.checks()
	w.f(`</main>`)
	w.f(`<footer><p>%s</p></footer>`, esc(b.Edition))
	w.f(`<p class="done" role="status" data-says="%s" hidden></p>`, esc(words.Done))
	w.f("<script>\n%s</script>", script)
	w.f(`</body>`)
	w.f(`</html>`)
	return []byte(w.String())
}

// cover shows the photograph or the drawing, and what the designer says.
func (w *web) cover() {
	if w.b.Photo != nil {
		w.f(`<figure class="cover"><img src="%s" width="%d" height="%d" alt="%s"></figure>`, svg.Data(w.b.Photo), w.b.Photo.Width, w.b.Photo.Height, esc(w.b.Toy))
	} else {
		w.figure("cover", w.b.Toy, []*drawing{{scene: picture.Whole(w.b.m), size: r2.Vec{X: 170, Y: 120}}}, nil)
	}
	c := w.b.m.Toy.Cover
	if c == nil {
		return
	}
	if c.Message != "" {
		w.f(`<p class="message">%s</p>`, esc(c.Message))
	}
	if c.Link != "" {
		w.f(`<p class="message"><a href="%s" rel="noopener noreferrer">%s</a></p>`, esc(c.Link), esc(c.Link))
	}
}

func (w *web) lists(title string, ls []guide.List) {
	w.f(`<section>`)
	w.f(`<h2>%s</h2>`, esc(title))
	w.f(`<div class="lists">`)
	for _, l := range ls {
		w.f(`<div>`)
		if l.Title != "" {
			w.f(`<h3>%s</h3>`, esc(l.Title))
		}
		w.bullets(l.Items)
		w.f(`</div>`)
	}
	w.f(`</div>`)
	w.f(`</section>`)
}

func (w *web) bullets(items []string) {
	w.f(`<ul>`)
	for _, i := range items {
		w.f(`<li>%s</li>`, esc(i))
	}
	w.f(`</ul>`)
}

func (w *web) pieces() {
	words := w.b.Words
	w.f(`<section>`)
	w.f(`<h2>%s</h2>`, esc(words.Pieces))
	w.figure("wide", words.Pieces, []*drawing{{by: w.b.numbered, size: r2.Vec{X: 170, Y: 130}}}, nil)
	var rows [][]string
	for _, p := range w.b.Pieces {
		rows = append(rows, []string{p.Numbers, p.Name, p.Count, p.Size, p.From})
	}
	w.table([]string{words.PieceNumber, words.PieceName, words.PieceCount, words.PieceSize, words.PieceFrom}, rows)
	w.f(`</section>`)
}

func (w *web) table(head []string, rows [][]string) {
	w.f(`<table>`)
	w.f(`<thead><tr>`)
	for _, h := range head {
		w.f(`<th scope="col">%s</th>`, esc(h))
	}
	w.f(`</tr></thead>`)
	w.f(`<tbody>`)
	for _, r := range rows {
		w.f(`<tr>`)
		for _, c := range r {
			w.f(`<td>%s</td>`, esc(c))
		}
		w.f(`</tr>`)
	}
	w.f(`</tbody>`)
	w.f(`</table>`)
}

func (w *web) step(s guide.Step) {
	w.f(`<article class="step" id="step-%d">`, s.Number)
	w.f(`<h3><label><input type="checkbox" data-step="%d"> <span class="number">%d</span> %s</label></h3>`, s.Number, s.Number, esc(s.Title))
	w.f(`<div class="both">`)
	pics, below := w.b.drawings(s)
	w.figure("", s.Title, pics, below)
	w.f(`<div class="words">`)
	w.bullets(s.Does)
	if len(s.Measures) > 0 {
		w.f(`<table class="measures">`)
		of, last := s.Ofs(), ""
		for _, m := range s.Measures {
			if len(of) > 1 && m.Of != last {
				last = m.Of
				w.f(`<tr><th colspan="2" scope="colgroup">%s</th></tr>`, esc(m.Of))
			}
			w.f(`<tr><td>%s</td><td>%s</td></tr>`, esc(m.What), esc(m.Is))
		}
		w.f(`</table>`)
	}
	for _, m := range s.Minds {
		w.f(`<p class="mind"><strong>%s:</strong> %s</p>`, esc(w.b.Words.Minds), esc(m))
	}
	if len(s.Who) > 0 {
		w.f(`<p class="who">%s</p>`, esc(s.Whoever()))
	}
	if s.Dry != "" {
		w.f(`<p class="who"><strong>%s:</strong> %s</p>`, esc(w.b.Words.Wait), esc(s.Dry))
	}
	w.f(`</div>`)
	w.f(`</div>`)
	w.f(`</article>`)
}

func (w *web) checks() {
	words := w.b.Words
	w.f(`<section>`)
	w.f(`<h2>%s</h2>`, esc(words.Checks))
	var rows [][]string
	for _, c := range w.b.Checks {
		rows = append(rows, []string{c.What, c.Is, ""})
	}
	w.table([]string{words.CheckWhat, words.CheckIs, words.CheckMine}, rows)
	w.f(`<h3>%s</h3>`, esc(words.Notes))
	w.bullets(w.b.Notes)
	w.f(`</section>`)
}

// millimetres is the size of a picture on paper: on a screen the style says it.
var millimetres = regexp.MustCompile(` width="[0-9.]+mm" height="[0-9.]+mm"`)

// figure draws pictures beside each other, with words below each, if any.
func (w *web) figure(class, says string, pics []*drawing, below []string) {
	if len(pics) == 0 {
		return
	}
	w.b.ink(pics)
	if class != "" {
		class = ` class="` + class + `"`
	}
	w.f(`<figure%s>`, class)
	for k, d := range pics {
		w.pics++
		text := string(svg.Write(draw.Page{Size: d.size, Items: d.items}, svg.Meta{Title: says, IDs: fmt.Sprintf("p%d-", w.pics)}))
		_, text, _ = strings.Cut(text, "\n") // the XML declaration
		if at := millimetres.FindStringIndex(text); at != nil {
			text = text[:at[0]] + text[at[1]:]
		}
		if k < len(below) {
			w.f(`<span>`)
		}
		w.f("%s", strings.TrimSpace(text))
		if k < len(below) {
			w.f(`<small>%s</small></span>`, esc(below[k]))
		}
	}
	w.f(`</figure>`)
}
