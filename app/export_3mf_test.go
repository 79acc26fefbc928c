package app

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/assembly"
	"dryfit/geom/r3"
)

// model3MF is what the test reads of a model, by the words of the 3MF Core Specification
// 1.3, chapters 3 and 4.
type model3MF struct {
	XMLName xml.Name `xml:"http://schemas.microsoft.com/3dmanufacturing/core/2015/02 model"`
	Unit    string   `xml:"unit,attr"`
	Bases   []struct {
		ID   int `xml:"id,attr"`
		Base []struct {
			Name   string `xml:"name,attr"`
			Colour string `xml:"displaycolor,attr"`
		} `xml:"base"`
	} `xml:"resources>basematerials"`
	Objects []struct {
		ID       int    `xml:"id,attr"`
		Type     string `xml:"type,attr"`
		Name     string `xml:"name,attr"`
		PID      int    `xml:"pid,attr"`
		PIndex   int    `xml:"pindex,attr"`
		Vertices []struct {
			X float64 `xml:"x,attr"`
			Y float64 `xml:"y,attr"`
			Z float64 `xml:"z,attr"`
		} `xml:"mesh>vertices>vertex"`
		Triangles []struct {
			V1 int `xml:"v1,attr"`
			V2 int `xml:"v2,attr"`
			V3 int `xml:"v3,attr"`
		} `xml:"mesh>triangles>triangle"`
	} `xml:"resources>object"`
	Items []struct {
		Object    int    `xml:"objectid,attr"`
		Name      string `xml:"partnumber,attr"`
		Transform string `xml:"transform,attr"`
	} `xml:"build>item"`
}

// The toy as a 3MF package: its three parts as the Open Packaging Conventions want them;
// every surface closed and turned outwards, with the volume that the model has; every
// piece in its place.
func TestExport3MF(t *testing.T) {
	exported(t, func(t *testing.T, toy *Toy, m *assembly.Model) {
		made, err := toy.Export("3mf")
		if err != nil {
			t.Fatal(err)
		}
		parts := unzipped(t, made[0].Bytes)
		var types struct {
			XMLName xml.Name `xml:"http://schemas.openxmlformats.org/package/2006/content-types Types"`
			Default []struct {
				Extension   string `xml:"Extension,attr"`
				ContentType string `xml:"ContentType,attr"`
			}
		}
		decode(t, parts["[Content_Types].xml"], &types)
		kinds := map[string]string{}
		for _, d := range types.Default {
			kinds[d.Extension] = d.ContentType
		}
		if kinds["rels"] != "application/vnd.openxmlformats-package.relationships+xml" || kinds["model"] != "application/vnd.ms-package.3dmanufacturing-3dmodel+xml" {
			t.Errorf("content types %v", kinds)
		}
		var rels struct {
			XMLName xml.Name `xml:"http://schemas.openxmlformats.org/package/2006/relationships Relationships"`
			List    []struct {
				Target string `xml:"Target,attr"`
				Type   string `xml:"Type,attr"`
			} `xml:"Relationship"`
		}
		decode(t, parts["_rels/.rels"], &rels)
		if len(rels.List) != 1 || rels.List[0].Type != "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel" || parts[strings.TrimPrefix(rels.List[0].Target, "/")] == nil {
			t.Fatalf("relationships %+v", rels.List)
		}
		var got model3MF
		decode(t, parts[strings.TrimPrefix(rels.List[0].Target, "/")], &got)
		if got.Unit != "millimeter" || len(got.Bases) != 1 {
			t.Errorf("unit %s, materials %v", got.Unit, got.Bases)
		}
		objects, volume := map[int]int{}, volumes(m)
		for i, o := range got.Objects {
			objects[o.ID] = i
			if o.Type != "model" || o.PID != got.Bases[0].ID || o.PIndex >= len(got.Bases[0].Base) {
				t.Errorf("object %+v", o.Name)
			}
			edges := map[[2]int]int{}
			vs := make([]r3.Vec, len(o.Vertices))
			for k, v := range o.Vertices {
				vs[k] = r3.Vec{X: v.X, Y: v.Y, Z: v.Z}
			}
			sum := 0.0
			for _, f := range o.Triangles {
				for _, e := range [][2]int{{f.V1, f.V2}, {f.V2, f.V3}, {f.V3, f.V1}} {
					edges[e]++
				}
				sum += vs[f.V1].Cross(vs[f.V2]).Dot(vs[f.V3]) / 6
			}
			for e, n := range edges {
				if n != 1 || edges[[2]int{e[1], e[0]}] != 1 {
					t.Fatalf("%s is not closed at %v", o.Name, e)
				}
			}
			if want := volume[o.Name]; !(math.Abs(sum-want) <= 1e-6*want) {
				t.Errorf("%s: %.9g mm³, the model has %.9g", o.Name, sum, want)
			}
		}
		if len(got.Items) != len(m.Pieces) {
			t.Fatalf("%d items, want %d", len(got.Items), len(m.Pieces))
		}
		for i, it := range got.Items {
			p := m.Pieces[i]
			if it.Name != p.ID {
				t.Errorf("item %s, want %s", it.Name, p.ID)
			}
			var k [12]float64
			if n, err := fmt.Sscan(it.Transform, &k[0], &k[1], &k[2], &k[3], &k[4], &k[5], &k[6], &k[7], &k[8], &k[9], &k[10], &k[11]); n != 12 {
				t.Fatal(it.Transform, err)
			}
			o := got.Objects[objects[it.Object]]
			if wood := woodOf(m.Toy, p.Part); got.Bases[0].Base[o.PIndex].Name != wood {
				t.Errorf("%s is of %s, want %s", it.Name, got.Bases[0].Base[o.PIndex].Name, wood)
			}
			is, want := r3.EmptyBox(), r3.EmptyBox()
			for _, v := range o.Vertices { // a row times the matrix, chapter 3.3
				is = is.Add(r3.Vec{X: v.X*k[0] + v.Y*k[3] + v.Z*k[6] + k[9], Y: v.X*k[1] + v.Y*k[4] + v.Z*k[7] + k[10], Z: v.X*k[2] + v.Y*k[5] + v.Z*k[8] + k[11]})
			}
			for _, v := range p.Bored().Vertices() {
				want = want.Add(v)
			}
			if is.Min.Sub(want.Min).Len()+is.Max.Sub(want.Max).Len() > 1e-5 {
				t.Errorf("%s lies in %v, want %v", it.Name, is, want)
			}
		}
	})
}

func unzipped(t *testing.T, b []byte) map[string][]byte {
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	parts := map[string][]byte{}
	dir := t.TempDir()
	var names []string
	for i, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if parts[f.Name], err = io.ReadAll(r); err != nil { // the checksum too
			t.Fatal(err)
		}
		name := filepath.Join(dir, fmt.Sprintf("%d.xml", i))
		if err := os.WriteFile(name, parts[f.Name], 0o644); err != nil {
			t.Fatal(err)
		}
		names = append(names, name)
	}
	outside(t, "xmllint", append([]string{"--noout"}, names...)...)
	return parts
}

func decode(t *testing.T, b []byte, into any) {
	t.Helper()
	if err := xml.Unmarshal(b, into); err != nil {
		t.Fatal(err)
	}
}
