package app_test

import (
	"context"
	"strings"
	"testing"

	"dryfit/app"
	"dryfit/measure"
	"dryfit/prove"
)

// A measure that is past its limit never looks like it: as many digits as it takes.
func TestMeasureAndLimitDiffer(t *testing.T) {
	for _, c := range []struct {
		value, limit float64
		unit         string
		u            measure.Unit
		want         string
	}{
		{0.0254, 0.0254, "mm", measure.Inch, "measured 0.001 in, limit at most 0.001 in"},
		{0.0277, 0.0254, "mm", measure.Inch, "measured 0.0011 in, limit at most 0.0010 in"},
		{0.0255, 0.0254, "mm", measure.Inch, "measured 0.001004 in, limit at most 0.001000 in"},
		{1.002, 1, "mm", measure.MM, "measured 1.002 mm, limit at most 1.000 mm"},
		{10.02, 10, "degree", measure.MM, "measured 10.02°, limit at most 10.00°"},
		{2, 1, "mm", measure.MM, "measured 2.00 mm, limit at most 1.00 mm"},
	} {
		r := &prove.Report{Findings: []prove.Finding{{Verdict: prove.Fails, Value: c.value, Limit: c.limit, LimitOp: "<=", Unit: c.unit}}}
		if text := app.ReportText(r, c.u, nil); !strings.Contains(text, c.want+" (") {
			t.Errorf("want %q in\n%s", c.want, text)
		}
	}
}

// The lists of nothing are empty.
func TestStockOfNothing(t *testing.T) {
	if l, err := app.Stock(context.Background(), nil); err != nil || l.Pieces != 0 {
		t.Errorf("%+v, %v", l, err)
	}
}
