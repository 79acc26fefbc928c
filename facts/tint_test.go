package facts

import "testing"

func TestEveryWoodHasATint(t *testing.T) {
	for _, w := range Woods() {
		if _, ok := tints[w.Name]; !ok {
			t.Errorf("%s has no tint", w.Name)
		}
	}
	for name := range tints {
		if _, ok := Wood(name); !ok {
			t.Errorf("%s is no wood of the table", name)
		}
	}
	if Tint("Rock Maple") != Tint("hard maple") || Tint("no such wood") != Tint("birch") {
		t.Error("an alias has that of its wood, an unknown one that of birch")
	}
}
