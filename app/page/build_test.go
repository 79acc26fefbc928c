package page

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/app"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/tree"
)

func builds(t *testing.T, text string) (*Builds, *app.Toy, *tree.Node) {
	t.Helper()
	toy, probs := app.Open("", text, nil, nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	m, probs := toy.Model()
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	out, ok := BuildsOf(text, toy, m, nil)
	if !ok {
		t.Fatal("not described")
	}
	root, _ := tree.Parse(source.New("", text))
	return out, toy, root
}

// Of every example every step is told, with paths that lead to what they are said to.
func TestBuildsOfExamples(t *testing.T) {
	var files []string
	for _, in := range []string{"*.yaml", "plain/*.yaml", "broken/*.yaml"} {
		more, _ := filepath.Glob(filepath.Join("../../examples", in))
		files = append(files, more...)
	}
	if len(files) < 50 {
		t.Fatalf("%d examples only", len(files))
	}
	for _, name := range files {
		t.Run(filepath.Base(name), func(t *testing.T) {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			b, opened, root := builds(t, string(text))
			if len(b.Lists) != 1+len(opened.GlueUps) {
				t.Errorf("%d lists", len(b.Lists))
			}
			for _, l := range b.Lists {
				if len(l.Steps) != len(root.At(l.Path).Items) || len(l.Steps) == 0 {
					t.Errorf("%s: %d steps", l.Path, len(l.Steps))
				}
				var added []string
				for i, s := range l.Steps {
					checkPaths(t, root, s)
					if l.GlueUp == "" {
						if want := idsOf(opened.Build[i]); !slices.Equal(want, s.IDs) {
							t.Errorf("%s adds %v, and is said to add %v", s.Path, want, s.IDs)
						}
					}
					checkAxes(t, s, i == 0)
					added = append(added, s.IDs...)
				}
				for _, s := range l.Seats {
					if !slices.Contains(added, s.ID) && !strings.Contains(s.ID, "/") {
						t.Errorf("nothing adds %s", s.ID)
					}
				}
				if len(l.Seats) < len(added) {
					t.Errorf("%d pieces, and %d to sit on", len(added), len(l.Seats))
				}
			}
		})
	}
}

func checkPaths(t *testing.T, root *tree.Node, s BuildStep) {
	t.Helper()
	same := func(path, want string) {
		t.Helper()
		n := root.At(path)
		if want == "" && n == nil {
			return
		}
		if n == nil || n.Text != want {
			t.Errorf("%s is not %q", path, want)
		}
	}
	if root.At(s.Path) == nil || root.At(s.Body) == nil || s.Says == "" || s.Lines[0] < 1 || s.Lines[1] < s.Lines[0] {
		t.Errorf("step %+v", s)
	}
	same(s.PartPath, s.Part)
	for _, f := range s.Fields {
		same(f.Path, f.Text)
	}
	for _, sit := range s.Sits {
		same(sit.Path, sit.Text)
		if sit.Piece == "" || sit.Feature == "" {
			t.Errorf("%s is on nothing: %q", sit.Path, sit.Text)
		}
	}
	for _, w := range s.Words {
		if n := root.At(w.Path); n == nil || len(w.Items) == 0 {
			t.Errorf("%s names nothing", w.Path)
		} else if n.Kind == tree.List && len(n.Items) != len(w.Items) || n.Kind == tree.Scalar && n.Text != w.Items[0] {
			t.Errorf("%s is said to be %v", w.Path, w.Items)
		}
	}
	for _, f := range s.Yes {
		if (root.At(f.Path) != nil) != f.Said {
			t.Errorf("%s: said is %v", f.Path, f.Said)
		}
	}
	if s.Lies != nil && (root.At(s.Lies.Path) != nil) != s.Lies.Said {
		t.Errorf("%s: said is %v", s.Lies.Path, s.Lies.Said)
	}
}

// checkAxes sees that the lines of a put settle each direction once.
func checkAxes(t *testing.T, s BuildStep, first bool) {
	t.Helper()
	if s.Kind != "put" || first {
		return
	}
	var axes []int
	for _, sit := range s.Sits {
		axes = append(axes, sit.Axes...)
	}
	slices.Sort(axes)
	if !slices.Equal(slices.Compact(axes), []int{0, 1, 2}) {
		t.Errorf("%s settles %v", s.Path, axes)
	}
}

func idsOf(s toy.Step) []string {
	switch s := s.(type) {
	case toy.Put:
		return []string{s.ID}
	case toy.Wheels:
		return slices.Concat([]string{s.AxleID}, s.WheelIDs[0], s.WheelIDs[1])
	case toy.Peg:
		return []string{s.ID}
	case toy.Hinge:
		return []string{s.ID}
	}
	return nil
}

const twoBlocks = `dryfit: 1
toy: blocks
units: mm
stock: {board: {wood: beech, form: board, thick: 18}}
parts:
  base:
    from: board
    blank: [100, 40]
    work: [{drill: {side: face, dia: 6, named: {eye: [20, 20]}}}, {saw: {side: edge, outline: {points: [[0, 0], [100, 0], [100, 18], [50, 18], [40, 9], [0, 9]], flats: {deck: [5, 6]}, named: {nose: 3}}}}]
  top: {from: board, blank: [40, 40], lies: {length: up, right: bottom}}
build:
  - put: base
  # the cabin
  - {put: top, as: cabin, sits: {bottom: base.deck, front: base.nose - 1/8 in, middle: base.middle}, glued: true}
`

func TestBuildsSay(t *testing.T) {
	b, _, _ := builds(t, twoBlocks)
	steps, seats := b.Lists[0].Steps, b.Lists[0].Seats
	s := steps[1]
	if steps[0].Says != "base comes first" || s.Says != "cabin sits on base, glued" || s.Lines != [2]int{14, 14} || !s.Yes[0].Yes {
		t.Errorf("%+v", s)
	}
	if *s.Lies != (BuildLies{"build[1].lies", false, "up", "right", "other-face"}) {
		t.Errorf("%+v", s.Lies)
	}
	want := []BuildSit{
		{Path: "build[1].sits.bottom", Feature: "deck", Axes: []int{2}},
		{Path: "build[1].sits.front", Feature: "nose", Off: "- 1/8 in", Said: "- 1/8 in", MM: new(-3.175), Axes: []int{0}},
		{Path: "build[1].sits.middle", Feature: "middle", Axes: []int{1}},
	}
	for i, w := range want {
		if got := s.Sits[i]; got.Path != w.Path || got.Off != w.Off || got.Said != w.Said || (w.MM != nil && (got.MM == nil || *got.MM != *w.MM)) || got.Feature != w.Feature || !slices.Equal(got.Axes, w.Axes) {
			t.Errorf("%+v, want %+v", got, w)
		}
	}
	if got := seats[0].Features; !slices.Equal(got, []SeatSpot{{"eye", "hole", "", 0}, {"deck", "flat", "top", 9}, {"nose", "point", "", 0}}) {
		t.Errorf("%v", got)
	}
}

// A file that has become no toy has its steps told all the same.
func TestBuildsOfWhatDoesNotStand(t *testing.T) {
	before, _, _ := builds(t, twoBlocks)
	free := strings.Replace(twoBlocks, ", middle: base.middle", "", 1)
	opened, probs := app.Open("", free, nil, nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	if _, probs = opened.Model(); len(probs) == 0 {
		t.Fatal("it stands")
	}
	b, ok := BuildsOf(free, opened, nil, before)
	if !ok || len(b.Lists[0].Steps[1].Sits) != 2 || b.Lists[0].Steps[1].Sits[0].Axes[0] != 2 || b.Hash == before.Hash {
		t.Errorf("%+v", b)
	}
	gone := strings.Replace(twoBlocks, "  - put: base\n", "", 1)
	if b, ok = BuildsOf(gone, nil, nil, before); !ok || len(b.Lists[0].Steps) != 1 || len(b.Lists[0].Seats) != 2 {
		t.Errorf("%+v", b)
	}
	if b, ok = BuildsOf("build: [", nil, nil, before); ok || b != before {
		t.Error("what is no file is described")
	}
}
