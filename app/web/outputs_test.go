package web

import (
	"archive/zip"
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"dryfit/app/desk"
	"dryfit/app/page"
	"dryfit/toy/file/tree"
)

// outputsTest is the app of a folder with toys of the examples and a shop.
type outputsTest struct {
	*testing.T
	dir    string
	server *httptest.Server
	app    *Server
	ended  chan string // paths of requests that were answered to their end
}

const (
	tramFile = "quay-tram.yaml"
	boxFile  = "lidded-box.yaml"
	laneShop = "shop/quay-lane.yaml"
)

func newOutputsTest(t *testing.T) *outputsTest {
	t.Helper()
	o := &outputsTest{T: t, dir: t.TempDir(), ended: make(chan string, 1000)}
	for to, from := range map[string]string{tramFile: "quay-tram.yaml", boxFile: "plain/lidded-box.yaml", laneShop: "shop/quay-lane.yaml"} {
		b, err := os.ReadFile(filepath.Join("../../examples", from))
		if err != nil {
			t.Fatal(err)
		}
		o.write(to, string(b))
	}
	disk, err := desk.Folder(o.dir)
	if err != nil {
		t.Fatal(err)
	}
	o.app = New(disk, "toys", fstest.MapFS{})
	h := o.app.Handler()
	o.server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h.ServeHTTP(w, r)
		o.ended <- r.URL.Path
	}))
	t.Cleanup(o.server.Close)
	return o
}

func (o *outputsTest) write(name, text string) {
	o.Helper()
	full := filepath.Join(o.dir, name)
	if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
		o.Fatal(err)
	}
	if err := os.WriteFile(full, []byte(text), 0o644); err != nil {
		o.Fatal(err)
	}
}

// job is what is asked for of a toy as it is in the folder.
func (o *outputsTest) job(file, shop string) JobArgs {
	b, err := os.ReadFile(filepath.Join(o.dir, file))
	if err != nil {
		o.Fatal(err)
	}
	return JobArgs{File: file, Hash: tree.Hash(string(b)), Shop: shop, Count: 1}
}

// post asks and returns the answer as it comes.
func (o *outputsTest) post(ctx context.Context, path string, args any) (*http.Response, error) {
	body, err := json.Marshal(args)
	if err != nil {
		o.Fatal(err)
	}
	r, err := http.NewRequestWithContext(ctx, "POST", o.server.URL+path, bytes.NewReader(body))
	if err != nil {
		o.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("X-Dryfit-Token", o.app.Token)
	return http.DefaultClient.Do(r)
}

// bytes asks for something and returns the whole answer with its status.
func (o *outputsTest) bytes(path string, args any) ([]byte, int) {
	o.Helper()
	a, err := o.post(context.Background(), path, args)
	if err != nil {
		o.Fatal(err)
	}
	defer a.Body.Close()
	b, err := io.ReadAll(a.Body)
	if err != nil {
		o.Fatal(err)
	}
	return b, a.StatusCode
}

// given asks for something that has to be there.
func given[T any](o *outputsTest, path string, args any) (out T) {
	o.Helper()
	b, code := o.bytes(path, args)
	if code != http.StatusOK {
		o.Fatalf("%s: %d %s", path, code, b)
	}
	if err := json.Unmarshal(b, &out); err != nil {
		o.Fatalf("%s: %v", path, err)
	}
	return out
}

// refused asks for something that has to be refused, and returns why.
func (o *outputsTest) refused(path string, args any, code int) Failure {
	o.Helper()
	b, got := o.bytes(path, args)
	var f Failure
	if err := json.Unmarshal(b, &f); err != nil || got != code {
		o.Errorf("%s: %d %.200s", path, got, b)
	}
	return f
}

func wellFormed(t *testing.T, what, text string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(text))
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			t.Errorf("%s is no XML: %v", what, err)
			return
		}
	}
}

