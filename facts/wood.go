package facts

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/measure/source"
)

// Row is a wood or sheet material. Strengths are means of clear, straight-grained wood
// at 12 % moisture, in pascals, not allowable values. A figure that the source
// does not give is NaN.
type Row struct {
	Name      string   // the plain trade name
	Aliases   []string // other names for it
	Botanical string   // empty for mdf
	Kind      string   // hardwood, softwood, panel
	SGGreen   float64  // oven-dry mass over green volume
	SG12      float64  // oven-dry mass over volume at 12 % moisture
	Density   float64  // kg/m3 at 12 % moisture, see density

	// Shrinkage from green to oven-dry, as a share of the green size.
	ShrinkRadial, ShrinkTangential, ShrinkVolume float64
	// CR and CT are the dimensional change coefficients across (radial) and along
	// (tangential) the growth rings per 1 % of moisture, valid from 6 to 14 %.
	CR, CT float64

	Stiffness      float64 // modulus of elasticity in bending
	Bending        float64 // modulus of rupture
	CompressAlong  float64 // crushing along the grain
	CompressAcross float64 // stress at the proportional limit across the grain
	Shear          float64 // along the grain
	TensionAcross  float64 // across the grain; internal bond for mdf
	Hardness       float64 // side hardness, newtons

	Note       string
	FromMemory []string // columns of the file that were recalled
	Origin
}

// Wood returns the wood that a maker calls by this name, as capital or small letters, with
// blanks or hyphens.
func Wood(name string) (Row, bool) {
	t := all()
	i, ok := t.woodAt[plain(name)]
	if !ok {
		return Row{}, false
	}
	return t.woods[i], true
}

// FindWood is Wood with an error that names the nearest wood and lists them all.
func FindWood(name string) (Row, error) {
	if w, ok := Wood(name); ok {
		return w, nil
	}
	hint := ""
	if near := NearWood(name); near != "" {
		hint = fmt.Sprintf(", did you mean %q?", near)
	}
	return Row{}, fmt.Errorf("no wood is called %q%s known are %s", name, hint, strings.Join(WoodNames(), ", "))
}

// NearWood returns the name or alias nearest to a mistyped one, or "".
func NearWood(name string) string {
	var names []string
	for _, w := range all().woods {
		names = append(append(names, w.Name), w.Aliases...)
	}
	return source.Nearest(plain(name), names)
}

// WoodNames returns the plain names, in alphabetical order, without aliases.
func WoodNames() []string {
	var names []string
	for _, w := range all().woods {
		names = append(names, w.Name)
	}
	slices.Sort(names)
	return names
}

// Woods returns all rows in the order of the table.
func Woods() []Row { return slices.Clone(all().woods) }

func plain(name string) string {
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(name), "-", " ")), " ")
}

// density is 1000 kg/m3 x G x (1 + 12/100) with G on the volume at 12 % moisture.
// Source: USDA FPL-GTR-190 Wood Handbook, chapter 4.
func density(sg12 float64) float64 { return 1120 * sg12 }

// sg12 estimates the specific gravity at 12 % from that of green volume where the
// tables give only the latter: G12 = Gb / (1 - 0.265 a Gb), a = (30 - 12)/30.
// Source: USDA FPL-GTR-190, equation 4-11 and its neighbours, from memory.
func sg12(green float64) float64 { return green / (1 - float64(0.265*0.6*green)) }

// Coefficient of variation of the strengths of clear wood: a fifth percentile is
// mean * (1 - 1.645 * it). Source: USDA FPL-GTR-190 table 5-6, from memory.
const (
	VaryBending        = 0.16
	VaryStiffness      = 0.22
	VaryCompressAlong  = 0.18
	VaryCompressAcross = 0.28
	VaryShear          = 0.14
	VaryTensionAcross  = 0.25
	VaryHardness       = 0.20
	VaryDensity        = 0.10
)

// Moisture returns the equilibrium moisture content of wood in percent at celsius
// degrees and relative humidity rh from 0 to 1.
// Source: USDA FPL-GTR-190 equation 4-5; FPL-RN-0268.
func Moisture(celsius, rh float64) float64 {
	t := celsius
	poly := func(a, b, c float64) float64 { return a + float64(b*t) + float64(float64(c*t)*t) }
	w := poly(349, 1.29, 0.0135)
	k := poly(0.805, 0.000736, -0.00000273)
	k1 := poly(6.27, -0.00938, -0.000303)
	k2 := poly(1.91, 0.0407, -0.000293)
	kh := k * rh
	a, b := float64(k1*kh), float64(k1*k2)*float64(kh*kh)
	return 1800 / w * (kh/(1-kh) + (a+float64(2*b))/(1+a+b))
}

func (t *tables) addWood(r *record) {
	pct := func(name string) float64 { return r.optional(name) / 100 }
	psi := func(name string) float64 { return r.optional(name) * PascalsPerPsi }
	split := func(name string) []string {
		if s := r.maybe(name); s != "" {
			return strings.Split(s, ";")
		}
		return nil
	}
	w := Row{
		Name: r.text("name"), Aliases: split("aliases"), Botanical: r.maybe("botanical"), Kind: r.text("kind"),
		SGGreen: r.optional("sg_green"), SG12: r.optional("sg_12"),
		ShrinkRadial: pct("shrink_r_pct"), ShrinkTangential: pct("shrink_t_pct"), ShrinkVolume: pct("shrink_v_pct"),
		CR: r.number("cr"), CT: r.number("ct"),
		Stiffness: psi("moe_mpsi") * 1e6, Bending: psi("mor_psi"),
		CompressAlong: psi("comp_par_psi"), CompressAcross: psi("comp_perp_psi"),
		Shear: psi("shear_par_psi"), TensionAcross: psi("tens_perp_psi"),
		Hardness: r.optional("hardness_lbf") * NewtonsPerLbf,
		Note:     r.maybe("note"), FromMemory: split("from_memory"), Origin: r.origin(),
	}
	if math.IsNaN(w.SG12) {
		w.SG12 = sg12(w.SGGreen)
		w.FromMemory = append(w.FromMemory, "sg_12")
	}
	w.Density = density(w.SG12)
	for _, c := range w.FromMemory {
		if _, ok := r.fields[c]; !ok {
			r.fail("no column %s", c)
		}
	}
	for _, name := range append([]string{w.Name}, w.Aliases...) {
		key := plain(name)
		if _, ok := t.woodAt[key]; ok || key == "" {
			r.fail("name %q is taken or empty", name)
		}
		t.woodAt[key] = len(t.woods)
	}
	t.woods = append(t.woods, w)
}
