// Package drawing reads outlines from files that drawing programs write: SVG (svg.go)
// and the vector pages of PDF (pdf.go), and says them as a toy file does (write.go).
//
// [SVG] and [PDF] return a [Drawing]: its closed lines in millimetres, y up, every curve
// as arcs of true circles within tol.Fit (fit.go); what could not be taken is a note that
// says where it is. [Drawing.Pick] chooses lines, [Say] writes one.
//
// It reads lines and nothing else: text, images, copies of other elements and hidden
// elements are left out with a note; colours, widths and clipping do not matter.
package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"dryfit/geom/outline"
	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// Options are what a drawing may leave unsaid.
type Options struct {
	// Unit is one unit of the drawing's own coordinates in mm; 0: as the drawing says,
	// and a problem where it does not.
	Unit float64
}

// Drawing is what was read.
type Drawing struct {
	Lines []Line
	Notes []string // what was left out, where, and why
}

// Line is a closed line of a drawing, in mm, y up, counter-clockwise.
type Line struct {
	Name  string // as the drawing says, else its number
	Layer string // the nearest named group or layer
	Where string // line of the file, or page
	Path  outline.Path
}

// A Problem is why a drawing cannot be read.
type Problem struct {
	Where    string // "line 3, <rect>" or "page 1"; empty: the whole file
	Says     string
	Expected string // empty: nothing else would do
}

func (p *Problem) Error() string {
	s := p.Says
	if p.Where != "" {
		s = p.Where + ": " + s
	}
	if p.Expected != "" {
		s += ": expected " + p.Expected
	}
	return s
}

// Limits of what is read: far above any drawing of a part, far below what makes a
// machine stand still.
const (
	maxBytes = 16 << 20 // of a file, and of the streams of a PDF unpacked
	maxLines = 5000
	maxDepth = 64  // of elements or forms in each other
	farthest = 1e5 // mm from the origin of the drawing
)

// collector gathers what is drawn, in mm.
type collector struct {
	open  []chain
	out   Drawing
	steps int
}

func (c *collector) note(where, says string) {
	if s := where + ": " + says; !slices.Contains(c.out.Notes, s) && len(c.out.Notes) < 100 {
		c.out.Notes = append(c.out.Notes, s)
	}
}

// take turns one subpath into a closed line, or keeps it to be joined with others.
func (c *collector) take(s sub, tag Line) error {
	for _, p := range s.pieces {
		if !(math.Abs(p.to.X) <= farthest && math.Abs(p.to.Y) <= farthest) {
			return &Problem{Where: tag.Where, Says: fmt.Sprintf("the line leads farther than %d m", int(farthest/1000)), Expected: "a drawing of parts, at its true size"}
		}
	}
	ch := chain{tag: tag, start: s.start, steps: fitAll(s.pieces, outline.MaxSegments-c.steps)}
	if c.steps += len(ch.steps); c.steps > outline.MaxSegments {
		return &Problem{Where: tag.Where, Says: fmt.Sprintf("the drawing has more than %d steps", outline.MaxSegments)}
	}
	if len(ch.steps) == 0 {
		return nil
	}
	if s.closed && ch.end() != ch.start && ch.end().Sub(ch.start).Len() > tol.Join {
		ch.steps = append(ch.steps, outline.Line(ch.start))
	}
	if ch.end().Sub(ch.start).Len() <= tol.Join {
		return c.close(ch)
	}
	if len(c.open) >= maxLines {
		return &Problem{Where: tag.Where, Says: fmt.Sprintf("the drawing has more than %d open lines", maxLines)}
	}
	c.open = append(c.open, ch)
	return nil
}

// close keeps a chain that comes back to its start.
func (c *collector) close(ch chain) error {
	p, whole := ch.path()
	if !whole {
		return nil // nothing but a dot
	}
	if p.Area() < 0 {
		p = p.Reverse()
	}
	ch.tag.Path = p
	if f := p.Check(); f != nil {
		c.note(ch.tag.says(), fmt.Sprintf("left out: %s, at %s", f.Says, place(f.At)))
		return nil
	}
	box, area := p.Bounds(), p.Area()
	for _, l := range c.out.Lines { // drawn twice, as filled and as a line
		if l.Layer == ch.tag.Layer && same(l.Path.Bounds(), box) && area-l.Path.Area() <= tol.Join*p.Length() && l.Path.Area()-area <= tol.Join*p.Length() {
			return nil
		}
	}
	if len(c.out.Lines) >= maxLines {
		return &Problem{Where: ch.tag.Where, Says: fmt.Sprintf("the drawing has more than %d closed lines", maxLines)}
	}
	c.out.Lines = append(c.out.Lines, ch.tag)
	return nil
}

func same(a, b r2.Box) bool {
	return a.Min.Sub(b.Min).Len() <= tol.Join && a.Max.Sub(b.Max).Len() <= tol.Join
}

func place(p r2.Vec) string { return fmt.Sprintf("%s, %s mm", number(p.X, 1), number(p.Y, 1)) }

// plain is a name on one line, without signs that cannot be seen.
func plain(s string) string {
	s = strings.Map(func(c rune) rune {
		if c == utf8.RuneError || !unicode.IsPrint(c) {
			return ' '
		}
		return c
	}, s)
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 80 {
		s = string(r[:80])
	}
	return s
}

func (l *Line) says() string {
	if l.Name != "" {
		return l.Where + " (" + l.Name + ")"
	}
	return l.Where
}

// name gives every line a name of its own: what it is called if nothing else is called so,
// then that with a number, and its number where it has no name.
func (c *collector) name() {
	taken := map[string]bool{}
	for _, l := range c.out.Lines {
		taken[l.Name] = true
	}
	told, last := map[string]bool{}, map[string]int{}
	for i := range c.out.Lines {
		l := &c.out.Lines[i]
		name := l.Name
		if name == "" {
			if name = fmt.Sprint(i + 1); !taken[name] {
				taken[name], told[name] = true, true
				l.Name = name
				continue
			}
			told[name] = true // by the line that is called so
		}
		if !told[name] {
			told[name] = true
			l.Name = name
			continue
		}
		n := max(2, last[name])
		for ; taken[fmt.Sprintf("%s.%d", name, n)]; n++ {
		}
		last[name] = n
		l.Name = fmt.Sprintf("%s.%d", name, n)
		taken[l.Name] = true
	}
}

// finish joins the open lines and numbers what has no name.
func (c *collector) finish() (*Drawing, error) {
	if err := c.join(); err != nil {
		return nil, err
	}
	c.name()
	if len(c.out.Lines) == 0 {
		says := "there is no closed line in this drawing"
		if n := len(c.out.Notes); n > 0 {
			says += "\n  " + strings.Join(c.out.Notes[:min(n, 20)], "\n  ")
		}
		return nil, &Problem{Says: says}
	}
	return &c.out, nil
}
