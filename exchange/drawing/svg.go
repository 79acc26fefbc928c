package drawing

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
)

// SVG reads the closed lines of an SVG 1.1 file, and of the parts of SVG 2 that are alike:
// basic shapes and paths through all transforms and nested groups. A line is called by its
// id, its label or its title, its layer by the nearest group that has one. Names with a
// prefix that programs add (label in a namespace of their own) count.
func SVG(data []byte, o Options) (*Drawing, error) {
	switch {
	case len(data) > maxBytes:
		return nil, &Problem{Says: fmt.Sprintf("larger than a drawing can be (%d MiB)", maxBytes>>20)}
	case bytes.HasPrefix(data, []byte{0x1f, 0x8b}):
		return nil, &Problem{Says: "this drawing is compressed", Expected: "a plain SVG: save it again so, or unpack it with gzip"}
	}
	r := &svgReader{d: xml.NewDecoder(bytes.NewReader(data)), opt: o}
	r.d.Entity = map[string]string{}
	r.d.CharsetReader = latin1
	for {
		tok, err := r.token()
		if err != nil {
			if err == io.EOF {
				return nil, &Problem{Says: "this is neither an SVG drawing nor a PDF", Expected: "a drawing saved as SVG, or a PDF of lines"}
			}
			return nil, r.broken(err)
		}
		switch t := tok.(type) {
		case xml.Directive: // short names that some programs use for namespaces
			for _, m := range entity.FindAllSubmatch(t, 100) {
				r.d.Entity[string(m[1])] = string(m[2])
			}
		case xml.StartElement:
			e := r.element(t)
			if t.Name.Local != "svg" || !ours(t.Name.Space) {
				return nil, e.problem("the outermost element is not svg", "an SVG drawing")
			}
			if err := r.svg(e); err != nil {
				return nil, err
			}
			return r.finish()
		}
	}
}

var entity = regexp.MustCompile(`<!ENTITY\s+([A-Za-z_][\w.-]*)\s+"([^"&%]{0,500})"\s*>`)

// latin1 reads the one other character set that old files have.
func latin1(charset string, in io.Reader) (io.Reader, error) {
	switch strings.ToLower(charset) {
	case "utf-8", "us-ascii":
		return in, nil
	case "iso-8859-1", "windows-1252":
		b, err := io.ReadAll(in)
		if err != nil {
			return nil, err
		}
		var out strings.Builder
		for _, c := range b {
			out.WriteRune(rune(c))
		}
		return strings.NewReader(out.String()), nil
	}
	return nil, fmt.Errorf("letters are coded as %s: save the drawing as UTF-8", charset)
}

func ours(space string) bool { return space == "" || space == "http://www.w3.org/2000/svg" }

type svgReader struct {
	collector
	d     *xml.Decoder
	line  int // where the token begins that was read last
	opt   Options
	depth int
}

func (r *svgReader) token() (xml.Token, error) {
	r.line, _ = r.d.InputPos()
	return r.d.Token()
}

// element is one element with what its reader needs.
type element struct {
	name, where string
	attr        map[string]string
}

func (r *svgReader) element(t xml.StartElement) *element {
	e := &element{name: t.Name.Local, where: fmt.Sprintf("line %d, <%s>", r.line, t.Name.Local), attr: map[string]string{}}
	for _, a := range t.Attr {
		if ours(a.Name.Space) || a.Name.Local == "label" {
			e.attr[a.Name.Local] = a.Value
		}
	}
	return e
}

func (e *element) problem(says, expected string) error {
	return &Problem{Where: e.where, Says: says, Expected: expected}
}

func (r *svgReader) broken(err error) error {
	line, _ := r.d.InputPos()
	var s *xml.SyntaxError
	says := err.Error()
	if errors.As(err, &s) {
		line, says = s.Line, s.Msg
	}
	return &Problem{Where: fmt.Sprintf("line %d", line), Says: "this is not well-formed: " + says}
}

// name is what people call an element: a label or title says more than an id.
func (e *element) called() string {
	if l := plain(e.attr["label"]); l != "" {
		return l
	}
	return plain(e.attr["id"])
}

// hidden tells whether an element is not shown.
func (e *element) hidden() bool {
	return e.style("display") == "none" || e.style("visibility") == "hidden" || e.style("visibility") == "collapse"
}

// style is a property, said as an attribute or within style.
func (e *element) style(name string) string {
	if v, ok := e.property(name); ok {
		return v
	}
	return e.attr[name]
}

// property is one that is said within style.
func (e *element) property(name string) (string, bool) {
	for _, p := range strings.Split(e.attr["style"], ";") {
		if k, v, ok := strings.Cut(p, ":"); ok && strings.EqualFold(strings.TrimSpace(k), name) {
			return strings.TrimSpace(v), true
		}
	}
	return "", false
}

