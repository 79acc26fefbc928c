// Package pdf writes pages as a PDF file (ISO 32000-1) whose bytes depend on the
// pages alone: no clock, no random identifier, no machine. [Write] is the whole
// of it.
//
// The file carries what a printed pattern needs: coordinates to a tenth of a
// micrometre, one optional-content layer for each layer name of the drawing, an
// outline (the reader's table of contents), the used letters of the embedded
// fonts, photographs and links (image.go), and the wish that a viewer prints
// without scaling. The writer is our
// own because the two things that matter most, exact coordinates and the print
// wish, would have to bypass a general library.
package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"strings"
	"unicode/utf16"

	"dryfit/geom/r2"
	"dryfit/paper/draw"
	"dryfit/paper/font"
)

// Meta is what the file says about itself. Empty texts are left out.
type Meta struct {
	Title, Subject, Keywords string
	Outline                  []Entry
}

// Entry is a line of the outline. Level 0 is the top; an entry may be at most
// one level below the one before it.
type Entry struct {
	Title string
	Page  int     // counted from 0
	Top   float64 // what height of the drawing to show at the top of the window, mm; 0: the page's top
	Level int
}

const pointsPerMM = 72 / 25.4

// Write returns the file. It fails only on an outline that names no page or
// skips a level, and on no pages at all.
func Write(pages []draw.Page, meta Meta) ([]byte, error) {
	if len(pages) == 0 {
		return nil, fmt.Errorf("no pages to write")
	}
	if err := meta.check(len(pages)); err != nil {
		return nil, err
	}
	f := &file{}
	catalog, tree := f.reserve(), f.reserve()

	look := &resources{faces: []*faceUse{{face: font.Regular()}, {face: font.Bold()}}}
	contents, links := make([][]byte, len(pages)), make([]string, len(pages))
	for i, p := range pages {
		contents[i] = look.content(p)
		links[i] = f.links(p)
	}
	shared := f.reserve()
	layers := look.write(f, shared)

	var kids strings.Builder
	ids := make([]int, len(pages))
	for i, p := range pages {
		stream := f.stream("", contents[i])
		ids[i] = f.add(fmt.Sprintf("<< /Type /Page /Parent %d 0 R /MediaBox [0 0 %s %s] /Resources %d 0 R /Contents %d 0 R%s >>",
			tree, points(p.Size.X), points(p.Size.Y), shared, stream, links[i]))
		fmt.Fprintf(&kids, " %d 0 R", ids[i])
	}
	f.set(tree, fmt.Sprintf("<< /Type /Pages /Count %d /Kids [%s ] >>", len(pages), kids.String()))

	var cat strings.Builder
	fmt.Fprintf(&cat, "<< /Type /Catalog /Pages %d 0 R", tree)
	cat.WriteString(" /ViewerPreferences << /PrintScaling /None /PickTrayByPDFSize true /DisplayDocTitle true >>")
	if len(meta.Outline) > 0 {
		fmt.Fprintf(&cat, " /PageMode /UseOutlines /Outlines %d 0 R", f.outline(meta.Outline, pages, ids))
	}
	if len(layers) > 0 {
		list := strings.Join(layers, " ")
		fmt.Fprintf(&cat, " /OCProperties << /OCGs [%s] /D << /Name %s /Order [%s] /ON [%s] >> >>", list, text("Layers"), list, list)
	}
	f.set(catalog, cat.String()+" >>")
	return f.finish(catalog, f.info(meta)), nil
}

func (m Meta) check(pages int) error {
	level := -1
	for _, e := range m.Outline {
		if e.Page < 0 || e.Page >= pages {
			return fmt.Errorf("outline %q: there is no page %d of %d", e.Title, e.Page+1, pages)
		}
		if e.Level < 0 || e.Level > level+1 {
			return fmt.Errorf("outline %q: level %d cannot follow level %d", e.Title, e.Level, level)
		}
		level = e.Level
	}
	return nil
}

func points(mm float64) string { return draw.Digits(mm * pointsPerMM) }

// text writes a string object: UTF-16 with a byte order mark, in hexadecimal, so
// that nothing in it can need an escape.
func text(s string) string {
	b := []byte{0xFE, 0xFF}
	for _, u := range utf16.Encode([]rune(s)) {
		b = binary.BigEndian.AppendUint16(b, u)
	}
	return fmt.Sprintf("<%X>", b)
}

