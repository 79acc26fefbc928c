package web

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"dryfit/app"
	"dryfit/app/desk"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy/file/tree"
)

// callTable is all that a page may ask for, in the order of the description.
func callTable() []call {
	return append([]call{
		on("change", "Changes a toy: edits of its file, or a whole text.", func(s *Server, a ChangeArgs) (State, error) {
			return s.with(a.File, func(l *live) (desk.State, error) {
				w := desk.Wish{Base: a.Base, Edits: a.Edits, Apply: app.Edit, Text: a.Text, Intent: a.Intent, Group: a.Group}
				if a.Text == nil {
					w.Sound = l.sound(a.File, a.Edits)
				}
				return l.toy.Change(w)
			})
		}),
		nameCall, shiftCall, wordCall, glueCall, traceCall,
		on("undo", "Takes the last change back, and tells which.", func(s *Server, a ToyArgs) (Stepped, error) {
			return s.step(a.File, (*desk.Toy).Undo, func(st desk.State) string { return st.Redo })
		}),
		on("redo", "Makes the change again that was undone last, and tells which.", func(s *Server, a ToyArgs) (Stepped, error) {
			return s.step(a.File, (*desk.Toy).Redo, func(st desk.State) string { return st.Undo })
		}),
		on("choose", "Says which of two versions stays.", func(s *Server, a ChooseArgs) (State, error) {
			return s.with(a.File, func(l *live) (desk.State, error) { return l.toy.Choose(desk.Choice(a.Choice)) })
		}),
		on("create", "Makes a toy.", func(s *Server, a CreateArgs) (ToyArgs, error) { return s.create(a) }),
		on("copy", "Makes another toy like one that there is.", func(s *Server, a NameArgs) (ToyArgs, error) {
			t, err := s.desk.Open(a.File)
			if err != nil {
				return ToyArgs{}, err
			}
			text, err := renamed(t.State().Text, a.To)
			if err != nil {
				return ToyArgs{}, err
			}
			return s.create(CreateArgs{Name: a.To, Text: &text})
		}),
		on("rename", "Gives the file of a toy another name.", func(s *Server, a NameArgs) (ToyArgs, error) {
			to := fileName(a.To)
			if err := s.rename(a.File, to); err != nil {
				return ToyArgs{}, err
			}
			s.look()
			return ToyArgs{to}, nil
		}),
		on("aside", "Takes a toy off the shelf: its file is put aside, and comes back.", func(s *Server, a ToyArgs) (AsideArgs, error) {
			at, err := s.setAside(a.File)
			if err != nil {
				return AsideArgs{}, err
			}
			s.look()
			return AsideArgs{At: at, File: a.File}, nil
		}),
		on("back", "Puts a toy on the shelf again that was put aside.", func(s *Server, a AsideArgs) (ToyArgs, error) {
			if err := s.desk.BringBack(a.At, a.File); err != nil {
				return ToyArgs{}, err
			}
			s.look()
			return ToyArgs{a.File}, nil
		}),
		on("there", "Tells that the program is there, to whoever knows its token.", func(*Server, None) (None, error) { return None{}, nil }),
		schemaCall,
		on("mend", "Looks for the value of one size at which a finding holds.", func(s *Server, a MendArgs) (Mended, error) { return s.mend(a) }),
		on("why", "Explains a check.", func(s *Server, a WhyArgs) (Why, error) {
			text, _, ok := app.Why(a.Check)
			if !ok {
				return Why{}, fmt.Errorf("there is no check %s", a.Check)
			}
			return Why{text}, nil
		}),
	}, append(outputCalls(), otherCalls()...)...)
}

// step undoes or does again; which says what that was. That there was nothing is no mistake; that two
// versions wait for a choice is said.
func (s *Server) step(file string, do func(*desk.Toy) (desk.State, bool), which func(desk.State) string) (Stepped, error) {
	done := ""
	now, err := s.with(file, func(l *live) (desk.State, error) {
		st, ok := do(l.toy)
		switch {
		case ok:
			done = which(st)
		case st.Other != nil:
			return st, desk.ErrConflict
		}
		return st, nil
	})
	return Stepped{now, done}, err
}

// on makes a call of a function.
func on[A, B any](name, does string, f func(*Server, A) (B, error)) call {
	return onLong(name, does, func(_ context.Context, s *Server, a A) (B, error) { return f(s, a) })
}

