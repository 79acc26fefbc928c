package file

import (
	"regexp"
	"strings"

	"dryfit/measure/formula"
	"dryfit/measure/source"
	"dryfit/toy/file/shape"
	"dryfit/toy/file/tree"
)

// mention is a place of a text that speaks of something by its name.
type mention struct {
	node  *tree.Node
	from  int    // byte of the node's text
	text  string // the name, and what may follow it
	kinds []Kind // what it may be the name of, the likeliest first
	scope string // of a piece
	tail  bool   // what follows a slash may be a hole or work: of a waiver
	first string // of the second corner of a flat: the number of the first
}

// mentionsIn finds all that a text speaks of, as far as it can be read.
func mentionsIn(f *source.File, root *tree.Node) []mention {
	c := &collector{root: root}
	var d doc
	for _, p := range shape.Formulas(f, root, &d) {
		c.formula(p.Node, p.From, p.Node.Text[p.From:])
	}
	for _, e := range entries(root.Get("parts")) {
		c.word(e.Value.Get("from"), "", StockName)
		c.word(e.Value.Get("mirrors"), "", PartName)
		c.corners(tree.Join("parts", e.Key.Text), e.Value.Get("work"))
	}
	for _, e := range entries(root.Get("glue-ups")) {
		scope := piecesOf(e.Key.Text)
		for _, p := range items(e.Value.Get("pieces")) {
			c.put(p, scope, PartName)
		}
		for _, w := range items(e.Value.Get("work")) {
			c.word(w.Get("sand-flush").Get("with"), scope, PieceName)
		}
		c.corners(tree.Join("glue-ups", e.Key.Text), e.Value.Get("work"))
	}
	for _, s := range items(root.Get("build")) {
		c.put(s, "build", PartName, GlueUpName)
		c.places(s.Get("wheels").Get("in"))
		c.word(s.Get("wheels").Get("axle"), "", PartName)
		c.each(s.Get("wheels").Get("outward"), func(n *tree.Node) {
			if n.Text != "gap" {
				c.word(n, "", PartName)
			}
		})
		c.word(s.Get("peg").Get("use"), "", PartName)
		c.places(s.Get("peg").Get("in"))
		c.word(s.Get("hinge").Get("pin"), "", PartName)
		c.places(s.Get("hinge").Get("fixed"))
		c.places(s.Get("hinge").Get("runs"))
	}
	c.place(root.Get("cord").Get("from"), "build")
	for _, m := range items(root.Get("must")) {
		c.word(m.Get("swings"), "", HingeName)
	}
	for _, w := range items(root.Get("waive")) {
		c.about(textAt(w, "check"), w.Get("about"))
	}
	return c.out
}

type collector struct {
	root *tree.Node
	out  []mention
}

func (c *collector) add(n *tree.Node, from int, text, scope string, kinds ...Kind) {
	c.out = append(c.out, mention{node: n, from: from, text: text, scope: scope, kinds: kinds})
}

// word is a value that is a name and nothing else.
func (c *collector) word(n *tree.Node, scope string, kinds ...Kind) {
	if n != nil && n.Kind == tree.Scalar && n.Text != "" {
		c.add(n, 0, n.Text, scope, kinds...)
	}
}

// each calls back with one value, or with all of a list.
func (c *collector) each(n *tree.Node, f func(*tree.Node)) {
	if n != nil && n.Kind == tree.Scalar {
		f(n)
	}
	for _, it := range items(n) {
		f(it)
	}
}

// formula finds the names in a formula that begins at byte from of a node's text.
func (c *collector) formula(n *tree.Node, from int, text string) {
	e, bad := formula.Parse(text)
	if bad != nil {
		return
	}
	for _, name := range e.Names() {
		owner, attr, dotted := strings.Cut(name.Text, ".")
		kind := SizeName
		switch {
		case dotted && c.root.Get("stock").Get(owner).Get(attr) != nil: // stock comes first, as in values
			kind = StockName
		case dotted:
			kind = PartName
		}
		c.add(n, from+name.At, owner, "", kind)
	}
}

