package drawing

import (
	"bytes"
	"fmt"
	"unicode/utf16"

	"dryfit/geom/r2"
)

// pdfReader draws the content of pages.
type pdfReader struct {
	collector
	*pdfFile
	where string
	forms int // drawn on this page
	ops   int
}

// maxOps is the most operators of a page that are read, those of its forms included.
const maxOps = 500000

// page draws a page: turned as a reader shows it, in mm.
func (r *pdfReader) page(p pdfDict, o Options) error {
	unit := 25.4 / 72
	if u, ok := r.get(p["UserUnit"]).(float64); ok && u > 0 {
		unit = float64(unit * u)
	}
	if o.Unit > 0 {
		unit = o.Unit
	}
	m := affine{a: unit, d: unit}
	if turn, _ := r.get(p["Rotate"]).(float64); turn != 0 {
		for range ((int(turn)/90)%4 + 4) % 4 { // a quarter clockwise each
			m = affine{b: -1, c: 1}.of(m)
		}
	}
	var content []byte
	parts := r.list(p["Contents"])
	if _, one := r.get(p["Contents"]).(*stream); one {
		parts = pdfList{p["Contents"]}
	}
	for _, v := range parts {
		s, ok := r.get(v).(*stream)
		if !ok {
			continue
		}
		b, ok := r.unpacked(s)
		if !ok {
			return &Problem{Where: r.where, Says: "its content is packed in a way that is not read, or is broken", Expected: "FlateDecode, or none"}
		}
		content = append(append(content, b...), '\n')
	}
	r.forms, r.ops = 0, 0
	return r.draw(content, r.dict(p["Resources"]), m, marked{}, 0)
}

// marked is the layer that something is drawn on.
type marked struct {
	layer  string
	unseen bool // it is not shown
}

// within returns the layer of optional content in this one.
func (r *pdfReader) within(in marked, v any) marked {
	out := marked{r.layerName(v), in.unseen}
	if !in.unseen && r.unseen(v) {
		out.unseen = true
		r.note(r.where, "left out: layer "+out.layer+", which is not shown")
	}
	return out
}

// draw carries out operators (Annex A): paths, changes of place, forms and layers.
func (r *pdfReader) draw(content []byte, res pdfDict, m affine, in marked, depth int) error {
	l := &lexer{b: content}
	var args []any
	var saved []affine
	p := &pen{m: m}
	layers := []marked{in}
	here := func() marked { return layers[len(layers)-1] }
	from, start := r2.Vec{}, r2.Vec{} // where the pen is, and where its line began
	num := func(k int) float64 {      // the k-th from the end
		if i := len(args) - k; i >= 0 {
			v, _ := args[i].(float64)
			return v
		}
		return 0
	}
	pt := func(k int) r2.Vec { return r2.Vec{X: num(k), Y: num(k - 1)} }
	name := func(k int) string {
		if i := len(args) - k; i >= 0 {
			n, _ := args[i].(pdfName)
			return string(n)
		}
		return ""
	}
	for {
		v, ok := l.next(false)
		if !ok {
			return nil
		}
		op, isOp := v.(pdfWord)
		if !isOp {
			if args = append(args, v); len(args) > 64 {
				args = args[32:]
			}
			continue
		}
		if r.ops++; r.ops > maxOps {
			return &Problem{Where: r.where, Says: fmt.Sprintf("the page has more than %d steps", maxOps)}
		}
		need := map[pdfWord]int{"m": 2, "l": 2, "c": 6, "v": 4, "y": 4, "re": 4, "cm": 6}[op]
		for k := 1; k <= need; k++ {
			if i := len(args) - k; i < 0 {
				return &Problem{Where: r.where, Says: fmt.Sprintf("operator %s has too few numbers", op), Expected: fmt.Sprint(need)}
			} else if _, ok := args[i].(float64); !ok {
				return &Problem{Where: r.where, Says: fmt.Sprintf("operator %s has something else than numbers", op), Expected: fmt.Sprintf("%d numbers", need)}
			}
		}
		switch op {
		case "m":
			from = pt(2)
			start = from
			p.Move(from)
		case "l":
			from = pt(2)
			p.Line(from)
		case "c":
			p.Cubic(pt(6), pt(4), pt(2))
			from = pt(2)
		case "v":
			p.Cubic(from, pt(4), pt(2))
			from = pt(2)
		case "y":
			p.Cubic(pt(4), pt(2), pt(2))
			from = pt(2)
		case "h":
			p.Close()
			from = start
		case "re":
			x, y, w, h := num(4), num(3), num(2), num(1)
			p.Move(r2.Vec{X: x, Y: y})
			for _, q := range []r2.Vec{{X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}} {
				p.Line(q)
			}
			p.Close()
			from = r2.Vec{X: x, Y: y}
			start = from
		case "s", "b", "b*":
			p.Close()
			fallthrough
		case "S", "f", "F", "f*", "B", "B*":
			filled := op != "S" && op != "s"
			for _, s := range p.done() {
				if here().unseen {
					break
				}
				s.closed = s.closed || filled // filling closes
				if err := r.take(s, Line{Layer: here().layer, Where: r.where}); err != nil {
					return err
				}
			}
			p = &pen{m: p.m}
		case "n": // a path that only clips
			p = &pen{m: p.m}
		case "q":
			if len(saved) < 1000 {
				saved = append(saved, p.m)
			}
		case "Q":
			if n := len(saved); n > 0 {
				p.m, saved = saved[n-1], saved[:n-1]
			}
		case "cm":
			n := p.m.of(affine{num(6), num(5), num(4), num(3), num(2), num(1)})
			if n.flat() {
				r.note(r.where, "left out: a change of place (cm) that leaves nothing, or makes it endless")
				n = p.m
			}
			p.m = n
		case "BDC":
			next := here()
			if name(2) == "OC" {
				next = r.within(next, r.dict(res["Properties"])[name(1)])
			}
			layers = append(layers, next)
		case "BMC":
			layers = append(layers, here())
		case "EMC":
			if len(layers) > 1 {
				layers = layers[:len(layers)-1]
			}
		case "Tj", "TJ", "'", "\"":
			r.noteIn(here(), "left out: text; let the drawing program turn it into paths where its outlines are wanted")
		case "sh":
			r.noteIn(here(), "left out: a shading")
		case "BI":
			r.noteIn(here(), "left out: a picture; trace it in the drawing program")
			end := bytes.Index(content[l.at:], []byte("EI"))
			if end < 0 {
				return nil // all that is left is the picture
			}
			l.at += end + 2
		case "Do":
			if err := r.object(name(1), res, p.m, here(), depth); err != nil {
				return err
			}
		}
		args = args[:0]
	}
}

