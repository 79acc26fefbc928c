package exchange

import (
	"fmt"
	"math"
	"strings"

	"dryfit/geom/outline"
)

// SVG returns a sheet as SVG 1.1 at true size: one user unit is one mm, y runs down,
// arcs are arcs. Every layer is a group, every line a path with its name as title.
func SVG(s Sheet) []byte {
	var b strings.Builder
	box := s.bounds()
	w, h := num(box.Size().X+2*svgMargin, 4), num(box.Size().Y+2*svgMargin, 4)
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%smm\" height=\"%smm\" viewBox=\"%s %s %s %s\">\n<title>%s</title>\n",
		w, h, num(box.Min.X-svgMargin, 4), num(-box.Max.Y-svgMargin, 4), w, h, escape(s.Name))
	for _, layer := range layers {
		open := false
		for _, l := range s.Lines {
			if l.Layer != layer {
				continue
			}
			if !open {
				open = true
				fmt.Fprintf(&b, "<g id=\"%s\" fill=\"none\" stroke=\"#000000\" stroke-width=\"0.25\">\n", layer)
			}
			fmt.Fprintf(&b, "<path d=\"%s\"><title>%s</title></path>\n", svgPath(l.Path), escape(l.Name))
		}
		if open {
			b.WriteString("</g>\n")
		}
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

// svgMargin is left around a sheet, so that lines on its border are seen whole.
const svgMargin = 1.0

// svgPath writes a closed line, y down. A whole circle becomes two halves.
func svgPath(p outline.Path) string {
	var b strings.Builder
	fmt.Fprintf(&b, "M%s %s", num(p.Start.X, 6), num(-p.Start.Y, 6))
	from := p.Start
	for _, s := range p.Segs {
		if !s.Round() {
			fmt.Fprintf(&b, "L%s %s", num(s.To.X, 6), num(-s.To.Y, 6))
			from = s.To
			continue
		}
		n := 1
		if math.Abs(s.Sweep) > math.Pi*1.99 {
			n = 2
		}
		large, sweep := 0, 0
		if math.Abs(s.Sweep)/float64(n) > math.Pi {
			large = 1
		}
		if s.Sweep < 0 { // y runs down: the other way round
			sweep = 1
		}
		for k := 1; k <= n; k++ {
			to := s.To
			if k < n {
				to = s.Middle(from)
			}
			fmt.Fprintf(&b, "A%s %s 0 %d %d %s %s", num(s.R, 6), num(s.R, 6), large, sweep, num(to.X, 6), num(-to.Y, 6))
		}
		from = s.To
	}
	b.WriteByte('Z')
	return b.String()
}
