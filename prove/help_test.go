package prove_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy"
	"dryfit/toy/file"
)

// Every test of this package starts from the text of a toy file, as a user does.

// sheetOf is a toy file in the making. Empty sections are left out.
type sheetOf struct {
	units, ages                        string
	stock, parts, glueUps, build, must []string
	waive                              []string
}

// text writes the file.
func (s sheetOf) text() string {
	var b strings.Builder
	units := s.units
	if units == "" {
		units = "mm"
	}
	fmt.Fprintf(&b, "dryfit: 1\ntoy: Test piece\nunits: %s\n", units)
	if s.ages != "" {
		fmt.Fprintf(&b, "ages: %s\n", s.ages)
	}
	section := func(name, mark string, lines []string) {
		if len(lines) == 0 {
			return
		}
		b.WriteString(name + ":\n")
		for _, l := range lines {
			b.WriteString("  " + mark + l + "\n")
		}
	}
	section("stock", "", s.stock)
	section("parts", "", s.parts)
	section("glue-ups", "", s.glueUps)
	section("build", "- ", s.build)
	section("must", "- ", s.must)
	section("waive", "- ", s.waive)
	return b.String()
}

func f(format string, args ...any) string { return fmt.Sprintf(format, args...) }

// board is a line of stock: a beech board of that thickness.
func board(name string, thick any) string {
	return f("%s: {wood: beech, form: board, thick: %v}", name, thick)
}

func dowelOf(name string, dia any) string {
	return f("%s: {wood: birch, form: dowel, dia: %v}", name, dia)
}

func read(t testing.TB, text string) *toy.Toy {
	t.Helper()
	ty, probs := file.Read(source.New("test.yaml", text), nil)
	if len(probs) > 0 {
		t.Fatalf("%v\nin\n%s", probs, text)
	}
	return ty
}

func proof(t testing.TB, text string) *prove.Report {
	t.Helper()
	rep, probs := prove.Run(read(t, text), nil)
	if len(probs) > 0 {
		t.Fatalf("%v\nin\n%s", probs, text)
	}
	return rep
}

func model(t testing.TB, text string) *assembly.Model {
	t.Helper()
	m, probs := assembly.Derive(read(t, text), assembly.Options{})
	if len(probs) > 0 {
		t.Fatalf("%v\nin\n%s", probs, text)
	}
	return m
}

// built proves a toy as it came out with errors of the build.
func built(t testing.TB, text string, dev assembly.Deviations) *prove.Report {
	t.Helper()
	m, probs := assembly.Derive(read(t, text), assembly.Options{Dev: dev})
	if len(probs) > 0 {
		t.Fatalf("%v\nin\n%s", probs, text)
	}
	return prove.Model(m)
}

func find(t testing.TB, rep *prove.Report, id string) prove.Finding {
	t.Helper()
	var ids []string
	for _, f := range rep.Findings {
		if f.ID == id {
			return f
		}
		ids = append(ids, f.ID)
	}
	t.Fatalf("no finding %s among %s", id, strings.Join(ids, ", "))
	return prove.Finding{}
}

// ids lists the findings with a verdict.
func ids(rep *prove.Report, v prove.Verdict) []string {
	var out []string
	for _, f := range rep.Findings {
		if f.Verdict == v {
			out = append(out, f.ID)
		}
	}
	return out
}

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// cart is a block on two axles.
type cart struct {
	units                     string
	frame                     float64 // width
	wheel, thick, dowel, hole string
	axle                      string // the lengths that are said
	rear                      string // wheel at the back, "" for the same
	ages                      string
}

func inches() cart {
	return cart{units: "inch", frame: 1.25, wheel: "1", thick: "1/4", dowel: "1/4", hole: "5/16", axle: "play: 1/32, proud: 1/8"}
}

func (c cart) sheet() sheetOf {
	rear := "wheel"
	s := sheetOf{units: c.units, ages: c.ages,
		stock: []string{board("beech", 0.75), board("flat", c.thick), dowelOf("rod", c.dowel)},
		parts: []string{
			f("frame: {from: beech, blank: [5, %g], work: [{drill: {side: edge, dia: %s, named: {rear-axle: [1, 1/4], front-axle: [4, 1/4]}}}]}", c.frame, c.hole),
			f("wheel: {from: flat, disc: %s, bore: %s}", c.wheel, c.dowel),
			"axle: {from: rod}"}}
	if c.rear != "" {
		rear = "rear-wheel"
		s.parts = append(s.parts, f("rear-wheel: {from: flat, disc: %s, bore: %s}", c.rear, c.dowel))
	}
	s.build = []string{"put: frame",
		f("wheels: {in: frame.rear-axle, axle: axle, outward: [%s], %s}", rear, c.axle),
		f("wheels: {in: frame.front-axle, axle: axle, outward: [wheel], %s}", c.axle)}
	return s
}

func (c cart) text() string { return c.sheet().text() }
