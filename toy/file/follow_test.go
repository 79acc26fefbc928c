package file_test

import (
	"strings"
	"testing"

	"dryfit/measure/source"
	"dryfit/toy/file"
	"dryfit/toy/file/tree"
)

// crates is a toy that speaks of pieces, work, holes and corners by their numbers.
const crates = `dryfit: 1
toy: Crates
units: inch
sizes: {length2: 1, board: 3/4}   # length of two
stock:
  oak: {wood: oak, form: board, thick: board}
  rod: {wood: birch, form: dowel, dia: 1/4}
parts:
  deck:
    from: oak
    blank: [6, 3]
    work:
      - drill: {side: face, dia: 1/4, at: [[1, 1], [2, 1], [3, 1]]}
      - drill: {side: face, dia: 1/4, named: {post: [4, 1]}}
      - saw:
          side: face
          outline:
            points: [[0, 0], [length, 0], [length, width], [3, width], [0, width]]
            flats: {bow: [2, 3], stern: [5, 1]}
            named: {tip: 4}
  crate: {from: oak, blank: [length2, 1]}
  lid: {from: oak, blank: [crate.length, crate.width]}
  peg: {from: rod}
build:
  - put: deck
  # the first crate
  - {put: crate, sits: {bottom: deck.top, back: deck.back, right: deck.right}, glued: yes}
  - {put: crate, sits: {bottom: deck.top, back: crate.front, right: deck.right}, glued: yes}
  - put: crate
    sits: {bottom: deck.top, back: crate.2.front + 1/4, right: deck.right}
    glue-to: [deck]
  - {put: lid, sits: {bottom: crate.2.top, back: crate.2.back, middle: "crate.2.middle"}, glued: yes, keyed-by: crate.2}
  - {put: lid, as: hat, sits: {bottom: crate.3.top, back: crate.3.back, middle: crate.3.middle}, glued: yes}
  - peg: {use: peg, in: deck.post, length: 1}
waive:
  - {check: cut.possible, about: deck/work.1.2, reason: it is what we have}
  - {check: cut.possible, about: deck/work.3, reason: it is what we have}
  - {check: fit.contact, about: crate.2~crate.3, reason: they are friends}
`

