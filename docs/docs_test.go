// Package docs_test runs what the documents show: every YAML block of
// toy-file.md, every whole toy of the other pages, the tables and limits that can
// be checked against the code.
//
// A YAML block of toy-file.md is one of these, said by the HTML comment before it:
//
//	(none), starting with dryfit: 1    a whole toy: it must hold
//	<!-- with the cart -->             sections that are added to the cart, the page's
//	                                   toy of that name; the result must hold, and so
//	                                   must each new part or glue-up by itself
//	<!-- with the bare frame -->       the same, the cart having no wheels and no musts
//	<!-- in the work of the plank -->  work on a plank that is all of a toy
//	<!-- a shop file -->               a builder's own shop, with which the cart holds
//
// A comment may go on with
//
//	; problem: WORDS      the block is faulty, and one of its problems has the words
//	; fails: CHECK        the proof of the block fails by that check, and by no other
//	; waived: CHECK       a finding of that check is waived
//
// A block without a comment that is no whole toy fails the test. A ```text block
// with <!-- message --> is what is printed for the faulty block before it.
package docs_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"dryfit/app"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy/file"
)

var update = flag.Bool("update", false, "write the pages that are made from the code anew")

// page is the manual.
const page = "toy-file.md"

// block is a fenced block of a page.
type block struct {
	lang, text, comment string
	line                int
}

var commentForm = regexp.MustCompile(`^<!--\s*(.*?)\s*-->$`)

// blocks returns the fenced blocks of a page. A comment belongs to the fence that
// follows it, blank lines between allowed.
func blocks(t *testing.T, name string) []block {
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var out []block
	var b *block
	comment := ""
	for i, line := range strings.Split(string(text), "\n") {
		switch trimmed := strings.TrimSpace(line); {
		case b != nil && trimmed == "```":
			out, b = append(out, *b), nil
		case b != nil:
			b.text += line + "\n"
		case strings.HasPrefix(trimmed, "```"):
			if line != trimmed {
				t.Errorf("%s:%d: a fence that is indented is not read here", name, i+1)
			}
			b, comment = &block{lang: strings.TrimPrefix(trimmed, "```"), comment: comment, line: i + 1}, ""
		case commentForm.MatchString(trimmed):
			comment = commentForm.FindStringSubmatch(trimmed)[1]
		case trimmed != "":
			comment = ""
		}
	}
	if b != nil {
		t.Errorf("%s:%d: this fence is never closed", name, b.line)
	}
	return out
}

func (b block) whole() bool { return strings.HasPrefix(b.text, "dryfit: 1\n") }

// marker is what a comment asks for.
type marker struct{ base, problem, fails, waived string }

func readMarker(comment string) (m marker, err error) {
	for i, part := range strings.Split(comment, ";") {
		part = strings.TrimSpace(part)
		key, value, named := strings.Cut(part, ": ")
		switch {
		case named && key == "problem":
			m.problem = value
		case named && key == "fails":
			m.fails = value
		case named && key == "waived":
			m.waived = value
		case i == 0 && (part == "" || part == "with the cart" || part == "with the bare frame" || part == "in the work of the plank" || part == "a shop file"):
			m.base = part
		default:
			return m, fmt.Errorf("the comment says %q, which means nothing here", part)
		}
	}
	return m, nil
}

// plank is the toy that work is tried on: names of sizes as in the cart.
const plank = `dryfit: 1
toy: Plank
units: inch
sizes: {board: 3/4, dowel: 1/4, running: 1/16}
stock:
  beech: {wood: beech, form: board, thick: board}
parts:
  plank:
    from: beech
    blank: [6, 3]
    work:
%sbuild:
  - put: plank
`

var sectionForm = regexp.MustCompile(`^([a-z-]+):(.*)$`)

// section is a top-level key of a toy file with the lines below it.
type section struct{ key, rest, body string }

