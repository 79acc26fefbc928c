package oracle

import (
	"fmt"
	"math"
	"math/rand"
	"strings"

	"dryfit/geom/r3"
)

// Random parts, as text: a blank sawn to an outline on its edge and to another on
// its face, drilled through, to a depth, leaning, counterbored, and cut into. The
// same seed gives the same files everywhere.

type gen struct {
	*rand.Rand
	b       strings.Builder
	inch    bool
	l, w, t float64 // of the blank, mm
}

// num writes a length: hundredths of a millimetre, or 64ths of an inch as a mixed
// number.
func (g *gen) num(mm float64) string {
	if !g.inch {
		return fmt.Sprintf("%.2f", mm)
	}
	n := int(math.Round(mm / 25.4 * 64))
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	switch {
	case n%64 == 0:
		return fmt.Sprintf("%s%d", sign, n/64)
	case n < 64 || sign != "":
		return fmt.Sprintf("%s%d/64", sign, n)
	}
	return fmt.Sprintf("%d %d/64", n/64, n%64)
}

// near writes a place on a blank, now and then from its other end.
func (g *gen) near(x, size float64, name string) string {
	switch g.Intn(6) {
	case 0:
		return name + " - " + g.paren(size-x)
	case 1:
		return name + " / 2 + " + g.paren(x-size/2)
	}
	return g.num(x)
}

func (g *gen) paren(mm float64) string {
	if mm < 0 || g.inch { // a mixed number is a term of its own
		return "(" + g.num(mm) + ")"
	}
	return g.num(mm)
}

func (g *gen) between(lo, hi float64) float64 { return lo + g.Float64()*(hi-lo) }

func (g *gen) pick(words ...string) string { return words[g.Intn(len(words))] }

// randomPart returns the file of a toy of one part.
func randomPart(seed int64) string {
	g := &gen{Rand: rand.New(rand.NewSource(seed))}
	g.inch = g.Intn(2) == 0
	units := map[bool]string{true: "inch", false: "mm"}[g.inch]
	round := func(mm float64) float64 { // to what num can write
		if g.inch {
			return math.Round(mm/25.4*64) / 64 * 25.4
		}
		return math.Round(mm*100) / 100
	}
	g.l, g.w, g.t = round(g.between(50, 150)), round(g.between(25, 70)), round(g.between(12, 45))
	fmt.Fprintf(&g.b, "dryfit: 1\ntoy: random %d\nunits: %s\nsizes:\n  stout: %s\nstock:\n  board: {wood: beech, form: board, thick: stout}\n", seed, units, g.num(g.t))
	fmt.Fprintf(&g.b, "parts:\n  part:\n    from: board\n    blank: [%s, %s]\n    work:\n", g.num(g.l), g.num(g.w))
	g.saw(g.pick("edge", "other-edge"), g.chain(), "thick", g.t)
	g.saw(g.pick("face", "other-face"), g.star(), "width", g.w)
	for n := 1 + g.Intn(4); n > 0; n-- {
		g.drill()
	}
	for n := g.Intn(4); n > 0; n-- {
		g.cut()
	}
	g.b.WriteString("build:\n  - put: part\n")
	return g.b.String()
}

type corner struct{ x, y, r float64 }

// chain is an outline along the blank: a lower line and an upper one.
func (g *gen) chain() []corner {
	line := func(lo, hi float64) (out []corner) {
		n := 2 + g.Intn(4)
		for i := 0; i <= n; i++ {
			x := g.l * float64(i) / float64(n)
			if i > 0 && i < n {
				x += g.between(-0.3, 0.3) * g.l / float64(n)
			}
			y := g.between(lo, hi)
			if g.Intn(3) == 0 {
				y = math.Round(lo/hi) * hi // on the side of the blank itself
			}
			out = append(out, corner{x: x, y: y * g.t})
		}
		return out
	}
	all := line(0, 0.3)
	top := line(0.65, 1)
	for i := len(top) - 1; i >= 0; i-- {
		all = append(all, top[i])
	}
	return g.soften(all)
}

// star is an outline seen whole from the middle of the face.
func (g *gen) star() []corner {
	n := 5 + g.Intn(9)
	var out []corner
	for i := 0; i < n; i++ {
		a := (float64(i) + g.between(-0.3, 0.3)) * 2 * math.Pi / float64(n)
		s, c := math.Sincos(a)
		reach := math.Min(g.l/2/math.Max(1e-9, math.Abs(c)), g.w/2/math.Max(1e-9, math.Abs(s)))
		reach *= g.between(0.55, 1.05) // beyond the blank now and then
		out = append(out, corner{x: g.l/2 + reach*c, y: g.w/2 + reach*s})
	}
	return g.soften(out)
}

// soften gives two corners in three a radius that fits.
func (g *gen) soften(cs []corner) []corner {
	n := len(cs)
	for i := range cs {
		p, a, b := cs[i], cs[(i+n-1)%n], cs[(i+1)%n]
		ux, uy, vx, vy := a.x-p.x, a.y-p.y, b.x-p.x, b.y-p.y
		lu, lv := math.Hypot(ux, uy), math.Hypot(vx, vy)
		half := math.Acos(math.Max(-1, math.Min(1, (ux*vx+uy*vy)/lu/lv))) / 2
		most := 0.42 * math.Min(lu, lv) * math.Tan(half)
		if g.Intn(3) > 0 && most > 0.5 && most < 500 {
			cs[i].r = g.between(0.3, 1) * most
		}
	}
	return cs
}

