package layout

import (
	"fmt"
	"math"
	"strings"

	"dryfit/geom/r2"
	"dryfit/geom/tol"
	"dryfit/paper/draw"
)

// Overlap is the width, in mm, of the strip that two neighbouring tiles both
// show.
const Overlap = 10

const (
	keyWidth  = 26 // most room for the key map, mm
	keyHeight = 16
	keyGap    = 4
	markSize  = 2.2 // radius of a match mark
	markArm   = 3.2 // reach of its cross
	edgeRoom  = 0.5 // shown beyond the block's own edges

	mostLettered = 0.4 // of the page's height, for the lettering of a tile
)

// seam is a strip that two tiles share, with its marks in block coordinates.
type seam struct {
	strip r2.Box
	other string // name of the tile on the other side
	after bool   // the other tile lies right of or below this one
	marks []mark
}

type mark struct {
	at     r2.Vec
	letter string
}

// tiles cuts a block into windows of equal size, which overlap. Equal windows
// take no more pages than full pages with a narrow rest, and they are easier to
// handle and leave room for other blocks.
//
// letters is how many marks have been lettered so far on all pages: no two seams
// share a letter.
func tiles(i int, b Block, body r2.Vec, letters *int) []cell {
	best, used := tilesTurned(i, b, body, false, *letters)
	if b.Turn {
		if other, n := tilesTurned(i, b, body, true, *letters); len(other) < len(best) {
			best, used = other, n
		}
	}
	*letters = used
	return best
}

// tilesTurned reserves a strip of the page for lettering and cuts what is left into
// tiles. Where the lettering of a tile takes more than the strip, it reserves more.
func tilesTurned(i int, b Block, body r2.Vec, turned bool, letters int) ([]cell, int) {
	most := math.Max(body.Y*mostLettered, keyHeight+underTitle)
	head := shape{}
	head.wrapTile(b, tileSays(9, 9, 9, 9), body.X-keyWidth-keyGap, most)
	for strip := math.Max(head.letters, keyHeight+underTitle); ; strip = math.Min(most, strip+draw.LineStep(noteHeight)) {
		out, used, fit := tilesBelow(strip, i, b, body, turned, letters)
		if fit || strip >= most {
			return out, used
		}
	}
}

// tilesBelow cuts a block into tiles that leave a strip of each page to the lettering;
// false: some lettering is higher.
func tilesBelow(strip float64, i int, b Block, body r2.Vec, turned bool, letters int) ([]cell, int, bool) {
	room := turn(r2.Vec{X: body.X - tol.Page, Y: body.Y - strip - tol.Page}, turned) // in block directions
	cols, rows := count(b.Size.X, room.X), count(b.Size.Y, room.Y)
	step := func(n int, whole float64) float64 { return (whole + float64((n-1)*Overlap)) / float64(n) }
	w, h := step(cols, b.Size.X), step(rows, b.Size.Y)

	window := func(r, c int) r2.Box {
		left, top := float64(float64(c)*(w-Overlap)), b.Size.Y-float64(float64(r)*(h-Overlap))
		return r2.Box{Min: r2.Vec{X: left, Y: top - h}, Max: r2.Vec{X: left + w, Y: top}}
	}
	seams := make([][]seam, rows*cols)
	join := func(a, c r2.Box, ai, ci int) {
		strip := r2.Box{Min: r2.Vec{X: math.Max(a.Min.X, c.Min.X), Y: math.Max(a.Min.Y, c.Min.Y)},
			Max: r2.Vec{X: math.Min(a.Max.X, c.Max.X), Y: math.Min(a.Max.Y, c.Max.Y)}}
		marks := marksIn(strip, &letters)
		seams[ai] = append(seams[ai], seam{strip, tileName(ci, cols), true, marks})
		seams[ci] = append(seams[ci], seam{strip, tileName(ai, cols), false, marks})
	}
	for r := range rows {
		for c := range cols {
			if c+1 < cols {
				join(window(r, c), window(r, c+1), r*cols+c, r*cols+c+1)
			}
			if r+1 < rows {
				join(window(r, c), window(r+1, c), r*cols+c, (r+1)*cols+c)
			}
		}
	}
	var out []cell
	fit := true
	for r := range rows {
		for c := range cols {
			sh := tileShape(b, tileSays(r, c, rows, cols), turn(r2.Vec{X: w, Y: h}, turned), body, turned)
			fit = fit && sh.size.X <= body.X && sh.size.Y <= body.Y
			out = append(out, cell{block: i, shapes: []shape{sh}, window: window(r, c), row: r, col: c, rows: rows, cols: cols, seams: seams[r*cols+c]})
		}
	}
	return out, letters, fit
}

