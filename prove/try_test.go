package prove

import (
	"fmt"
	"os"
	"testing"
	"time"

	"dryfit/measure/source"
	"dryfit/toy/file"
)

func TestTry(t *testing.T) {
	name := os.Getenv("TOY")
	b, _ := os.ReadFile(name)
	t0 := time.Now()
	ty, probs := file.Read(source.New(name, string(b)), nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	t1 := time.Now()
	rep, probs := Run(ty, nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	fmt.Println("read", t1.Sub(t0), "prove", time.Since(t1))
	for _, f := range rep.Findings {
		fmt.Printf("%-11s %-40s %8.3f %s %8.3f m=%.3f  %s\n", f.Verdict, f.ID, f.Value, f.LimitOp, f.Limit, f.Margin, f.Says)
		for _, n := range f.Notes {
			fmt.Println("              -", n)
		}
	}
	fmt.Println(rep.Verdict, rep.Pieces, rep.MassKg)
}
