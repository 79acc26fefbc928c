package file

import (
	"reflect"
	"slices"
	"testing"

	"dryfit/toy/file/shape"
)

// Every name and text of the grammar that is no formula and no word out of a list is either followed
// where a name becomes another (mentionsIn) or speaks of nothing that has one: a new key has to say
// which.
func TestAllWordsOfTheGrammarAreKnown(t *testing.T) {
	followed := []string{
		"part.from", "part.mirrors", "flushTo.with",
		"put.put", "put.as", "put.sits", "put.glue-to", "put.keyed-by", "saddle.over",
		"wheels.in", "wheels.axle", "wheels.outward", "peg.use", "peg.as", "peg.in",
		"hinge.name", "hinge.pin", "hinge.as", "hinge.fixed", "hinge.runs",
		"mustMap.swings", "cord.from", "waiver.about",
	}
	others := []string{
		"doc.toy", "doc.ages", "doc.licence", "doc.note", "doc.finish", "doc.climate", "stock.wood",
		"cover.photo", "cover.message", "cover.link", "row.name", "outlineMap.path", "arris.along",
		"put.may-leave-out", "wheels.may-leave-out", "peg.may-leave-out", "hinge.may-leave-out", // groups have no place where they are made
		"waiver.check", "waiver.reason",
	}
	seen := map[reflect.Type]bool{}
	var found []string
	var walk func(reflect.Type)
	walk = func(t reflect.Type) {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct || seen[t] {
			return
		}
		seen[t] = true
		for i := range t.NumField() {
			f := t.Field(i)
			of := f.Type
			for of.Kind() == reflect.Pointer || of.Kind() == reflect.Slice || of.Kind() == reflect.Struct && of.NumField() == 2 && (of.Field(0).Name == "Items" || of.Field(1).Name == "Value") {
				if of.Kind() == reflect.Struct && of.Field(1).Name == "Value" {
					of = of.Field(1).Type
				} else if of.Kind() == reflect.Struct {
					of = of.Field(0).Type
				} else {
					of = of.Elem()
				}
			}
			key := f.Tag.Get("key")
			if (of == reflect.TypeFor[shape.Word]() || of == reflect.TypeFor[shape.Text]()) && key != "" && f.Tag.Get("oneof") == "" {
				found = append(found, t.Name()+"."+key)
			}
			walk(of)
		}
	}
	for _, of := range []any{doc{}, stepMap{}, mustMap{}, outlineMap{}, cornerMap{}} {
		walk(reflect.TypeOf(of))
	}
	known := slices.Concat(followed, others)
	for _, f := range found {
		if !slices.Contains(known, f) {
			t.Errorf("%s is new: does it speak of something by its name?", f)
		}
	}
	for _, k := range known {
		if !slices.Contains(found, k) {
			t.Errorf("%s is not in the grammar", k)
		}
	}
}
