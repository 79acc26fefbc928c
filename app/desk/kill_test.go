package desk

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// A program killed while it saves leaves the file whole, old or new, and nothing that it had
// said to be done is lost. DRYFIT_KILLS=1000 is the long form (scripts/soak.sh).

const (
	killedIn = "DRYFIT_TEST_KILLED_IN"
	saves    = 1000
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(killedIn); dir != "" {
		saveTill(dir)
		return
	}
	os.Exit(m.Run())
}

// textOf is what the n-th save writes: long enough to take more than one write of the disk, and
// all of one number.
func textOf(n int) string {
	return fmt.Sprintf("toy: %d\n", n) + strings.Repeat(fmt.Sprintf("# %d\n", n), 2000)
}

// saveTill saves one text after the other and says the number of each that is done.
func saveTill(dir string) {
	disk, err := Folder(dir)
	if err != nil {
		panic(err)
	}
	toy, err := New(disk).Open("toy.yaml")
	if err != nil {
		panic(err)
	}
	for n := range saves {
		text := textOf(n + 1)
		st, err := toy.Change(Wish{Base: toy.State().Hash, Text: &text, Intent: strconv.Itoa(n + 1)})
		if err != nil || st.Unsaved+st.Forgets != "" {
			panic(fmt.Sprint(err, st.Unsaved, st.Forgets))
		}
		fmt.Println(n + 1)
	}
}

func TestKilledWhileSaving(t *testing.T) {
	kills := 12
	if s := os.Getenv("DRYFIT_KILLS"); s != "" {
		kills, _ = strconv.Atoi(s)
	}
	rnd := rand.New(rand.NewPCG(6, 1))
	for k := range kills {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "toy.yaml"), []byte(textOf(0)), 0o644); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), killedIn+"="+dir)
		cmd.Stderr = os.Stderr
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// Killed at any moment of a save, after a number of whole ones.
		said := bufio.NewScanner(out)
		done, till := 0, rnd.IntN(40)
		for done <= till && said.Scan() {
			done, _ = strconv.Atoi(said.Text())
		}
		time.Sleep(time.Duration(rnd.IntN(5000)) * time.Microsecond)
		cmd.Process.Kill()
		for said.Scan() {
			done, _ = strconv.Atoi(said.Text())
		}
		cmd.Wait()

		b, err := os.ReadFile(filepath.Join(dir, "toy.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		if s := string(b); s != textOf(done) && s != textOf(done+1) {
			t.Fatalf("kill %d, after save %d: the file is neither that nor the next: %.60q", k, done, s)
		}
		disk, err := Folder(dir)
		if err != nil {
			t.Fatal(err)
		}
		toy, err := New(disk).Open("toy.yaml")
		if err != nil {
			t.Fatal(err)
		}
		st := toy.State()
		if st.Text != textOf(done) && st.Text != textOf(done+1) || st.Unsaved+st.Forgets != "" {
			t.Fatalf("kill %d, after save %d: opened again it is %.30q %s %s", k, done, st.Text, st.Unsaved, st.Forgets)
		}
		for range saves {
			if _, more := toy.Undo(); !more {
				break
			}
		}
		wantText(t, "all undone", toy.State(), textOf(0))
		toy.desk.Disk.(*folder).root.Close()
		os.RemoveAll(dir)
	}
}
