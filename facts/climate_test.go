package facts

import (
	"strings"
	"testing"
)

// Moistures of air as it may be typed, against USDA FPL-GTR-190 Wood Handbook, table 4-2
// (row of 70 °F, from memory) and the stated moistures of wood fuel tables (RH 25, 60 and 84
// at 70 °F); the same air in Celsius; and moisture itself.
func TestReadYear(t *testing.T) {
	for _, c := range []struct {
		text      string
		dry, damp float64
		within    float64
	}{
		{"70F 30%..70F 80%", 6.2, 16.0, 0.1},
		{"70 °F/5 %..70°f, 95%", 1.3, 23.9, 0.15},
		{"21.1C 50%..21.1C 65%", 9.2, 12.0, 0.1},
		{"70F 25%..70F 60%", 5.35, 11.1, 0.15},
		{"70F 60% .. 70F 84%", 11.1, 17.6, 0.2},
		{"6%..11 %", 6, 11, 0},
		{"8%..8%", 8, 8, 0},
		{"6.5%..30%", 6.5, 30, 0},
		{"heated-room..damp-summer", UsualYear().Dry.Moisture(), UsualYear().Damp.Moisture(), 0},
		{" Heated room ..20%", UsualYear().Dry.Moisture(), 20, 0},
		{"desert-house..humid-coast", 4, 13, 0.2}, // table 13-1: dry southwestern states 4 to 9, humid coasts 8 to 13
		{"-10C 50%..cold-shed", 9.5, 16.5, 0.2},
		{"−10C 50%..cold-shed", 9.5, 16.5, 0.2},
	} {
		y, bad := ReadYear(c.text)
		if bad != nil {
			t.Errorf("%s: %v", c.text, bad)
			continue
		}
		near(t, c.text+", dry", y.Dry.Moisture(), c.dry, c.within)
		near(t, c.text+", damp", y.Damp.Moisture(), c.damp, c.within)
	}
	y, _ := ReadYear("68F 30%..9%")
	near(t, "68 °F", y.Dry.Celsius, 20, 1e-12)
	if got := y.Dry.Full() + "; " + y.Damp.Full(); got != "air of 68 °F and 30 % humidity (6.2 % of moisture); air that keeps wood at 9 % of moisture" {
		t.Error(got)
	}
	if got := UsualYear().Dry.Full(); got != "a heated room in winter (20 °C, 30 % humidity: 6.2 % of moisture)" {
		t.Error(got)
	}
}

// What is no year is refused in one sentence, with the nearest word.
func TestBadYears(t *testing.T) {
	for text, says := range map[string]string{
		"":                                       "a year has two ends",
		"6%":                                     "a year has two ends",
		"6%..8%..10%":                            "a year has two ends",
		"6%...11%":                               `no climate is called ".11%"`,
		"..11%":                                  "an end of the year is missing",
		"6%..":                                   "an end of the year is missing",
		"11%..6%":                                "11.0 % of moisture at the first and 6.0 % at the second",
		"damp-summer..6%":                        "the dry end comes first",
		"heated-rom..11%":                        "no climate is called",
		"6%..31%":                                "wood does not live at 31%",
		"0%..6%":                                 "wood does not live at 0%",
		"20C..30C":                               `no climate is called "20C"`,
		"20C 0%..6%":                             "no toy lives in air of 20 °C and 0 % humidity",
		"20C 100%..25%":                          "no toy lives in",
		"200F 20%..11%":                          "no toy lives in air of 200 °F",
		"60C 20%..11%":                           "no toy lives in",
		"-30C 20%..11%":                          "no toy lives in",
		"20K 30%..11%":                           "no climate is called",
		"6%..1" + strings.Repeat("0", 400) + "%": "wood does not live at",
		"NaN%..11%":                              "no climate is called",
	} {
		if _, bad := ReadYear(text); bad == nil || !strings.Contains(bad.Says, says) || bad.Expected == "" {
			t.Errorf("%q: %v, want %q", text, bad, says)
		}
	}
	if _, bad := ReadYear("heated-rom..11%"); bad.Nearest != "heated-room" {
		t.Errorf("nearest %q", bad.Nearest)
	}
	if _, bad := ReadYear("6%..humid cost"); bad.Nearest != "humid-coast" {
		t.Errorf("nearest %q", bad.Nearest)
	}
}

func FuzzReadYear(f *testing.F) {
	for _, s := range []string{"6%..11%", "20C 30%..68F 60%", "heated-room..damp-summer", "..", "-0C 1%..30%"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		y, bad := ReadYear(text)
		if dry, damp := y.Dry.Moisture(), y.Damp.Moisture(); bad == nil && !(0 < dry && dry <= damp && damp <= saturation+2) {
			t.Errorf("%q: %g to %g", text, dry, damp)
		}
	})
}
