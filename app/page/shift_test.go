package page

import (
	"testing"

	"dryfit/measure"
)

func TestShift(t *testing.T) {
	inch := func(n float64) measure.Length { return measure.Inch.Of(n) }
	for _, c := range []struct {
		text string
		by   measure.Length
		unit measure.Unit
		want string
	}{
		{"1 1/4", inch(1. / 8), measure.Inch, "1 3/8"},
		{"3/8", inch(-3. / 8), measure.Inch, "0"},
		{"1/4", inch(-1), measure.Inch, "-3/4"},
		{"length - 3/8", inch(1. / 8), measure.Inch, "length - 1/4"},
		{"length - 3/8", inch(3. / 8), measure.Inch, "length"},
		{"length - 3/8", inch(1. / 2), measure.Inch, "length + 1/8"},
		{"middle", inch(1. / 16), measure.Inch, "middle + 1/16"},
		{"middle", inch(-1. / 16), measure.Inch, "middle - 1/16"},
		{"axle-height", inch(1), measure.Inch, "axle-height + 1"},
		{"board - axle-height", inch(1), measure.Inch, "board - axle-height + 1"},
		{"2 * (a + 1)", inch(1), measure.Inch, "2 * (a + 1) + 1"},
		{"32 mm", measure.FromMM(1), measure.MM, "33"},
		{"12.5", measure.FromMM(-0.5), measure.MM, "12"},
		{"12.5", measure.FromMM(1), measure.Inch, "318.5 mm"},
		{"1 in", measure.FromMM(1), measure.MM, "26.4"},
		{"a - b + 3", measure.FromMM(-4), measure.MM, "a - b - 1"},
	} {
		got, err := Shift(c.text, c.by, c.unit)
		if err != nil || got != c.want {
			t.Errorf("Shift(%q, %v) = %q, %v, want %q", c.text, c.by.Format(c.unit), got, err, c.want)
		}
	}
	if _, err := Shift("3 +", inch(1), measure.Inch); err == nil {
		t.Error("a formula that cannot be read was moved")
	}
}

func TestShiftRef(t *testing.T) {
	inch := func(n float64) measure.Length { return measure.Inch.Of(n) }
	for _, c := range []struct {
		text string
		by   measure.Length
		unit measure.Unit
		want string
	}{
		{"frame.front - 3/16", inch(1. / 16), measure.Inch, "frame.front - 1/8"},
		{"frame.front - 3/16", inch(3. / 16), measure.Inch, "frame.front"},
		{"frame.front - 3/16", inch(1. / 4), measure.Inch, "frame.front + 1/16"},
		{"frame.front", inch(-1. / 8), measure.Inch, "frame.front - 1/8"},
		{"frame.front", 0, measure.Inch, "frame.front"},
		{"wheel.2.axis + 5", measure.FromMM(2.5), measure.MM, "wheel.2.axis + 7.5"},
		{"body/core.left - 1/4", inch(1. / 4), measure.Inch, "body/core.left"},
		{"box.2/right.left + board", measure.FromMM(-3), measure.MM, "box.2/right.left + board - 3"},
		{"frame.back - board - 1/4", inch(1. / 8), measure.Inch, "frame.back - board - 1/8"},
		{"frame.back - board - 1/4", inch(1. / 4), measure.Inch, "frame.back - board"},
		{"frame.back - 3/4 - 1/4", inch(1. / 2), measure.Inch, "frame.back - 1/2"},
		{"frame.top + 2 * (a - 1)", inch(1), measure.Inch, "frame.top + 2 * (a - 1) + 1"},
	} {
		got, err := ShiftRef(c.text, c.by, c.unit)
		if err != nil || got != c.want {
			t.Errorf("ShiftRef(%q, %v) = %q, %v, want %q", c.text, c.by.Format(c.unit), got, err, c.want)
		}
	}
	for _, bad := range []string{"3/4", "length - 1/4", "frame.front - ("} {
		if got, err := ShiftRef(bad, inch(1), measure.Inch); err == nil {
			t.Errorf("%q became %q", bad, got)
		}
	}
}