// An edit leaves all that is spoken of by number as it is meant: what is written otherwise is listed
// by line.
func TestApplyFollows(t *testing.T) {
	for _, c := range []struct {
		name string
		edit tree.Edit
		want []string // lines that are new, after those that the edit itself makes
	}{
		{"a crate before all", tree.Edit{Op: "insert", Path: "build[1]", Value: "{put: crate}"}, []string{
			"  - {put: crate}",
			"  - {put: crate, sits: {bottom: deck.top, back: crate.2.front, right: deck.right}, glued: yes}",
			"    sits: {bottom: deck.top, back: crate.3.front + 1/4, right: deck.right}",
			`  - {put: lid, sits: {bottom: crate.3.top, back: crate.3.back, middle: "crate.3.middle"}, glued: yes, keyed-by: crate.3}`,
			"  - {put: lid, as: hat, sits: {bottom: crate.4.top, back: crate.4.back, middle: crate.4.middle}, glued: yes}",
			"  - {check: fit.contact, about: crate.3~crate.4, reason: they are friends}",
		}},
		{"the third crate first", tree.Edit{Op: "move", Path: "build[3]", To: "[1]"}, []string{
			"    sits: {bottom: deck.top, back: crate.3.front + 1/4, right: deck.right}",
			"  - {put: crate, sits: {bottom: deck.top, back: crate.2.front, right: deck.right}, glued: yes}",
			`  - {put: lid, sits: {bottom: crate.3.top, back: crate.3.back, middle: "crate.3.middle"}, glued: yes, keyed-by: crate.3}`,
			"  - {put: lid, as: hat, sits: {bottom: crate.top, back: crate.back, middle: crate.middle}, glued: yes}",
			"  - {check: fit.contact, about: crate.3~crate, reason: they are friends}",
		}},
		{"the second crate away", tree.Edit{Op: "remove", Path: "build[2]"}, []string{ // of the three only crate and crate.2 are left
			"    sits: {bottom: deck.top, back: crate.3.front + 1/4, right: deck.right}",
			`  - {put: lid, sits: {bottom: crate.3.top, back: crate.3.back, middle: "crate.3.middle"}, glued: yes, keyed-by: crate.3}`,
			"  - {put: lid, as: hat, sits: {bottom: crate.2.top, back: crate.2.back, middle: crate.2.middle}, glued: yes}",
			"  - {check: fit.contact, about: crate.3~crate.2, reason: they are friends}",
		}},
		{"a name of its own", tree.Edit{Op: "insert", Path: "build[1].as", Value: "box"}, []string{
			"  - {put: crate, sits: {bottom: deck.top, back: deck.back, right: deck.right}, glued: yes, as: box}",
			"  - {put: crate, sits: {bottom: deck.top, back: box.front, right: deck.right}, glued: yes}",
			"    sits: {bottom: deck.top, back: crate.front + 1/4, right: deck.right}",
			`  - {put: lid, sits: {bottom: crate.top, back: crate.back, middle: "crate.middle"}, glued: yes, keyed-by: crate}`,
			"  - {put: lid, as: hat, sits: {bottom: crate.2.top, back: crate.2.back, middle: crate.2.middle}, glued: yes}",
			"  - {check: fit.contact, about: crate~crate.2, reason: they are friends}",
		}},
		{"work in another order", tree.Edit{Op: "move", Path: "parts.deck.work[0]", To: "[2]"}, []string{
			"  - {check: cut.possible, about: deck/work.3.2, reason: it is what we have}",
			"  - {check: cut.possible, about: deck/work.2, reason: it is what we have}",
		}},
		{"work away", tree.Edit{Op: "remove", Path: "parts.deck.work[0]"}, []string{ // its waiver is of no work now
			"  - {check: cut.possible, about: deck/work.3.2, reason: it is what we have}",
			"  - {check: cut.possible, about: deck/work.2, reason: it is what we have}",
		}},
		{"a hole away", tree.Edit{Op: "remove", Path: "parts.deck.work[0].drill.at[0]"}, []string{
			"      - drill: {side: face, dia: 1/4, at: [[2, 1], [3, 1]]}",
			"  - {check: cut.possible, about: deck/work.1.1, reason: it is what we have}",
		}},
		{"that hole away", tree.Edit{Op: "remove", Path: "parts.deck.work[0].drill.at[1]"}, []string{
			"      - drill: {side: face, dia: 1/4, at: [[1, 1], [3, 1]]}",
			"  - {check: cut.possible, about: deck/work.1.3, reason: it is what we have}",
		}},
		{"a corner in front", tree.Edit{Op: "insert", Path: "parts.deck.work[2].saw.outline.points[1]", Value: "[1, 0]"}, []string{
			"            points: [[0, 0], [1, 0], [length, 0], [length, width], [3, width], [0, width]]",
			"            flats: {bow: [3, 4], stern: [6, 1]}",
			"            named: {tip: 5}",
		}},
		{"a corner on a flat", tree.Edit{Op: "insert", Path: "parts.deck.work[2].saw.outline.points[2]", Value: "[length, 1]"}, []string{
			"            points: [[0, 0], [length, 0], [length, 1], [length, width], [3, width], [0, width]]",
			"            flats: {bow: [2, 3], stern: [6, 1]}",
			"            named: {tip: 5}",
		}},
		{"a corner on the last flat", tree.Edit{Op: "insert", Path: "parts.deck.work[2].saw.outline.points[+]", Value: "[0, 1]"}, []string{
			"            points: [[0, 0], [length, 0], [length, width], [3, width], [0, width], [0, 1]]",
			"            flats: {bow: [2, 3], stern: [5, 6]}",
		}},
		{"a named corner away", tree.Edit{Op: "remove", Path: "parts.deck.work[2].saw.outline.points[3]"}, []string{
			"            points: [[0, 0], [length, 0], [length, width], [0, width]]",
			"            flats: {bow: [2, 3], stern: [4, 1]}",
			"            named: {tip: 5}",
		}},
		{"an end of a flat away", tree.Edit{Op: "remove", Path: "parts.deck.work[2].saw.outline.points[2]"}, []string{ // there is no corner 5
			"            points: [[0, 0], [length, 0], [3, width], [0, width]]",
			"            flats: {bow: [2, 5], stern: [4, 1]}",
			"            named: {tip: 3}",
		}},
		{"another part in the place of one", tree.Edit{Op: "set", Path: "build[2].put", Value: "lid"}, []string{
			"  - {put: lid, sits: {bottom: deck.top, back: crate.front, right: deck.right}, glued: yes}",
			"    sits: {bottom: deck.top, back: lid.front + 1/4, right: deck.right}",
			`  - {put: lid, sits: {bottom: lid.top, back: lid.back, middle: "lid.middle"}, glued: yes, keyed-by: lid}`,
			"  - {put: lid, as: hat, sits: {bottom: crate.2.top, back: crate.2.back, middle: crate.2.middle}, glued: yes}",
			"  - {check: fit.contact, about: lid~crate.2, reason: they are friends}",
		}},
		{"a value", tree.Edit{Op: "set", Path: "sizes.board", Value: "1/2"}, []string{"sizes: {length2: 1, board: 1/2}   # length of two"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := file.Apply(source.New("crates.yaml", crates), c.edit)
			if err != nil {
				t.Fatal(err)
			}
			if lines := added(crates, got); strings.Join(lines, "\n") != strings.Join(c.want, "\n") {
				t.Errorf("new lines:\n%s\nwant\n%s", strings.Join(lines, "\n"), strings.Join(c.want, "\n"))
			}
			if a, b := strings.Count(crates, "#"), strings.Count(got, "#"); a != b {
				t.Errorf("%d comments, were %d", b, a)
			}
		})
	}
}

