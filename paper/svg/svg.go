// Package svg writes one page as an SVG 1.1 file (W3C Recommendation), sized in
// millimetres and self-contained: no scripts or style sheets, and nothing is fetched.
// [Write] is the whole of it. Text stays text; its length is stated, so that it fills the
// measured box even where another font stands in for ours.
package svg

import (
	"encoding/xml"
	"fmt"
	"math"
	"strings"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/paper/font"
)

// Meta is what the picture says about itself to those who can't see it, and the
// start of its identifiers, which must differ where several pictures share one
// web page.
type Meta struct {
	Title, Describes string
	IDs              string
}

type writer struct {
	b      strings.Builder
	height float64
	meta   Meta
	clips  map[string]string // path data to identifier
}

// Write returns the page as SVG. The same page gives the same text.
func Write(p draw.Page, meta Meta) []byte {
	w := &writer{height: p.Size.Y, meta: meta, clips: map[string]string{}}
	width, height := draw.Digits(p.Size.X), draw.Digits(p.Size.Y)
	w.line(`<?xml version="1.0" encoding="UTF-8"?>`)
	w.line(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" role="img" fill="none" stroke-linejoin="round" font-family="'%s', sans-serif">`,
		width, height, width, height, font.Family)
	if meta.Title != "" {
		w.line(`<title>%s</title>`, escape(meta.Title))
	}
	if meta.Describes != "" {
		w.line(`<desc>%s</desc>`, escape(meta.Describes))
	}
	by := p.Stretched()
	stretched := by != r2.Vec{X: 1, Y: 1}
	if stretched {
		w.line(`<g transform="matrix(%.9f 0 0 %.9f 0 %.9f)">`, by.X, by.Y, p.Size.Y*(1-by.Y))
	}
	layer := ""
	p.Walk(func(m draw.Mark) {
		if m.Layer != layer {
			if layer != "" {
				w.line(`</g>`)
			}
			if m.Layer != "" {
				w.line(`<g data-layer="%s">`, escape(m.Layer))
			}
			layer = m.Layer
		}
		var ids []string
		for _, c := range m.Clips { // before the group that uses them
			ids = append(ids, w.clip(c))
		}
		for _, id := range ids {
			w.line(`<g clip-path="url(#%s)">`, id)
		}
		switch {
		case m.Text != nil:
			w.text(*m.Text)
		case m.Image != nil:
			w.image(*m.Image)
		default:
			w.path(*m.Path)
		}
		if len(ids) > 0 {
			w.line("%s", strings.Repeat("</g>", len(ids)))
		}
	})
	if layer != "" {
		w.line(`</g>`)
	}
	if stretched {
		w.line(`</g>`)
	}
	w.line(`</svg>`)
	return []byte(w.b.String())
}

func (w *writer) line(format string, args ...any) { fmt.Fprintf(&w.b, format+"\n", args...) }

// at writes a point; SVG counts y downwards.
func (w *writer) at(p r2.Vec) string { return draw.Digits(p.X) + " " + draw.Digits(w.height-p.Y) }

// data writes runs as path data, arcs as arcs.
func (w *writer) data(runs []draw.Run) string {
	var d strings.Builder
	for _, r := range runs {
		d.WriteString("M" + w.at(r.From))
		for _, s := range r.Segs {
			if s.Sweep == 0 {
				d.WriteString("L" + w.at(s.To))
				continue
			}
			w.arc(&d, s)
		}
		if r.Closed {
			d.WriteString("Z")
		}
	}
	return d.String()
}

// arc writes an arc in parts of at most half a turn, which the format's two
// flags can say without doubt: it is never the large one.
func (w *writer) arc(d *strings.Builder, s draw.Seg) {
	flag := 0
	if s.Sweep < 0 { // y is turned over, so clockwise is the positive way here
		flag = 1
	}
	for _, to := range s.Parts(math.Pi) {
		fmt.Fprintf(d, "A%s %s 0 0 %d %s", draw.Digits(s.Radius), draw.Digits(s.Radius), flag, w.at(to))
	}
}

func (w *writer) clip(runs []draw.Run) string {
	data := w.data(runs)
	id, ok := w.clips[data]
	if !ok {
		id = fmt.Sprintf("%sclip%d", w.meta.IDs, len(w.clips)+1)
		w.clips[data] = id
		w.line(`<clipPath id="%s"><path clip-rule="evenodd" d="%s"/></clipPath>`, id, data)
	}
	return id
}

func (w *writer) path(p draw.Path) {
	var a strings.Builder
	if p.Fill != draw.NoTone {
		fmt.Fprintf(&a, ` fill="%s" fill-rule="evenodd"`, grey(p.Fill))
	}
	if p.Line != draw.NoLine {
		s := p.Line.Style()
		fmt.Fprintf(&a, ` stroke="%s" stroke-width="%s"`, grey(s.Tone), draw.Digits(s.Width))
		if len(s.Dash) > 0 {
			var on []string
			for _, d := range s.Dash {
				on = append(on, draw.Digits(d))
			}
			fmt.Fprintf(&a, ` stroke-dasharray="%s"`, strings.Join(on, " "))
		}
	}
	w.line(`<path d="%s"%s/>`, w.data(p.Runs), a.String())
}

func (w *writer) text(x draw.Text) {
	if x.Says == "" {
		return
	}
	tone := x.Tone
	if tone == draw.NoTone {
		tone = draw.Ink
	}
	at := x.Start()
	a := fmt.Sprintf(`x="%s" y="%s" font-size="%s" textLength="%s" fill="%s"`, draw.Digits(at.X), draw.Digits(w.height-at.Y),
		draw.Digits(x.Size()), draw.Digits(x.Width()), grey(tone))
	if x.Bold {
		a += ` font-weight="bold"`
	}
	if deg := draw.Digits(-x.Turn * 180 / math.Pi); deg != "0" {
		a += fmt.Sprintf(` transform="rotate(%s %s)"`, deg, w.at(at))
	}
	text := fmt.Sprintf(`<text %s xml:space="preserve">%s</text>`, a, escape(x.Says))
	if x.Link != "" {
		text = fmt.Sprintf(`<a xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="%s">%s</a>`, escape(x.Link), text)
	}
	w.line("%s", text)
}

// grey writes a tone as a colour of equal red, green and blue.
func grey(t draw.Tone) string {
	v := int(math.Round(t.Grey() * 255))
	return fmt.Sprintf("#%02x%02x%02x", v, v, v)
}

func escape(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // into memory: can't fail
	return b.String()
}
