package lengths

import (
	"context"
	"fmt"
	"math/rand"
	"testing"
)

// One length, any number.
func BenchmarkUniform(b *testing.B) {
	for _, kinds := range []int{10, 30, 100, 200} {
		p := uniform(1, kinds, 2400, 3)
		p.Kerf = 2
		b.Run(fmt.Sprintf("kinds=%d", kinds), func(b *testing.B) { prove(b, p) })
	}
}

// Two lengths to buy at their price, and offcuts on hand to be used first; micrometres.
func BenchmarkOffcuts(b *testing.B) {
	for _, kinds := range []int{10, 20, 40} {
		rnd := rand.New(rand.NewSource(1))
		p := Problem{Kerf: 1500, Trim: 6000, Stock: []Stock{{2400000, Any, 1250}, {1800000, Any, 990}}}
		for i := 0; i < kinds; i++ {
			p.Pieces = append(p.Pieces, Piece{15000 + 250*rnd.Int63n(2400), 1 + rnd.Intn(8)})
		}
		for i := 0; i < 8; i++ {
			p.Stock = append(p.Stock, Stock{100000 + 1000*rnd.Int63n(900), 1, 0})
		}
		b.Run(fmt.Sprintf("kinds=%d", kinds), func(b *testing.B) { prove(b, p) })
	}
}

func prove(b *testing.B, p Problem) {
	for i := 0; i < b.N; i++ {
		if r, _ := Solve(context.Background(), p, Options{}); !r.Proved {
			b.Fatalf("value %d, bound %d", r.Value, r.Bound)
		}
	}
}
