package facts

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"dryfit/measure/source"
)

// Climate is the air that a toy lives in for a season.
type Climate struct {
	Key     string // the word that ReadYear knows it by; "" if it is not of the table
	Name    string // as in "in a heated room in winter"
	Celsius float64
	RH      float64 // relative humidity, 0 to 1
	Percent float64 // the moisture of wood in it where that is given itself, else 0
	Origin
}

// Moisture returns what wood has in that air, in percent.
func (c Climate) Moisture() float64 {
	if c.Percent > 0 {
		return c.Percent
	}
	return Moisture(c.Celsius, c.RH)
}

// Full is the name with what it stands for: "a heated room in winter (20 °C, 30 % humidity:
// 6.2 % of moisture)".
func (c Climate) Full() string {
	m := fmt.Sprintf("%.1f %% of moisture", c.Moisture())
	switch {
	case c.Percent > 0: // the name has it
		return c.Name
	case c.Key == "": // the name has the air
		return c.Name + " (" + m + ")"
	}
	return fmt.Sprintf("%s (%g °C, %.0f %% humidity: %s)", c.Name, c.Celsius, 100*c.RH, m)
}

// Year is the driest and the dampest air of a toy's year.
type Year struct{ Dry, Damp Climate }

// UsualYear is the first two rows of the table of climates.
func UsualYear() Year {
	c := all().climates
	return Year{c[0], c[1]}
}

// ClimateKeys returns the words that ReadYear knows, in the order of the table.
func ClimateKeys() []string {
	var keys []string
	for _, c := range all().climates {
		keys = append(keys, c.Key)
	}
	return keys
}

// BadYear is what is wrong with the words for a year.
type BadYear struct {
	Says, Expected string
	Nearest        string // the climate that is meant, perhaps
}

func (e *BadYear) Error() string { return e.Says + " (expected " + e.Expected + ")" }

// The air and the moisture that a toy can be asked about. The equation of moisture is
// fitted to air that people and wood live in; past saturation wood grows no more.
const (
	coldest, hottest = -30, 60 // °C
)

// ReadYear reads two climates, DRY..DAMP. Each is a word of the table (heated-room), air
// (20C 30%, 68F 30%: degrees and relative humidity) or the moisture of wood itself (8%).
func ReadYear(text string) (Year, *BadYear) {
	ends := strings.Split(text, "..")
	if len(ends) != 2 {
		return Year{}, &BadYear{Says: "a year has two ends, the dry one first", Expected: "DRY..DAMP, as heated-room..humid-coast, 20C 30%..25C 60% or 6%..11%"}
	}
	var y Year
	for i, into := range []*Climate{&y.Dry, &y.Damp} {
		c, err := readClimate(strings.TrimSpace(ends[i]))
		if err != nil {
			return Year{}, err
		}
		*into = c
	}
	if dry, damp := y.Dry.Moisture(), y.Damp.Moisture(); dry > damp {
		return Year{}, &BadYear{Says: fmt.Sprintf("the dry end comes first, and wood has %.1f %% of moisture at the first and %.1f %% at the second", dry, damp), Expected: "DRY..DAMP"}
	}
	return y, nil
}

var (
	airForm      = regexp.MustCompile(`^([-−+]?\d+(?:\.\d+)?) ?°? ?([CcFf])[ ,/]+(\d+(?:\.\d+)?) ?%$`)
	moistureForm = regexp.MustCompile(`^(\d+(?:\.\d+)?) ?%$`)
)

func readClimate(text string) (Climate, *BadYear) {
	text = strings.Join(strings.Fields(text), " ")
	if m := moistureForm.FindStringSubmatch(text); m != nil {
		p := decimal(m[1])
		if !(p > 0 && p <= saturation) {
			return Climate{}, &BadYear{Says: "wood does not live at " + text + " of moisture", Expected: fmt.Sprintf("more than 0 %% and at most %g %%", saturation)}
		}
		return Climate{Name: fmt.Sprintf("air that keeps wood at %g %% of moisture", p), Percent: p, Origin: Origin{"as said", CommonPractice}}, nil
	}
	if m := airForm.FindStringSubmatch(text); m != nil {
		degrees, rh, scale := decimal(m[1]), decimal(m[3]), strings.ToUpper(m[2])
		c := Climate{Name: fmt.Sprintf("air of %g °%s and %g %% humidity", degrees, scale, rh), Celsius: degrees, RH: rh / 100, Origin: Origin{"as said", CommonPractice}}
		if scale == "F" {
			c.Celsius = (degrees - 32) / 1.8
		}
		if !c.lived() {
			return Climate{}, &BadYear{Says: "no toy lives in " + c.Name, Expected: fmt.Sprintf("%d to %d °C, and more than 0 %% and less than 100 %% humidity", coldest, hottest)}
		}
		return c, nil
	}
	for _, c := range all().climates {
		if plain(c.Key) == plain(text) {
			return c, nil
		}
	}
	says := fmt.Sprintf("no climate is called %q", text)
	if text == "" {
		says = "an end of the year is missing"
	}
	return Climate{}, &BadYear{Says: says, Expected: "one of " + strings.Join(ClimateKeys(), ", ") + ", air as 20C 30%, or moisture as 8%", Nearest: source.Nearest(strings.ReplaceAll(plain(text), " ", "-"), ClimateKeys())}
}

// decimal reads digits that a form has let through.
func decimal(s string) float64 {
	x, err := strconv.ParseFloat(strings.ReplaceAll(s, "−", "-"), 64)
	if err != nil {
		return math.Inf(1) // too many digits: refused as too large
	}
	return x
}

// lived tells whether air is such as a toy lives in.
func (c Climate) lived() bool {
	return c.RH > 0 && c.RH < 1 && c.Celsius > coldest && c.Celsius < hottest
}

func (t *tables) addClimate(r *record) {
	c := Climate{Key: r.text("key"), Name: r.text("name"), Celsius: r.number("celsius"), RH: r.number("rh"), Origin: r.origin()}
	if !c.lived() {
		r.fail("%g degrees at %g", c.Celsius, c.RH)
	}
	t.climates = append(t.climates, c)
}