// svg reads the outermost element.
func (r *svgReader) svg(e *element) error {
	var size [2]float64 // in mm, 0: not said
	real := true
	for i, name := range []string{"width", "height"} {
		s := e.attr[name]
		if s == "" {
			continue
		}
		v, unit, ok := split(s)
		switch mm := units[unit]; {
		case !ok || v < 0:
			return e.problem(fmt.Sprintf("%s %q is no length", name, s), "such as 120mm")
		case unit == "%":
		case unit == "" || unit == "px":
			real = false
			size[i] = v * units["px"]
		case mm == 0:
			return e.problem(fmt.Sprintf("%s %q has a unit that is no length of its own", name, s), "mm, cm, in, pt, pc or px")
		default:
			size[i] = v * mm
		}
	}
	real = real && size[0]+size[1] > 0
	m, err := e.viewport(size[0], size[1])
	if err != nil {
		return err
	}
	if e.attr["viewBox"] == "" || size[0]+size[1] == 0 {
		m = affine{a: units["px"], d: units["px"]} // the units are px
	}
	switch k := r.opt.Unit; {
	case k == units["px"] && !real: // as the drawing says, px taken at their word
	case k != 0:
		m = affine{a: k, d: k}
	case !real:
		return e.problem("this drawing does not say how large it is: its width has no unit, or px", "width and height in mm, cm or in, or what one unit is: --units mm, --units inch or --units px (1/96 in)")
	}
	return r.children(e, affine{a: 1, d: -1}.of(m), Line{}, true)
}

// children reads what is inside an element.
func (r *svgReader) children(parent *element, m affine, tag Line, shown bool) error {
	if r.depth++; r.depth > maxDepth {
		return parent.problem(fmt.Sprintf("elements are more than %d deep in each other", maxDepth), "")
	}
	defer func() { r.depth-- }()
	for {
		tok, err := r.token()
		if err != nil {
			if err == io.EOF {
				err = errors.New("the file ends within " + parent.name)
			}
			return r.broken(err)
		}
		switch t := tok.(type) {
		case xml.EndElement:
			return nil
		case xml.StartElement:
			if !ours(t.Name.Space) {
				if err := r.d.Skip(); err != nil {
					return r.broken(err)
				}
				continue
			}
			if err := r.child(r.element(t), m, tag, shown); err != nil {
				return err
			}
		}
	}
}

// child reads one element.
func (r *svgReader) child(e *element, m affine, tag Line, shown bool) error {
	skip := func() error {
		if err := r.d.Skip(); err != nil {
			return r.broken(err)
		}
		return nil
	}
	out := func(says string) error {
		if shown {
			r.note((&Line{Name: e.called(), Where: e.where}).says(), "left out: "+says)
		}
		return skip()
	}
	switch e.name {
	case "g", "a", "switch", "svg", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon":
	case "text":
		return out("text is no line; let the drawing program turn it into paths")
	case "image", "foreignObject":
		return out("a picture has no lines; trace it in the drawing program")
	case "use", "symbol":
		return out("a copy of another element (use, symbol); let the drawing program unlink it")
	default: // defs, clipPath, marker, style, metadata and the like draw nothing by themselves
		return skip()
	}
	if e.hidden() {
		return out("hidden")
	}
	if t, ok := e.property("transform"); ok && t != "none" {
		return e.problem("a transform within style is not read", "a transform attribute")
	}
	change, err := transform(e.attr["transform"])
	if err != nil {
		return e.problem(err.Error(), "matrix, translate, scale, rotate, skewX or skewY with their numbers")
	}
	m = m.of(change)
	if m.flat() {
		return out("its transform leaves nothing of it, or makes it endless")
	}
	tag.Where = e.where
	switch e.name {
	case "g", "a", "switch":
		if n := e.called(); n != "" {
			tag.Layer = n
		}
		return r.children(e, m, tag, shown)
	case "svg":
		var v [4]float64
		for i, name := range []string{"x", "y", "width", "height"} {
			l, ok := length(e.attr[name], 0)
			if !ok {
				return e.problem(fmt.Sprintf("%s %q is no length that is read", name, e.attr[name]), "a number, or a length such as 12mm")
			}
			v[i] = l
		}
		inner, err := e.viewport(v[2], v[3])
		if err != nil {
			return err
		}
		return r.children(e, m.of(affine{1, 0, 0, 1, v[0], v[1]}).of(inner), tag, shown)
	}
	p := &pen{m: m}
	if err := e.draw(p); err != nil {
		return err
	}
	tag.Name = e.called()
	if title, err := r.title(); err != nil {
		return err
	} else if title != "" && e.attr["label"] == "" {
		tag.Name = title
	}
	for _, s := range p.done() {
		if err := r.take(s, tag); err != nil {
			return err
		}
	}
	return nil
}

// title reads to the end of a shape and returns its title.
func (r *svgReader) title() (string, error) {
	var out strings.Builder
	in, depth := 0, 1
	for depth > 0 {
		tok, err := r.token()
		if err != nil {
			return "", r.broken(err)
		}
		switch t := tok.(type) {
		case xml.StartElement:
			depth++
			if t.Name.Local == "title" && depth == 2 {
				in = depth
			}
		case xml.EndElement:
			if depth == in {
				in = 0
			}
			depth--
		case xml.CharData:
			if in > 0 && out.Len() < 200 {
				out.Write(t)
			}
		}
	}
	return plain(out.String()), nil
}
