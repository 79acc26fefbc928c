package pattern

import (
	"slices"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r2"
	"dryfit/geom/r3"
	"dryfit/paper/draw"
	"dryfit/toy"
)

// lettered are the words on the drawings of a block.
func lettered(d drawn) (out []string) {
	draw.Page{Items: d.Items}.Walk(func(k draw.Mark) {
		if k.Text != nil {
			out = append(out, k.Text.Says)
		}
	})
	return out
}

func blocksOf(t *testing.T, m *assembly.Model) []drawn {
	t.Helper()
	all, err := blocks(m)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func find(t *testing.T, all []drawn, of string, glueUp bool) drawn {
	t.Helper()
	k := slices.IndexFunc(all, func(d drawn) bool { return d.of == of && d.glueUp == glueUp })
	if k < 0 {
		t.Fatal("no pattern of", of)
	}
	return all[k]
}

// Every pattern of a glue-up says which way up it goes, by arrows that are true: a step
// along one on the wood is a step that way in the toy.
func TestGlueUpsSayWhichWayUp(t *testing.T) {
	asked := 0
	for name, m := range toys(t) {
		for _, d := range blocksOf(t, m) {
			if !d.glueUp {
				continue
			}
			base := m.Pieces[d.numbers[0]-1]
			for _, v := range d.views {
				says := lettered(d)
				if len(v.ways) != 2 {
					t.Errorf("%s, %s, %s: %d arrows", name, d.of, v.side, len(v.ways))
				}
				for _, w := range v.ways {
					f := assembly.SideFrame(v.side, base.Made.Size)
					at := func(p r2.Vec) r3.Vec { return base.Pose.Point(f.Point(r3.Vec{X: p.X, Y: p.Y})) }
					step := at(r2.Vec{X: 3, Y: 4}.Add(w.dir)).Sub(at(r2.Vec{X: 3, Y: 4}))
					along := map[string]r3.Vec{"forward": {X: 1}, "up": {Z: 1}, "left": {Y: 1}}[w.says]
					if step.Dot(along) < 0.9 || !slices.Contains(says, w.says) {
						t.Errorf("%s, %s, %s: %q leads along %v, lettered %q", name, d.of, v.side, w.says, step, says)
					}
					asked++
				}
			}
		}
	}
	if asked < 6 {
		t.Errorf("only %d arrows", asked)
	}
}

// Sides are called as the maker finds them: those of a glue-up by where they are in the
// toy, those of a part that lies otherwise than it was sawn by how they look there.
func TestSidesAreCalledAsInTheToy(t *testing.T) {
	all := toys(t)
	for _, c := range []struct {
		toy, of string
		glueUp  bool
		want    []string
		not     []string
	}{
		{"joinery", "box", true, []string{"LEFT SIDE OF THE BOX"}, []string{"FACE (top)"}},
		{"quay-tram", "body", true, []string{"RIGHT SIDE OF THE BODY"}, []string{"FACE (top)"}},
		{"tipping-wagon", "bed", true, []string{"RIGHT SIDE OF THE BED"}, []string{"EDGE (right)"}},
		{"quay-tram", "core", false, []string{"FACE", "looks right in the toy"}, []string{"FACE (top)"}},
		{"quay-tram", "frame", false, []string{"FACE (top)", "EDGE (right)", "deck", "tail"}, nil},
		{"quay-tram", "trailer-frame", false, []string{"deck", "under tongue"}, nil},
	} {
		d := find(t, blocksOf(t, all[c.toy]), c.of, c.glueUp)
		says := lettered(d)
		for _, w := range c.want {
			if !slices.Contains(says, w) {
				t.Errorf("%s, %s: %q is not lettered: %q", c.toy, c.of, w, says)
			}
		}
		for _, w := range c.not {
			if slices.Contains(says, w) {
				t.Errorf("%s, %s: %q is lettered", c.toy, c.of, w)
			}
		}
		if c.glueUp && strings.Contains(d.Note, "(front)") || len(c.not) > 0 && strings.Contains(d.Note, "(top)") {
			t.Errorf("%s, %s: the note says %q", c.toy, c.of, d.Note)
		}
	}
	if note := find(t, blocksOf(t, all["joinery"]), "box", true).Note; !strings.Contains(note, "sand the front flush with right") {
		t.Errorf("the note of the box says %q", note)
	}
}

// What hides the blank of a glue-up is drawn strong, and the pattern is laid by a corner of
// that: of the wagon's bed the square one at its front, since the one behind is rounded.
func TestHiddenBlank(t *testing.T) {
	m := toys(t)["tipping-wagon"]
	v := find(t, blocksOf(t, m), "bed", true).views[0]
	if !v.hidden || v.covered() {
		t.Fatal("the bed's floor is not behind its side")
	}
	at, into, ok := corner(v.seen)
	if want := (r2.Vec{X: 130}); !ok || at.Sub(want).Len() > 1e-6 || into.X > 0 || into.Y < 0 {
		t.Errorf("it is laid by a corner at %v with the wood along %v, want %v", at, into, want)
	}
	strong := 0
	draw.Page{Items: find(t, blocksOf(t, m), "bed", true).Items}.Walk(func(k draw.Mark) {
		if k.Path != nil && k.Path.Line == draw.Outline && len(k.Path.Runs[0].Segs) > 8 {
			strong++
		}
		if k.Path != nil && k.Path.Line == draw.Thin && k.Path.Runs[0].Closed {
			t.Error("the hidden blank is drawn as one that is seen")
		}
	})
	if strong == 0 {
		t.Error("the side of the bed is not drawn strong")
	}
	if d, ok := allLook(piecesOf(m, mustPart(t, m, "bed-side")), toy.Top); !ok || d != toy.ToRight {
		t.Error("the bed's sides do not look right")
	}
}

func mustPart(t *testing.T, m *assembly.Model, name string) *toy.Part {
	t.Helper()
	p, ok := m.Toy.PartNamed(name)
	if !ok {
		t.Fatal("no part", name)
	}
	return p
}
