package drawing

import (
	"bytes"
	"fmt"
	"sort"
	"strconv"
)

// PDF reads the closed lines of the pages of a PDF file (ISO 32000-1): paths of the
// content and of forms in it, in units of 1/72 in or as UserUnit says. Layers are those of
// optional content. Text, images and shadings are left out with a note.
//
// The objects are found by going through the file, not by its table, so that files with a
// damaged table are read as well. The last of an object's versions counts.
func PDF(data []byte, o Options) (*Drawing, error) {
	if len(data) > maxBytes {
		return nil, &Problem{Says: fmt.Sprintf("larger than a drawing can be (%d MiB)", maxBytes>>20)}
	}
	f := &pdfFile{objects: map[int]any{}, ends: map[int]int{}, budget: maxBytes}
	f.scan(data)
	if f.trailer["Encrypt"] != nil {
		return nil, &Problem{Says: "this PDF is locked", Expected: "one without a password"}
	}
	pages := f.pages()
	if len(pages) == 0 {
		return nil, &Problem{Says: "there is no page in this file", Expected: "a PDF of drawn lines"}
	}
	r := &pdfReader{pdfFile: f}
	for i, p := range pages {
		r.where = fmt.Sprintf("page %d", i+1)
		if err := r.page(p, o); err != nil {
			return nil, err
		}
		if err := r.join(); err != nil { // lines of two pages have nothing in common
			return nil, err
		}
	}
	return r.finish()
}

// pdfFile is what a file has.
type pdfFile struct {
	objects map[int]any
	ends    map[int]int     // where in the file each object ends
	off     map[pdfRef]bool // the optional content that is not shown
	trailer pdfDict
	budget  int  // bytes that may still be unpacked
	endless bool // no stream from here on has an end
}

// get follows references.
func (f *pdfFile) get(v any) any {
	for range 8 {
		ref, ok := v.(pdfRef)
		if !ok {
			return v
		}
		v = f.objects[int(ref)]
	}
	return nil
}

func (f *pdfFile) dict(v any) pdfDict {
	switch v := f.get(v).(type) {
	case pdfDict:
		return v
	case *stream:
		return v.dict
	}
	return nil
}

func (f *pdfFile) list(v any) pdfList {
	l, _ := f.get(v).(pdfList)
	return l
}

// scan finds the objects of a file: "12 0 obj" and what follows.
func (f *pdfFile) scan(data []byte) {
	f.trailer = pdfDict{}
	type placed struct {
		*stream
		at int
	}
	var packed []placed
	t, k := -1, -1
	for at := 0; ; {
		if t < at {
			t = next(data, at, "trailer")
		}
		if k < at {
			k = next(data, at, "obj")
		}
		if t < k {
			l := &lexer{b: data, at: t + 7}
			if v, _ := l.next(true); v != nil {
				f.heads(v)
			}
			at = max(l.at, t+7)
			continue
		}
		if k == len(data) {
			break
		}
		n, ok := objectNumber(data[at:k])
		at = k + 3
		if !ok {
			continue
		}
		l := &lexer{b: data, at: at}
		v, ok := l.next(true)
		if !ok {
			break
		}
		at = l.at
		if d, isDict := v.(pdfDict); isDict {
			if s, end := f.streamAt(data, at, d); s != nil {
				v, at = s, end
				switch d["Type"] {
				case pdfName("ObjStm"):
					packed = append(packed, placed{s, at})
				case pdfName("XRef"):
					f.heads(d)
				}
			}
		}
		f.objects[n], f.ends[n] = v, at
	}
	for _, p := range packed {
		f.unpack(p.stream, p.at)
	}
}

// next is where a word comes next, the length of the data where it does not. What asks for
// two words by turns keeps the place of the one that is farther: else it would look through
// the whole file once for each object.
func next(data []byte, at int, word string) int {
	if i := bytes.Index(data[at:], []byte(word)); i >= 0 {
		return at + i
	}
	return len(data)
}

// heads takes what a trailer says.
func (f *pdfFile) heads(v any) {
	d, _ := v.(pdfDict)
	for _, k := range []string{"Root", "Encrypt"} {
		if d[k] != nil {
			f.trailer[k] = d[k]
		}
	}
}

