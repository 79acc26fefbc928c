package booklet_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"regexp"
	"strings"
	"testing"

	"dryfit/paper/booklet"
	"dryfit/paper/layout"
	"dryfit/paper/photo"
)

const (
	saysMessage = `"Made for <b>Ida's</b> third & best birthday: it crosses the quay all day, and waits for whoever is late."`
	linksTo     = "https://toys.example/quay-tram?edition=1&from=guide"
)

// covered is a small toy with a cover.
func covered() string {
	return "dryfit: 1\ntoy: Harbour block with a rather long name\nunits: mm\nstock: {b: {wood: beech, form: board, thick: 20}}\nparts:\n  block: {from: b, blank: [90, 60]}\n" +
		"build:\n  - put: block\ncover:\n  message: '" + strings.ReplaceAll(saysMessage, "'", "''") + "'\n  link: " + linksTo + "\n"
}

func snapshot(t *testing.T, w, h int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetRGBA(x, y, color.RGBA{uint8(x * 255 / w), uint8(y * 255 / h), 90, 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// A cover has its photograph whole between the margins, clear of all words, with the
// message and the link, whatever the shape of the photograph and the paper.
func TestCover(t *testing.T) {
	b := book(t, covered())
	defer func() { b.Photo = nil }()
	for k, size := range [][2]int{{0, 0}, {900, 600}, {600, 900}, {2000, 300}, {200, 2000}, {40, 40}, {600, 900}, {900, 600}} {
		b.Photo = nil
		if size[0] > 0 {
			p, err := photo.Read(snapshot(t, size[0], size[1]), booklet.PhotoWide, booklet.PhotoHigh)
			if err != nil {
				t.Fatal(err)
			}
			b.Photo = p
		}
		for _, paper := range []layout.Paper{layout.A4, layout.Letter}[k%2:][:1] {
			data, err := b.PDF(paper)
			if err != nil {
				t.Fatal(err)
			}
			path := saved(t, "guide.pdf", data)
			bbox := tool(t, "pdftotext", "-bbox", path, "-")
			clear(t, bbox, paper)
			if says := tool(t, "pdfinfo", "-url", path); !strings.Contains(says, linksTo) {
				t.Errorf("%v: no link: %s", size, says)
			}
			words := strings.Join(strings.Fields(tool(t, "pdftotext", "-l", "1", path, "-")), " ")
			if !strings.Contains(words, saysMessage) || !strings.Contains(strings.ReplaceAll(words, " ", ""), linksTo) {
				t.Errorf("%v on %s: the cover says %s", size, paper.Name, words)
			}
			if b.Photo == nil {
				continue
			}
			// where the photograph is, by its matrix, and no word on it
			trace := tool(t, "mutool", "trace", path, "1")
			m := regexp.MustCompile(`<fill_image[^>]*transform="([-0-9. ]+)"`).FindStringSubmatch(trace)
			if m == nil {
				t.Fatalf("%v: no picture is drawn", size)
			}
			var w, skew, askew, h, x, y float64
			if _, err := fmt.Sscan(m[1], &w, &skew, &askew, &h, &x, &y); err != nil {
				t.Fatal(err)
			}
			if h < 0 { // counted from below
				y, h = y+h, -h
			}
			if r := w / h / (float64(b.Photo.Width) / float64(b.Photo.Height)); r < 0.999 || r > 1.001 || skew != 0 || askew != 0 {
				t.Errorf("%v: drawn %g × %g", size, w, h)
			}
			if x < 40 || y < 40 || x+w > paper.W/25.4*72-40 || y+h > paper.H/25.4*72-40 {
				t.Errorf("%v on %s: at %g, %g, %g × %g", size, paper.Name, x, y, w, h)
			}
			first, _, _ := strings.Cut(bbox, "</page>")
			for _, k := range wordTag.FindAllStringSubmatch(first, -1) {
				var a [4]float64
				for i := range a {
					fmt.Sscan(k[i+1], &a[i])
				}
				if a[0] < x+w && a[2] > x && a[1] < y+h && a[3] > y {
					t.Errorf("%v on %s: %q is on the photograph", size, paper.Name, k[5])
				}
			}
		}
	}
}

// The web page carries the photograph and takes the message as words, not as a page.
func TestCoverOfWebPage(t *testing.T) {
	b := book(t, covered())
	p, err := photo.Read(snapshot(t, 300, 200), booklet.PhotoWide, booklet.PhotoHigh)
	if err != nil {
		t.Fatal(err)
	}
	b.Photo = p
	defer func() { b.Photo = nil }()
	page := string(b.HTML())
	for _, want := range []string{`<img src="data:image/jpeg;base64,`, `width="300" height="200"`, `&lt;b&gt;Ida&#39;s&lt;/b&gt; third &amp; best`,
		`<a href="https://toys.example/quay-tram?edition=1&amp;from=guide" rel="noopener noreferrer">`} {
		if !strings.Contains(page, want) {
			t.Errorf("the page has no %s", want)
		}
	}
	if strings.Contains(page, "<b>") {
		t.Error("the message became part of the page")
	}
}

// Guide and patterns are one document: every page says which of how many it is, once, and
// the outline goes through all of them in order.
func TestOneDocument(t *testing.T) {
	for _, name := range toys[:2] {
		b := book(t, example(t, name))
		for _, paper := range []layout.Paper{layout.Letter} {
			data, err := b.Pack(paper, paper)
			if err != nil {
				t.Fatal(err)
			}
			path := saved(t, "pack.pdf", data)
			pages := strings.Split(strings.TrimSuffix(tool(t, "pdftotext", "-layout", path, "-"), "\f"), "\f")
			for i, says := range pages {
				want := fmt.Sprintf("page %d of %d", i+1, len(pages))
				if all := regexp.MustCompile(`page \d+ of \d+`).FindAllString(says, -1); len(all) != 1 || all[0] != want {
					t.Errorf("%s: page %d says %v, want %s", name, i+1, all, want)
				}
			}
			at, last := 0, 0
			for _, l := range strings.Split(strings.TrimSpace(tool(t, "mutool", "show", path, "outline")), "\n") {
				m := regexp.MustCompile(`#page=(\d+)`).FindStringSubmatch(l)
				if m == nil {
					t.Fatalf("%s: an entry leads nowhere: %s", name, l)
				}
				fmt.Sscan(m[1], &at)
				if at < last {
					t.Errorf("%s: the outline goes back: %s", name, l)
				}
				last = at
			}
			if last != len(pages) {
				t.Errorf("%s: the outline ends at page %d of %d", name, last, len(pages))
			}
		}
	}
}