// Lists have all their sections; with a shop they know what is short, and prices; with units, those.
func TestStockPage(t *testing.T) {
	o := newOutputsTest(t)
	job := o.job(tramFile, "")
	bare := given[page.StockPage](o, "/call/stock", job)
	if bare.Hash != job.Hash || bare.Units != "inch" || bare.Known || len(bare.Short) > 0 {
		t.Errorf("without a shop: %+v", bare)
	}
	titles := func(p page.StockPage) string {
		var out []string
		for _, s := range p.Sections {
			out = append(out, s.Title)
			if len(s.Blocks) == 0 {
				t.Errorf("%s is empty", s.Title)
			}
			for _, b := range s.Blocks {
				for _, r := range b.Rows {
					if len(r) != len(b.Heads) {
						t.Errorf("%s: %d cells under %d heads", s.Title, len(r), len(b.Heads))
					}
				}
				if strings.ContainsRune(b.Says, '\ue000') || strings.Contains(b.Says, "dryfit layout") {
					t.Errorf("%s says %q", s.Title, b.Says)
				}
			}
		}
		return strings.Join(out, ", ")
	}
	for _, want := range []string{"Stock", "Dowels", "Sawing", "Drilling", "Wheels", "Used up", "Where each piece goes"} {
		if !strings.Contains(titles(bare), want) {
			t.Errorf("no %s: %s", want, titles(bare))
		}
	}
	job.Shop, job.Count, job.Units = laneShop, 40, "mm"
	many := given[page.StockPage](o, "/call/stock", job)
	if many.Units != "mm" || many.Shop != laneShop || !many.Known || len(many.Short) == 0 || !strings.Contains(many.Title, "40 × Quay tram") || !strings.Contains(titles(many), "Cost") {
		t.Errorf("forty in a shop: %s, short %v, %s", many.Title, many.Short, titles(many))
	}
	job.Count = 0
	if f := o.refused("/call/stock", job, http.StatusBadRequest); !strings.Contains(f.Says, "from 1 to") {
		t.Error(f.Says)
	}
}

// Every toy has its steps, each drawn that the guide draws, and a plan with whoever works.
func TestStepsAndPlan(t *testing.T) {
	o := newOutputsTest(t)
	for _, file := range []string{tramFile, boxFile} {
		job := o.job(file, "")
		g := given[page.StepsPage](o, "/call/steps", job)
		n := 0
		for _, c := range g.Chapters {
			for _, s := range c.Steps {
				if n++; s.Number != n || len(s.Does) == 0 {
					t.Errorf("%s: step %d after %d does %v", file, s.Number, n-1, s.Does)
				}
				args := StepArgs{job, s.Number}
				if !s.Drawn {
					o.refused("/make/step", args, http.StatusBadRequest)
					continue
				}
				b, code := o.bytes("/make/step", args)
				if code != http.StatusOK || !strings.Contains(string(b), "<path") {
					t.Fatalf("%s: step %d: %d %.200s", file, n, code, b)
				}
				wellFormed(t, s.Title, string(b))
			}
		}
		if n == 0 {
			t.Errorf("%s has no steps", file)
		}
		if f := o.refused("/make/step", StepArgs{job, n + 1}, http.StatusBadRequest); !strings.Contains(f.Says, "no step") {
			t.Error(f.Says)
		}
		job.Count = 3
		p := given[page.PlanPage](o, "/call/plan", PlanArgs{job, page.Ways{Hands: "adult,child=9", Session: "2h"}})
		if p.Hash != job.Hash || len(p.Hands) != 2 || p.Hands[1].Years != 9 || p.Sessions < 2 || len(p.Tasks) < n/2 || len(p.Who) == 0 {
			t.Errorf("%s: %+v", file, p.Sums)
		}
		for _, task := range p.Tasks {
			if task.Step > n || task.Place == "" || task.Hands != "" && (task.Day == 0 || task.Says == "") {
				t.Errorf("%s: %+v", file, task)
			}
		}
		wellFormed(t, "chart", p.Chart)
	}
	job := o.job(tramFile, "")
	if f := o.refused("/call/plan", PlanArgs{job, page.Ways{Hands: "child=9"}}, http.StatusBadRequest); !strings.Contains(f.Says, "no adult") {
		t.Error(f.Says)
	}
}

// Patterns are shown on the paper that is asked for, made up for the printer.
func TestPatternsPage(t *testing.T) {
	o := newOutputsTest(t)
	usual := given[page.PatternsPage](o, "/call/patterns", PatternsArgs{JobArgs: o.job(tramFile, "")})
	if usual.Paper != "letter" || len(usual.Sheets) == 0 || usual.Says != "" {
		t.Errorf("%s, %d pages, %q", usual.Paper, len(usual.Sheets), usual.Says)
	}
	if s := usual.Sheets[0]; s.Wide != 215.9 || s.High != 279.4 {
		t.Errorf("a page of %g by %g mm", s.Wide, s.High)
	}
	out := given[page.PatternsPage](o, "/call/patterns", PatternsArgs{o.job(tramFile, ""), page.Print{Paper: "a3", CorrectX: 98, CorrectY: 101}})
	for _, s := range out.Sheets {
		wellFormed(t, s.Title, s.SVG)
		if s.Wide != 297 || s.High != 420 || !strings.Contains(s.SVG, "matrix(1.020408163 0 0 0.990099010") {
			t.Errorf("%g by %g mm, made up as %.300s", s.Wide, s.High, s.SVG)
		}
	}
	for _, bad := range []page.Print{{Paper: "a9"}, {CorrectX: 42}, {Margin: "wide"}} {
		o.refused("/call/patterns", PatternsArgs{o.job(tramFile, ""), bad}, http.StatusBadRequest)
	}
}

