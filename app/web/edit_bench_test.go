package web

import (
	"os"
	"testing"
	"testing/fstest"

	"dryfit/app/desk"
	"dryfit/toy/file/tree"
)

// BenchmarkEdit is an edit of a toy of forty pieces until the quick findings of it have been told,
// and until all have, the file saved.
func BenchmarkEdit(b *testing.B) {
	for _, until := range []string{"quick", "all"} {
		b.Run(until, func(b *testing.B) {
			text, err := os.ReadFile("../ui/test/train.yaml")
			if err != nil {
				b.Fatal(err)
			}
			dir := b.TempDir()
			if err := os.WriteFile(dir+"/train.yaml", text, 0o644); err != nil {
				b.Fatal(err)
			}
			disk, err := desk.Folder(dir)
			if err != nil {
				b.Fatal(err)
			}
			s := New(disk, "bench", fstest.MapFS{})
			l, err := s.open("train.yaml")
			if err != nil {
				b.Fatal(err)
			}
			w := &window{wake: make(chan struct{}, 1), have: map[string]bool{}}
			l.join(w)
			wait := func(hash string, all bool) {
				for {
					for _, e := range w.take() {
						if f := e.Findings; f != nil && f.Hash == hash && (f.Done || f.Quick && !all) {
							return
						}
					}
					<-w.wake
				}
			}
			wait(l.toy.State().Hash, true)
			b.ResetTimer()
			for i := 0; b.Loop(); i++ {
				sizes := []string{"60.5", "61", "61.5", "62"}
				st, err := s.with("train.yaml", func(l *live) (desk.State, error) {
					now := l.toy.State()
					return l.toy.Change(desk.Wish{Base: now.Hash, Edits: []tree.Edit{{Op: "set", Path: "sizes.roof", Value: sizes[i%len(sizes)]}}, Intent: "roof"})
				})
				if err != nil {
					b.Fatal(err)
				}
				wait(st.Hash, until == "all")
			}
		})
	}
}