func sections(text string) []section {
	var out []section
	for _, line := range strings.SplitAfter(text, "\n") {
		if m := sectionForm.FindStringSubmatch(strings.TrimSuffix(line, "\n")); m != nil {
			out = append(out, section{key: m[1], rest: m[2]})
		} else if len(out) > 0 {
			out[len(out)-1].body += line
		}
	}
	return out
}

func join(ss []section) string {
	var b strings.Builder
	for _, s := range ss {
		b.WriteString(s.key + ":" + s.rest + "\n" + s.body)
	}
	return b.String()
}

// merge adds the sections of a fragment to those of a base toy: what it has with
// lines below is added to, what stands on one line is replaced.
func merge(base, fragment string) (string, error) {
	out := sections(base)
	added := sections(fragment)
	if len(added) == 0 || !strings.HasPrefix(fragment, added[0].key+":") {
		return "", fmt.Errorf("the block does not start with a section of the file")
	}
next:
	for _, a := range added {
		for i := range out {
			if out[i].key != a.key {
				continue
			}
			out[i].body += a.body
			if a.body == "" {
				out[i].rest = a.rest
			}
			continue next
		}
		out = append(out, a)
	}
	return join(out), nil
}

// bare takes the wheels and the musts off the cart.
func bare(cart string) string {
	var kept []section
	for _, s := range sections(cart) {
		if s.key == "must" {
			continue
		}
		if s.key == "build" {
			body := ""
			for _, line := range strings.SplitAfter(s.body, "\n") {
				if !strings.HasPrefix(strings.TrimSpace(line), "- wheels:") {
					body += line
				}
			}
			s.body = body
		}
		kept = append(kept, s)
	}
	return join(kept)
}

var nameForm = regexp.MustCompile(`(?m)^  ([A-Za-z][\w-]*):`)

// alone returns toys in which each part or glue-up of a fragment is the whole
// toy, where that can be: the length of an axle, say, follows from its holes.
func alone(t *testing.T, merged, fragment string) map[string]string {
	out := map[string]string{}
	for _, s := range sections(fragment) {
		if s.key != "parts" && s.key != "glue-ups" {
			continue
		}
		for _, m := range nameForm.FindAllStringSubmatch(s.body, -1) {
			var ss []section
			for _, x := range sections(merged) {
				if x.key == "build" {
					x.body = "  - put: " + m[1] + "\n"
				}
				if x.key != "must" && x.key != "waive" {
					ss = append(ss, x)
				}
			}
			text := join(ss)
			if _, probs := app.Open("alone.yaml", text, nil, nil); len(probs) == 1 && strings.HasPrefix(probs[0].Says, "how long is "+m[1]) {
				continue
			}
			out[m[1]] = text
		}
	}
	return out
}

// cartOf finds the page's toy that fragments are added to.
func cartOf(t *testing.T, bs []block) string {
	for _, b := range bs {
		if b.lang == "yaml" && b.whole() && strings.Contains(b.text, "\ntoy: Quay cart\n") {
			return b.text
		}
	}
	t.Fatal("the page has no toy called Quay cart")
	return ""
}

// run reads, derives and proves a toy.
func run(text string) (*prove.Report, source.Problems) {
	opened, probs := app.Open("toy.yaml", text, nil, nil)
	if len(probs) > 0 {
		return nil, probs
	}
	return opened.Prove()
}

// holds checks that a toy reads, derives and proves without a fail, but for some
// checks.
func holds(text string, but ...string) error {
	rep, probs := run(text)
	if len(probs) > 0 {
		return probs
	}
	for _, f := range rep.Findings {
		if f.Verdict == prove.Fails && !slices.Contains(but, f.Check) {
			return fmt.Errorf("%s: %s", f.ID, f.Says)
		}
	}
	if rep.MustUntold {
		return fmt.Errorf("a must cannot be told")
	}
	return nil
}

