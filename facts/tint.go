package facts

// Tint is the colour of a wood in shaded pictures and solid models, sRGB: that of the
// freshly planed face grain, as most would name it (common practice, no source). Wood
// that is not in the list has that of birch.
func Tint(name string) [3]uint8 {
	if w, ok := Wood(name); ok {
		name = w.Name
	}
	if c, ok := tints[name]; ok {
		return c
	}
	return tints["birch"]
}

var tints = map[string][3]uint8{
	"hard maple": {236, 214, 178}, "red maple": {230, 203, 165}, "soft maple": {228, 204, 168},
	"birch": {230, 202, 158}, "white birch": {235, 211, 170}, "beech": {219, 176, 131},
	"cherry": {191, 122, 80}, "walnut": {109, 75, 52}, "ash": {227, 203, 163},
	"red oak": {205, 160, 117}, "white oak": {196, 158, 112}, "poplar": {208, 204, 158},
	"basswood": {238, 221, 187}, "alder": {212, 158, 112}, "aspen": {237, 224, 196},
	"butternut": {189, 150, 106}, "sycamore": {222, 186, 147}, "sweetgum": {198, 153, 117},
	"hickory": {211, 172, 124}, "mahogany": {158, 89, 58}, "african mahogany": {174, 104, 69},
	"sapele": {142, 74, 49}, "pine": {238, 208, 152}, "ponderosa pine": {238, 206, 147},
	"sugar pine": {240, 216, 168}, "western white pine": {240, 214, 163}, "southern pine": {230, 188, 122},
	"douglas fir": {217, 157, 102}, "sitka spruce": {239, 212, 164}, "spruce": {241, 218, 172},
	"eastern redcedar": {181, 97, 72}, "western redcedar": {172, 107, 70}, "northern white-cedar": {223, 190, 143},
	"yew": {199, 117, 62}, "birch plywood": {232, 206, 163}, "mdf": {176, 141, 101},
}