// added are the lines of b that are not in a.
func added(a, b string) (out []string) {
	have := map[string]int{}
	for _, l := range strings.Split(a, "\n") {
		have[l]++
	}
	for _, l := range strings.Split(b, "\n") {
		if have[l]--; have[l] < 0 {
			out = append(out, l)
		}
	}
	return out
}

// What something sat on is gone: the file says so at its line, and never sits it on what has the
// name now. Put back, all is well again.
func TestApplyLeavesWhatIsGone(t *testing.T) {
	f := source.New("crates.yaml", crates)
	if _, probs := file.Read(f, nil); len(probs) > 0 {
		t.Fatal(probs)
	}
	text, err := file.Apply(f, tree.Edit{Op: "remove", Path: "build[2]"})
	if err != nil {
		t.Fatal(err)
	}
	_, probs := file.Read(source.New("crates.yaml", text), nil)
	if len(probs) == 0 || !strings.Contains(probs.Error(), "there is no piece crate.3 yet") {
		t.Fatalf("problems: %v", probs)
	}
	text, err = file.Apply(source.New("crates.yaml", text), tree.Edit{Op: "insert", Path: "build[2]", Value: "{put: crate, sits: {bottom: deck.top, back: crate.front, right: deck.right}}"})
	if err != nil {
		t.Fatal(err)
	}
	if _, probs := file.Read(source.New("crates.yaml", text), nil); !strings.Contains(probs.Error(), "crate.4") || strings.Contains(text, "hat, sits: {bottom: crate.2.top") {
		t.Errorf("problems: %v\n%s", probs, text)
	}
	text, _ = file.Apply(f, tree.Edit{Op: "remove", Path: "build[2]"})
	for _, e := range []tree.Edit{
		{Op: "insert", Path: "build[+]", Value: "{put: crate, sits: {bottom: deck.top, back: crate.front, right: deck.right}, glued: yes}"},
		{Op: "move", Path: "build[6]", To: "[2]"},
	} {
		if text, err = file.Apply(source.New("crates.yaml", text), e); err != nil {
			t.Fatal(err)
		}
	}
	if text != crates {
		t.Errorf("put back:\n%s", diff(crates, text))
	}
}
