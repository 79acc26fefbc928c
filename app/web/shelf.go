package web

import (
	"context"
	"strings"
	"time"

	"dryfit/app"
	"dryfit/app/desk"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy/file/tree"
)

// The shelf: which toys the folder has, and what the proof says of each. They are proved one
// after the other, while nobody waits for it.

// shelf is guarded by Server.mu.
type shelf struct {
	cards map[string]*card
	names []string
	read  bool // the folder has been read once
}

// card is what is known of a file.
type card struct {
	Card
	stamp   desk.Stamp
	toy     bool   // it says that it is one
	text    string // as it was read
	picture []byte // small, of the text with the hash pictured
	drawn   string
}

// lookAtShelf reads the folder again, and the files that changed.
func (s *Server) lookAtShelf() {
	names, err := s.desk.Names()
	if err != nil {
		return
	}
	changed := false
	s.mu.Lock()
	known := s.shelf.cards
	s.mu.Unlock()
	next := map[string]*card{}
	for _, n := range names {
		stamp, err := s.desk.Disk.Stamp(n)
		if err != nil {
			continue
		}
		s.mu.Lock()
		c := known[n]
		s.mu.Unlock()
		if c != nil && c.stamp == stamp {
			next[n] = c
			continue
		}
		b, err := s.desk.Disk.Read(n)
		if err != nil {
			b = nil
		}
		fresh := readCard(n, string(b))
		if fresh.stamp = stamp; err != nil {
			fresh.Problems = source.Problems{{Says: says(err), File: n}}
			fresh.toy = true
		}
		if c != nil && c.Hash == fresh.Hash {
			fresh.Card, fresh.picture, fresh.drawn = c.Card, c.picture, c.drawn
		}
		next[n] = fresh
		changed = true
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if changed || len(next) != len(known) || !s.shelf.read {
		for n, c := range next { // proved or drawn meanwhile
			if now := s.shelf.cards[n]; now != nil && now.Hash == c.Hash && now.stamp == c.stamp {
				next[n] = now
			}
		}
		s.shelf = shelf{cards: next, names: names, read: true}
		s.tellShelf()
	}
}

// readCard reads what a file says of itself.
func readCard(name, text string) *card {
	c := &card{Card: Card{File: name, Name: strings.TrimSuffix(strings.TrimSuffix(name, ".yaml"), ".yml"), Hash: tree.Hash(text), Problems: []source.Problem{}}, text: text}
	root, _ := tree.Parse(source.New(name, text))
	if root == nil {
		c.toy = strings.HasPrefix(text, "toy:") || strings.Contains(text, "\ntoy:")
	} else {
		c.toy = root.At("toy") != nil
	}
	if !c.toy {
		return c
	}
	t, probs := app.Open(name, text, nil, nil)
	if len(probs) > 0 {
		c.Problems = probs
		return c
	}
	c.Name, c.Edition = t.Name, t.Edition
	if n := root.At("ages"); n != nil {
		c.Ages = n.Text
	}
	return c
}

// shelfNow is the shelf as it is told.
func (s *Server) shelfNow() *Shelf {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.shelfAs()
}

func (s *Server) shelfAs() *Shelf {
	out := &Shelf{Folder: s.folder, Toys: []Card{}}
	for _, n := range s.shelf.names {
		if c := s.shelf.cards[n]; c != nil && c.toy {
			out.Toys = append(out.Toys, c.Card)
		}
	}
	return out
}

func (s *Server) tellShelf() {
	e := Event{Shelf: s.shelfAs()}
	for w := range s.windows {
		w.send(e)
	}
}

// shelfHas puts what a proof has found on the card of its toy.
func (s *Server) shelfHas(file, hash string, t *app.Toy, r *prove.Report) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if c := s.shelf.cards[file]; c != nil && c.Hash == hash {
		next := *c
		next.proved(t, r)
		s.shelf.cards[file] = &next
		s.tellShelf()
	}
}

func (c *card) proved(t *app.Toy, r *prove.Report) {
	c.Verdict, c.Pieces, c.Fails, c.Minds, c.Untold = r.Verdict.String(), r.Pieces, 0, 0, 0
	for _, f := range r.Findings {
		switch f.Verdict {
		case prove.Fails:
			c.Fails++
		case prove.Mind:
			c.Minds++
		case prove.CannotTell:
			c.Untold++
		}
	}
}

// idle is how long the one who proves the shelf sleeps when there is nothing to prove.
const idle = 200 * time.Millisecond

// proveShelf proves what has not been, until ctx ends.
func (s *Server) proveShelf(ctx context.Context) {
	for ctx.Err() == nil {
		c := s.unproved()
		if c == nil {
			select {
			case <-ctx.Done():
			case <-time.After(idle):
			}
			continue
		}
		s.proveCard(ctx, c)
	}
}

// proveCard proves a toy of the shelf. Where dryfit itself fails, its card says so, and it is not tried again.
func (s *Server) proveCard(ctx context.Context, c *card) {
	defer func() {
		if p := recover(); p != nil {
			logMistake(c.File, p)
			s.shelfTrouble(c.File, c.Hash, source.Problems{{Says: ownMistake.Says, File: c.File}})
		}
	}()
	t, probs := app.Open(c.File, c.text, nil, nil)
	if len(probs) == 0 {
		rep, err := prove.RunContext(ctx, t.Toy, nil, prove.Options{Lanes: 1})
		if err == nil {
			s.shelfHas(c.File, c.Hash, t, rep)
			return
		}
	}
	s.shelfTrouble(c.File, c.Hash, probs)
}

func (s *Server) unproved() *card {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, n := range s.shelf.names {
		if s.live[n] != nil {
			continue // it is proved where it is open
		}
		if c := s.shelf.cards[n]; c != nil && c.toy && c.Verdict == "" && len(c.Problems) == 0 {
			return c
		}
	}
	return nil
}

// shelfTrouble marks a toy that can be read but not put together.
func (s *Server) shelfTrouble(file, hash string, probs source.Problems) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if c := s.shelf.cards[file]; c != nil && c.Hash == hash {
		next := *c
		if next.Problems = probs; len(probs) == 0 {
			next.Problems = source.Problems{{Says: "this cannot be put together: open it to see why", File: file}}
		}
		s.shelf.cards[file] = &next
		s.tellShelf()
	}
}

// pictureLong is how many elements the longer side of a card's picture has.
const pictureLong = 640

// picture returns the picture of a toy on the shelf.
func (s *Server) picture(file string) ([]byte, error) {
	s.mu.Lock()
	c := s.shelf.cards[file]
	s.mu.Unlock()
	if c == nil {
		return nil, errNoToy(file)
	}
	if c.picture != nil && c.drawn == c.Hash {
		return c.picture, nil
	}
	t, probs := app.Open(c.File, c.text, nil, nil)
	if len(probs) > 0 {
		return nil, probs
	}
	b, err := t.Picture("png", app.Pictures{Long: pictureLong})
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if now := s.shelf.cards[file]; now != nil && now.Hash == c.Hash {
		next := *now
		next.picture, next.drawn = b, c.Hash
		s.shelf.cards[file] = &next
	}
	return b, nil
}
