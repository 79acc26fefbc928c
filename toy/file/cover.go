package file

import (
	"fmt"
	"net/url"
	"path"
	"strings"
	"unicode"
	"unicode/utf8"

	"dryfit/toy"
	"dryfit/toy/file/shape"
)

// What has room on a cover, in letters.
const (
	mostMessage = 600
	mostLink    = 200
)

// cover reads what is on the guide's first page. Who opens a toy file may have it from a
// stranger: the photograph is sought in the toy's own folder only, and a link opens a
// web page and nothing else.
func (r *resolver) cover(c *cover) {
	if c == nil {
		return
	}
	out := &toy.Cover{PhotoAt: c.Photo.At}
	said := func(t shape.Text, most int, what string) string {
		says := strings.TrimSpace(t.Text)
		if utf8.RuneCountInString(says) > most {
			r.problem("too-large", t.At, "the "+what+" is longer than a cover has room for").Expected = fmt.Sprintf("at most %d letters", most)
			return ""
		}
		return says
	}
	out.Message = said(c.Message, mostMessage, "message")
	if out.Link = said(c.Link, mostLink, "link"); out.Link != "" && !webAddress(out.Link) {
		r.problem("link", c.Link.At, "this is no web address").Expected = "as https://toys.example/quay-tram"
	}
	if out.Photo = said(c.Photo, mostLink, "photo"); out.Photo != "" && !beside(out.Photo) {
		r.problem("photo", c.Photo.At, "a photograph is a file beside the toy file, or in a folder beside it").Expected = "as tram.jpg or pictures/tram.jpg"
	}
	r.toy.Cover = out
}

// webAddress tells whether a link opens a web page: http or https, a host, no name or
// password, and nothing that could end what it is written into.
func webAddress(s string) bool {
	u, err := url.Parse(s)
	if err != nil || u.Scheme != "http" && u.Scheme != "https" || u.Hostname() == "" || u.User != nil {
		return false
	}
	return !strings.ContainsFunc(s, func(c rune) bool {
		return c <= ' ' || c >= 0x7f || strings.ContainsRune("\"'<>\\`{}|^", c)
	})
}

// beside tells whether a name stays in the folder that it is looked for in, on every
// system.
func beside(name string) bool {
	clean := path.Clean(name)
	return !path.IsAbs(name) && clean != "." && clean != ".." && !strings.HasPrefix(clean, "../") &&
		!strings.ContainsAny(name, "\\:") && !strings.ContainsFunc(name, unicode.IsControl)
}
