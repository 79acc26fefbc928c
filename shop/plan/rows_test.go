package plan

import "testing"

func TestSays(t *testing.T) {
	lots := func(list ...[2]int) (out []part) {
		for _, x := range list {
			out = append(out, part{what: "toy", lot: span{x[0], x[1], 20}})
		}
		return out
	}
	for want, parts := range map[string][]part{
		"":                          {{what: "toy"}},
		"toy 3":                     lots([2]int{3, 3}),
		"toys 1–5":                  lots([2]int{1, 5}),
		"toys 1–10, 16–20":          lots([2]int{6, 10}, [2]int{1, 5}, [2]int{16, 20}),
		"part 2 of 7":               {{k: 2, of: 7}},
		"parts 1–3, 5 of 7":         {{k: 5, of: 7}, {k: 1, of: 7}, {k: 2, of: 7}, {k: 3, of: 7}},
		"toys 1–2, parts 1, 3 of 3": {{lot: span{1, 2, 4}, what: "toy", k: 1, of: 3}, {lot: span{1, 2, 4}, what: "toy", k: 3, of: 3}},
	} {
		if got := says(parts); got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
}