// check runs one block and returns what is wrong with it, and the problems that
// it was meant to have.
func check(t *testing.T, b block, cart string) (source.Problems, error) {
	m, err := readMarker(b.comment)
	if err != nil {
		return nil, err
	}
	text := b.text
	switch {
	case m.base == "a shop file":
		return checkShop(b, m, cart)
	case m.base == "" && !b.whole() && m.problem == "":
		return nil, fmt.Errorf("neither a whole toy nor marked with where it belongs")
	case m.base == "with the cart":
		text, err = merge(cart, b.text)
	case m.base == "with the bare frame":
		text, err = merge(bare(cart), b.text)
	case m.base == "in the work of the plank":
		text = fmt.Sprintf(plank, indent(b.text, 6))
	}
	if err != nil {
		return nil, err
	}
	if m.problem != "" {
		_, probs := run(text)
		for _, p := range probs {
			if strings.Contains(p.Error(), m.problem) {
				return probs, nil
			}
		}
		return nil, fmt.Errorf("none of its problems says %q, but %v", m.problem, probs)
	}
	if m.fails != "" || m.waived != "" {
		rep, probs := run(text)
		if len(probs) > 0 {
			return nil, probs
		}
		seen := map[string]prove.Verdict{}
		for _, f := range rep.Findings {
			if f.Verdict == prove.Fails && f.Check != m.fails {
				return nil, fmt.Errorf("%s: %s", f.ID, f.Says)
			}
			if v, ok := seen[f.Check]; !ok || f.Verdict == prove.Fails || v != prove.Fails && f.Verdict == prove.Waived {
				seen[f.Check] = f.Verdict
			}
		}
		if m.fails != "" && seen[m.fails] != prove.Fails {
			return nil, fmt.Errorf("%s does not fail", m.fails)
		}
		if m.waived != "" && seen[m.waived] != prove.Waived {
			return nil, fmt.Errorf("nothing of %s is waived", m.waived)
		}
		return nil, nil
	}
	if err := holds(text); err != nil {
		return nil, err
	}
	if m.base != "" {
		for name, toy := range alone(t, text, b.text) {
			// A log, a ball or a thin wall need not stand up by itself.
			if err := holds(toy, "balance"); err != nil {
				return nil, fmt.Errorf("%s by itself: %w", name, err)
			}
		}
	}
	return nil, nil
}

// checkShop reads a shop file and proves the cart in that shop.
func checkShop(b block, m marker, cart string) (source.Problems, error) {
	shop, probs := app.ReadShop("shop.yaml", b.text)
	if m.problem != "" {
		if !strings.Contains(probs.Error(), m.problem) {
			return nil, fmt.Errorf("none of its problems says %q, but %v", m.problem, probs)
		}
		return probs, nil
	}
	if len(probs) > 0 {
		return nil, probs
	}
	opened, probs := app.OpenWith("toy.yaml", cart, app.Options{Shop: shop})
	if len(probs) > 0 {
		return nil, probs
	}
	if rep, probs := opened.Prove(); len(probs) > 0 || !rep.Passes() || !slices.Equal(rep.ShopFrom, []string{"shop.yaml"}) {
		return nil, fmt.Errorf("the cart does not hold in this shop: %v", probs)
	}
	return nil, nil
}

func indent(text string, n int) string {
	var b strings.Builder
	for _, line := range strings.SplitAfter(text, "\n") {
		if strings.TrimSpace(line) != "" {
			b.WriteString(strings.Repeat(" ", n))
		}
		b.WriteString(line)
	}
	return b.String()
}

func TestEveryBlockOfTheManualRuns(t *testing.T) {
	bs := blocks(t, page)
	cart := cartOf(t, bs)
	var before source.Problems
	n, faulty := 0, 0
	for _, b := range bs {
		switch {
		case b.lang == "yaml":
			probs, err := check(t, b, cart)
			if err != nil {
				t.Errorf("%s:%d: %v", page, b.line, err)
			}
			n++
			if before = probs; probs != nil {
				faulty++
			}
		case b.lang == "text" && b.comment == "message":
			if before == nil || before.Error()+"\n" != b.text {
				t.Errorf("%s:%d: this is printed otherwise:\n%s", page, b.line, before.Error())
			}
		case b.lang == "text" || b.lang == "sh":
		default:
			t.Errorf("%s:%d: a fence of the language %q is not run", page, b.line, b.lang)
		}
	}
	if n < 40 || faulty < 10 {
		t.Errorf("%d blocks run, %d of them faulty: the manual has lost most of its examples, or they are not found", n, faulty)
	}
}

