package file_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/measure/source"
	"dryfit/toy/file"
)

// toysOfExamples are all example toys, and those of the manual's size that use every key.
func toysOfExamples(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, pattern := range []string{"*.yaml", "plain/*.yaml", "broken/*.yaml"} {
		got, err := filepath.Glob(filepath.Join("..", "..", "examples", pattern))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, got...)
	}
	if len(out) < 50 {
		t.Fatalf("only %d toys", len(out))
	}
	return out
}

// Every name of every example becomes one that is nowhere in the file, after which the toy is read
// without problems and nothing goes by the old name; back again, every byte is as it was.
func TestRenameThereAndBack(t *testing.T) {
	count := 0
	for _, path := range toysOfExamples(t) {
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		text := string(b)
		f := source.New(path, text)
		list, err := file.Names(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range list {
			const fresh = "zebra-crossing"
			r, err := file.Rename(f, n.String(), fresh)
			if err != nil {
				t.Errorf("%s: %s: %v", path, n, err)
				continue
			}
			if len(r.Problems) > 0 {
				t.Errorf("%s: %s: %v\n%s", path, n, r.Problems, r.Text)
				continue
			}
			back := file.Name{Kind: n.Kind, Text: fresh}
			if glueUp, _, in := strings.Cut(n.Text, "/"); in {
				back.Text = glueUp + "/" + fresh
			}
			to := n.Text[strings.LastIndexByte(n.Text, '/')+1:]
			again, err := file.Rename(source.New(path, r.Text), back.String(), to)
			if err != nil {
				t.Errorf("%s: back to %s: %v", path, n, err)
				continue
			}
			if again.Text != text {
				t.Errorf("%s: %s is not back where it was:\n%s", path, n, diff(text, again.Text))
			}
			count++
		}
	}
	if count < 500 {
		t.Errorf("only %d names", count)
	}
}

// diff are the lines that two texts do not share at the same place.
func diff(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	var out []string
	for i := range max(len(x), len(y)) {
		var p, q string
		if i < len(x) {
			p = x[i]
		}
		if i < len(y) {
			q = y[i]
		}
		if p != q {
			out = append(out, "- "+p, "+ "+q)
		}
	}
	return strings.Join(out, "\n")
}

const cart = `dryfit: 1
toy: frame cart   # the frame is called frame
units: inch
ease: length2 / 8
sizes:
  length2: 1/2
  wheel: 1 1/4            # wheel
  wheel-2: wheel + length2
  "tall": max(wheel, wheel-2) - length2
stock:
  beech: {wood: beech, form: board, thick: 3/4}
  wheels: {wood: maple, form: board, thick: 3/8}
  'rod': {wood: birch, form: dowel, dia: 1/4}
parts:
  frame:
    from: "beech"
    blank: [5, tall]
    work:
      - drill: {side: edge, dia: rod.dia + 1/16, named: {rear-axle: [1 1/8, 5/16], front-axle: [3 7/8, 5/16]}}
      - drill: {side: face, dia: rod.dia, named: {hitch: [1/2, middle]}}
      - saw: {side: face, outline: [[0, 0], [length, 0, r length2 / 2], [length, width, r wheel/8], [0, width]]}
  core: {from: beech, blank: [2, frame.width], lies: {length: forward, right: face}}
  frame-2: {from: beech, blank: [frame.length - 3, frame.width/2], lies: {length: forward, right: face}}
  mirror: {mirrors: frame-2}
  wheel: {from: wheels, disc: wheel, bore: rod.dia}
  axle: {from: rod}
  pin: {from: rod}
glue-ups:
  coach:
    pieces:
      - put: core
      - {put: frame-2, sits: {left: core.right, back: core.back, bottom: core.bottom}}
      - put: frame-2
        as: other
        sits: {right: core.left, back: "core.back", bottom: core.bottom + length2 - 1/2}
    work:
      - sand-flush: {side: edge, with: core}
build:
  - put: frame
  - {put: coach, sits: {bottom: frame.top, back: frame.back + length2, middle: frame.middle}, glued: yes}
  - {put: frame-2, sits: {bottom: coach/core.top, back: coach/other.back - length2 + 1/2, middle: coach/core.middle}, glue-to: [coach/core, 'coach/other'], keyed-by: coach/frame-2}
  - {put: mirror, as: flap, sits: {bottom: frame.top, front: frame.front, middle: frame.middle}, glued: yes}
  - wheels: {in: frame.rear-axle, axle: axle, outward: [wheel, gap, wheel], play: 1/32, gap: 1/16, proud: 1/8}
  - wheels: {in: [frame.front-axle], axle: axle, outward: [wheel], play: 1/32, proud: 1/8}
  - hinge: {name: arm, pin: pin, fixed: frame.hitch, runs: frame.hitch, lifts-off: yes}
cord: {from: frame.hitch, length: 10}
must: [rolls, {swings: arm, at-least: 10°}]
waive:
  - {check: fit.dowel, about: arm-pin~frame/hitch, reason: the frame}
  - {check: cut.possible, about: frame/work.3, reason: frame}
  - {check: move.hinge, about: arm, reason: frame}
  - {check: fit.contact, about: coach/other~coach/core, reason: frame}
  - {check: child.material, about: stock wheels, reason: frame}
  - {check: strength.joint, about: wheel on axle (levered), reason: frame}
`

// A name is written anew wherever it is meant, and nowhere else: not in remarks and texts, not in
// names that begin like it, and not where another kind of thing has it.
func TestRename(t *testing.T) {
	for _, c := range []struct {
		what, to string
		want     []string
	}{
		{"length2", "long", []string{
			"ease: long / 8", "  long: 1/2", "  wheel-2: wheel + long", `  "tall": max(wheel, wheel-2) - long`,
			"      - saw: {side: face, outline: [[0, 0], [length, 0, r long / 2], [length, width, r wheel/8], [0, width]]}",
			"        sits: {right: core.left, back: \"core.back\", bottom: core.bottom + long - 1/2}",
			"  - {put: coach, sits: {bottom: frame.top, back: frame.back + long, middle: frame.middle}, glued: yes}",
			"  - {put: frame-2, sits: {bottom: coach/core.top, back: coach/other.back - long + 1/2, middle: coach/core.middle}, glue-to: [coach/core, 'coach/other'], keyed-by: coach/frame-2}",
		}},
		{"sizes.wheel", "round", []string{
			"  round: 1 1/4            # wheel", "  wheel-2: round + length2", `  "tall": max(round, wheel-2) - length2`,
			"      - saw: {side: face, outline: [[0, 0], [length, 0, r length2 / 2], [length, width, r round/8], [0, width]]}",
			"  wheel: {from: wheels, disc: round, bore: rod.dia}",
		}},
		{"tall", "high", []string{`  "high": max(wheel, wheel-2) - length2`, "    blank: [5, high]"}},
		{"rod", "dowel", []string{
			"  'dowel': {wood: birch, form: dowel, dia: 1/4}",
			"      - drill: {side: edge, dia: dowel.dia + 1/16, named: {rear-axle: [1 1/8, 5/16], front-axle: [3 7/8, 5/16]}}",
			"      - drill: {side: face, dia: dowel.dia, named: {hitch: [1/2, middle]}}",
			"  wheel: {from: wheels, disc: wheel, bore: dowel.dia}", "  axle: {from: dowel}", "  pin: {from: dowel}",
		}},
		{"stock.wheels", "maple", []string{
			"  maple: {wood: maple, form: board, thick: 3/8}", "  wheel: {from: maple, disc: wheel, bore: rod.dia}",
			"  - {check: child.material, about: stock maple, reason: frame}",
		}},
		{"frame", "hull", []string{
			"  hull:", "  core: {from: beech, blank: [2, hull.width], lies: {length: forward, right: face}}",
			"  frame-2: {from: beech, blank: [hull.length - 3, hull.width/2], lies: {length: forward, right: face}}",
			"  - put: hull",
			"  - {put: coach, sits: {bottom: hull.top, back: hull.back + length2, middle: hull.middle}, glued: yes}",
			"  - {put: mirror, as: flap, sits: {bottom: hull.top, front: hull.front, middle: hull.middle}, glued: yes}",
			"  - wheels: {in: hull.rear-axle, axle: axle, outward: [wheel, gap, wheel], play: 1/32, gap: 1/16, proud: 1/8}",
			"  - wheels: {in: [hull.front-axle], axle: axle, outward: [wheel], play: 1/32, proud: 1/8}",
			"  - hinge: {name: arm, pin: pin, fixed: hull.hitch, runs: hull.hitch, lifts-off: yes}",
			"cord: {from: hull.hitch, length: 10}",
			"  - {check: fit.dowel, about: arm-pin~hull/hitch, reason: the frame}",
			"  - {check: cut.possible, about: hull/work.3, reason: frame}",
		}},
		{"parts.frame-2", "cheek", []string{
			"  cheek: {from: beech, blank: [frame.length - 3, frame.width/2], lies: {length: forward, right: face}}",
			"  mirror: {mirrors: cheek}",
			"      - {put: cheek, sits: {left: core.right, back: core.back, bottom: core.bottom}}",
			"      - put: cheek",
			"  - {put: cheek, sits: {bottom: coach/core.top, back: coach/other.back - length2 + 1/2, middle: coach/core.middle}, glue-to: [coach/core, 'coach/other'], keyed-by: coach/cheek}",
		}},
		{"core", "heart", []string{
			"  heart: {from: beech, blank: [2, frame.width], lies: {length: forward, right: face}}",
			"      - put: heart",
			"      - {put: frame-2, sits: {left: heart.right, back: heart.back, bottom: heart.bottom}}",
			`        sits: {right: heart.left, back: "heart.back", bottom: heart.bottom + length2 - 1/2}`,
			"      - sand-flush: {side: edge, with: heart}",
			"  - {put: frame-2, sits: {bottom: coach/heart.top, back: coach/other.back - length2 + 1/2, middle: coach/heart.middle}, glue-to: [coach/heart, 'coach/other'], keyed-by: coach/frame-2}",
			"  - {check: fit.contact, about: coach/other~coach/heart, reason: frame}",
		}},
		{"parts.wheel", "disc", []string{
			"  disc: {from: wheels, disc: wheel, bore: rod.dia}",
			"  - wheels: {in: frame.rear-axle, axle: axle, outward: [disc, gap, disc], play: 1/32, gap: 1/16, proud: 1/8}",
			"  - wheels: {in: [frame.front-axle], axle: axle, outward: [disc], play: 1/32, proud: 1/8}",
			"  - {check: strength.joint, about: disc on axle (levered), reason: frame}",
		}},
		{"pin", "king", []string{
			"  king: {from: rod}", "  - hinge: {name: arm, pin: king, fixed: frame.hitch, runs: frame.hitch, lifts-off: yes}",
			"  - {check: fit.dowel, about: arm-king~frame/hitch, reason: the frame}",
		}},
		{"coach", "cabin", []string{
			"  cabin:",
			"  - {put: cabin, sits: {bottom: frame.top, back: frame.back + length2, middle: frame.middle}, glued: yes}",
			"  - {put: frame-2, sits: {bottom: cabin/core.top, back: cabin/other.back - length2 + 1/2, middle: cabin/core.middle}, glue-to: [cabin/core, 'cabin/other'], keyed-by: cabin/frame-2}",
			"  - {check: fit.contact, about: cabin/other~cabin/core, reason: frame}",
		}},
		{"pieces.coach", "waggon", []string{
			"  - {put: coach, as: waggon, sits: {bottom: frame.top, back: frame.back + length2, middle: frame.middle}, glued: yes}",
			"  - {put: frame-2, sits: {bottom: waggon/core.top, back: waggon/other.back - length2 + 1/2, middle: waggon/core.middle}, glue-to: [waggon/core, 'waggon/other'], keyed-by: waggon/frame-2}",
			"  - {check: fit.contact, about: waggon/other~waggon/core, reason: frame}",
		}},
		{"coach/other", "left", []string{
			"        as: left",
			"  - {put: frame-2, sits: {bottom: coach/core.top, back: coach/left.back - length2 + 1/2, middle: coach/core.middle}, glue-to: [coach/core, 'coach/left'], keyed-by: coach/frame-2}",
			"  - {check: fit.contact, about: coach/left~coach/core, reason: frame}",
		}},
		{"coach/other", "frame-2.2", []string{ // what it is called without a name of its own
			"  - {put: frame-2, sits: {bottom: coach/core.top, back: coach/frame-2.2.back - length2 + 1/2, middle: coach/core.middle}, glue-to: [coach/core, 'coach/frame-2.2'], keyed-by: coach/frame-2}",
			"  - {check: fit.contact, about: coach/frame-2.2~coach/core, reason: frame}",
		}},
		{"flap", "door", []string{"  - {put: mirror, as: door, sits: {bottom: frame.top, front: frame.front, middle: frame.middle}, glued: yes}"}},
		{"arm", "signal", []string{
			"  - hinge: {name: signal, pin: pin, fixed: frame.hitch, runs: frame.hitch, lifts-off: yes}",
			"must: [rolls, {swings: signal, at-least: 10°}]",
			"  - {check: fit.dowel, about: signal-pin~frame/hitch, reason: the frame}",
			"  - {check: move.hinge, about: signal, reason: frame}",
		}},
		{"arm-pin", "post", []string{
			"  - hinge: {name: arm, pin: pin, as: post, fixed: frame.hitch, runs: frame.hitch, lifts-off: yes}",
			"  - {check: fit.dowel, about: post~frame/hitch, reason: the frame}",
		}},
		{"frame", "frame", nil},
	} {
		t.Run(c.what+" to "+c.to, func(t *testing.T) {
			f := source.New("cart.yaml", cart)
			if _, probs := file.Read(f, nil); len(probs) > 0 {
				t.Fatal(probs)
			}
			r, err := file.Rename(f, c.what, c.to)
			if err != nil {
				t.Fatal(err)
			}
			if len(r.Problems) > 0 {
				t.Error(r.Problems)
			}
			if got := added(cart, r.Text); strings.Join(got, "\n") != strings.Join(c.want, "\n") {
				t.Errorf("new lines:\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(c.want, "\n"))
			}
			for i, w := range r.Written {
				line := source.New("", r.Text).Line(w.Line)
				if !strings.Contains(line, w.Now) || i > 0 && w.Line < r.Written[i-1].Line {
					t.Errorf("line %d does not say %q: %s", w.Line, w.Now, line)
				}
			}
		})
	}
}

// A name that is not there, that cannot be one or that is taken: one clear error, and the nearest
// name.
func TestRenameErrors(t *testing.T) {
	for _, c := range []struct{ what, to, want string }{
		{"fram", "hull", `there is nothing called fram in the file (did you mean "frame"?)`},
		{"parts.fram", "hull", `there is no part fram (did you mean "frame"?)`},
		{"pieces.coach/othr", "hull", `there is no piece coach/othr (did you mean "coach/other"?)`},
		{"", "hull", "it is not said what is to have another name"},
		{"wheel", "disc", "wheel is the name of a size and of a part (expected sizes.wheel or parts.wheel)"},
		{"frame", "2nd", "2nd is not a name (expected letters a to z, digits and hyphens, the first a letter)"},
		{"frame", "", "the new name is missing"},
		{"frame", "a b", "a b is not a name (expected letters a to z, digits and hyphens, the first a letter)"},
		{"frame", "true", "true cannot be a name (expected another word: this one means yes or no)"},
		{"frame", "null", "null cannot be a name (expected another word: this one means nothing)"},
		{"frame", "core", "there is already a part core"},
		{"frame", "coach", "there is already a glue-up coach"},
		{"frame", "beech", ""}, // it comes from it: a formula tells beech.thick and beech.length apart
		{"core", "wheels", "there is already a stock wheels"},
		{"core", "flap", "there is already a piece flap"},
		{"parts.wheel", "gap", "gap stands for the space between twin wheels; a part needs another name"},
		{"coach", "core", "there is already a part core"},
		{"rod", "beech", "there is already a stock beech"},
		{"rod", "axle", ""}, // alike
		{"rod", "core", "there is already a part core"},
		{"length2", "tall", "there is already a size tall"},
		{"length2", "width", "width always means the blank in hand; a size needs another name"},
		{"length2", "mm", "mm has a meaning of its own in formulas; a size needs another name"},
		{"length2", "frame", ""}, // sizes and parts are told apart by the point
		{"flap", "frame", "there is already a piece frame"},
		{"coach/other", "core", "there is already a piece core"},
		{"flap", "core", ""}, // that is one inside the coach
		{"flap", "frame-2.9", "frame-2.9 is not a name (expected letters a to z, digits and hyphens, the first a letter)"},
		{"pieces.wheel.3", "spoked", "an axle and its wheels go by the names of their parts (expected another name for the part)"},
		{"axle.2", "rear", "an axle and its wheels go by the names of their parts (expected another name for the part)"},
		{"pieces.coach", "flap", "there is already a piece flap"},
	} {
		_, err := file.Rename(source.New("cart.yaml", cart), c.what, c.to)
		if got := ""; err != nil || c.want != "" {
			if err != nil {
				got = err.Error()
			}
			if got != c.want {
				t.Errorf("%s to %q: %s\nwant %s", c.what, c.to, got, c.want)
			}
		}
	}
	if _, err := file.Rename(source.New("x.yaml", "a: [\n"), "a", "b"); err == nil || !strings.Contains(err.Error(), "readable") {
		t.Errorf("a broken file: %v", err)
	}
}
