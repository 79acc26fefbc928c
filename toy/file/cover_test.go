package file_test

import (
	"strings"
	"testing"
)

func TestCover(t *testing.T) {
	c, probs := readText(car + "cover: {photo: pictures/the car.JPG, message: ' For Øyvind & co: drive on. ', link: 'https://toys.example/car?x=1&y=2#top'}\n")
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	if k := c.Cover; k.Photo != "pictures/the car.JPG" || k.Message != "For Øyvind & co: drive on." || k.Link != "https://toys.example/car?x=1&y=2#top" {
		t.Errorf("%+v", k)
	}
	if c, _ := readText(car); c.Cover != nil {
		t.Errorf("a cover from nowhere: %+v", c.Cover)
	}
}

// A toy file may come from a stranger: its photograph is beside it, its link opens a web
// page.
func TestCoverIsSafe(t *testing.T) {
	for _, c := range []struct{ key, value, says string }{
		{"photo", "../car.jpg", "beside the toy file"},
		{"photo", "a/../../car.jpg", "beside the toy file"},
		{"photo", "/home/car.jpg", "beside the toy file"},
		{"photo", `'C:\car.jpg'`, "beside the toy file"},
		{"photo", "'C:car.jpg'", "beside the toy file"},
		{"photo", `'..\car.jpg'`, "beside the toy file"},
		{"photo", ".", "beside the toy file"},
		{"photo", "..", "beside the toy file"},
		{"photo", "' '", "nothing stands here"},
		{"link", "toys.example", "no web address"},
		{"link", "'javascript:alert(1)'", "no web address"},
		{"link", "'JavaScript://toys.example/%0Aalert(1)'", "no web address"},
		{"link", "'data:text/html,x'", "no web address"},
		{"link", "'file:///etc/hosts'", "no web address"},
		{"link", "'//toys.example'", "no web address"},
		{"link", "'https://'", "no web address"},
		{"link", "'https://:80/'", "no web address"},
		{"link", "'https://bank.example@toys.example/'", "no web address"},
		{"link", "'https://toys.example/a b'", "no web address"},
		{"link", `'https://toys.example/"onclick="x'`, "no web address"},
		{"link", "'https://toys.example/<x>'", "no web address"},
		{"link", "https://toys.example/" + strings.Repeat("x", 200), "longer than a cover"},
		{"message", strings.Repeat("word ", 150), "longer than a cover"},
	} {
		_, probs := readText(car + "cover:\n  " + c.key + ": " + c.value + "\n")
		if len(probs) != 1 || !strings.Contains(probs[0].Says, c.says) || probs[0].Line != strings.Count(car, "\n")+2 {
			t.Errorf("%s: %s gave %v, want %q", c.key, c.value, probs, c.says)
		}
	}
}
