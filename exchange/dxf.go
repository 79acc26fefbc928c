package exchange

import (
	"fmt"
	"math"
	"strings"

	"dryfit/geom/trig"
)

// DXF returns a sheet as DXF of release 2000 (AC1015) in mm: closed polylines whose arcs
// are true (a bulge is the tangent of a quarter of the angle), circles for holes, a layer
// for each kind of line. The smallest file of that release that readers take has the
// tables, the two blocks of model and paper space, and the dictionary of its root.
func DXF(s Sheet) []byte {
	d := &dxf{next: 1}
	d.header(s)
	d.tables()
	d.section("BLOCKS", func() {
		for i, name := range []string{"*Model_Space", "*Paper_Space"} {
			d.put(0, "BLOCK", 5, d.handle(), 330, d.records[i], 100, "AcDbEntity", 8, "0", 100, "AcDbBlockBegin", 2, name, 70, 0, 10, 0, 20, 0, 30, 0, 3, name, 1, "")
			d.put(0, "ENDBLK", 5, d.handle(), 330, d.records[i], 100, "AcDbEntity", 8, "0", 100, "AcDbBlockEnd")
		}
	})
	d.section("ENTITIES", func() {
		for _, l := range s.Lines {
			d.line(l)
		}
	})
	d.section("OBJECTS", func() {
		root, groups := d.handle(), d.handle()
		d.put(0, "DICTIONARY", 5, root, 330, "0", 100, "AcDbDictionary", 281, 1, 3, "ACAD_GROUP", 350, groups)
		d.put(0, "DICTIONARY", 5, groups, 330, root, 100, "AcDbDictionary", 281, 1)
	})
	d.put(0, "EOF")
	// the heading names the first handle that is free, which is known only now
	return []byte(strings.Replace(d.b.String(), seed, fmt.Sprintf("%X", d.next), 1))
}

// seed stands for the first free handle until that is known.
const seed = "@SEED@"

type dxf struct {
	b       strings.Builder
	next    int
	records [2]string // of the two blocks
}

// handle returns a new one.
func (d *dxf) handle() string {
	d.next++
	return fmt.Sprintf("%X", d.next-1)
}

// put writes pairs of a group code and its value.
func (d *dxf) put(pairs ...any) {
	for i := 0; i < len(pairs); i += 2 {
		v := pairs[i+1]
		if f, ok := v.(float64); ok {
			v = num(f, 9)
		}
		fmt.Fprintf(&d.b, "%3d\n%v\n", pairs[i], v)
	}
}

func (d *dxf) section(name string, body func()) {
	d.put(0, "SECTION", 2, name)
	body()
	d.put(0, "ENDSEC")
}

func (d *dxf) header(s Sheet) {
	box := s.bounds()
	d.section("HEADER", func() {
		d.put(9, "$ACADVER", 1, "AC1015", 9, "$DWGCODEPAGE", 3, "ANSI_1252", 9, "$HANDSEED", 5, seed, 9, "$MEASUREMENT", 70, 1, 9, "$INSUNITS", 70, 4,
			9, "$EXTMIN", 10, box.Min.X, 20, box.Min.Y, 30, 0.0, 9, "$EXTMAX", 10, box.Max.X, 20, box.Max.Y, 30, 0.0)
	})
	d.section("CLASSES", func() {})
}

// table writes a table of records, each given as its name and its own pairs.
func (d *dxf) table(name, class string, flags []any, records [][]any) {
	head := d.handle()
	d.put(0, "TABLE", 2, name, 5, head, 330, "0", 100, "AcDbSymbolTable", 70, len(records))
	d.put(flags...)
	for _, r := range records {
		code := 5
		if name == "DIMSTYLE" {
			code = 105
		}
		h := d.handle()
		d.put(0, name, code, h, 330, head, 100, "AcDbSymbolTableRecord", 100, class, 2, r[0])
		d.put(r[1:]...)
		if name == "BLOCK_RECORD" {
			i := 0
			if d.records[0] != "" {
				i = 1
			}
			d.records[i] = h
		}
	}
	d.put(0, "ENDTAB")
}

func (d *dxf) tables() {
	d.section("TABLES", func() {
		d.table("VPORT", "AcDbViewportTableRecord", nil, [][]any{{"*Active", 70, 0}})
		d.table("LTYPE", "AcDbLinetypeTableRecord", nil, [][]any{
			{"ByBlock", 70, 0, 3, "", 72, 65, 73, 0, 40, 0.0}, {"ByLayer", 70, 0, 3, "", 72, 65, 73, 0, 40, 0.0}, {"Continuous", 70, 0, 3, "Solid line", 72, 65, 73, 0, 40, 0.0}})
		all := [][]any{{"0", 70, 0, 62, 7, 6, "Continuous"}}
		for _, l := range layers {
			all = append(all, []any{l, 70, 0, 62, 7, 6, "Continuous"})
		}
		d.table("LAYER", "AcDbLayerTableRecord", nil, all)
		d.table("STYLE", "AcDbTextStyleTableRecord", nil, [][]any{{"Standard", 70, 0, 40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, 2.5, 3, "txt", 4, ""}})
		d.table("VIEW", "AcDbViewTableRecord", nil, nil)
		d.table("UCS", "AcDbUCSTableRecord", nil, nil)
		d.table("APPID", "AcDbRegAppTableRecord", nil, [][]any{{"ACAD", 70, 0}})
		d.table("DIMSTYLE", "AcDbDimStyleTableRecord", []any{100, "AcDbDimStyleTable"}, [][]any{{"Standard", 70, 0}})
		d.table("BLOCK_RECORD", "AcDbBlockTableRecord", nil, [][]any{{"*Model_Space"}, {"*Paper_Space"}})
	})
}

// line writes a circle, or a closed polyline. A whole turn within a longer line becomes
// two halves: a bulge has no angle of 360 degrees.
func (d *dxf) line(l Line) {
	p := l.Path
	head := func(kind, class string) {
		d.put(0, kind, 5, d.handle(), 330, d.records[0], 100, "AcDbEntity", 8, l.Layer, 100, class)
	}
	if len(p.Segs) == 1 && p.Segs[0].Round() && math.Abs(p.Segs[0].Sweep) > 2*math.Pi*0.999999 {
		head("CIRCLE", "AcDbCircle")
		d.put(10, p.Segs[0].C.X, 20, p.Segs[0].C.Y, 30, 0.0, 40, p.Segs[0].R)
		return
	}
	type corner struct{ x, y, bulge float64 }
	var cs []corner
	from := p.Start
	for _, s := range p.Segs {
		bulge := 0.0
		switch {
		case s.Round() && math.Abs(s.Sweep) > 1.9*math.Pi:
			bulge = trig.Tan(s.Sweep / 8)
			mid := s.Middle(from)
			cs = append(cs, corner{from.X, from.Y, bulge})
			from = mid
		case s.Round():
			bulge = trig.Tan(s.Sweep / 4)
		}
		cs = append(cs, corner{from.X, from.Y, bulge})
		from = s.To
	}
	if from.Sub(p.Start).Len() > 1e-9 {
		cs = append(cs, corner{from.X, from.Y, 0})
	}
	head("LWPOLYLINE", "AcDbPolyline")
	d.put(90, len(cs), 70, 1)
	for _, c := range cs {
		d.put(10, c.x, 20, c.y)
		if c.bulge != 0 {
			d.put(42, c.bulge)
		}
	}
}
