package guide

import (
	_ "embed"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"dryfit/assembly"
	"dryfit/measure"
	"dryfit/shop"
	"dryfit/toy"
)

// The words of the guide in English. A line is "key = text"; in a text {name} is a
// slot, {n: one | many} chooses by a number, {a name} puts the article before a noun, and
// ~ is a space that no line is broken at.
//
//go:embed en.txt
var english string

var phrases = readPhrases(english)

// readPhrases reads a file of words. It panics on one that cannot be read: it is
// embedded, so that is our bug.
func readPhrases(text string) map[string]string {
	out := map[string]string{}
	for n, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		key, says, ok := strings.Cut(line, "=")
		key = strings.TrimSpace(key)
		if _, twice := out[key]; !ok || twice {
			panic(fmt.Sprintf("bug in guide: line %d of the words: %s", n+1, line))
		}
		out[key] = strings.ReplaceAll(strings.TrimSpace(says), "~", "\u00a0")
	}
	return out
}

// speaker says things in the language and the units of the guide.
type speaker struct {
	m    *assembly.Model
	unit measure.Unit
}

func newSpeaker(m *assembly.Model) *speaker { return &speaker{m, m.Toy.Units} }

// say fills a phrase: pairs are names of slots and what goes into them.
func (s *speaker) say(key string, pairs ...any) string {
	text, ok := phrases[key]
	if !ok {
		panic("bug in guide: no words for " + key)
	}
	slots := map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		slots[pairs[i].(string)] = pairs[i+1]
	}
	return fill(key, text, slots)
}

// says is say as a sentence: it starts with a capital.
func (s *speaker) says(key string, pairs ...any) string { return capital(s.say(key, pairs...)) }

func fill(key, text string, slots map[string]any) string {
	var b strings.Builder
	for {
		i := strings.IndexByte(text, '{')
		if i < 0 {
			b.WriteString(text)
			return b.String()
		}
		j := i + strings.IndexByte(text[i:], '}')
		if j < i {
			panic("bug in guide: a brace is open in " + key)
		}
		b.WriteString(text[:i])
		slot := text[i+1 : j]
		text = text[j+1:]
		name, choice, chosen := strings.Cut(slot, ":")
		noun, article := strings.CutPrefix(name, "a ")
		if article {
			name = noun
		}
		v, ok := slots[strings.TrimSpace(name)]
		if !ok {
			panic("bug in guide: nothing fills " + name + " of " + key)
		}
		switch {
		case chosen:
			one, many, _ := strings.Cut(choice, "|")
			if n, isInt := v.(int); isInt && n == 1 {
				many = one
			}
			b.WriteString(strings.TrimSpace(many))
		case article:
			b.WriteString(withArticle(fmt.Sprint(v)))
		default:
			b.WriteString(fmt.Sprint(v))
		}
	}
}

func withArticle(noun string) string {
	if noun != "" && strings.ContainsRune("aeiou", unicode.ToLower([]rune(noun)[0])) {
		return "an " + noun
	}
	return "a " + noun
}

func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// listed joins words: a, b and c.
func (s *speaker) listed(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " " + s.say("and") + " " + words[n-1]
	}
	return strings.Join(words, "")
}

// count writes a small number in words.
func (s *speaker) count(n int) string {
	if words := strings.Fields(s.say("numbers")); n < len(words) {
		return words[n]
	}
	return fmt.Sprint(n)
}

func (s *speaker) mm(mm float64) string { return measure.FromMM(mm).Format(s.unit) }

// about is a length without the mark of a rounded one: what a rule measures is never exact.
func (s *speaker) about(mm float64) string { return strings.TrimPrefix(s.mm(mm), "≈") }

// by says lengths: 5 1/4 × 1 1/4 in.
func (s *speaker) by(mm ...float64) string {
	words := make([]string, len(mm))
	for i, x := range mm {
		words[i] = strings.TrimPrefix(measure.FromMM(x).Number(s.unit), "≈")
	}
	return strings.Join(words, " × ") + " " + s.unit.Symbol()
}

func (s *speaker) degrees(d float64) string { return fmt.Sprintf("%.0f°", d) }

// plain is a name of the file as one speaks it: trailer-frame is a trailer frame, and
// wheel.2 a wheel.
func plain(id string) string {
	id = id[strings.LastIndexByte(id, '/')+1:]
	if k := strings.LastIndexByte(id, '.'); k > 0 && strings.Trim(id[k+1:], "0123456789") == "" {
		id = id[:k]
	}
	return strings.ReplaceAll(id, "-", " ")
}

// plural is the name of several.
func plural(noun string) string {
	switch {
	case strings.HasSuffix(noun, "s"):
		return noun
	case strings.HasSuffix(noun, "x"), strings.HasSuffix(noun, "ch"), strings.HasSuffix(noun, "sh"):
		return noun + "es"
	case strings.HasSuffix(noun, "y") && len(noun) > 1 && !strings.ContainsRune("aeiou", rune(noun[len(noun)-2])):
		return noun[:len(noun)-1] + "ies"
	}
	return noun + "s"
}

// numbers writes the numbers of pieces, given by their indices.
func numbers(pieces []int) string {
	var n []int
	for _, i := range pieces {
		n = append(n, shop.Number(i))
	}
	return shop.Numbers(n)
}

// called is the name of a piece as one speaks it.
func (s *speaker) called(i int) string { return plain(shop.Called(s.m, i)) }

// calledAll is what pieces of a part are called together.
func (s *speaker) calledAll(p *toy.Part, pieces []int) string {
	names := shop.CalledTogether(s.m, p, pieces)
	for k := range names {
		names[k] = plain(names[k])
	}
	return s.listed(names)
}

// the names pieces with their numbers: the frame (1), the body (2–4), the wheels (6, 7).
func (s *speaker) the(pieces []int) string {
	if len(pieces) == 0 {
		return ""
	}
	for _, g := range s.m.GlueUps {
		if len(g.Pieces) == len(pieces) && g.Pieces[0] == pieces[0] {
			return s.say("the", "name", plain(g.ID), "numbers", numbers(pieces))
		}
	}
	var names []string
	var of [][]int
	for _, i := range pieces {
		name := s.called(i)
		k := 0
		for k < len(names) && names[k] != name {
			k++
		}
		if k == len(names) {
			names, of = append(names, name), append(of, nil)
		}
		of[k] = append(of[k], i)
	}
	var out []string
	for k, name := range names {
		if len(of[k]) > 1 {
			name = plural(name)
		}
		out = append(out, s.say("the", "name", name, "numbers", numbers(of[k])))
	}
	return s.listed(out)
}

// named is the pieces of an id.
func (s *speaker) named(id string) string { return s.the(s.m.Find(id)) }

// Counted says how many of something of the file there are: 1 trailer frame, 4 sides.
func Counted(n int, id string) string {
	if n == 1 {
		return "1 " + plain(id)
	}
	return fmt.Sprintf("%d %s", n, plural(plain(id)))
}
