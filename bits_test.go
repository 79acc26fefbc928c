package dryfit_test

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"
)

// The same toy has the same proof on every machine. The language lets a compiler
// fuse a float product and the sum it goes into, also across statements and
// calls that it inlines, and some processors do; only a conversion, float64(a*b),
// forbids it. Doubling and halving are exact and may be fused. And the angle
// functions and powers of the standard library have code of their own for some
// processors; math.FMA and math.Sqrt are correctly rounded on all.
//
// Source: The Go Programming Language Specification, Floating-point operators.
func TestSameBitsEverywhere(t *testing.T) {
	imp := exports(t, "./geom/...", "./assembly/...", "./prove/...", "./shop/nest", "./shop/plan")
	for _, root := range []string{"geom", "assembly", "prove", "shop/nest", "shop/plan"} {
		for _, dir := range packageDirs(t, root) {
			for _, f := range findings(t, dir, imp) {
				t.Error(f)
			}
		}
	}
}

// The check sees what it must and nothing else.
func TestSameBitsFinds(t *testing.T) {
	const code = `package p
import "math"
type v struct{ x float64 }
func f(a, b, c float64, n int) (float64, v) {
	s := float64(a*b) + c
	s += 2 * a + b*0.5
	if a*b < c { s = a * b / c }
	s += math.Sqrt(a*b) + math.FMA(a, b, c) + math.Abs(a*b)
	n = n*n + n; s += min(a*b, c)
	const k = 3.0 * 7.0
	s = a*b + c   // 11
	s = c - (-(a * b)) // 12
	s += a * b    // 13
	p := a * b    // 14
	w := v{a * b} // 15
	s *= a        // 16
	s = g(a * b)  // 17
	s = math.Sin(a) // 18
	h := math.Atan2; _ = h // 19
	_, _, _ = p, w, k
	return 3 * a, w // 21
}
func g(a float64) float64 { return float64(a * a) }
`
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, "p.go", code, 0)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, line := range check(t, "p", fset, []*ast.File{f}, exports(t, "math")) {
		got += strings.Split(line, ":")[1] + " "
	}
	if want := "11 12 13 14 15 16 17 18 19 21 "; got != want {
		t.Errorf("found lines %s, want %s", got, want)
	}
}

// own lists the functions of math that may differ in the last bit.
var own = map[string]bool{"Sin": true, "Cos": true, "Sincos": true, "Tan": true, "Atan": true, "Atan2": true, "Acos": true, "Asin": true,
	"Exp": true, "Exp2": true, "Expm1": true, "Log": true, "Log2": true, "Log10": true, "Log1p": true, "Pow": true, "Cbrt": true,
	"Hypot": true, "Sinh": true, "Cosh": true, "Tanh": true}

// findings returns what in the files of a folder depends on the processor.
func findings(t *testing.T, dir string, imp types.Importer) []string {
	fset := token.NewFileSet()
	names, _ := filepath.Glob(filepath.Join(dir, "*.go"))
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(fset, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	return check(t, dir, fset, files, imp)
}

func check(t *testing.T, dir string, fset *token.FileSet, files []*ast.File, imp types.Importer) (out []string) {
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}
	conf := types.Config{Importer: imp}
	if _, err := conf.Check("dryfit/"+filepath.ToSlash(dir), fset, files, info); err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		var path []ast.Node
		ast.Inspect(f, func(n ast.Node) bool {
			if n == nil {
				path = path[:len(path)-1]
				return true
			}
			path = append(path, n)
			switch n := n.(type) {
			case *ast.SelectorExpr:
				if o := info.Uses[n.Sel]; o != nil && o.Pkg() != nil && o.Pkg().Path() == "math" && own[n.Sel.Name] {
					out = append(out, fmt.Sprintf("%s: math.%s may differ in the last bit from one processor to the next: use geom/trig", fset.Position(n.Pos()), n.Sel.Name))
				}
			case *ast.BinaryExpr:
				if n.Op == token.MUL && isFloat(info, n) && !twos(info, n.X) && !twos(info, n.Y) && loose(info, path) {
					out = append(out, fmt.Sprintf("%s: a product goes on unrounded: write float64(...) around it", fset.Position(n.OpPos)))
				}
			case *ast.AssignStmt:
				if n.Tok == token.MUL_ASSIGN && isFloat(info, n.Lhs[0]) {
					out = append(out, fmt.Sprintf("%s: a product goes on unrounded: write x = float64(x * y)", fset.Position(n.TokPos)))
				}
			}
			return true
		})
	}
	sort.Strings(out)
	return out
}

// isFloat tells of floats that are no constants.
func isFloat(info *types.Info, e ast.Expr) bool {
	tv := info.Types[e]
	if tv.Type == nil || tv.Value != nil && tv.Value.Kind() != constant.Unknown {
		return false
	}
	b, ok := tv.Type.Underlying().(*types.Basic)
	return ok && b.Info()&types.IsFloat != 0
}

// twos tells of constants that are powers of two.
func twos(info *types.Info, e ast.Expr) bool {
	v := info.Types[e].Value
	if v == nil {
		return false
	}
	f, exact := constant.Float64Val(constant.ToFloat(v))
	frac, _ := math.Frexp(math.Abs(f))
	return exact && frac == 0.5
}

// loose tells whether the product at the end of path may meet a sum before it is
// rounded: unless it is converted, compared, divided, part of a larger product
// (which is looked at itself), printed, or given to a function of math.
func loose(info *types.Info, path []ast.Node) bool {
	for i := len(path) - 2; i >= 0; i-- {
		switch p := path[i].(type) {
		case *ast.ParenExpr, *ast.UnaryExpr:
			continue
		case *ast.BinaryExpr:
			switch p.Op {
			case token.MUL, token.QUO, token.LSS, token.LEQ, token.GTR, token.GEQ, token.EQL, token.NEQ:
				return false
			}
			return true
		case *ast.CallExpr:
			fun := ast.Unparen(p.Fun)
			if info.Types[fun].IsType() {
				return false
			}
			switch f := fun.(type) {
			case *ast.SelectorExpr:
				o := info.Uses[f.Sel]
				return o == nil || o.Pkg() == nil || o.Pkg().Path() != "math" && o.Pkg().Path() != "fmt"
			case *ast.Ident:
				return f.Name != "min" && f.Name != "max"
			}
			return true
		}
		return true
	}
	return true
}

// exports reads what the compiler knows of the packages and of all they import.
func exports(t *testing.T, pkgs ...string) types.Importer {
	cmd := exec.Command("go", append([]string{"list", "-export", "-deps", "-f", "{{.ImportPath}}={{.Export}}"}, pkgs...)...)
	var errs bytes.Buffer
	cmd.Stderr = &errs
	text, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, errs.String())
	}
	files := map[string]string{}
	for _, line := range strings.Split(string(text), "\n") {
		if pkg, file, ok := strings.Cut(line, "="); ok {
			files[pkg] = file
		}
	}
	return importer.ForCompiler(token.NewFileSet(), "gc", func(pkg string) (io.ReadCloser, error) { return os.Open(files[pkg]) })
}

// packageDirs returns the folders under root that have Go files.
func packageDirs(t *testing.T, root string) (out []string) {
	for pkg := range productImports(t) {
		if pkg == root || strings.HasPrefix(pkg, root+"/") {
			out = append(out, pkg)
		}
	}
	sort.Strings(out)
	return out
}
