package dryfit_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
)

// policy lists, for every package, what it may import of this module. Arrows go
// one way: up this list, never down. It mirrors the table in ARCHITECTURE.md.
//
// DO NOT CHANGE THIS DATA TO FIX BUILDS: move the code instead.
const policy = `
measure:
measure/source:
measure/formula: measure measure/source

geom/tol:
geom/group:
geom/trig: geom/tol
geom/r2:
geom/r3: geom/trig
geom/outline: geom/r2 geom/tol geom/trig
geom/solid: geom/r2 geom/r3 geom/tol geom/trig

facts: measure measure/source geom/tol

toy: measure measure/source measure/formula
toy/file/tree: measure/source
toy/file/shape: measure/source toy/file/tree
toy/file: measure measure/source measure/formula toy toy/file/tree toy/file/shape
toy/adapt: measure measure/source measure/formula geom/tol facts toy toy/file toy/file/tree

examples/trains:

assembly: toy geom/* facts measure measure/source
assembly/assemblytest: assembly toy/file measure/source

prove/gauge: geom/r2 geom/r3 geom/tol facts
prove/strength: facts
prove/tracking: geom/r2 geom/trig
prove/forgive/chance:
prove/forgive: prove assembly toy facts geom/r3 geom/tol prove/forgive/chance
prove/asbuilt: assembly toy facts geom/r3 measure measure/source prove/forgive/chance
prove/robust: prove assembly toy measure measure/source prove/forgive
prove/mend: prove assembly toy facts measure measure/* geom/tol
prove: assembly toy facts geom/* measure measure/source prove/gauge prove/strength prove/tracking

shop/nest: geom/outline geom/r2 geom/trig
shop/lengths:
shop/schedule:
shop: assembly toy facts geom/* measure measure/source shop/lengths
shop/boards: assembly toy facts geom/* measure measure/source shop shop/nest

prove/compare: assembly toy geom/* measure prove shop

exchange: geom/*
exchange/drawing: geom/outline geom/r2 geom/tol geom/trig

guide: assembly toy facts geom/* measure prove shop

shop/plan: geom/r3 geom/tol assembly toy facts guide measure prove shop shop/schedule

paper/font:
paper/draw: geom/r2 geom/tol paper/font
paper/svg: paper/draw paper/font geom/r2 geom/tol
paper/pdf: paper/draw paper/font geom/r2 geom/tol
paper/photo: paper/draw
paper/layout: paper/draw geom/r2 geom/tol facts
paper/papertest: geom/r2
paper/pattern: assembly toy facts geom/* measure measure/source paper/draw paper/layout paper/pdf paper/svg prove shop
paper/picture: assembly toy facts geom/* measure measure/source paper/draw paper/pdf paper/svg prove shop
paper/overlay: assembly geom/r2 geom/r3 geom/tol paper/draw paper/layout paper/pdf paper/picture prove/compare shop toy
paper/chart: geom/r2 paper/draw paper/layout paper/pdf paper/svg shop/plan
paper/rack: geom/r2 geom/tol measure paper/draw paper/layout paper/pdf shop/boards
paper/booklet: assembly toy facts geom/* measure guide paper/draw paper/font paper/layout paper/pattern paper/pdf paper/picture paper/svg prove shop

app: measure* geom/* guide facts toy* assembly prove* shop shop/boards shop/plan exchange* paper/*
app/desk: measure/source toy/file/tree
app/page: app measure* geom/* facts toy* assembly prove* guide shop* paper/picture
app/web: app app/desk app/page measure measure/source toy/file/tree assembly prove
app/ui:
cmd/*: app app/* measure* toy* prove geom/tol shop/boards
cmd/bench: shop/nest shop/lengths shop/schedule geom/r2
oracle: app assembly geom/* measure/source
oracle/dump: oracle
mutants:
`

// outside lists the modules that product code may import, and where.
var outside = map[string]string{
	"github.com/alecthomas/kong": "cmd/dryfit",
}

func TestImportsGoOneWay(t *testing.T) {
	allowed := map[string][]string{}
	for _, line := range strings.Split(policy, "\n") {
		if pkg, list, ok := strings.Cut(line, ":"); ok {
			allowed[pkg] = strings.Fields(list)
		}
	}
	rule := func(pkg string) ([]string, bool) {
		if l, ok := allowed[pkg]; ok {
			return l, true
		}
		l, ok := allowed[strings.SplitN(pkg, "/", 2)[0]+"/*"]
		return l, ok
	}
	seen := map[string]bool{}
	for pkg, imports := range productImports(t) {
		list, ok := rule(pkg)
		if !ok {
			t.Errorf("package %s is not in the policy: give it its place", pkg)
			continue
		}
		seen[pkg] = true
		for _, imp := range imports {
			if own, isOwn := strings.CutPrefix(imp, "dryfit/"); isOwn {
				if !matches(own, list) {
					t.Errorf("%s imports %s, which the policy forbids", pkg, own)
				}
			} else if strings.Contains(strings.SplitN(imp, "/", 2)[0], ".") && outside[imp] != pkg {
				t.Errorf("%s imports %s, which is not among the dependencies chosen for it", pkg, imp)
			}
		}
	}
	for pkg := range allowed {
		if !strings.Contains(pkg, "*") && !seen[pkg] {
			t.Errorf("the policy names %s, which does not exist", pkg)
		}
	}
}

func matches(pkg string, list []string) bool {
	for _, p := range list {
		if prefix, wild := strings.CutSuffix(p, "*"); p == pkg || wild && strings.HasPrefix(pkg+"/", prefix) {
			return true
		}
	}
	return false
}

// productImports returns the imports of all files that are not tests, by package.
func productImports(t *testing.T) map[string][]string {
	out := map[string][]string{}
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && path != "." || d.Name() == "testdata" || d.Name() == "node_modules" || d.Name() == "out") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		pkg := filepath.ToSlash(filepath.Dir(path))
		for _, imp := range f.Imports {
			p, _ := strconv.Unquote(imp.Path.Value)
			out[pkg] = append(out[pkg], p)
		}
		if out[pkg] == nil {
			out[pkg] = []string{}
		}
		sort.Strings(out[pkg])
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
