package web

import (
	"slices"
	"strings"

	"dryfit/app"
	"dryfit/assembly"
	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// worked is a text worked out: the toy and its model, or what is wrong with it.
type worked struct {
	file  string
	hash  string
	toy   *app.Toy // nil where the text cannot be read
	model *assembly.Model
	probs source.Problems
}

// make works a text out. The last one is kept: what was looked at before it was taken is not worked
// out again once it is.
func (l *live) make(file, text string) (out *worked) {
	hash := tree.Hash(text)
	if last := l.made.Load(); last.is(file, hash) {
		return last
	}
	out = &worked{file: file, hash: hash}
	defer l.made.Store(out)
	defer func() {
		if p := recover(); p != nil { // of dryfit's own: the text is as one that cannot be read
			logMistake(file, p)
			out.toy, out.probs = nil, source.Problems{{Says: ownMistake.Says, File: file}}
		}
	}()
	out.toy, out.probs = app.OpenWith(file, text, app.Options{Cache: l.cache})
	if len(out.probs) == 0 {
		out.model, out.probs = out.toy.Model()
	}
	return out
}

func (w *worked) is(file, hash string) bool { return w != nil && w.file == file && w.hash == hash }

// unsound is a change that would leave a file that cannot be read, or a toy that cannot be put together.
type unsound struct{ source.Problem }

func (u unsound) Error() string {
	says := u.Says
	if u.Expected != "" {
		says += "; expected " + u.Expected
	}
	if u.Nearest != "" {
		says += "; did you mean " + u.Nearest + "?"
	}
	return says
}

// sound refuses a change that a page asks for by edits where the toy could be worked out before and
// could not after it: a slip in one field is to break nothing. What is typed as text is never refused.
// Pieces that are being placed may stand wrong for a while: Place says beside each what it still needs.
func (l *live) sound(file string, edits []tree.Edit) func(was, is string) error {
	placing := len(edits) > 0 && !slices.ContainsFunc(edits, func(e tree.Edit) bool {
		return !strings.HasPrefix(e.Path, "build") && !strings.HasPrefix(e.Path, "glue-ups")
	})
	return func(was, is string) error {
		before := l.made.Load()
		after := l.make(file, is)
		if len(after.probs) == 0 || placing && after.toy != nil {
			return nil
		}
		if !before.is(file, tree.Hash(was)) {
			before = l.make(file, was)
		}
		if len(before.probs) > 0 {
			return nil // it is being mended
		}
		l.made.Store(before)
		return unsound{after.probs[0]}
	}
}
