package outline

import (
	"fmt"
	"math"
	"strconv"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
)

// Limits of path data.
const (
	MaxSegments = 20000 // straight edges of all paths together, an arc counted by its chords
	MaxNumber   = 1e6   // largest number, in the units of the path
)

// SVGError is what is wrong with path data, and where: At is the index of the
// byte.
type SVGError struct {
	At   int
	Says string
}

func (e *SVGError) Error() string { return fmt.Sprintf("at character %d: %s", e.At+1, e.Says) }

// ParseSVG reads path data (the d attribute) as SVG 1.1 chapter 8 defines it,
// every command in both cases, in millimetres. Each subpath becomes a closed
// path, by a straight step where it does not close itself, as SVG fills it;
// moves that draw nothing are left out. Arcs of a circle stay true arcs;
// elliptical arcs and Bézier curves are flattened at once to straight steps
// within tol.Chord. Coordinates are taken as they are: y is not turned over.
//
// Where SVG would draw up to an error and stop, this gives only the error.
func ParseSVG(d string) ([]Path, *SVGError) { return ParseSVGIn(d, 1) }

// ParseSVGIn is ParseSVG for path data in a unit of that many millimetres (25.4
// for inches); the paths are in millimetres, and so is tol.Chord.
func ParseSVGIn(d string, unit float64) ([]Path, *SVGError) {
	r := &reader{d: d, chord: tol.Chord / unit, left: MaxSegments}
	if err := r.read(); err != nil {
		return nil, err
	}
	if len(r.paths) == 0 {
		return nil, &SVGError{At: len(d), Says: "the path draws nothing"}
	}
	if unit != 1 {
		for i, p := range r.paths {
			r.paths[i] = p.Transform(Scaled(unit))
		}
	}
	return r.paths, nil
}

// reader goes through path data. The first problem stays in err, after which
// nothing is read or drawn any more.
type reader struct {
	d     string
	at    int
	chord float64 // flattening tolerance in units of the path
	left  int     // segments still allowed
	err   *SVGError
	pen   Pen // of Trace

	paths   []Path
	path    Path
	pos     r2.Vec // where the pen is
	control r2.Vec // last control point, for S and T
	curve   byte   // C or Q if the last command was of that kind
}

// operands is how many numbers each command takes at a time.
var operands = map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

func (r *reader) read() *SVGError {
	r.space()
	for first := true; r.at < len(r.d); first = false {
		at, c := r.at, r.d[r.at]
		kind := c &^ 0x20
		n, known := operands[kind]
		switch {
		case !known || c < 'A':
			return r.fail(at, fmt.Sprintf("expected a command, one of MLHVCSQTAZ, not %q", firstRune(r.d[at:])))
		case first && kind != 'M':
			return r.fail(at, "path data must begin with M or m")
		}
		r.at++
		relative := c != kind
		if n == 0 {
			r.close()
			r.space()
			continue
		}
		r.space()
		for again := false; ; again = true {
			at := r.at
			var v [7]float64
			for i := range n {
				if i > 0 {
					r.comma()
				}
				if kind == 'A' && (i == 3 || i == 4) {
					v[i] = r.flag()
				} else {
					v[i] = r.number()
				}
			}
			if r.err != nil {
				return r.err
			}
			if kind == 'M' && again {
				kind = 'L'
			}
			r.draw(kind, relative, v[:n])
			if r.err != nil {
				r.err.At = at
				return r.err
			}
			before := r.at
			comma := r.comma()
			if !r.startsNumber() {
				if comma {
					return r.fail(before, "a comma with no number after it")
				}
				break
			}
		}
	}
	r.end()
	return r.err
}

func (r *reader) fail(at int, says string) *SVGError {
	if r.err == nil {
		r.err = &SVGError{At: at, Says: says}
	}
	return r.err
}

func firstRune(s string) string {
	for _, c := range s {
		return string(c)
	}
	return ""
}

func (r *reader) space() {
	for r.at < len(r.d) {
		switch r.d[r.at] {
		case ' ', '\t', '\r', '\n':
			r.at++
		default:
			return
		}
	}
}

// comma skips white space with at most one comma in it.
func (r *reader) comma() bool {
	r.space()
	if r.at < len(r.d) && r.d[r.at] == ',' {
		r.at++
		r.space()
		return true
	}
	return false
}

func (r *reader) peek() byte {
	if r.at < len(r.d) {
		return r.d[r.at]
	}
	return 0
}

func (r *reader) startsNumber() bool {
	c := r.peek()
	return c >= '0' && c <= '9' || c == '.' || c == '+' || c == '-'
}

func (r *reader) digits() int {
	from := r.at
	for c := r.peek(); c >= '0' && c <= '9'; c = r.peek() {
		r.at++
	}
	return r.at - from
}