// file collects numbered objects.
type file struct{ objects [][]byte }

func (f *file) reserve() int {
	f.objects = append(f.objects, nil)
	return len(f.objects)
}

func (f *file) set(id int, body string) { f.objects[id-1] = []byte(body) }

func (f *file) add(body string) int {
	id := f.reserve()
	f.set(id, body)
	return id
}

// stream adds compressed data with extra dictionary entries.
func (f *file) stream(extra string, data []byte) int {
	var z bytes.Buffer
	w, _ := zlib.NewWriterLevel(&z, zlib.BestCompression)
	w.Write(data) // into memory: can't fail
	w.Close()
	return f.packed("FlateDecode", extra, z.Bytes())
}

// packed adds data that is compressed already, by the filter named.
func (f *file) packed(filter, extra string, data []byte) int {
	return f.add(fmt.Sprintf("<< /Length %d /Filter /%s%s >>\nstream\n%s\nendstream", len(data), filter, extra, data))
}

func (f *file) info(m Meta) int {
	var b strings.Builder
	b.WriteString("<<")
	for _, e := range [][2]string{{"Title", m.Title}, {"Subject", m.Subject}, {"Keywords", m.Keywords}, {"Creator", "dryfit"}} {
		if e[1] != "" {
			fmt.Fprintf(&b, " /%s %s", e[0], text(e[1]))
		}
	}
	return f.add(b.String() + " >>")
}

// outline adds the outline's items, linked as a tree, and returns its root.
func (f *file) outline(entries []Entry, pages []draw.Page, ids []int) int {
	root := f.reserve()
	type node struct{ id, parent, prev, next, first, last, below int }
	nodes := make([]node, len(entries)+1) // the root is node 0
	nodes[0].id = root
	open := []int{0} // the nodes that lead to the last entry
	for i, e := range entries {
		n := i + 1
		open = open[:e.Level+1]
		up := open[e.Level]
		nodes[n].id, nodes[n].parent = f.reserve(), up
		if last := nodes[up].last; last != 0 {
			nodes[n].prev, nodes[last].next = last, n
		} else {
			nodes[up].first = n
		}
		nodes[up].last = n
		for _, a := range open {
			nodes[a].below++
		}
		open = append(open, n)
	}
	for i, n := range nodes {
		var b strings.Builder
		link := func(name string, to int, present bool) {
			if present {
				fmt.Fprintf(&b, " /%s %d 0 R", name, nodes[to].id)
			}
		}
		if i == 0 {
			b.WriteString("<< /Type /Outlines")
		} else {
			e := entries[i-1]
			top := e.Top * pages[e.Page].Stretched().Y
			if top == 0 {
				top = pages[e.Page].Size.Y
			}
			fmt.Fprintf(&b, "<< /Title %s /Dest [%d 0 R /XYZ 0 %s null]", text(e.Title), ids[e.Page], points(top))
			link("Parent", n.parent, true)
		}
		link("Prev", n.prev, n.prev != 0)
		link("Next", n.next, n.next != 0)
		link("First", n.first, n.first != 0)
		link("Last", n.last, n.last != 0)
		if n.below > 0 {
			fmt.Fprintf(&b, " /Count %d", n.below)
		}
		f.set(n.id, b.String()+" >>")
	}
	return root
}

// finish writes header, objects, cross-reference table and trailer. The file
// identifier is a digest of the content.
func (f *file) finish(catalog, info int) []byte {
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n")
	at := make([]int, len(f.objects))
	for i, o := range f.objects {
		at[i] = b.Len()
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	xref, digest := b.Len(), sha256.Sum256(b.Bytes())
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(at)+1)
	for _, a := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", a)
	}
	fmt.Fprintf(&b, "trailer\n<< /Size %d /Root %d 0 R /Info %d 0 R /ID [<%X> <%X>] >>\nstartxref\n%d\n%%%%EOF\n",
		len(at)+1, catalog, info, digest[:16], digest[:16], xref)
	return b.Bytes()
}

// mm writes a point in millimetres.
func mm(p r2.Vec) string { return draw.Digits(p.X) + " " + draw.Digits(p.Y) }
