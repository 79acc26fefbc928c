package exchange

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"strings"
)

// ThreeMF returns solids in their places as a 3MF package (3MF Core Specification 1.3):
// one object a solid, in mm, with its name and its wood as base material, and one item
// of the build for each piece.
func ThreeMF(title string, solids []Solid, items []Item) ([]byte, error) {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	b.WriteString(`<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">` + "\n")
	fmt.Fprintf(&b, " <metadata name=\"Title\">%s</metadata>\n <metadata name=\"Application\">dryfit</metadata>\n <resources>\n  <basematerials id=\"1\">\n", escape(title))
	woods := map[string]int{}
	for _, s := range solids {
		if _, ok := woods[s.Wood]; !ok {
			woods[s.Wood] = len(woods)
			fmt.Fprintf(&b, "   <base name=\"%s\" displaycolor=\"#%02X%02X%02X\"/>\n", escape(s.Wood), s.Colour[0], s.Colour[1], s.Colour[2])
		}
	}
	b.WriteString("  </basematerials>\n")
	for i, s := range solids {
		fmt.Fprintf(&b, "  <object id=\"%d\" type=\"model\" name=\"%s\" pid=\"1\" pindex=\"%d\">\n   <mesh>\n    <vertices>\n", i+2, escape(s.Name), woods[s.Wood])
		for _, v := range s.Surface.V {
			fmt.Fprintf(&b, "     <vertex x=\"%s\" y=\"%s\" z=\"%s\"/>\n", num(v.X, 6), num(v.Y, 6), num(v.Z, 6))
		}
		b.WriteString("    </vertices>\n    <triangles>\n")
		for _, t := range s.Surface.T {
			fmt.Fprintf(&b, "     <triangle v1=\"%d\" v2=\"%d\" v3=\"%d\"/>\n", t[0], t[1], t[2])
		}
		b.WriteString("    </triangles>\n   </mesh>\n  </object>\n")
	}
	b.WriteString(" </resources>\n <build>\n")
	for _, it := range items {
		// a transform is written row by row for points as rows
		p := it.At
		fmt.Fprintf(&b, "  <item objectid=\"%d\" partnumber=\"%s\" transform=\"", it.Solid+2, escape(it.Name))
		for k, v := range []float64{p.U.X, p.U.Y, p.U.Z, p.V.X, p.V.Y, p.V.Z, p.W.X, p.W.Y, p.W.Z, p.O.X, p.O.Y, p.O.Z} {
			if k > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(num(v, 9))
		}
		b.WriteString("\"/>\n")
	}
	b.WriteString(" </build>\n</model>\n")

	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range [][2]string{
		{"[Content_Types].xml", `<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>
`},
		{"_rels/.rels", `<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>
`},
		{"3D/3dmodel.model", b.String()},
	} {
		w, err := z.CreateHeader(&zip.FileHeader{Name: f[0], Method: zip.Deflate}) // no time: the same bytes each time
		if err != nil {
			return nil, err
		}
		if _, err := w.Write([]byte(f[1])); err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

func escape(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // into memory: it does not fail
	return b.String()
}