// The test above has to be able to fail.
func TestFaultyBlocksAreFound(t *testing.T) {
	cart := cartOf(t, blocks(t, page))
	for _, c := range []struct{ comment, text, says string }{
		{"", "parts:\n  deck: {from: beech, blank: [3, 1]}\n", "neither a whole toy nor marked"},
		{"somewhere", "parts:\n", "means nothing here"},
		{"with the cart", "parts:\n  deck: {from: oak, blank: [3, 1]}\n", "there is no stock oak"},
		{"with the cart", "parts:\n  deck: {from: beech, blank: [3, 1], work: [{saw: {side: face, outline: [[0, 0], [2, 1], [2, 0], [0, 1]]}}]}\n", "crosses itself"},
		{"with the cart", "- put: frame\n", "does not start with a section"},
		{"with the cart; problem: no such words", "parts:\n  deck: {from: oak, blank: [3, 1]}\n", "none of its problems"},
		{"with the cart; problem: anything", "parts:\n  deck: {from: beech, blank: [3, 1]}\n", "none of its problems"},
		{"with the cart; fails: balance", "parts:\n  deck: {from: beech, blank: [3, 1]}\n", "does not fail"},
		{"with the cart; waived: balance", "parts:\n  deck: {from: beech, blank: [3, 1]}\n", "nothing of balance is waived"},
		{"with the cart", "parts:\n  deck: {from: beech, blank: [3, 1]}\nbuild:\n  - {put: deck, sits: {bottom: frame.bottom, back: frame.back, middle: frame.middle}}\n", "fit.overlap"},
		{"in the work of the plank", "- drill: {side: face, dia: 1/4}\n", "where is the hole?"},
		{"", "dryfit: 1\ntoy: Nothing\n", "missing"},
	} {
		_, err := check(t, block{lang: "yaml", comment: c.comment, text: c.text}, cart)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q:\n%sgives %v, and should say %q", c.comment, c.text, err, c.says)
		}
	}
}

// Whole toys of all other pages hold as well.
func TestToysOfOtherPagesHold(t *testing.T) {
	pages, _ := filepath.Glob("*.md")
	for _, name := range append(pages, filepath.Join("..", "README.md")) {
		if _, err := os.Stat(name); err != nil || name == page {
			continue
		}
		for _, b := range blocks(t, name) {
			if m, err := readMarker(b.comment); !b.whole() || err == nil && m.problem != "" {
				continue
			}
			if err := holds(b.text); err != nil {
				t.Errorf("%s:%d: %v", name, b.line, err)
			}
		}
	}
}

const referenceTop = `# The toy file, key by key

Made from the code by ` + "`go test ./docs -run Golden -update`" + `; not to be edited. The manual with
examples is [toy-file.md](toy-file.md).

`

const measuresTop = "\n# Measures file\n\nWhat the finished pieces of a build measured (`dryfit measures`).\n\n"

const shopTop = `
# The shop file, key by key

` + "`--shop` of a proof or a layout reads it, and so does every proof where it is `dryfit/shop.yaml` in your configuration folder." + `

`

func TestGoldenReference(t *testing.T) {
	golden(t, "reference.md", referenceTop+file.Reference()+shopTop+file.ShopReference()+measuresTop+file.MeasuresReference())
}

func TestGoldenChecks(t *testing.T) { golden(t, "checks.md", app.ChecksPage()) }

// golden compares a page that is made from the code with what the code says now.
func golden(t *testing.T, name, want string) {
	if *update {
		if err := os.WriteFile(name, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Error(name + " is not what the code says: go test ./docs -run Golden -update")
	}
}