// All that can be taken away is what its name says.
func TestFiles(t *testing.T) {
	o := newOutputsTest(t)
	job := o.job(boxFile, "")
	for _, c := range []struct{ what, format, view, begins string }{
		{"lists", "csv", "", "list,"},
		{"patterns", "pdf", "", "%PDF-"},
		{"guide", "pdf", "", "%PDF-"},
		{"guide", "html", "", "<!DOCTYPE html>"},
		{"pack", "pdf", "", "%PDF-"},
		{"picture", "svg", "", "<?xml"},
		{"picture", "svg", "apart", "<?xml"},
		{"picture", "pdf", "", "%PDF-"},
		{"picture", "png", "iso", "\x89PNG"},
		{"plan", "pdf", "", "%PDF-"},
		{"plan", "svg", "", "<?xml"},
		{"export", "svg", "", "PK"},
		{"export", "dxf", "", "PK"},
		{"export", "stl", "", "PK"},
		{"export", "3mf", "", "PK"},
		{"export", "glb", "", "glTF"},
	} {
		b, code := o.bytes("/make/file", FileArgs{JobArgs: job, Wish: page.FileWish{What: c.what, Format: c.format, View: c.view, Count: 1}})
		if code != http.StatusOK || !bytes.HasPrefix(b, []byte(c.begins)) {
			t.Errorf("%s as %s: %d %.100s", c.what, c.format, code, b)
		}
		if c.format == "dxf" {
			z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
			if err != nil || len(z.File) == 0 || !strings.HasSuffix(z.File[0].Name, ".dxf") {
				t.Errorf("the zip of outlines: %v", err)
			}
		}
	}
	for _, w := range []page.FileWish{{What: "patterns", Format: "png"}, {What: "shop", Format: "pdf"}, {}} {
		o.refused("/make/file", FileArgs{JobArgs: job, Wish: w}, http.StatusBadRequest)
	}
}

// What is asked for of another text than there is, is refused with the text that there is; so is
// what is asked of a text that cannot be read, with where it is wrong.
func TestOtherTexts(t *testing.T) {
	o := newOutputsTest(t)
	all := func(job JobArgs, code int, want string) {
		t.Helper()
		for path, args := range map[string]any{"/call/stock": job, "/call/steps": job, "/call/plan": PlanArgs{JobArgs: job}, "/call/patterns": PatternsArgs{JobArgs: job},
			"/make/step": StepArgs{job, 1}, "/make/file": FileArgs{JobArgs: job, Wish: page.FileWish{What: "guide", Format: "pdf"}}, "/layout": LayoutArgs{JobArgs: job, Seconds: 1}} {
			f := o.refused(path, args, code)
			if !strings.Contains(f.Says, want) {
				t.Errorf("%s: %s", path, f.Says)
			}
			if code == http.StatusConflict && (f.State == nil || f.State.File != job.File || f.State.Hash == job.Hash) {
				t.Errorf("%s: the text that there is is not told", path)
			}
		}
	}
	late := o.job(tramFile, "")
	late.Hash = tree.Hash("another")
	all(late, http.StatusConflict, "changed in another window or program")
	o.write("broken.yaml", "dryfit: 1\ntoy: Broken\nunits: mm\nparts:\n  a: {from: nothing}\n")
	all(o.job("broken.yaml", ""), http.StatusBadRequest, "broken.yaml cannot be read: line ")
	o.write("shop/odd.yaml", "dryfit: 1\nunits: mm\nboards: {a: {wood: beach, thick: 18, size: [900, 120]}}\n")
	all(o.job(tramFile, "shop/odd.yaml"), http.StatusBadRequest, "shop/odd.yaml cannot be read: line 3: no wood is called beach")
	for _, name := range []string{"../secret.yaml", "shop/../../secret.yaml", "/etc/passwd", "shop/.hidden.yaml", "elsewhere/a.yaml", "shop/none.yaml"} {
		o.refused("/call/stock", o.job(tramFile, name), http.StatusBadRequest)
	}
	missing := late
	missing.File = "no-such.yaml"
	o.refused("/call/stock", missing, http.StatusBadRequest)
}

