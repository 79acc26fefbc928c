package tree

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/goccy/go-yaml/ast"
	yaml "github.com/goccy/go-yaml/parser"

	"dryfit/measure/source"
)

// The oracle is github.com/goccy/go-yaml, a YAML 1.2 library of general use: its
// syntax tree is written in a neutral form and compared with ours.

func outline(n *Node) string {
	var b strings.Builder
	var walk func(n *Node)
	walk = func(n *Node) {
		switch {
		case n.Empty():
			b.WriteString("nothing")
		case n.Kind == Scalar:
			fmt.Fprintf(&b, "%q", n.Text)
		case n.Kind == Map:
			b.WriteByte('{')
			for _, e := range n.Entries {
				fmt.Fprintf(&b, "%q:", e.Key.Text)
				walk(e.Value)
				b.WriteByte(' ')
			}
			b.WriteByte('}')
		default:
			b.WriteByte('[')
			for _, it := range n.Items {
				walk(it)
				b.WriteByte(' ')
			}
			b.WriteByte(']')
		}
	}
	walk(n)
	return b.String()
}

// theirs is the outline of what the oracle reads.
func theirs(text string) (string, error) {
	f, err := yaml.ParseBytes([]byte(text), 0)
	if err != nil {
		return "", err
	}
	// It takes comments before --- for a document of their own.
	for len(f.Docs) > 1 {
		if _, comment := f.Docs[0].Body.(*ast.CommentGroupNode); !comment && f.Docs[0].Body != nil {
			break
		}
		f.Docs = f.Docs[1:]
	}
	if len(f.Docs) != 1 {
		if len(f.Docs) == 0 {
			return "nothing", nil
		}
		return "", fmt.Errorf("%d documents", len(f.Docs))
	}
	var b strings.Builder
	if err := walkTheirs(&b, f.Docs[0].Body); err != nil {
		return "", err
	}
	return b.String(), nil
}

func walkTheirs(b *strings.Builder, n ast.Node) error {
	pairs := func(vs []*ast.MappingValueNode) error {
		b.WriteByte('{')
		for _, v := range vs {
			key := v.Key.(ast.Node)
			if s, ok := key.(*ast.StringNode); ok {
				fmt.Fprintf(b, "%q:", s.Value)
			} else {
				fmt.Fprintf(b, "%q:", strings.TrimSpace(key.GetToken().Value))
			}
			if err := walkTheirs(b, v.Value); err != nil {
				return err
			}
			b.WriteByte(' ')
		}
		b.WriteByte('}')
		return nil
	}
	switch n := n.(type) {
	case nil:
		b.WriteString("nothing")
	case *ast.NullNode, *ast.CommentGroupNode:
		b.WriteString("nothing")
	case *ast.MappingNode:
		return pairs(n.Values)
	case *ast.MappingValueNode:
		return pairs([]*ast.MappingValueNode{n})
	case *ast.SequenceNode:
		b.WriteByte('[')
		for _, v := range n.Values {
			if err := walkTheirs(b, v); err != nil {
				return err
			}
			b.WriteByte(' ')
		}
		b.WriteByte(']')
	case *ast.StringNode:
		fmt.Fprintf(b, "%q", n.Value)
	case *ast.LiteralNode:
		fmt.Fprintf(b, "%q", n.Value.Value)
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		fmt.Fprintf(b, "%q", n.GetToken().Value)
	default:
		return fmt.Errorf("node %T", n)
	}
	return nil
}

func samples(t testing.TB) map[string]string {
	out := map[string]string{}
	names, err := filepath.Glob("testdata/*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatal("no samples", err)
	}
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		s := string(b)
		out[n] = s
		out[n+" with CRLF"] = strings.ReplaceAll(s, "\n", "\r\n")
		out[n+" with no newline at the end"] = strings.TrimRight(s, "\n")
		out[n+" with a byte order mark"] = "\uFEFF" + s
	}
	return out
}

func mustParse(t testing.TB, text string) *Node {
	t.Helper()
	n, probs := Parse(source.New("sample", text))
	if len(probs) > 0 {
		t.Fatalf("%v\nin %q", probs, text)
	}
	return n
}

func TestSamplesMeanTheSameToAGeneralLibrary(t *testing.T) {
	for name, text := range samples(t) {
		n := mustParse(t, text)
		want, err := theirs(strings.TrimPrefix(text, "\uFEFF"))
		if err != nil {
			t.Errorf("%s: the oracle refuses: %v", name, err)
			continue
		}
		if got := outline(n); got != want {
			t.Errorf("%s: ours\n%s\ntheirs\n%s", name, got, want)
		}
	}
}