// tileShape is a tile of the given size on the page, with its key map and lettering above
// it: as wide as the tile where that is low enough for the page, else wider.
func tileShape(b Block, says string, size, body r2.Vec, turned bool) shape {
	key := keySize(b.Size, turned)
	most := math.Max(body.Y-size.Y-tol.Page, key.Y+underTitle)
	widest := body.X - key.X - keyGap - tol.Page
	for beside := math.Max(size.X-key.X-keyGap, narrowest); ; beside += slimStep {
		sh := shape{turned: turned}
		full := math.Inf(1)
		if beside >= widest {
			beside, full = widest, most
		}
		sh.wrapTile(b, says, beside, full)
		sh.letters = math.Max(sh.letters, key.Y+underTitle)
		sh.size = onGrid(r2.Vec{X: math.Max(size.X, key.X+keyGap+sh.lettered()), Y: size.Y + sh.letters})
		if beside >= widest || sh.size.Y <= body.Y && sh.size.X <= body.X {
			return sh
		}
	}
}

// wrapTile sets the lettering of a tile in lines of at most width, and leaves off from its
// end what is higher than most: what the block says whole is in its list and in the guide.
func (sh *shape) wrapTile(b Block, says string, width, most float64) {
	sh.wrap(b, says, width)
	over := func() bool { return sh.letters > most }
	for over() && len(sh.note) > 1 {
		sh.note = ended(sh.note)
		sh.measure()
	}
	for over() && len(sh.title) > 1 {
		sh.title = ended(sh.title)
		sh.measure()
	}
	for _, l := range []struct {
		lines  []string
		height float64
		bold   bool
	}{{sh.title, titleHeight, true}, {sh.note, noteHeight, false}} {
		for i, says := range l.lines {
			l.lines[i] = draw.Shorten(says, l.height, l.bold, width)
		}
	}
}

// ended leaves off the last line and says so at the end of the one before.
func ended(lines []string) []string {
	lines = lines[:len(lines)-1]
	last := &lines[len(lines)-1]
	*last = strings.TrimRight(*last, " .,;:…") + "…"
	return lines
}

// count returns how many tiles of the given room cover a length.
func count(length, room float64) int {
	if length <= room {
		return 1
	}
	return int(math.Ceil((length - Overlap) / (room - Overlap)))
}

// tileName is short enough for a seam: row and column, such as 2.1.
func tileName(i, cols int) string { return fmt.Sprintf("%d.%d", i/cols+1, i%cols+1) }

func tileSays(r, c, rows, cols int) string {
	return fmt.Sprintf(tileOf, r+1, c+1, r+1, rows, c+1, cols)
}

// marksIn spreads marks along the middle of a strip, one for each 120 mm or so
// and two at least where there is room.
func marksIn(strip r2.Box, letters *int) []mark {
	size := strip.Size()
	long := math.Max(size.X, size.Y)
	n := max(2, int(math.Round(long/120)))
	if long < 50 {
		n = 1
	}
	var out []mark
	for i := range n {
		t := (float64(i) + 0.5) / float64(n)
		at := r2.Vec{X: strip.Min.X + float64(size.X*t), Y: strip.Min.Y + size.Y/2}
		if size.Y > size.X {
			at = r2.Vec{X: strip.Min.X + size.X/2, Y: strip.Max.Y - float64(size.Y*t)}
		}
		out = append(out, mark{at, letter(*letters)})
		*letters++
	}
	return out
}

// letter counts A to Z, then AA, AB and so on.
func letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letter(i/26-1) + letter(i%26)
}

// keySize returns the size of the key map of a block, as it lies on the page.
func keySize(size r2.Vec, turned bool) r2.Vec {
	size = turn(size, turned)
	return size.Scale(math.Min(keyWidth/size.X, keyHeight/size.Y))
}
