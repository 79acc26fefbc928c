package booklet_test

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"dryfit/paper/draw"
	"dryfit/paper/layout"
)

var toys = []string{"quay-tram", "tipping-wagon", "plain/pegs", "plain/lidded-box", "plain/ball-driver", "plain/steered-waggon", "plain/joinery"}

// Every word on every page is inside the margins and clear of every other, as another
// program reads the file.
func TestWordsAreClear(t *testing.T) {
	for _, name := range toys {
		b := book(t, example(t, name))
		for k, paper := range []layout.Paper{layout.A4, layout.Letter} {
			if k > 0 && strings.HasPrefix(name, "plain/") {
				continue // the demo toys on both, the others on one
			}
			t.Run(name+" "+paper.Name, func(t *testing.T) {
				data, err := b.PDF(paper)
				if err != nil {
					t.Fatal(err)
				}
				path := saved(t, "guide.pdf", data)
				clear(t, tool(t, "pdftotext", "-bbox", path, "-"), paper)
			})
		}
	}
}

var (
	pageTag = regexp.MustCompile(`<page width="([0-9.]+)" height="([0-9.]+)"`)
	wordTag = regexp.MustCompile(`<word xMin="([-0-9.]+)" yMin="([-0-9.]+)" xMax="([-0-9.]+)" yMax="([-0-9.]+)">(.*)</word>`)
)

type wordBox struct {
	x0, y0, x1, y1 float64
	says           string
}

// clear reads the boxes of words, in points. A box is as high as the font, which is more
// than its letters: lines of one paragraph touch, so a quarter of the height is let pass.
func clear(t *testing.T, bbox string, paper layout.Paper) {
	t.Helper()
	page, words := 0, []wordBox(nil)
	number := func(s string) float64 { x, _ := strconv.ParseFloat(s, 64); return x }
	total := 0
	check := func() {
		total += len(words)
		for i, a := range words {
			const margin = 10 / 25.4 * 72
			if a.x0 < margin || a.y0 < margin || a.x1 > paper.W/25.4*72-margin || a.y1 > paper.H/25.4*72-margin {
				t.Errorf("page %d: %q is in the margin", page, a.says)
			}
			for _, b := range words[:i] {
				in := min(a.y1-a.y0, b.y1-b.y0) * 0.27
				if a.x0 < b.x1-0.2 && b.x0 < a.x1-0.2 && a.y0 < b.y1-in && b.y0 < a.y1-in {
					t.Errorf("page %d: %q and %q meet", page, a.says, b.says)
				}
			}
		}
		words = nil
	}
	for _, line := range strings.Split(bbox, "\n") {
		if pageTag.MatchString(line) {
			check()
			page++
		}
		if m := wordTag.FindStringSubmatch(line); m != nil {
			words = append(words, wordBox{number(m[1]), number(m[2]), number(m[3]), number(m[4]), m[5]})
		}
	}
	check()
	if page < 5 || total < 300 {
		t.Errorf("only %d words on %d pages were read", total, page)
	}
}

// A step that is more than a page goes on on the next.
func TestLongStep(t *testing.T) {
	var b strings.Builder
	b.WriteString("dryfit: 1\ntoy: A shelf of blocks\nunits: mm\nstock: {b: {wood: beech, form: board, thick: 20}}\nparts:\n  base: {from: b, blank: [700, 60]}\n  block: {from: b, blank: [40, 40]}\nbuild:\n  - put: base\n")
	for i := range 8 {
		fmt.Fprintf(&b, "  - {put: block, as: block-with-a-rather-long-name-number-%c, sits: {bottom: base.top, back: base.back + %d, left: base.left - %d}, glued: yes}\n", 'a'+i, 20+80*i, i)
	}
	data, err := book(t, b.String()).PDF(layout.A4)
	if err != nil {
		t.Fatal(err)
	}
	path := saved(t, "long.pdf", data)
	clear(t, tool(t, "pdftotext", "-bbox", path, "-"), layout.A4)
}

