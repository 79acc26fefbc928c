package app

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/prove/compare"
)

func tramText(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "examples", "quay-tram.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// edit is one change of the tram, and what is said of it.
type edit struct {
	name     string
	from, to string   // in the text, the first place
	every    bool     // all places
	says     []string // each in a line of the text
	never    []string
}

func (e edit) made(t *testing.T) string {
	t.Helper()
	text := tramText(t)
	if !strings.Contains(text, e.from) {
		t.Fatalf("the tram has no %q", e.from)
	}
	n := 1
	if e.every {
		n = -1
	}
	return strings.Replace(text, e.from, e.to, n)
}

var edits = []edit{
	{name: "longer car", from: "car: 4 ", to: "car: 4 1/8 ",
		says:  []string{"make anew", "core (2): 1/8 in longer", "side (4): 1/8 in longer", "in the old toy they are glued to frame, body/core, trailer-frame, trailer-body/core"},
		never: []string{"wider", "outline"}},
	{name: "shorter car", from: "car: 4 ", to: "car: 3 7/8 ",
		says: []string{"work on the old one", "core (2): 1/8 in shorter: can be cut from the old ones"}, never: []string{"longer"}},
	{name: "hole moved", from: "rear-axle: [1 7/8, axle-height]", to: "rear-axle: [1 3/4, axle-height]",
		says:  []string{"make anew", "frame: the rear axle hole moves 1/8 in back", "wheel (wheel, wheel.2): unchanged, but sits 1/8 in further back", "axle: unchanged, but sits 1/8 in further back"},
		never: []string{"can be cut"}},
	{name: "hole larger", from: "running: 1/16", to: "running: 5/64",
		says: []string{"work on the old one", "rear axle hole 1/64 in larger; front axle hole 1/64 in larger: can be cut from the old one, with the drill alone",
			"axle in frame/rear-axle: 1/64 in looser"}, never: []string{"make anew"}},
	{name: "hole smaller", from: "running: 1/16", to: "running: 3/64",
		says: []string{"make anew", "frame: rear axle hole 1/64 in smaller; front axle hole 1/64 in smaller", "1/64 in tighter"}, never: []string{"can be cut"}},
	{name: "wheel smaller", from: "wheel: 1 1/8", to: "wheel: 1", says: []string{"wheel (10): 1/8 in smaller across", "can be cut from the old ones"}},
	{name: "wheel larger", from: "wheel: 1 1/8", to: "wheel: 1 3/16", says: []string{"make anew", "wheel (10): 1/16 in larger across"}, never: []string{"can be cut"}},
	{name: "thicker dowel", from: "dowel: 1/4", to: "dowel: 5/16",
		says:  []string{"axle (4): 1/16 in thicker", "wheel (10): hole 1/16 in larger: can be cut from the old ones, with the drill alone", "rod: birch dowel, 5/16 in, was: birch dowel, 1/4 in"},
		never: []string{"axle (4): 1/16 in thicker; sits"}},
	{name: "thinner dowel", from: "dowel: 1/4", to: "dowel: 3/16",
		says: []string{"axle (4): 1/16 in thinner"}, never: []string{"axle (4): 1/16 in thinner: can be cut"}},
	{name: "other wood", from: "beech:  {wood: beech", to: "beech:  {wood: hard maple",
		says: []string{"core (2): of hard maple instead of beech", "beech: hard maple board, 3/4 in, was: beech board, 3/4 in"}, never: []string{"can be cut", "side (4):"}},
	{name: "new hole", from: "named: {coupling: [1/2, middle]}}", to: "named: {coupling: [1/2, middle], lamp: [3, middle]}}",
		says: []string{"frame: a new hole lamp, 1/4 in", "can be cut from the old one, with the drill alone"}},
	{name: "hole gone, with what needs it", from: "      - cut-out: {side: face, outline: {rect: [1/2, 3/4], size: [3/4, 7/16], r: 1/8}}\n", to: "",
		says: []string{"side (4): the cut-out 1 on the face is no longer there"}, never: []string{"can be cut"}},
	{name: "cut-out moved", from: "rect: [1/2, 3/4]", to: "rect: [3/4, 3/4]", says: []string{"the cut-out 1 on the face moves 1/4 in"}, never: []string{"can be cut"}},
	{name: "corner rounder", from: "[car, roof, r 1/2]", to: "[car, roof, r 3/4]",
		says: []string{"corner 3 rounded by 3/4 in, was 1/2 in", "can be cut from the old ones"}},
	{name: "a piece more", from: "  - hinge: {name: coupling", to: "  - {put: core, as: load, sits: {bottom: body.top, front: body.front, middle: body.middle}, glued: yes}\n  - hinge: {name: coupling",
		says: []string{"new", "load", "body to load: now glued"}, never: []string{"make anew"}},
	{name: "not glued", from: "sits: {bottom: frame.deck, front: frame.front - 3/16, middle: frame.middle}, glued: yes}", to: "sits: {bottom: frame.deck, front: frame.front - 3/16, middle: frame.middle}}",
		says: []string{"body to frame: no longer glued"}, never: []string{"make anew"}},
	{name: "moved", from: "front: frame.front - 3/16", to: "front: frame.front - 1/4",
		says: []string{"body/core: unchanged, but sits 1/16 in further back"}, never: []string{"make anew", "work on"}},
	{name: "no longer lifts off", from: "lifts-off: yes", to: "lifts-off: no", says: []string{"the hinge coupling: glued into frame/coupling, turns in trailer-frame/eye, was:"}},
	{name: "more play", from: "outward: [wheel], play: 1/32", to: "outward: [wheel], play: 1/16", says: []string{"axle: 1/16 in longer", "axle: 2 wheels, play 1/16 in, 1/8 in proud, was: 2 wheels, play 1/32 in, 1/8 in proud"}},
	{name: "must", from: "  - {stands-on-slope: 15°}\n", to: "", says: []string{"no longer asked: it stands on a slope of 15°"}},
	{name: "must more", from: "stands-on-slope: 15°", to: "stands-on-slope: 16°", says: []string{"it stands on a slope of 16°, was: of 15°"}},
	{name: "ages", from: "ages: 3 and up", to: "ages: 18 months and up", says: []string{"from 18 months, was: from 3 years"}},
	{name: "edition", from: "edition: 1", to: "edition: 2", says: []string{"edition: 2, was: 1"}, never: []string{"make anew", "findings"}},
	{name: "ease", from: "ease: 1/16", to: "ease: 1/8", says: []string{"every arris eased by: 1/8 in, was: 1/16 in"}},
	{name: "fails", from: "running: 1/16", to: "running: 0", says: []string{`fit.dowel:axle~frame/rear-axle: fails, was "holds"`, "the new one does not pass"}},
}

// Single edits are said in the words of a shop.
func TestCompareEdits(t *testing.T) {
	for _, e := range edits {
		t.Run(e.name, func(t *testing.T) {
			c := compared(t, tramText(t), e.made(t))
			text := strings.Join(strings.Fields(c.Text()), " ")
			if c.Same {
				t.Error("nothing changed")
			}
			for _, s := range e.says {
				if !strings.Contains(text, s) {
					t.Errorf("it does not say %q:\n%s", s, c.Text())
				}
			}
			for _, s := range e.never {
				if strings.Contains(text, s) {
					t.Errorf("it says %q:\n%s", s, c.Text())
				}
			}
			for _, p := range c.Pieces { // no piece changes without a reason that is said
				if (p.State == compare.Remake || p.State == compare.Cut) != (len(p.Changes) > 0) {
					t.Errorf("%v is %s with %d changes", p.Now, p.State, len(p.Changes))
				}
			}
		})
	}
}

// Two pieces of the same name change over: the old ones serve, called something else.
func TestCompareSwapped(t *testing.T) {
	text := tramText(t)
	i, j := strings.Index(text, "  frame:  "), strings.Index(text, "  core:\n")
	if i < 0 || j < i {
		t.Fatal("the tram is written otherwise")
	}
	swapped := strings.NewReplacer("trailer-frame", "frame-z", "frame", "trailer-frame").Replace(text)
	swapped = strings.ReplaceAll(swapped, "trailer-frame-z", "frame")
	c := compared(t, text, swapped)
	if !c.Same {
		t.Errorf("%s", c.Text())
	}
	if k := slices.IndexFunc(c.Pieces, func(p compare.Piece) bool { return slices.Equal(p.Was, []string{"frame"}) }); k < 0 || c.Pieces[k].Now[0] != "trailer-frame" || c.Pieces[k].State != compare.Unchanged {
		t.Errorf("the old frame is not the new trailer-frame: %s", c.Text())
	}
}

// A block with a hole that is not in its middle, laid the other way round, over and into its image.
func TestCompareLaidOtherwise(t *testing.T) {
	text := `dryfit: 1
toy: Two blocks
units: mm
stock:
  oak: {wood: oak, form: board, thick: 18}
parts:
  base: {from: oak, blank: [120, 60]}
  top: {from: oak, blank: [60, 30], work: [{drill: {side: face, dia: 8, depth: 10, at: [[12, 9]]}}]}
build:
  - put: base
  - {put: top, sits: {bottom: base.top, front: base.front, middle: base.middle}, glued: yes}
`
	for _, e := range []struct{ from, to, says string }{
		{"glued: yes}", "glued: yes, lies: {length: back, up: face}}", "top: unchanged, but sits another way round"},
		{"front: base.front", "front: base.front - 3", "top: unchanged, but sits 3 mm further back"},
		{"middle: base.middle", "middle: base.middle + 2", "top: unchanged, but sits 2 mm further left"},
		{"[[12, 9]]", "[[48, 21]]", ""}, // the same block, turned round on the bench
		{"[[12, 9]]", "[[12, 21]]", "top: it is now the mirror image of the old one"},
		{"depth: 10", "depth: 12", "a hole of 8 mm 2 mm deeper: can be cut from the old one, with the drill alone"},
		{"depth: 10", "depth: 8", "a hole of 8 mm 2 mm less deep"},
		{"depth: 10, ", "", "a hole of 8 mm now goes right through: can be cut"},
		{"[60, 30]", "[60, 30.01]", ""}, // less than a saw can hold
		{"[60, 30]", "[60, 30.5]", "top: 0.5 mm wider"},
		{"[120, 60]}", "[120, 60], work: [{round: {by: 3}}]}", "base: every arris rounded by 3 mm: can be cut from the old one"},
		{"at: [[12, 9]]}}", "at: [[12, 9]], lean: {toward: right, by: 15°}}}", "top: a new hole, 8 mm; the hole of 8 mm is no longer there"},
	} {
		now := strings.Replace(text, e.from, e.to, 1)
		if now == text {
			t.Fatalf("there is no %q", e.from)
		}
		c := compared(t, text, now)
		says := strings.Join(strings.Fields(c.Text()), " ")
		if e.says != "" && !strings.Contains(says, e.says) {
			t.Errorf("%s: it does not say %q:\n%s", e.to, e.says, c.Text())
		}
		if e.says == "" && slices.ContainsFunc(c.Pieces, func(p compare.Piece) bool { return p.State != compare.Unchanged }) {
			t.Errorf("%s: a piece has changed:\n%s", e.to, c.Text())
		}
	}
}
