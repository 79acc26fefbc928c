package lengths_test

import (
	"context"
	"fmt"

	"dryfit/shop/lengths"
)

// Axles of 120 mm and pegs of 45 mm from dowels of 900 mm, an offcut of 260 mm first;
// lengths in micrometres.
func ExampleSolve() {
	const mm = 1000
	p := lengths.Problem{
		Pieces: []lengths.Piece{{Length: 120 * mm, Demand: 14}, {Length: 45 * mm, Demand: 10}},
		Stock:  []lengths.Stock{{Length: 900 * mm, Count: lengths.Any, Cost: 240}, {Length: 260 * mm, Count: 1}},
		Kerf:   1.5 * mm,
		Trim:   6 * mm,
	}
	r, err := lengths.Solve(context.Background(), p, lengths.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range r.Patterns {
		fmt.Print(t.Times, " x ", p.Stock[t.Stock].Length/mm, " mm:")
		for _, c := range t.Cuts {
			fmt.Print(" ", c.Count, " of ", c.Length/mm)
		}
		fmt.Println()
	}
	fmt.Println("cost", r.Value, "at least", r.Bound)
	// Output:
	// 1 x 900 mm: 7 of 120
	// 1 x 900 mm: 5 of 120 6 of 45
	// 1 x 900 mm: 4 of 45
	// 1 x 260 mm: 2 of 120
	// cost 720 at least 720
}
