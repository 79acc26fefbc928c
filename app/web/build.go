package web

import (
	"dryfit/app/desk"
	"dryfit/app/page"
	"dryfit/measure/source"
	"dryfit/toy/file/tree"
)

// GlueArgs makes one piece of two: a glue-up of the steps First and Second of the build, counted
// from 0.
type GlueArgs struct {
	File   string `json:"file"`
	Base   string `json:"base"`
	First  int    `json:"first"`
	Second int    `json:"second"`
	Name   string `json:"name"`
}

var glueCall = on("glue", "Makes a glue-up of two pieces.", func(s *Server, a GlueArgs) (State, error) {
	return s.with(a.File, func(l *live) (desk.State, error) {
		now := l.toy.State()
		root, probs := tree.Parse(source.New(now.File, now.Text))
		if len(probs) > 0 {
			return now, probs
		}
		l.mu.Lock()
		builds := l.builds
		l.mu.Unlock()
		edits, err := page.Glue(root, builds, a.First, a.Second, a.Name)
		if err != nil {
			return now, err
		}
		return l.toy.Change(desk.Wish{Base: a.Base, Edits: edits, Intent: "glue " + a.Name})
	})
})