func (g *gen) saw(side string, cs []corner, across string, size float64) {
	fmt.Fprintf(&g.b, "      - saw:\n          side: %s\n          outline:\n", side)
	for _, c := range cs {
		fmt.Fprintf(&g.b, "            - [%s, %s", g.near(c.x, g.l, "length"), g.near(c.y, size, across))
		if c.r > 0.4 {
			fmt.Fprintf(&g.b, ", r %s", g.num(c.r))
		}
		g.b.WriteString("]\n")
	}
}

// side picks a side and returns its size and the depth of wood behind it.
func (g *gen) side() (name string, w, h, deep float64) {
	switch g.Intn(6) {
	case 0:
		return "face", g.l, g.w, g.t
	case 1:
		return "other-face", g.l, g.w, g.t
	case 2:
		return "edge", g.l, g.t, g.w
	case 3:
		return "other-edge", g.l, g.t, g.w
	case 4:
		return "end", g.w, g.t, g.l
	}
	return "other-end", g.w, g.t, g.l
}

func (g *gen) drill() {
	side, w, h, deep := g.side()
	dia := g.between(3, 0.5*math.Min(w, h))
	fmt.Fprintf(&g.b, "      - drill: {side: %s, dia: %s", side, g.num(dia))
	if g.Intn(4) == 0 {
		fmt.Fprintf(&g.b, ", row: {from: [%s, %s], step: [%s, %s], count: %d}", g.num(g.between(0.2, 0.3)*w), g.num(g.between(0.4, 0.6)*h),
			g.num(g.between(0.1, 0.2)*w), g.num(g.between(-0.05, 0.05)*h), 2+g.Intn(3))
	} else {
		y := g.num(g.between(0.3, 0.7) * h)
		if g.Intn(3) == 0 {
			y = "middle"
		}
		fmt.Fprintf(&g.b, ", at: [[%s, %s]]", g.num(g.between(0.2, 0.8)*w), y)
	}
	depth := g.between(0.2, 0.8) * deep
	if g.Intn(2) == 0 {
		fmt.Fprintf(&g.b, ", depth: %s", g.num(depth))
	}
	if g.Intn(3) == 0 {
		fmt.Fprintf(&g.b, ", lean: {toward: %s, by: %d°}", g.pick("right", "left", "up", "down"), 5+g.Intn(35))
	}
	if g.Intn(4) == 0 {
		fmt.Fprintf(&g.b, ", counterbore: {dia: %s, depth: %s}", g.num(dia*g.between(1.2, 1.8)), g.num(depth*g.between(0.2, 0.6)))
	}
	g.b.WriteString("}\n")
}

func (g *gen) cut() {
	side, w, h, deep := g.side()
	x, y := g.between(0.1, 0.6)*w, g.between(-0.1, 0.6)*h
	wide, high := g.between(0.1, 0.35)*w, g.between(0.15, 0.4)*h
	depth := fmt.Sprintf(", depth: %s", g.num(g.between(0.15, 0.6)*deep))
	maybe := depth
	if g.Intn(2) == 0 {
		maybe = ""
	}
	switch g.Intn(6) {
	case 0:
		fmt.Fprintf(&g.b, "      - cut-out: {side: %s, outline: {rect: [%s, %s], size: [%s, %s], r: %s}%s}\n", side, g.num(x), g.num(y), g.num(wide), g.num(high), g.num(0.4*math.Min(wide, high)), maybe)
	case 1:
		fmt.Fprintf(&g.b, "      - cut-in: {side: %s, outline: {circle: [%s, %s], dia: %s}%s}\n", side, g.num(x), g.num(y), g.num(high), maybe)
	case 2:
		fmt.Fprintf(&g.b, "      - notch: {side: %s, at: [%s, %s], size: [%s, %s]%s}\n", side, g.num(x), g.num(y), g.num(wide), g.num(high), maybe)
	case 3:
		across := g.num(g.between(0.2, 0.8) * h)
		fmt.Fprintf(&g.b, "      - groove: {side: %s, from: [%s, %s], to: [%s, %s], wide: %s%s}\n", side, g.num(-5), across, g.num(x+wide), across, g.num(high/2), depth)
	case 4: // a slot with a round end, by an arc through a point
		fmt.Fprintf(&g.b, "      - cut-in: {side: %s, outline: {points: [[%s, %s], [%s, %s], {to: [%s, %s], through: [%s, %s]}, [%s, %s]]}%s}\n", side,
			g.num(x), g.num(y), g.num(x+wide), g.num(y), g.num(x+wide), g.num(y+high), g.num(x+wide+high*g.between(0.2, 0.7)), g.num(y+high*g.between(0.4, 0.6)), g.num(x), g.num(y+high), maybe)
	default: // half an outline, mirrored
		fmt.Fprintf(&g.b, "      - cut-out: {side: %s, outline: {points: [[%s, %s], [%s, %s, r %s], [%s, %s]], mirror: across}%s}\n", side,
			g.num(x), g.num(y), g.num(x+wide*0.2), g.num(y+high*0.6), g.num(0.2*math.Min(wide, high)), g.num(x+wide/2), g.num(y+high), maybe)
	}
}

// randomPose turns about a random axis and shifts by up to reach.
func randomPose(g *rand.Rand, reach float64) r3.Pose {
	dir := func() r3.Vec { return r3.Vec{X: g.NormFloat64(), Y: g.NormFloat64(), Z: g.NormFloat64()}.Unit() }
	turn := r3.Turn(r3.Vec{}, dir(), g.Float64()*2*math.Pi)
	return turn.Then(r3.Shift(dir().Scale(reach * g.Float64())))
}
