package tree

import (
	"strconv"
	"strings"
)

// step is one step of a path: a key of a map, or the place of an item in a list.
type step struct {
	key  string
	item int // -1 for a key
}

const atEnd = -2 // the item of [+]

// At returns the node at a path such as parts.frame.work[2].drill.dia, nil if
// there is none. Items count from 0. The empty path is the node itself. A key
// that holds one of . [ ] " or is empty stands in double quotes, with \" and \\
// as in JSON.
func (n *Node) At(path string) *Node {
	steps, ok := split(path)
	if !ok {
		return nil
	}
	return n.follow(steps)
}

func (n *Node) follow(steps []step) *Node {
	for _, s := range steps {
		switch {
		case n == nil:
			return nil
		case s.item == -1:
			n = n.Get(s.key)
		case s.item >= 0 && s.item < len(n.Items):
			n = n.Items[s.item]
		default:
			return nil
		}
	}
	return n
}

// PathAt returns the path of the innermost value, or value of the key, at a byte
// offset of the file; "" if only the whole file is there.
func (n *Node) PathAt(offset int) string {
	path := ""
	for {
		next := (*Node)(nil)
		for i := range n.Entries {
			if e := &n.Entries[i]; e.Range.Start <= offset && offset <= e.Range.End {
				path, next = Join(path, e.Key.Text), e.Value
			}
		}
		for i, it := range n.Items {
			start := it.Range.Start
			if n.dashes != nil {
				start = n.dashes[i]
			}
			if start <= offset && offset <= it.Range.End {
				path, next = path+"["+strconv.Itoa(i)+"]", it
			}
		}
		if next == nil {
			return path
		}
		n = next
	}
}

// Join returns the path of a key below a path.
func Join(path, key string) string {
	if key == "" || strings.ContainsAny(key, ".[]\"\\") {
		key = `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(key) + `"`
	}
	if path == "" {
		return key
	}
	return path + "." + key
}

func split(path string) (steps []step, ok bool) {
	first := true
	for path != "" {
		if path[0] == '[' {
			num, rest, found := strings.Cut(path[1:], "]")
			i, err := strconv.Atoi(num)
			if num == "+" {
				i, err = atEnd, nil
			} else if i < 0 || num == "" || num[0] < '0' || num[0] > '9' {
				return nil, false
			}
			if !found || err != nil {
				return nil, false
			}
			steps, path, first = append(steps, step{item: i}), rest, false
			continue
		}
		if !first {
			if path[0] != '.' {
				return nil, false
			}
			path = path[1:]
		}
		first = false
		key, rest, good := cutKey(path)
		if !good {
			return nil, false
		}
		steps, path = append(steps, step{key: key, item: -1}), rest
	}
	return steps, true
}

func cutKey(path string) (key, rest string, ok bool) {
	if !strings.HasPrefix(path, `"`) {
		end := strings.IndexAny(path, ".[")
		if end < 0 {
			end = len(path)
		}
		return path[:end], path[end:], end > 0
	}
	var b strings.Builder
	for i := 1; i < len(path); i++ {
		switch path[i] {
		case '"':
			return b.String(), path[i+1:], true
		case '\\':
			if i++; i == len(path) {
				return "", "", false
			}
		}
		b.WriteByte(path[i])
	}
	return "", "", false
}