// number reads: sign? (digits "."? digits? | "." digits) (e sign? digits)?
func (r *reader) number() float64 {
	if r.err != nil {
		return 0
	}
	from := r.at
	if c := r.peek(); c == '+' || c == '-' {
		r.at++
	}
	n := r.digits()
	if r.peek() == '.' {
		r.at++
		n += r.digits()
	}
	if n == 0 {
		r.at = from
		says := "expected a number, but the path ends"
		if from < len(r.d) {
			says = fmt.Sprintf("expected a number, not %q", firstRune(r.d[from:]))
		}
		r.fail(from, says)
		return 0
	}
	if c := r.peek(); c == 'e' || c == 'E' {
		mark := r.at
		r.at++
		if c := r.peek(); c == '+' || c == '-' {
			r.at++
		}
		if r.digits() == 0 {
			r.at = mark // an e that belongs to nothing: the command loop says so
		}
	}
	x, err := strconv.ParseFloat(r.d[from:r.at], 64)
	if math.Abs(x) > MaxNumber || err != nil && math.IsInf(x, 0) {
		r.fail(from, fmt.Sprintf("a number larger than %d", int(MaxNumber)))
		return 0
	}
	return x
}

// flag reads one digit, which need not be set apart from what follows.
func (r *reader) flag() float64 {
	if r.err != nil {
		return 0
	}
	switch r.peek() {
	case '0', '1':
		r.at++
		return float64(r.d[r.at-1] - '0')
	}
	r.fail(r.at, "expected an arc flag, 0 or 1")
	return 0
}

func (r *reader) draw(kind byte, relative bool, v []float64) {
	base := r2.Vec{}
	if relative {
		base = r.pos
	}
	point := func(i int) r2.Vec { return r2.Vec{X: base.X + v[i], Y: base.Y + v[i+1]} }
	curve := byte(0)
	switch kind {
	case 'M':
		r.end()
		r.pos = point(0)
		if r.pen != nil {
			r.pen.Move(r.pos)
		}
		r.path = Path{Start: r.pos}
	case 'L':
		r.line(point(0))
	case 'H':
		r.line(r2.Vec{X: base.X + v[0], Y: r.pos.Y})
	case 'V':
		r.line(r2.Vec{X: r.pos.X, Y: base.Y + v[0]})
	case 'C', 'S':
		c1, rest := r.pos, 0
		if kind == 'C' {
			c1, rest = point(0), 2
		} else if r.curve == 'C' {
			c1 = r.reflected()
		}
		c2, to := point(rest), point(rest+2)
		r.cubic(c1, c2, to)
		r.control, curve = c2, 'C'
	case 'Q', 'T':
		c, rest := r.pos, 0
		if kind == 'Q' {
			c, rest = point(0), 2
		} else if r.curve == 'Q' {
			c = r.reflected()
		}
		r.quadratic(c, point(rest))
		r.control, curve = c, 'Q'
	case 'A':
		r.arc(math.Abs(v[0]), math.Abs(v[1]), v[2]*math.Pi/180, v[3] != 0, v[4] != 0, point(5))
	}
	r.curve = curve
	if r.err == nil && !(math.Abs(r.pos.X) <= 2*MaxNumber && math.Abs(r.pos.Y) <= 2*MaxNumber) {
		r.fail(r.at, "the path leads too far away")
	}
}

// reflected is the last control point mirrored in the pen's place.
func (r *reader) reflected() r2.Vec { return r.pos.Add(r.pos.Sub(r.control)) }

// add draws a step; after Z without M the subpath begins where the last began.
func (r *reader) add(s Seg, chords int) {
	if r.left -= chords; r.left < 0 {
		r.fail(r.at, fmt.Sprintf("the path needs more than %d segments", MaxSegments))
		return
	}
	r.path.Segs = append(r.path.Segs, s)
	r.pos = s.To
}

func (r *reader) line(to r2.Vec) {
	if r.pen != nil {
		r.pen.Line(to)
	}
	r.add(Line(to), 1)
}

// close ends the subpath (Z) and begins another at the same start.
func (r *reader) close() {
	start := r.path.Start
	if r.pen != nil {
		r.pen.Close()
	}
	r.end()
	r.path, r.pos, r.curve = Path{Start: start}, start, 0
}

// end closes and keeps the subpath, if it draws anything.
func (r *reader) end() {
	p := r.path
	n := len(p.Segs)
	r.path = Path{}
	if n == 0 {
		return
	}
	if last := &p.Segs[n-1]; last.To.Sub(p.Start).Len() <= tol.Clip {
		last.To = p.Start // sums of relative steps end a rounding away
	} else {
		p.Segs = append(p.Segs, Line(p.Start))
	}
	r.paths = append(r.paths, p)
}
