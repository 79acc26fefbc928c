package web

import (
	"strings"

	"dryfit/app"
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
		return l.toy.Change(desk.Wish{Base: a.Base, Edits: edits, Sound: l.sound(a.File, nil), Intent: "glue " + a.Name})
	})
})

// NamingArgs gives what a toy file speaks of another name.
type NamingArgs struct {
	File string `json:"file"`
	What string `json:"what"` // its kind and its name: sizes.wheel, stock.rod, parts.frame, glue-ups.coach, pieces.crate.2, pieces.coach/core, hinges.tip
	To   string `json:"to"`
}

var nameCall = on("name", "Gives a size, stock, part, glue-up, piece or hinge another name, wherever the file speaks of it.", func(s *Server, a NamingArgs) (State, error) {
	return s.with(a.File, func(l *live) (desk.State, error) {
		_, was, _ := strings.Cut(a.What, ".")
		return l.toy.Change(desk.Wish{Intent: was + " is called " + a.To, Sound: l.sound(a.File, nil), Make: func(f *source.File) (string, error) {
			r, err := app.Rename(f, a.What, a.To)
			if err != nil {
				return "", err
			}
			return r.Text, nil
		}})
	})
})
