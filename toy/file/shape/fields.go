package shape

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"sync"
)

// field is a keyed field of a struct.
type field struct {
	key, says string
	index     []int
	typ       reflect.Type
	need      bool
	pick      bool
	oneof     []string
	most      int
}

// plan is how a struct is read.
type plan struct {
	fields []field
	byKey  map[string]int
	keys   []string
	picks  []string
	place  []int // index of the embedded Place, nil if there is none
}

// defaultMost is the largest Count of a field without a most tag.
const defaultMost = 1_000_000

var (
	placeType   = reflect.TypeFor[Place]()
	formulaType = reflect.TypeFor[Formula]()
	wordType    = reflect.TypeFor[Word]()
	textType    = reflect.TypeFor[Text]()
	flagType    = reflect.TypeFor[Flag]()
	countType   = reflect.TypeFor[Count]()
	customType  = reflect.TypeFor[Custom]()
	namedType   = reflect.TypeFor[named]()
	oneType     = reflect.TypeFor[oneOrMany]()
)

var plans sync.Map // reflect.Type to *plan

// planOf panics where tags make no sense: that is a mistake of the program.
func planOf(t reflect.Type) *plan {
	if p, ok := plans.Load(t); ok {
		return p.(*plan)
	}
	p := &plan{byKey: map[string]int{}}
	pickAll := false
	var walk func(t reflect.Type, index []int)
	walk = func(t reflect.Type, index []int) {
		for i := range t.NumField() {
			f := t.Field(i)
			at := append(append([]int(nil), index...), i)
			if f.Anonymous && f.Type == placeType {
				if p.place == nil {
					p.place = at
				}
				pickAll = pickAll || f.Tag.Get("pick") == "one"
				continue
			}
			key := f.Tag.Get("key")
			if f.Anonymous && key == "" && f.Type.Kind() == reflect.Struct {
				walk(f.Type, at)
				continue
			}
			if key == "" {
				continue
			}
			if !f.IsExported() {
				panic(fmt.Sprintf("shape: field %s.%s has a key and is not exported", t, f.Name))
			}
			if _, twice := p.byKey[key]; twice {
				panic(fmt.Sprintf("shape: %s has the key %s twice", t, key))
			}
			fd := field{key: key, says: f.Tag.Get("says"), index: at, typ: f.Type, need: f.Tag.Get("need") == "yes", pick: f.Tag.Get("pick") == "one", most: defaultMost}
			if s := f.Tag.Get("oneof"); s != "" {
				fd.oneof = strings.Split(s, "|")
			}
			if s := f.Tag.Get("most"); s != "" {
				n, err := strconv.Atoi(s)
				if err != nil || n < 0 {
					panic(fmt.Sprintf("shape: field %s.%s: most %q is no whole number", t, f.Name, s))
				}
				fd.most = n
			}
			p.byKey[key] = len(p.fields)
			p.fields = append(p.fields, fd)
			p.keys = append(p.keys, key)
		}
	}
	walk(t, nil)
	for i := range p.fields {
		if f := &p.fields[i]; f.pick || pickAll {
			f.pick = true
			p.picks = append(p.picks, f.key)
		}
	}
	got, _ := plans.LoadOrStore(t, p)
	return got.(*plan)
}

func isCustom(t reflect.Type) bool {
	return t.Kind() != reflect.Pointer && t.Kind() != reflect.Interface && reflect.PointerTo(t).Implements(customType)
}

// typeOf is the type of a value, or of what it points to.
func typeOf(v any) reflect.Type {
	t := reflect.TypeOf(v)
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return t
}