// objectNumber reads "12 0 " from the end of the bytes before "obj".
func objectNumber(b []byte) (int, bool) {
	words := bytes.Fields(b[max(0, len(b)-24):])
	if len(words) < 2 || len(b) == 0 || !blank(b[len(b)-1]) {
		return 0, false
	}
	if _, err := strconv.Atoi(string(words[len(words)-1])); err != nil {
		return 0, false
	}
	n, err := strconv.Atoi(string(words[len(words)-2]))
	return n, err == nil && n >= 0 && n < 1e8
}

// streamAt reads the stream that follows a dictionary, if one does.
func (f *pdfFile) streamAt(data []byte, at int, d pdfDict) (*stream, int) {
	l := &lexer{b: data, at: at}
	l.space()
	if !bytes.HasPrefix(data[l.at:], []byte("stream")) {
		return nil, at
	}
	from := l.at + 6
	if from < len(data) && data[from] == '\r' {
		from++
	}
	if from < len(data) && data[from] == '\n' {
		from++
	}
	if n, ok := d["Length"].(float64); ok && n >= 0 && from+int(n) <= len(data) {
		end := from + int(n)
		if bytes.HasPrefix(bytes.TrimLeft(data[end:min(len(data), end+20)], "\r\n \t"), []byte("endstream")) {
			return &stream{d, data[from:end]}, end
		}
	}
	from = min(from, len(data))
	if f.endless { // looked for already, and there is none
		return nil, at
	}
	n := bytes.Index(data[from:], []byte("endstream")) // its length is said elsewhere, or wrong
	if n < 0 {
		f.endless = true
		return nil, at
	}
	return &stream{d, bytes.TrimRight(data[from:from+n], "\r\n")}, from + n
}

// unpack takes the objects out of an object stream (7.5.7) that ends at a place of the file:
// what stands later in the file is a later version (7.5.6).
func (f *pdfFile) unpack(s *stream, end int) {
	b, ok := f.unpacked(s)
	n, _ := f.get(s.dict["N"]).(float64)
	first, _ := f.get(s.dict["First"]).(float64)
	if !ok || first < 0 || int(first) > len(b) {
		return
	}
	head := &lexer{b: b[:int(first)]}
	for i := 0; i < int(n); i++ {
		num, ok1 := head.next(false)
		off, ok2 := head.next(false)
		k, isNum := num.(float64)
		at, isOff := off.(float64)
		if !ok1 || !ok2 || !isNum || !isOff || at < 0 || int(first)+int(at) > len(b) || k < 0 {
			return
		}
		l := &lexer{b: b, at: int(first) + int(at)}
		if v, ok := l.next(true); ok {
			if f.ends[int(k)] <= end {
				f.objects[int(k)], f.ends[int(k)] = v, end
			}
		}
	}
}

// catalog returns the root of the document (7.7.2).
func (f *pdfFile) catalog() pdfDict {
	if root := f.dict(f.trailer["Root"]); root != nil {
		return root
	}
	var keys []int // no trailer is left: it is found by its kind
	for k := range f.objects {
		keys = append(keys, k)
	}
	sort.Ints(keys)
	var root pdfDict
	for _, k := range keys {
		if d, ok := f.objects[k].(pdfDict); ok && d["Type"] == pdfName("Catalog") {
			root = d
		}
	}
	return root
}

// pages returns the pages in order, each with what it inherits (7.7.3).
func (f *pdfFile) pages() (out []pdfDict) {
	root := f.catalog()
	f.readOff(root)
	seen := 0
	var walk func(v any, from pdfDict, depth int)
	walk = func(v any, from pdfDict, depth int) {
		d := f.dict(v)
		if seen++; d == nil || depth > maxDepth || seen > maxLines {
			return
		}
		own := pdfDict{}
		for _, k := range []string{"Resources", "MediaBox", "Rotate"} {
			if own[k] = from[k]; d[k] != nil {
				own[k] = d[k]
			}
		}
		if kids := f.list(d["Kids"]); kids != nil {
			for _, k := range kids {
				walk(k, own, depth+1)
			}
			return
		}
		own["Contents"], own["UserUnit"] = d["Contents"], d["UserUnit"]
		out = append(out, own)
	}
	walk(root["Pages"], pdfDict{}, 0)
	return out
}
