package tree

import (
	"math/rand/v2"
	"strings"
	"testing"

	"dryfit/measure/source"
)

// pieces are strung together at random into texts that often are YAML and often
// nearly are.
var pieces = []string{
	"a", "b", "c: ", "d: ", "e:", "f", " ", "  ", "    ", "\n", "\n", "\n  ", "\n    ", "\n- ", "\n  - ", "- ", "-", ": ", ":",
	"[", "]", "{", "}", ", ", ",", "'x'", "\"y\"", "''", "'it''s'", "\"\\n\"", "#", " # c", "1", "-1", "1/4", "\"", "'", "|\n  t\n", "|-\n    t\n   \n", "|",
	"é", "\r\n", "true", "0x1", ".5", "k: v\n", "  k: v\n", "- i\n", "  - i\n", "[a, b]", "{a: b}", "[\n  a,\n]", "\n]", "\n  }", "[\n    ", "<<", "<", "---", "...", "&", "%", "~", "?", "|", ">", "=", "`", ".", "+", "null", "0", "$", "\\", "/", "_", "0o7", "1e3", ".inf", "2001-01-01", "!", "@", "*", "x y", "55°", "1 1/4\"",
}

func randomText(r *rand.Rand) string {
	var b strings.Builder
	for range 1 + r.IntN(12) {
		b.WriteString(pieces[r.IntN(len(pieces))])
	}
	return b.String()
}

// TestRandomTextsMeanTheSame: what we accept the oracle accepts and reads alike.
func TestRandomTextsMeanTheSame(t *testing.T) {
	rounds := 300_000
	if testing.Short() {
		rounds = 20_000
	}
	r := rand.New(rand.NewPCG(3, 4))
	accepted, bad := 0, 0
	for range rounds {
		text := randomText(r)
		n, _ := Parse(source.New("random", text))
		if n == nil {
			continue
		}
		accepted++
		checkPlaces(t, text, n)
		got := outline(n)
		want, err := theirs(text)
		if err != nil {
			want = "error: " + strings.SplitN(err.Error(), "\n", 2)[0]
		}
		if got != want {
			if bad++; bad < 60 {
				t.Errorf("%q\n ours   %s\n theirs %s", text, got, want)
			}
		}
	}
	if accepted < rounds/20 {
		t.Errorf("only %d of %d texts were accepted: this tests little", accepted, rounds)
	}
	t.Logf("%d of %d accepted, %d read otherwise", accepted, rounds, bad)
}