// However many notes and pieces a toy has, its lists stay on their pages.
func TestLongLists(t *testing.T) {
	var s strings.Builder
	s.WriteString("dryfit: 1\ntoy: Many\nunits: mm\nstock:\n  b: {wood: beech, form: board, thick: 20}\nparts:\n")
	const n = 40
	for i := range n {
		fmt.Fprintf(&s, "  block-of-the-long-wall-%d: {from: b, blank: [20, 20]}\n", i)
	}
	s.WriteString("build:\n  - put: block-of-the-long-wall-0\n")
	for i := 1; i < n; i++ {
		fmt.Fprintf(&s, "  - {put: block-of-the-long-wall-%d, sits: {left: block-of-the-long-wall-0.left, front: block-of-the-long-wall-0.front + %d, bottom: block-of-the-long-wall-0.bottom}}\n", i, i*10)
	}
	b := *book(t, s.String())
	if len(b.Notes) < 30 {
		t.Fatalf("only %d notes", len(b.Notes))
	}
	for len(b.Notes) < 150 {
		b.Notes = append(b.Notes, b.Notes...)
	}
	low := 0
	pages, _ := b.Pages(layout.A4)
	for i, p := range pages {
		p.Walk(func(k draw.Mark) {
			if k.Text != nil && k.Text.At.Y < 12 {
				low++
				t.Logf("page %d: %q at %v", i+1, k.Text.Says, k.Text.At)
			}
		})
	}
	if low > 0 {
		t.Errorf("%d lines below the page", low)
	}
}

// The files are sound by other programs: syntax by qpdf, fonts embedded by pdffonts; and
// guide and patterns together stay small enough to send.
func TestFilesAreSound(t *testing.T) {
	for _, name := range toys[:2] {
		b := book(t, example(t, name))
		data, err := b.Pack(layout.A4, layout.A4)
		if err != nil {
			t.Fatal(err)
		}
		if len(data) > 5e6 {
			t.Errorf("%s: %d bytes", name, len(data))
		}
		path := saved(t, "pack.pdf", data)
		if says := tool(t, "qpdf", "--check", path); !strings.Contains(says, "No syntax or stream encoding errors") {
			t.Errorf("%s: %s", name, says)
		}
		lines := strings.Split(strings.TrimSpace(tool(t, "pdffonts", path)), "\n")
		for _, l := range lines[2:] {
			if f := strings.Fields(l); len(f) < 6 || f[len(f)-5] != "yes" { // emb sub uni object ID
				t.Errorf("%s: not embedded: %s", name, l)
			}
		}
		if len(lines) < 3 {
			t.Errorf("%s: no fonts", name)
		}
	}
}

// The same toy gives the same bytes.
func TestSameBytes(t *testing.T) {
	text := example(t, "tipping-wagon")
	again, _ := fresh(t, text).PDF(layout.A4)
	first, _ := book(t, text).PDF(layout.A4)
	if !bytes.Equal(first, again) {
		t.Error("two guides of one toy differ")
	}
}

// The web page is well formed, asks for nothing outside itself, has a tick for every
// step, and no identifier twice.
func TestHTML(t *testing.T) {
	for _, name := range toys {
		b := book(t, example(t, name))
		page := b.HTML()
		d := xml.NewDecoder(bytes.NewReader(page))
		d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
		ids := map[string]bool{}
		ticks, pictures := 0, 0
		var open []string
		for {
			tok, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			switch e := tok.(type) {
			case xml.StartElement:
				open = append(open, e.Name.Local)
				for _, a := range e.Attr {
					switch a.Name.Local {
					case "id":
						if ids[a.Value] {
							t.Errorf("%s: id %s twice", name, a.Value)
						}
						ids[a.Value] = true
					case "src", "href", "action", "data", "poster", "srcset":
						t.Errorf("%s: asks for %s", name, a.Value)
					case "data-step":
						ticks++
					}
				}
				if e.Name.Local == "svg" {
					pictures++
				}
			case xml.EndElement:
				if n := len(open); n == 0 || open[n-1] != e.Name.Local {
					t.Fatalf("%s: </%s> closes %v", name, e.Name.Local, open)
				}
				open = open[:len(open)-1]
			}
		}
		steps := 0
		for _, c := range b.Chapters {
			steps += len(c.Steps)
		}
		if ticks != steps || pictures < steps/2 || len(open) > 0 {
			t.Errorf("%s: %d ticks for %d steps, %d pictures, open %v", name, ticks, steps, pictures, open)
		}
		for _, outside := range []string{"@import", "url(http", "fetch(", "XMLHttpRequest", "//cdn"} {
			if bytes.Contains(page, []byte(outside)) {
				t.Errorf("%s: %s", name, outside)
			}
		}
	}
}

// BenchmarkBooklet makes guide and patterns of a toy of 40 pieces in one file, the proof
// apart.
func BenchmarkBooklet(b *testing.B) {
	text := train(8)
	for b.Loop() {
		bk := fresh(b, text)
		if _, err := bk.Pack(layout.A4, layout.A4); err != nil {
			b.Fatal(err)
		}
	}
}
