package drawing

// Optional content (ISO 32000-1, 8.11): which of it is not shown as the file is opened.

// readOff finds the groups that are off in the catalogue's own configuration (8.11.4.3).
func (f *pdfFile) readOff(root pdfDict) {
	f.off = map[pdfRef]bool{}
	all := f.dict(root["OCProperties"])
	how := f.dict(all["D"])
	set := func(list any, off bool) {
		for _, v := range f.list(list) {
			if ref, ok := v.(pdfRef); ok {
				f.off[ref] = off
			}
		}
	}
	if f.get(how["BaseState"]) == pdfName("OFF") {
		set(all["OCGs"], true)
	}
	set(how["ON"], false)
	set(how["OFF"], true)
}

// unseen tells whether a group, or a membership of groups (8.11.2.2), is not shown.
func (f *pdfFile) unseen(v any) bool {
	if ref, ok := v.(pdfRef); ok && f.off[ref] {
		return true
	}
	d := f.dict(v)
	if f.get(d["Type"]) != pdfName("OCMD") {
		return false
	}
	if ve := f.list(d["VE"]); len(ve) > 0 {
		return !f.seen(ve, 0)
	}
	of := f.groups(d)
	on, off := 0, 0
	for _, g := range of {
		ref, isRef := g.(pdfRef)
		switch {
		case isRef && f.off[ref]:
			off++
		case f.dict(g) != nil:
			on++
		}
	}
	if on+off == 0 {
		return false
	}
	switch f.get(d["P"]) {
	case pdfName("AllOn"):
		return off > 0
	case pdfName("AnyOff"):
		return off == 0
	case pdfName("AllOff"):
		return on > 0
	}
	return on == 0
}

// groups are those of a membership.
func (f *pdfFile) groups(d pdfDict) pdfList {
	if of := f.list(d["OCGs"]); of != nil {
		return of
	}
	return pdfList{d["OCGs"]}
}

// seen works a visibility expression out: And, Or, Not over groups and each other.
func (f *pdfFile) seen(v any, depth int) bool {
	l := f.list(v)
	if len(l) == 0 || depth > maxDepth {
		ref, ok := v.(pdfRef)
		return !ok || !f.off[ref]
	}
	op := f.get(l[0])
	for _, v := range l[1:] {
		switch s := f.seen(v, depth+1); {
		case op == pdfName("Not"):
			return !s
		case op == pdfName("Or") && s:
			return true
		case op == pdfName("And") && !s:
			return false
		}
	}
	return op != pdfName("Or")
}

// layerName is what a group is called, or the one group of a membership.
func (f *pdfFile) layerName(v any) string {
	d := f.dict(v)
	if of := f.groups(d); d["Name"] == nil && len(of) == 1 {
		d = f.dict(of[0])
	}
	text, _ := f.get(d["Name"]).([]byte)
	return plain(pdfText(text))
}
