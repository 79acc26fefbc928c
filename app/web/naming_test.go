package web

import (
	"strings"
	"testing"

	"dryfit/toy/file/tree"
)

// What a page puts in before others leaves what is spoken of by number as it is meant, and a name is
// another everywhere: each is one change, that one undo takes back.
func TestNamesAndNumbersFollow(t *testing.T) {
	s, l := hitchOpen(t)
	st := l.state
	was := st.Text
	undone := func() {
		t.Helper()
		if st = askFor(t, s, "undo", ToyArgs{File: "hitch.yaml"}); st.Text != was {
			t.Fatalf("one undo leaves\n%s", st.Text)
		}
	}
	st = askFor(t, s, "change", ChangeArgs{File: "hitch.yaml", Base: st.Hash, Edits: []tree.Edit{{Op: "insert", Path: "build[1]", Value: "{put: cart, sits: {bottom: tractor.top, back: tractor.back, middle: tractor.middle}}"}}})
	if !strings.Contains(st.Text, "in: cart.2.axle, axle: axle") {
		t.Errorf("the wheels of the cart went to another:\n%s", st.Text)
	}
	undone()
	st = askFor(t, s, "name", NamingArgs{File: "hitch.yaml", What: "parts.cart", To: "trailer"})
	if !strings.Contains(st.Text, "in: trailer.axle, axle: axle") || !strings.Contains(st.Text, "put: trailer, sits") {
		t.Errorf("the cart is not called trailer everywhere:\n%s", st.Text)
	}
	undone()
	if _, err := s.calls["name"].run(t.Context(), s, []byte(`{"file": "hitch.yaml", "what": "parts.cart", "to": "tongue"}`)); err == nil || !strings.Contains(err.Error(), "already a part tongue") {
		t.Errorf("a name that is taken: %v", err)
	}
}
