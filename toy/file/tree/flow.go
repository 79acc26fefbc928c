package tree

import "dryfit/measure/source"

// flow reads a map in braces or a list in brackets. It may span lines, each
// indented further than parent, as YAML 1.2.2, 7.4 has it; but the closing bracket
// may stand in the column of parent, as people write it and libraries read it.
func (p *parser) flow(parent int) *Node {
	p.enter()
	start, kind, end := p.pos, List, byte(']')
	if p.at(0) == '{' {
		kind, end = Map, '}'
	}
	n := p.node(kind, start)
	n.Flow = true
	p.pos++
	if kind == Map {
		n.Entries = make([]Entry, 0, usualEntries)
	} else {
		n.Items = make([]*Node, 0, usualEntries)
	}
	var seen keys
	for {
		p.flowGap(parent, start)
		c := p.at(0)
		if c == end {
			break
		}
		switch c {
		case ',':
			p.fail("bad-layout", p.pos, p.pos+1, "nothing stands before this comma")
		case ']', '}':
			p.failExpect(string(end), "bad-layout", p.pos, p.pos+1, "this closes what %c opened", p.s[start])
		}
		if kind == List {
			n.Items = append(n.Items, p.flowValue(parent))
			if p.colonAhead() {
				p.fail("bad-layout", p.pos, p.pos+1, "a key inside brackets: put braces round it")
			}
		} else {
			n.Entries = append(n.Entries, p.flowEntry(parent, start, n, &seen))
		}
		p.flowGap(parent, start)
		if p.at(0) == ',' {
			p.pos++
		} else if p.at(0) != end {
			p.failExpect("a comma or "+string(end), "bad-layout", p.pos, p.pos+1, "the value before this is over")
		}
	}
	p.pos++
	n.Range.End = p.pos
	p.depth--
	return n
}

func (p *parser) flowValue(parent int) *Node {
	if c := p.at(0); c == '[' || c == '{' {
		return p.flow(parent)
	}
	return p.scalar(true)
}

func (p *parser) flowEntry(parent, open int, m *Node, seen *keys) Entry {
	if c := p.at(0); c == '[' || c == '{' {
		p.fail("unwanted-yaml", p.pos, p.pos+1, "a map or list cannot be a key")
	}
	key := p.scalar(true)
	if !p.colonAhead() {
		p.failExpect("a colon and a value", "bad-layout", key.Range.Start, key.Range.End, "this key has no value")
	}
	p.key(key, m, seen)
	p.pos++
	e := Entry{Key: key, colon: p.pos}
	p.flowGap(parent, open)
	if c := p.at(0); c == ',' || c == '}' {
		e.Value = p.node(Scalar, e.colon)
	} else {
		e.Value = p.flowValue(parent)
	}
	e.Range = source.Range{Start: key.Range.Start, End: e.Value.Range.End}
	return e
}

// flowGap is gap inside brackets that opened at an offset.
func (p *parser) flowGap(parent, open int) {
	line := p.line
	p.gap()
	if p.eof() {
		p.fail("bad-layout", open, open+1, "this %c is never closed", p.s[open])
	}
	if p.line != line && p.column() <= parent && (p.column() < parent || p.at(0) != ']' && p.at(0) != '}') {
		p.failExpect("at least one space more", "bad-layout", p.pos, p.pos+1, "a line inside %c is indented further than the key or dash before it", p.s[open])
	}
}
