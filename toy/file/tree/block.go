package tree

import (
	"strings"

	"dryfit/measure/source"
)

const usualEntries = 4 // of a map, and items of a list: room to start with

func (p *parser) dash() bool { return p.at(0) == '-' && p.white(p.pos+1) }

// block reads what stands at pos, on a line of its own or after a dash: a map, a
// list, or one value. parent is the column of what holds it.
func (p *parser) block(parent int) *Node {
	if p.dash() {
		return p.blockList(parent)
	}
	start, col := p.pos, p.column()
	if c := p.at(0); c == '|' || c == '>' {
		if parent < 0 || strings.Trim(p.s[p.line:p.pos], " ") == "" {
			p.fail("bad-layout", start, start+1, "%c stands on the line of its key", c)
		}
		return p.literal(parent)
	} else if c == '[' || c == '{' {
		n := p.flow(parent)
		if p.colonAhead() {
			p.fail("unwanted-yaml", start, n.Range.End, "a map or list cannot be a key")
		}
		p.finish()
		return n
	}
	n := p.scalar(false)
	if p.colonAhead() {
		return p.blockMap(col, n)
	}
	p.finish()
	return n
}

// colonAhead skips spaces up to a colon that ends a key.
func (p *parser) colonAhead() bool {
	i := p.pos
	for i < len(p.s) && p.s[i] == ' ' {
		i++
	}
	if i >= len(p.s) || p.s[i] != ':' {
		return false
	}
	if !p.white(i + 1) {
		p.fail("bad-layout", i, i+1, "a space is missing after the colon")
	}
	p.pos = i
	return true
}

func (p *parser) blockMap(col int, key *Node) *Node {
	p.enter()
	m := p.node(Map, key.Range.Start)
	m.Entries = make([]Entry, 0, usualEntries)
	var seen keys
	for {
		p.key(key, m, &seen)
		p.pos++ // the colon
		colon := p.pos
		v := p.value(col)
		end := max(colon, v.Range.End)
		m.Entries = append(m.Entries, Entry{Key: key, Value: v, Range: source.Range{Start: key.Range.Start, End: end}, colon: colon})
		m.Range.End = end
		p.gap()
		if p.eof() || p.column() < col {
			break
		}
		if p.column() > col {
			p.misplaced(col, v)
		}
		if p.dash() {
			p.failExpect("a key and a colon", "bad-layout", p.pos, p.pos+1, "a list item among keys")
		}
		if c := p.at(0); c == '[' || c == '{' {
			p.failExpect("a key and a colon", "bad-layout", p.pos, p.pos+1, "%c starts no key", c)
		}
		key = p.scalar(false)
		if !p.colonAhead() {
			p.failExpect("a key and a colon", "bad-layout", key.Range.Start, key.Range.End, "a colon is missing")
		}
	}
	p.depth--
	return m
}

// misplaced refuses a line that is indented further than col, where the value
// before it is over.
func (p *parser) misplaced(col int, before *Node) {
	end := p.lineEnd(p.pos)
	last := before
	for {
		if n := len(last.Entries); n > 0 && !last.Flow {
			last = last.Entries[n-1].Value
		} else if n := len(last.Items); n > 0 && !last.Flow {
			last = last.Items[n-1]
		} else {
			break
		}
	}
	switch {
	case last.Kind == Scalar && !last.Quoted && last.Text != "" && last == before:
		p.fail("bad-layout", p.pos, end, "a value without quotes stays on one line; this line belongs to none")
	case p.column() > col && col >= 0:
		p.fail("bad-layout", p.pos, end, "this line is indented by %d, which fits no line above it", p.column())
	}
	p.fail("bad-layout", p.pos, end, "this line belongs to nothing above it")
}

// value reads what belongs to a key at column col, from just after its colon.
func (p *parser) value(col int) *Node {
	colon := p.pos
	if !p.lineIsOver() {
		switch {
		case p.dash():
			p.fail("bad-layout", p.pos, p.pos+1, "a list starts on the line below its key")
		case p.at(0) == '|' || p.at(0) == '>':
			return p.literal(col)
		case p.at(0) == '[' || p.at(0) == '{':
			n := p.flow(col)
			p.finish()
			return n
		}
		n := p.scalar(false)
		p.finish()
		return n
	}
	p.gap()
	if !p.eof() {
		if p.column() > col {
			return p.block(col)
		}
		if p.column() == col && p.dash() {
			return p.blockList(col)
		}
	}
	return p.node(Scalar, colon)
}

// blockList reads items that start with a dash in the column of pos.
func (p *parser) blockList(parent int) *Node {
	p.enter()
	col := p.column()
	l := p.node(List, p.pos)
	for {
		dash := p.pos
		p.pos++
		var item *Node
		if p.lineIsOver() {
			p.gap()
		}
		if p.eof() || p.line > dash && p.column() <= col {
			p.failExpect("an item", "empty-value", dash, dash+1, "nothing follows this dash")
		} else {
			item = p.block(col)
		}
		l.Items, l.dashes = append(l.Items, item), append(l.dashes, dash)
		l.Range.End = max(dash+1, item.Range.End)
		p.gap()
		if p.eof() || p.column() < col {
			break
		}
		if p.column() > col {
			p.misplaced(col, item)
		}
		if !p.dash() {
			if col != parent {
				p.failExpect("a dash and an item", "bad-layout", p.pos, p.lineEnd(p.pos), "this line stands in the column of the list's dashes")
			}
			break
		}
	}
	p.depth--
	return l
}

// keys finds keys that are there twice: by looking through a short map, by a
// hash table in a long one.
type keys struct{ set map[string]bool }

const fewKeys = 16

func (p *parser) key(key, m *Node, seen *keys) {
	r := key.Range
	switch {
	case key.Text == "" && !key.Quoted:
		p.fail("bad-key", r.Start, r.End+1, "a key is missing before the colon")
	case key.Text == "<<", !key.Quoted && strings.Contains(key.Text, "<<"):
		p.fail("unwanted-yaml", r.Start, r.End, "merge keys (<<) are not used in toy files, nor << in a key without quotes")
	case !key.Quoted && strings.Contains(key.Text, ":"):
		// Right YAML, but some libraries end the key at its first colon.
		p.fail("bad-key", r.Start, r.End, "a key with a colon in it goes in quotes; after the colon that ends a key stands a space")
	case p.pos-r.Start >= maxKey:
		p.fail("bad-key", r.Start, r.End, "a key of more than %d bytes", maxKey)
	}
	again := false
	if len(m.Entries) < fewKeys {
		again = m.Get(key.Text) != nil
	} else {
		if seen.set == nil {
			seen.set = map[string]bool{}
			for _, e := range m.Entries {
				seen.set[e.Key.Text] = true
			}
		}
		again = seen.set[key.Text]
		seen.set[key.Text] = true
	}
	if again && len(p.probs) < maxRepeats {
		line := 0
		for i := range m.Entries {
			if m.Entries[i].Key.Text == key.Text {
				line, _ = p.f.Position(m.Entries[i].Key.Range.Start)
				break
			}
		}
		p.probs = append(p.probs, p.f.Problem("repeated-key", r, "the key "+key.Text+" is here twice: first in line "+itoa(line)))
	}
}
