package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestMain makes the program itself a command of the scripts: each call of dryfit
// is a process of its own.
func TestMain(m *testing.M) {
	testscript.Main(inNobodysHome{m}, map[string]func(){"dryfit": program})
}

// inNobodysHome runs the tests, but not the commands of scripts, where no user has left
// a configuration.
type inNobodysHome struct{ *testing.M }

func (m inNobodysHome) Run() int {
	for _, name := range configuration {
		os.Setenv(name, filepath.Join(os.TempDir(), "no-such-home"))
	}
	return m.M.Run()
}

// configuration names what leads to a user's configuration, by the system.
var configuration = []string{"XDG_CONFIG_HOME", "HOME", "AppData", "home"}

// program is main, with two ways to break it that only the tests have: an output
// that panics, as our own mistakes do, and a user who may write nowhere.
func program() {
	var out io.Writer = os.Stdout
	if os.Getenv("TEST_BREAK") == "panic" {
		out = broken{}
	}
	if os.Getenv("TEST_USER") == "nobody" {
		becomeNobody()
	}
	os.Exit(run(os.Args[1:], os.Stdin, out, os.Stderr))
}

type broken struct{}

func (broken) Write([]byte) (int, error) { panic("a broken index") }

// TestScripts runs the scripts of testdata/script. The examples lie beside them
// as examples/.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("NO_COLOR", "")
			for _, name := range configuration {
				e.Setenv(name, filepath.Join(e.WorkDir, "config"))
			}
			if err := os.Chmod(filepath.Dir(e.WorkDir), 0o755); err != nil { // nobody has to get there
				return err
			}
			return os.CopyFS(filepath.Join(e.WorkDir, "examples"), os.DirFS(filepath.Join("..", "..", "examples")))
		},
		Condition: func(c string) (bool, error) {
			if c == "nobody" { // the test can be, or can become, a user who is refused
				return canBeNobody(), nil
			}
			return false, errors.New("no such condition")
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"code":     cmdCode,
			"holds":    cmdHolds,
			"wellmade": cmdWellMade,
			"make":     cmdMake,
			"times":    cmdTimes,
		},
	})
}

// cmdCode runs a program that must end with an exact code: code 2 dryfit prove x.
func cmdCode(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: code N program args...")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := 0
	var ended *exec.ExitError
	if errors.As(err, &ended) {
		got = ended.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if strconv.Itoa(got) != args[0] {
		ts.Fatalf("exit code %d, want %s", got, args[0])
	}
}

// cmdHolds wants a folder to hold these names and no others, hidden ones too.
func cmdHolds(ts *testscript.TestScript, neg bool, args []string) {
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	want := append([]string{}, args[1:]...)
	sort.Strings(want)
	if neg || strings.Join(got, "\n") != strings.Join(want, "\n") {
		ts.Fatalf("%s holds %q, want %q", args[0], got, want)
	}
}

// cmdWellMade wants a file (or stdout) to be whole in its form: pdf, svg, json or
// csv. PDF is judged by qpdf, the others by the standard library.
func cmdWellMade(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: wellmade pdf|svg|json|csv FILE")
	}
	data := []byte(ts.ReadFile(args[1]))
	if bytes.Contains(data, []byte("\x1b")) && args[0] != "pdf" {
		ts.Fatalf("%s has an escape code", args[1])
	}
	switch args[0] {
	case "pdf":
		if !bytes.HasPrefix(data, []byte("%PDF-")) {
			ts.Fatalf("%s starts with %q", args[1], data[:min(8, len(data))])
		}
		ts.Check(ts.Exec("qpdf", "--check", ts.MkAbs(args[1])))
	case "svg":
		ts.Check(svgIsWhole(data))
	case "json":
		if !json.Valid(data) || !bytes.HasSuffix(data, []byte("}\n")) {
			ts.Fatalf("%s is not one JSON value and a new line", args[1])
		}
	case "csv": // every record as long as the head: encoding/csv sees to it
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		ts.Check(err)
		if len(rows) < 2 {
			ts.Fatalf("%s has no rows", args[1])
		}
	default:
		ts.Fatalf("no such form: %s", args[0])
	}
}

func svgIsWhole(data []byte) error {
	d := xml.NewDecoder(bytes.NewReader(data))
	depth, roots := 0, 0
	for {
		tok, err := d.Token()
		if err == io.EOF {
			if depth != 0 || roots != 1 {
				return errors.New("not one whole element")
			}
			return nil
		}
		if err != nil {
			return err
		}
		switch e := tok.(type) {
		case xml.StartElement:
			if depth == 0 {
				roots++
				if e.Name.Local != "svg" || e.Name.Space != "http://www.w3.org/2000/svg" {
					return errors.New("the root is " + e.Name.Space + " " + e.Name.Local)
				}
			}
			depth++
		case xml.EndElement:
			depth--
		}
	}
}

// cmdMake makes another form of a file: make crlf|bom|bytes FROM TO, or a file of
// N bytes of comment: make filled N TO.
func cmdMake(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: make FORM FROM TO")
	}
	var text string
	switch form := args[0]; form {
	case "filled":
		n, err := strconv.Atoi(args[1])
		ts.Check(err)
		text = strings.Repeat("#", n)
	case "crlf":
		text = strings.ReplaceAll(ts.ReadFile(args[1]), "\n", "\r\n")
	case "bom":
		text = "\ufeff" + ts.ReadFile(args[1])
	case "latin1": // one byte that is no UTF-8
		text = strings.Replace(ts.ReadFile(args[1]), "Block", "Bl\xf6ck", 1)
	default:
		ts.Fatalf("no such form: %s", form)
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), []byte(text), 0o644))
}

// cmdTimes wants a text in a file a number of times: times N TEXT FILE.
func cmdTimes(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: times N TEXT FILE")
	}
	if n := strings.Count(ts.ReadFile(args[2]), args[1]); strconv.Itoa(n) != args[0] {
		ts.Fatalf("%q stands %d times in %s, want %s", args[1], n, args[2], args[0])
	}
}