// noteIn notes what is left out, where it would be shown.
func (r *pdfReader) noteIn(in marked, says string) {
	if !in.unseen {
		r.note(r.where, says)
	}
}

// object draws a form (8.10), or notes an image.
func (r *pdfReader) object(name string, res pdfDict, m affine, in marked, depth int) error {
	s, ok := r.get(r.dict(res["XObject"])[name]).(*stream)
	if !ok {
		return nil
	}
	if oc := s.dict["OC"]; r.dict(oc) != nil {
		own := r.within(in, oc)
		if own.layer == "" {
			own.layer = in.layer
		}
		in = own
	}
	if in.unseen {
		return nil
	}
	if r.get(s.dict["Subtype"]) != pdfName("Form") {
		r.note(r.where, "left out: a picture; trace it in the drawing program")
		return nil
	}
	if r.forms++; r.forms > 1000 || depth > 16 {
		return &Problem{Where: r.where, Says: "forms in forms without end"}
	}
	b, ok := r.unpacked(s)
	if !ok {
		return &Problem{Where: r.where, Says: fmt.Sprintf("form %s is packed in a way that is not read, or is broken", name), Expected: "FlateDecode, or none"}
	}
	if v := r.list(s.dict["Matrix"]); len(v) == 6 {
		var k [6]float64
		for i := range v {
			k[i], _ = r.get(v[i]).(float64)
		}
		if m = m.of(affine{k[0], k[1], k[2], k[3], k[4], k[5]}); m.flat() {
			return nil
		}
	}
	if own := r.dict(s.dict["Resources"]); own != nil {
		res = own
	}
	return r.draw(b, res, m, in, depth+1)
}

// pdfText reads a text string (7.9.2): UTF-16 with a mark, else single bytes.
func pdfText(b []byte) string {
	var out []rune
	if bytes.HasPrefix(b, []byte{0xfe, 0xff}) {
		var units []uint16
		for i := 2; i+1 < len(b); i += 2 {
			units = append(units, uint16(b[i])<<8|uint16(b[i+1]))
		}
		return string(utf16.Decode(units))
	}
	for _, c := range b {
		out = append(out, rune(c))
	}
	return string(out)
}