// The shop files are those of the folder and of shop below it, and no toys; one that cannot be
// read says where.
func TestShops(t *testing.T) {
	o := newOutputsTest(t)
	o.write("mine.yaml", "dryfit: 1\nunits: mm\nboards: {a: {wood: beech, thick: 18, size: [900, 120]}}\n")
	o.write("shop/odd.yaml", "dryfit: 1\nunits: mm\nboards: {a: {wood: beach, thick: 18, size: [900, 120]}}\n")
	o.write("notes.yaml", "milk: 2\n")
	got := map[string]string{}
	for _, s := range given[Shops](o, "/call/shops", None{}).Shops {
		got[s.File] = s.Fails
	}
	if len(got) != 3 || got["mine.yaml"] != "" || got[laneShop] != "" || !strings.Contains(got["shop/odd.yaml"], "line 3: no wood is called beach") {
		t.Errorf("%v", got)
	}
}

// laying is a layout that is listened to.
type laying struct {
	*bufio.Scanner
	body io.Closer
}

func (o *outputsTest) lay(ctx context.Context, count int, seconds float64) *laying {
	o.Helper()
	job := o.job(tramFile, laneShop)
	job.Count = count
	a, err := o.post(ctx, "/layout", LayoutArgs{JobArgs: job, Seconds: seconds})
	if err != nil || a.StatusCode != http.StatusOK {
		o.Fatal(err, a)
	}
	s := bufio.NewScanner(a.Body)
	s.Buffer(nil, 64<<20)
	return &laying{s, a.Body}
}

func (o *outputsTest) next(l *laying) (e LayoutEvent) {
	o.Helper()
	if !l.Scan() {
		o.Fatal("the layout ends without a word: ", l.Err())
	}
	if err := json.Unmarshal(l.Bytes(), &e); err != nil {
		o.Fatal(err)
	}
	return e
}

// A layout is told as it is found, and ends; what was found last can be taken away, until another
// is begun.
func TestLayoutIsTold(t *testing.T) {
	o := newOutputsTest(t)
	l := o.lay(context.Background(), 12, 1.2)
	defer l.body.Close()
	var last *page.LayoutPage
	for {
		e := o.next(l)
		if e.Done {
			break
		}
		if e.Found == nil {
			t.Fatalf("%+v", e)
		}
		last = e.Found
	}
	if last == nil || !last.Whole || len(last.Stocks) == 0 || len(last.Sheets) < 2 || last.Hash != o.job(tramFile, "").Hash {
		t.Fatalf("%+v", last)
	}
	for _, s := range last.Sheets {
		wellFormed(t, s.Title, s.SVG)
	}
	for _, b := range last.Stocks[0].Boards {
		if len(b.Rows) == 0 || len(b.Rows[0]) != len(b.Heads) {
			t.Errorf("%s: %v", b.Name, b.Rows)
		}
	}
	file := func(format string, run int) ([]byte, int) {
		return o.bytes("/make/file", FileArgs{JobArgs: o.job(tramFile, laneShop), Wish: page.FileWish{What: "layout", Format: format}, Run: run})
	}
	for format, begins := range map[string]string{"pdf": "%PDF-", "svg": "<?xml"} {
		if b, code := file(format, last.Run); code != http.StatusOK || !bytes.HasPrefix(b, []byte(begins)) {
			t.Errorf("%s: %d %.100s", format, code, b)
		}
	}
	if b, code := file("pdf", last.Run+1); code == http.StatusOK {
		t.Errorf("a layout that never was: %.20s", b)
	}
	again := o.lay(context.Background(), 1, 0.2)
	for again.Scan() {
	}
	again.body.Close()
	if b, code := file("pdf", last.Run); code == http.StatusOK {
		t.Errorf("a layout that another stands in the place of: %.20s", b)
	}
	for _, seconds := range []float64{0, -1, 1e9} {
		bad := o.lay(context.Background(), 1, seconds)
		if e := o.next(bad); !strings.Contains(e.Fails, "seconds") {
			t.Errorf("%g seconds: %+v", seconds, e)
		}
		bad.body.Close()
	}
}

// A layout ends when its page is left, and when another of the toy is begun.
func TestLayoutIsStopped(t *testing.T) {
	const long, soon = 600, 20 * time.Second
	o := newOutputsTest(t)
	ctx, leave := context.WithCancel(context.Background())
	first := o.lay(ctx, 4, long)
	if o.next(first).Found == nil {
		t.Fatal("nothing found")
	}
	leave()
	select {
	case <-o.ended:
	case <-time.After(soon):
		t.Fatal("a layout goes on that nobody listens to")
	}
	second := o.lay(context.Background(), 4, long)
	if o.next(second).Found == nil {
		t.Fatal("nothing found")
	}
	third := o.lay(context.Background(), 4, 0.2)
	e := o.next(second)
	for e.Found != nil {
		e = o.next(second)
	}
	if !strings.Contains(e.Fails, "another layout") {
		t.Errorf("%+v", e)
	}
	for e = o.next(third); e.Found != nil; {
		e = o.next(third)
	}
	if !e.Done {
		t.Errorf("the newer layout does not end by itself: %+v", e)
	}
}