// onLong makes a call of a function that takes its time, and leaves off when the page goes away.
func onLong[A, B any](name, does string, f func(context.Context, *Server, A) (B, error)) call {
	var a A
	var b B
	return call{name: name, says: does, args: a, answer: b, run: func(ctx context.Context, s *Server, body []byte) (any, error) {
		var a A
		if err := decode(body, &a); err != nil {
			return nil, err
		}
		return f(ctx, s, a)
	}}
}

// decode reads the arguments of a call, and nothing that it does not know.
func decode(body []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	err := d.Decode(into)
	if err == nil && len(bytes.TrimSpace(body[d.InputOffset():])) > 0 {
		err = errors.New("there is more than one value")
	}
	if err != nil {
		return fmt.Errorf("this is no call that the program knows: %w", err)
	}
	return nil
}

// rename gives a toy another name in one go for all who ask for it.
func (s *Server) rename(from, to string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.desk.Rename(from, to); err != nil {
		return err
	}
	if l := s.live[from]; l != nil {
		delete(s.live, from)
		s.live[to] = l
	}
	return nil
}

// setAside takes a toy off the shelf.
func (s *Server) setAside(file string) (string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	at, err := s.desk.SetAside(file)
	if err == nil {
		delete(s.live, file)
	}
	return at, err
}

// with does something to a toy that changes its text.
func (s *Server) with(file string, do func(*live) (desk.State, error)) (State, error) {
	l, err := s.open(file)
	if err != nil {
		return State{}, err
	}
	_, err = do(l)
	now := l.update()
	if errors.As(err, new(desk.Stale)) || errors.Is(err, desk.ErrConflict) {
		err = tooLate{err, now}
	}
	return now, err
}

// tooLate is a change of what has changed meanwhile, with what it is now.
type tooLate struct {
	error
	now State
}

func errNoToy(file string) error { return fmt.Errorf("there is no toy %s in this folder", file) }

// create makes the file of a new toy and opens it.
func (s *Server) create(a CreateArgs) (ToyArgs, error) {
	name := strings.TrimSpace(a.Name)
	if name == "" {
		return ToyArgs{}, fmt.Errorf("a toy has to have a name")
	}
	text, err := begun(name, a)
	if err != nil {
		return ToyArgs{}, err
	}
	file := fileName(name)
	if _, err := s.desk.Create(file, text); err != nil {
		return ToyArgs{}, err
	}
	s.lookAtShelf()
	return ToyArgs{file}, nil
}

// begun is the text of a new toy: the one that was given, or one that fits the answers.
func begun(name string, a CreateArgs) (string, error) {
	if a.Text != nil {
		return *a.Text, nil
	}
	units := measure.MM
	if a.Inch {
		units = measure.Inch
	}
	return app.BeginWith(name, units, a.Answers)
}

// fileName makes the name of a file of that of a toy, in small letters, digits and hyphens of any
// script.
func fileName(name string) string {
	name = strings.TrimSuffix(strings.TrimSpace(name), ".yaml")
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case r > 127 || r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	out := strings.Trim(b.String(), "-")
	if out == "" {
		out = "toy"
	}
	return out + ".yaml"
}

// renamed is a text with another name of the toy in it.
func renamed(text, name string) (string, error) {
	out, _, err := tree.Apply(source.New("", text), tree.Edit{Op: "set", Path: "toy", Value: name, As: tree.AsText})
	return out, err
}

// mendTime is how long a page waits for a mend.
const mendTime = 20 * time.Second

func (s *Server) mend(a MendArgs) (Mended, error) {
	l, err := s.open(a.File)
	if err != nil {
		return Mended{}, err
	}
	l.mu.Lock()
	t := l.opened
	l.mu.Unlock()
	if t == nil {
		return Mended{}, errNoToy(a.File)
	}
	ctx, cancel := context.WithTimeout(context.Background(), mendTime)
	defer cancel()
	sol, err := t.Solve(ctx, app.Ask{Check: a.Check, About: a.About})
	if err != nil {
		return Mended{}, err
	}
	return mendOf(sol, a.Units), nil
}

// mendOf is a mend as the file has to have it, and as it is shown in units.
func mendOf(sol *app.Solution, units string) Mended {
	out := Mended{Mends: []prove.Mend{}, Says: sol.Text()}
	if m := sol.Mend; m != nil {
		out.Found, out.Mends, out.From, out.To = true, append(out.Mends, m.Mend), m.From, m.To
		if u, ok := measure.ParseUnit(units); ok {
			out.From, out.To = m.FromLength.Format(u), m.ToLength.Format(u)
		}
	}
	return out
}
