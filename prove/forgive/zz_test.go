package forgive

import (
	"context"
	"fmt"
	"os"
	"slices"
	"testing"
	"time"
)

func TestZZ(t *testing.T) {
	for _, f := range []string{os.Getenv("TOY")} {
		ty, m := open(t, "../../"+f)
		s := begin(ty, m, nil, Options{Skill: 1, Builds: 300, Lanes: 2, Seed: 1})
		t0 := time.Now()
		s.o.Progress = func(r *Report) { fmt.Println(time.Since(t0).Round(time.Millisecond), r.Builds, r.Made) }
		s.run(context.Background())
		by := map[string]int{}
		byk := map[string]int{}
		for i := 1000; i < 1300; i++ {
			x := s.b.in.draw(1, i)
			seen := map[string]bool{}
			for k := range s.follow {
				if !s.follow[k] || !of(s.base, k).there {
					continue
				}
				if _, sure := s.foretell(k, x); !sure {
					seen[s.b.names[k].check] = true
					byk[s.b.names[k].id]++
				}
			}
			for c := range seen {
				by[c]++
			}
			if len(seen) > 0 {
				by["any"]++
			}
		}
		fmt.Println(by)
		var ids []string
		for k := range byk {
			ids = append(ids, k)
		}
		slices.SortFunc(ids, func(a, b string) int { return byk[b] - byk[a] })
		for _, id := range ids[:min(24, len(ids))] {
			k := s.b.ids[id]
			fmt.Println(id, byk[id], of(s.base, k).parts, s.errs[k], s.kinds[k])
		}
	}
}
