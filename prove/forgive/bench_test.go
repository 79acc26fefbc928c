package forgive

import (
	"context"
	"fmt"
	"testing"
	"time"

	"dryfit/assembly"
	"dryfit/examples/trains"
	"dryfit/measure/source"
	"dryfit/toy/file"
)

// BenchmarkBuilds is what builds of trains cost on two lanes: first-s until something is told, made for
// how many of the builds were made to decide all of them. Most of what is not made costs is the same
// for any number of builds.
func BenchmarkBuilds(b *testing.B) {
	for _, cars := range []int{1, 2, 4, 8} {
		for _, n := range []int{1000, 10000} {
			b.Run(fmt.Sprintf("pieces=%d/builds=%d", 10*cars, n), func(b *testing.B) {
				ty, probs := file.Read(source.New("train.yaml", trains.Text(cars, 60)), nil)
				if len(probs) > 0 {
					b.Fatal(probs)
				}
				cache := &assembly.Cache{}
				m, probs := assembly.Derive(ty, assembly.Options{Cache: cache})
				if len(probs) > 0 {
					b.Fatal(probs)
				}
				var first time.Duration
				var last *Report
				for b.Loop() {
					begun := time.Now()
					first = 0
					r, err := Study(context.Background(), ty, m, cache, Options{Skill: 1, Builds: n, Lanes: 2, Seed: 1, Progress: func(*Report) {
						if first == 0 {
							first = time.Since(begun)
						}
					}})
					if err != nil {
						b.Fatal(err)
					}
					last = r
				}
				b.ReportMetric(first.Seconds(), "first-s")
				b.ReportMetric(float64(last.Made), "made")
				b.ReportMetric(100*last.Works.Of(), "works-%")
			})
		}
	}
}