// put is a piece of the build or of a glue-up.
func (c *collector) put(s *tree.Node, scope string, kinds ...Kind) {
	c.word(s.Get("put"), "", kinds...)
	for _, e := range entries(s.Get("sits")) {
		c.place(e.Value, scope)
	}
	c.each(s.Get("glue-to"), func(n *tree.Node) { c.word(n, scope, PieceName) })
	c.word(s.Get("keyed-by"), scope, PieceName)
	c.word(s.Get("saddle").Get("over"), scope, PieceName)
	c.word(s.Get("slot").Get("over"), scope, PieceName)
}

func (c *collector) places(n *tree.Node) {
	c.each(n, func(n *tree.Node) { c.place(n, "build") })
}

// place is PIECE.FEATURE and what is added to it.
func (c *collector) place(n *tree.Node, scope string) {
	if n == nil || n.Kind != tree.Scalar {
		return
	}
	m := refForm.FindStringSubmatchIndex(n.Text)
	if m == nil {
		return
	}
	c.add(n, m[2], n.Text[m[2]:m[3]], scope, PieceName)
	if m[8] >= 0 {
		c.formula(n, m[8], n.Text[m[8]:m[9]])
	}
}

// corners are the numbers that flats and points of outlines are named by.
func (c *collector) corners(on string, work *tree.Node) {
	for i, w := range items(work) {
		for _, e := range entries(w) {
			o := e.Value.Get("outline")
			list, points := pointsOf(tree.Join(item(on+".work", i), e.Key.Text)+".outline", o)
			if points == nil || o.Kind != tree.Map {
				continue
			}
			for _, k := range entries(o.Get("named")) {
				c.word(k.Value, list, cornerNumber)
			}
			for _, k := range entries(o.Get("flats")) {
				for i, n := range items(k.Value) {
					c.word(n, list, cornerNumber)
					if i == 1 && n.Kind == tree.Scalar && n.Text != "" {
						c.out[len(c.out)-1].first = k.Value.Items[0].Text
					}
				}
			}
		}
	}
}

var (
	// aboutParts are what the words of a finding are parted by, and what is said beside names.
	aboutParts = regexp.MustCompile(`~| on | in | between its holes$| without .*$| \([^)]*\)$`)
	aboutName  = regexp.MustCompile(`^[A-Za-z][\w-]*(?:\.\d+)?(?:/[A-Za-z][\w-]*(?:\.\d+)*)*$`)
)

// aboutWords are what findings are about that is no name.
var aboutWords = map[string]string{"child.cord": "cord", "child.small": "attached loose", "move.ground": "wheels clearance straight", "balance": "pull"}

// about are the names in what a waiver is about, which is what a finding of the check is called by.
func (c *collector) about(check string, n *tree.Node) {
	if n == nil || n.Kind != tree.Scalar || n.Text == "toy" {
		return
	}
	for _, w := range strings.Fields(aboutWords[check]) {
		if n.Text == w {
			return
		}
	}
	kinds := []Kind{PieceName, HingeName, PartName, GlueUpName}
	switch {
	case check == "child.material": // a wood, unless it is what the stock is called
		if name, ok := strings.CutPrefix(n.Text, "stock "); ok {
			c.add(n, len("stock "), name, "", StockName)
		}
		return
	case check == "move.hinge", check == "child.pinch":
		kinds = []Kind{HingeName, PieceName, PartName, GlueUpName}
	case strings.HasPrefix(check, "cut."):
		kinds = []Kind{PartName, GlueUpName, PieceName}
	}
	add := func(from, to int) {
		if text := n.Text[from:to]; aboutName.MatchString(text) {
			c.out = append(c.out, mention{node: n, from: from, text: text, scope: "build", kinds: kinds, tail: true})
		}
	}
	from := 0
	for _, m := range aboutParts.FindAllStringIndex(n.Text, -1) {
		add(from, m[0])
		from = m[1]
	}
	add(from, len(n.Text))
}
