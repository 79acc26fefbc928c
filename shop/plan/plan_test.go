package plan_test

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/paper/booklet"
	"dryfit/shop/plan"
	"dryfit/toy"
	"dryfit/toy/file"
)

var update = flag.Bool("update", false, "write the goldens anew")

func job(t testing.TB, name string, count int) plan.Job {
	t.Helper()
	return jobOf(t, text(t, name), count)
}

func text(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// jobOf is the job of a toy as its file has it.
func jobOf(t testing.TB, text string, count int) plan.Job {
	t.Helper()
	ty, probs := file.Read(source.New("toy.yaml", text), nil)
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	cache := &assembly.Cache{}
	m, probs := assembly.Derive(ty, assembly.Options{Cache: cache})
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	return plan.Job{Model: m, Guide: booklet.New(m, nil, cache).Guide, Count: count}
}

func made(t testing.TB, s plan.Shop, o plan.Options, jobs ...plan.Job) *plan.Plan {
	t.Helper()
	p, err := plan.Make(context.Background(), jobs, s, o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func examples(t testing.TB) (out []string) {
	t.Helper()
	for _, glob := range []string{"*.yaml", "plain/*.yaml", "broken/*.yaml"} {
		names, err := filepath.Glob("../../examples/" + glob)
		if err != nil || len(names) == 0 {
			t.Fatal(glob, err)
		}
		for _, n := range names {
			out = append(out, strings.TrimPrefix(filepath.ToSlash(n), "../../examples/"))
		}
	}
	return out
}

func hands(years ...int) (out []toy.Hand) {
	for i, y := range years {
		out = append(out, toy.Hand{Name: fmt.Sprintf("hand-%d", i), Years: y})
	}
	return out
}

// Every example, one and three of it, in shops of several kinds: the plan keeps to the
// model's precedence, to what there is, and to what a child may do; and it has the guide's steps.
func TestPlansOfExamples(t *testing.T) {
	few := &toy.Rack{Clamps: 3}
	none := &toy.Rack{Clamps: 0, Tools: []string{"none"}}
	for i, name := range examples(t) {
		t.Run(name, func(t *testing.T) {
			j := job(t, name, 1)
			for k, s := range []plan.Shop{{}, {Hands: hands(0, 5)}, {Hands: hands(0, 0, 9), Rack: few}, {Hands: hands(0, 7, 16), Rack: none}} {
				j.Count = 1 + 2*(k%2)
				o := plan.Options{Work: 30_000}
				if (i+k)%3 == 0 {
					o.Session = 180
				}
				p := made(t, s, o, j)
				sound(t, p, s)
				follows(t, p, j)
				sameSteps(t, p, j)
			}
		})
	}
}

func TestGoldenPlans(t *testing.T) {
	hands, err := plan.ReadHands("adult,child", nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, p := range map[string]*plan.Plan{
		"quay-tram":     made(t, plan.Shop{Hands: hands}, plan.Options{Seed: 1}, job(t, "quay-tram.yaml", 1)),
		"tipping-wagon": made(t, plan.Shop{Hands: hands, Rack: &toy.Rack{Clamps: 8}}, plan.Options{Seed: 1, Session: 180}, job(t, "tipping-wagon.yaml", 4)),
	} {
		file := filepath.Join("testdata", name+".golden")
		if *update {
			if err := os.WriteFile(file, []byte(p.Text()), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Text(); got != strings.ReplaceAll(string(want), "\r\n", "\n") {
			t.Errorf("the plan has changed: look at it with -update\n%s", got)
		}
	}
}

// Two toys share what is fitted: a bit is not changed for each by itself.
func TestToysTogether(t *testing.T) {
	a, b := job(t, "quay-tram.yaml", 2), job(t, "tipping-wagon.yaml", 2)
	s := plan.Shop{Hands: hands(0, 0)}
	both := made(t, s, plan.Options{}, a, b)
	sound(t, both, s)
	one, two := made(t, s, plan.Options{}, a), made(t, s, plan.Options{}, b)
	if both.Elapsed >= one.Elapsed+two.Elapsed || both.SetUps >= one.SetUps+two.SetUps {
		t.Errorf("together %d and %d set-ups, apart %d and %d, %d and %d", both.Elapsed, both.SetUps, one.Elapsed, one.SetUps, two.Elapsed, two.SetUps)
	}
}

// Ten toys take far less than ten times the hands and bits of one.
func TestBatch(t *testing.T) {
	s := plan.Shop{}
	one, ten := made(t, s, plan.Options{}, job(t, "quay-tram.yaml", 1)), made(t, s, plan.Options{}, job(t, "quay-tram.yaml", 10))
	if ten.SetUps > one.SetUps || ten.HandsOn >= one.HandsOn*95/10 || len(ten.Advice) == 0 {
		t.Errorf("one: %d set-ups, %d; ten: %d set-ups, %d, advice %q", one.SetUps, one.HandsOn, ten.SetUps, ten.HandsOn, ten.Advice)
	}
}

// One lot of spares serves a batch, but each toy has its own spare wheel, as in the lists.
func TestHands(t *testing.T) {
	rack := &toy.Rack{Clamps: -1, Hands: []toy.Hand{{Name: "mia", Years: 9}, {Name: "sam"}, {Name: "adult 2"}}}
	for says, want := range map[string][]toy.Hand{
		"adult":               {{Name: "adult"}},
		"adult, child":        {{Name: "adult"}, {Name: "child", Years: plan.UsualYears}},
		"adult,adult":         {{Name: "adult"}, {Name: "adult 2"}},
		"adult,adult,adult 2": {{Name: "adult"}, {Name: "adult 3"}, {Name: "adult 2"}},
		"sam,sam":             nil,
		"mia,adult,mia":       nil,
		"sam,mia,child=11":    {{Name: "sam"}, {Name: "mia", Years: 9}, {Name: "child", Years: 11}},
		"":                    nil,
		"ann":                 nil,
		"child=x":             nil,
		"child=0":             nil,
		"adult=3":             nil,
		"mia=4":               nil,
		"adult,,child":        nil,
		"adult child":         nil,
		"child = 12 , adult":  {{Name: "child", Years: 12}, {Name: "adult"}},
	} {
		got, err := plan.ReadHands(says, rack)
		if (err == nil) != (want != nil) || !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %v, %v", says, got, err)
		}
	}
	j := job(t, "quay-tram.yaml", 1)
	if p := made(t, plan.Shop{Rack: rack}, plan.Options{}, j); len(p.Hands) != 3 || p.Hands[0].Name != "mia" {
		t.Errorf("hands %v", p.Hands)
	}
	for _, h := range [][]toy.Hand{hands(9), hands(5, 17), hands(0, 0, 0, 0, 0, 0, 0, 0, 0)} {
		if _, err := plan.Make(context.Background(), []plan.Job{j}, plan.Shop{Hands: h}, plan.Options{}); err == nil {
			t.Errorf("%v are a crew", h)
		}
	}
	for _, n := range []int{-1, 0, 100_000} {
		j.Count = n
		if _, err := plan.Make(context.Background(), []plan.Job{j}, plan.Shop{}, plan.Options{}); err == nil {
			t.Errorf("%d toys are planned", n)
		}
	}
}

// A session that one piece of work does not fit in is refused in words.
func TestShortSession(t *testing.T) {
	rack := &toy.Rack{Clamps: -1, Durations: []toy.Duration{{Name: "scroll-cut", Minutes: 200}}}
	_, err := plan.Make(context.Background(), []plan.Job{job(t, "quay-tram.yaml", 1)}, plan.Shop{Rack: rack}, plan.Options{Session: 60})
	if err == nil || !strings.HasPrefix(err.Error(), "a session of 1:00 is too short: to ") {
		t.Error(err)
	}
}

// The goes that pieces are done in are as equal as can be, and none is longer than a session:
// five discs of 12 minutes go in 30 minutes as two, two and one.
func TestUnevenGoes(t *testing.T) {
	s := plan.Shop{Rack: &toy.Rack{Clamps: -1, Durations: []toy.Duration{{Name: "turning", Minutes: 12}}}}
	p := made(t, s, plan.Options{Session: 30, Work: 20_000}, jobOf(t, strings.Replace(text(t, "plain/rattle.yaml"), "made: turned,", "made: turned, spare: 3,", 1), 1))
	sound(t, p, s)
	var turned []int
	for _, k := range p.Tasks {
		if k.Tool == "lathe" {
			turned = append(turned, k.Free-k.Begin)
		}
	}
	slices.Sort(turned)
	if !slices.Equal(turned, []int{12, 24, 24}) {
		t.Errorf("five discs are turned in %v minutes", turned)
	}
}

// One lot of spares serves all toys of a kind, but every toy has its own spare wheels: as in the lists.
func TestSpares(t *testing.T) {
	bus := strings.NewReplacer("lies: {length: forward, right: face}\n    work:", "lies: {length: forward, right: face}\n    spare: 1\n    work:",
		"disc: 1 1/4, bore: dowel", "disc: 1 1/4, bore: dowel, spare: 1").Replace(text(t, "plain/windows.yaml"))
	said := made(t, plan.Shop{}, plan.Options{Work: 20_000}, jobOf(t, bus, 20)).Text()
	for _, want := range []string{"saw 41 blanks for 41 sides", "drill the middle of 100 wheels"} {
		if !strings.Contains(said, want) {
			t.Errorf("the plan of 20 does not %s", want)
		}
	}
}

// A shop has one hand drill: bits are changed in it, and are counted.
func TestHandDrill(t *testing.T) {
	s := plan.Shop{Hands: hands(0, 0), Rack: &toy.Rack{Clamps: -1, Tools: []string{"hand-drill"}}}
	p := made(t, s, plan.Options{Work: 50_000}, job(t, "quay-tram.yaml", 1))
	sound(t, p, s)
	bits := map[string]bool{}
	for _, k := range p.Tasks {
		if k.Tool == "hand drill" && k.SetUp > 0 {
			bits[k.Setting] = true
		}
	}
	if len(bits) != 3 {
		t.Errorf("bits fitted in the hand drill: %v", bits)
	}
}

// What one setting of the drill saves is counted in what lies under it, stacks too, but for the
// first of each go.
func TestSettingsSaved(t *testing.T) {
	bus := strings.Replace(text(t, "plain/windows.yaml"), "      - cut-out", "      - drill: {side: face, dia: 1/4, named: {lamp: [1/4, 1/4]}}\n      - cut-out", 1)
	s := plan.Shop{Rack: &toy.Rack{Clamps: -1, Durations: []toy.Duration{{Name: "drill-piece", Minutes: 22.5}}}}
	p := made(t, s, plan.Options{Work: 20_000}, jobOf(t, bus, 10))
	goes := 0
	for _, k := range p.Tasks {
		if strings.HasPrefix(k.Does, "drill 1 hole in the face of 20 sides, 7 stacks") {
			goes++
		}
	}
	want := fmt.Sprintf("drill the holes in the face of all 20 sides, 7 stacks with one setting of fence and stop for each of %d goes: %s saved", goes, plan.Clock(3*(7-goes)))
	if goes < 2 || !slices.Contains(p.Advice, want) {
		t.Errorf("%d goes; advice %q", goes, p.Advice)
	}
}

// Clamps are for places: joints that lie over each other share theirs, five in a row have five times as many.
func TestClampedPlaces(t *testing.T) {
	s := plan.Shop{Rack: &toy.Rack{Clamps: 40}}
	for name, want := range map[string]int{"plain/windows.yaml": 2, "plain/log-load.yaml": 10, "plain/dolls-chair.yaml": 4} {
		p, most := made(t, s, plan.Options{Work: 20_000}, job(t, name, 1)), 0
		for _, k := range p.Tasks {
			most = max(most, k.Clamps)
		}
		if most != want {
			t.Errorf("%s: at most %d clamps on one step, not %d", name, most, want)
		}
	}
	few := plan.Shop{Rack: &toy.Rack{Clamps: 7}}
	p := made(t, few, plan.Options{Work: 20_000}, job(t, "plain/log-load.yaml", 3))
	sound(t, p, few)
	if !slices.ContainsFunc(p.Notes, func(n string) bool { return strings.Contains(n, "rubber bands") }) {
		t.Errorf("five places with 7 clamps: %q", p.Notes)
	}
}

// A round opening that a bit of the shop's makes whole is bored, as the saw list has it; what no saw
// follows is sawn with a coping saw, and said so.
func TestOpenings(t *testing.T) {
	j := job(t, "plain/windows.yaml", 1)
	bored, sawn := "", ""
	j.Model.Toy.Shop = &toy.Shop{BandSaw: &toy.Machine{}}
	for _, k := range made(t, plan.Shop{}, plan.Options{Work: 20_000}, j).Tasks {
		switch {
		case strings.HasPrefix(k.Does, "bore "):
			bored += k.Does + " with " + k.Tool + ", " + k.Setting
		case strings.Contains(k.Does, "opening") && slices.Contains(k.Deeds, "saw"):
			sawn += k.Does + " with " + k.Tool
		}
	}
	if bored != "bore 1 round opening in 2 sides, 1 stack with drill press, 5/8 in bit" || sawn != "saw out 2 openings each in 2 sides, 1 stack with coping saw" {
		t.Errorf("%q, %q", bored, sawn)
	}
}

// Who stops the search has the best plan so far, which is as sound as any and says so.
func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	s := plan.Shop{Hands: hands(0, 8)}
	start := time.Now()
	p, err := plan.Make(ctx, []plan.Job{job(t, "quay-tram.yaml", 20)}, s, plan.Options{Work: 1 << 40})
	if err != nil {
		t.Fatal(err)
	}
	sound(t, p, s)
	if len(p.Notes) == 0 || !strings.HasPrefix(p.Notes[0], "stopped before the search was done") || time.Since(start) > time.Minute {
		t.Errorf("after %v: %q", time.Since(start), p.Notes)
	}
}

// The same work on several lots that somebody does one after the other is one line, sessions have
// headings, and every task is in a line.
func TestRows(t *testing.T) {
	p := made(t, plan.Shop{Hands: hands(0, 8)}, plan.Options{Session: 180, Work: 100_000}, job(t, "quay-tram.yaml", 20))
	rows := p.Rows()
	if len(rows) > len(p.Tasks)*9/10 {
		t.Errorf("%d lines for %d tasks", len(rows), len(p.Tasks))
	}
	heads, together := 0, 0
	for _, r := range rows {
		if r.Session != "" {
			if heads++; !strings.HasPrefix(r.Session, fmt.Sprintf("Session %d of %d, day ", heads, p.Sessions)) {
				t.Errorf("heading %d is %q", heads, r.Session)
			}
		}
		if strings.Contains(r.Says, "(parts ") || strings.Contains(r.Says, "(toys ") && !strings.Contains(r.Says, "until") {
			together++
		}
	}
	if heads != p.Sessions || together == 0 {
		t.Errorf("%d headings for %d sessions, %d lines of several lots", heads, p.Sessions, together)
	}
	for _, k := range p.Tasks {
		if !slices.ContainsFunc(rows, func(r plan.Row) bool {
			return r.Begin <= k.Begin && r.Until >= k.Free && strings.HasPrefix(r.Says, k.Does) && (k.Waits() || r.Who == strings.Join(k.Hands, " + "))
		}) {
			t.Errorf("no line has %q from %s", k.Says(), plan.Clock(k.Begin))
		}
	}
	for k, r := range rows { // nobody is in two lines at once
		for _, o := range rows[:k] {
			if r.Who == o.Who && r.Who != "(wait)" && r.Begin < o.Until && o.Begin < r.Until {
				t.Errorf("%s is at %q and %q at once", r.Who, r.Says, o.Says)
			}
		}
	}
}

// A cord is tied, which is work of its own kind.
func TestCord(t *testing.T) {
	said := made(t, plan.Shop{}, plan.Options{Work: 20_000}, job(t, "plain/pull-along.yaml", 1)).Text()
	if !strings.Contains(said, "tying the cord: a child from 6, with an adult (here: adult); a knot has to hold") {
		t.Error(said)
	}
}

// Every duration of the table can be said in a shop file, and is heeded.
func TestDurations(t *testing.T) {
	schema, err := file.ShopSchema()
	if err != nil {
		t.Fatal(err)
	}
	manual, err := os.ReadFile("../../docs/toy-file.md")
	if err != nil {
		t.Fatal(err)
	}
	var said strings.Builder
	said.WriteString("dryfit: 1\nunits: mm\ndurations:\n")
	for _, d := range facts.Durations() {
		if !strings.Contains(string(schema), `"`+d.Name+`"`) || !strings.Contains(string(schema), fmt.Sprintf("; left out: %g.", d.Minutes)) {
			t.Errorf("the schema of the shop file has no %s of %g", d.Name, d.Minutes)
		}
		if !strings.Contains(string(manual), fmt.Sprintf("\n  %s: %g ", d.Name, d.Minutes)) {
			t.Errorf("the manual has no %s of %g", d.Name, d.Minutes)
		}
		fmt.Fprintf(&said, "  %s: %g\n", d.Name, 2*d.Minutes)
	}
	shop, probs := file.ReadShop(source.New("shop.yaml", said.String()))
	if len(probs) > 0 {
		t.Fatal(probs)
	}
	if len(shop.Rack.Durations) != len(facts.Durations()) {
		t.Errorf("%d durations are read of %d", len(shop.Rack.Durations), len(facts.Durations()))
	}
	j := job(t, "quay-tram.yaml", 1)
	one, twice := made(t, plan.Shop{}, plan.Options{}, j), made(t, plan.Shop{Rack: shop.Rack}, plan.Options{}, j)
	if r := float64(twice.HandsOn) / float64(one.HandsOn); r < 1.85 || r > 2.05 {
		t.Errorf("all takes twice as long: %d for %d", twice.HandsOn, one.HandsOn)
	}
	for _, bad := range []string{"hole: 0", "hole: -1", "hole: 3 mm", "hole: x", "hole: 1e9", "holes: 1"} {
		if _, probs := file.ReadShop(source.New("shop.yaml", "dryfit: 1\nunits: mm\ndurations: {"+bad+"}\n")); len(probs) == 0 {
			t.Errorf("%s is a duration", bad)
		}
	}
}

// The same plan every time.
func TestSameAgain(t *testing.T) {
	s := plan.Shop{Hands: hands(0, 8)}
	a, b := made(t, s, plan.Options{}, job(t, "quay-tram.yaml", 3)), made(t, s, plan.Options{}, job(t, "quay-tram.yaml", 3))
	if !reflect.DeepEqual(a, b) {
		t.Error("two plans of one toy differ")
	}
}

// Growth: plans of one to twenty trams are sound, and the log says how long they take.
func TestGrowth(t *testing.T) {
	if testing.Short() {
		t.Skip("plans batches of up to twenty trams")
	}
	s := plan.Shop{Hands: hands(0, 8)}
	for _, n := range []int{1, 2, 5, 10, 20} {
		j := job(t, "quay-tram.yaml", n)
		start := time.Now()
		p := made(t, s, plan.Options{Seed: 1}, j)
		took := time.Since(start)
		t.Logf("%2d trams: %3d tasks, elapsed %s, bound %s, hands on %s, set-ups %d (least %d), %.2f s", n, len(p.Tasks), plan.Clock(p.Elapsed), plan.Clock(p.Bound), plan.Clock(p.HandsOn), p.SetUps, p.LeastSet, took.Seconds())
		sound(t, p, s)
	}
}

func BenchmarkTrams(b *testing.B) {
	for _, n := range []int{1, 20} {
		j := job(b, "quay-tram.yaml", n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for range b.N {
				made(b, plan.Shop{Hands: hands(0, 8)}, plan.Options{Seed: 1}, j)
			}
		})
	}
}

// No plan of the same toys is shorter than the bound, in whatever lots they are made: each by
// itself too.
func TestBoundOfAnyLots(t *testing.T) {
	for _, years := range [][]int{{0}, {0, 8}} {
		s := plan.Shop{Hands: hands(years...)}
		for _, name := range []string{"quay-tram.yaml", "tipping-wagon.yaml"} {
			one := job(t, name, 1)
			together := one
			together.Count = 3
			apart := made(t, s, plan.Options{Work: 300_000}, one, one, one)
			batch := made(t, s, plan.Options{Work: 300_000}, together)
			if least := min(apart.Elapsed, batch.Elapsed); batch.Bound > least || batch.Bound < least*97/100 {
				t.Errorf("%s, hands %v: bound %s, and plans of %s and %s", name, years, plan.Clock(batch.Bound), plan.Clock(batch.Elapsed), plan.Clock(apart.Elapsed))
			}
		}
	}
}

// With few clamps the first glue-ups of a batch begin long before all pieces are made, and
// work goes on while glue sets.
func TestGlueEarly(t *testing.T) {
	s := plan.Shop{Hands: hands(0, 8), Rack: &toy.Rack{Clamps: 4}}
	p := made(t, s, plan.Options{Seed: 1, Work: 500_000}, job(t, "quay-tram.yaml", 20))
	glued, sawn := p.Elapsed, 0
	for _, k := range p.Tasks {
		if strings.HasPrefix(k.Does, "glue up") {
			glued = min(glued, k.Begin)
		}
		if strings.HasPrefix(k.Does, "saw out") {
			sawn = max(sawn, k.Begin)
		}
	}
	if glued > 5*60 || sawn < 5*glued || p.Elapsed > p.Bound*115/100 {
		t.Errorf("glue from %s, sawing until %s, elapsed %s, bound %s", plan.Clock(glued), plan.Clock(sawn), plan.Clock(p.Elapsed), plan.Clock(p.Bound))
	}
}

// What a flat sander does not get into is sanded by hand; nobody of age 8 works longer in one
// go than the spell, and the pause follows.
func TestSpells(t *testing.T) {
	p := made(t, plan.Shop{Hands: hands(0, 8)}, plan.Options{Work: 200_000}, job(t, "quay-tram.yaml", 5))
	until := 0
	for _, k := range p.Tasks {
		if k.Tool == "sander" && strings.Contains(k.Does, " sides") && !strings.Contains(k.Does, "side by side") {
			t.Errorf("windows at the sander: %q", k.Says())
		}
		if slices.Contains(k.Hands, "hand-1") {
			if k.Begin < until {
				t.Errorf("no pause before %q at %s", k.Says(), plan.Clock(k.Begin))
			}
			until = k.Free
			if n := k.Free - k.Begin; n <= 20 { // a quarter as long as the work, but for times rounded up
				until += max(0, int(math.Ceil(float64(n-1)/4-1)))
			}
			if n := k.Free - k.Begin; len(k.Hands) == 1 && strings.HasPrefix(k.Does, "sand") && n > 20 {
				t.Errorf("%d minutes: %q", n, k.Says())
			}
		}
	}
}

// Blanks and straight lines are sawn by the saws that the saw list has them under, and boards
// that are too thick are planed first.
func TestSawsAndBoards(t *testing.T) {
	rack := &toy.Rack{Clamps: -1, Tools: []string{"hand-saw", "hand-plane", "drill-press"},
		Boards: []toy.Plank{{Name: "rough", Wood: "beech", Form: toy.Board, Thick: measure.FromMM(22.2), Rough: true, Count: 1}}}
	saws, planed, marked, blades := map[string]bool{}, 0, 0, map[string]bool{}
	for _, k := range made(t, plan.Shop{Rack: rack}, plan.Options{Work: 100_000}, job(t, "quay-tram.yaml", 1)).Tasks {
		switch {
		case strings.Contains(k.Does, "blank") && slices.Contains(k.Deeds, "saw"), strings.Contains(k.Does, "to size"):
			saws[k.Tool] = true
		case slices.Contains(k.Deeds, "plane"):
			planed++
		case k.Step == plan.Wood:
			marked++
		case k.Tool == "band saw":
			blades[k.Setting] = true
		}
	}
	if !reflect.DeepEqual(saws, map[string]bool{"hand saw": true}) || planed != 1 || marked != 2 || !reflect.DeepEqual(blades, map[string]bool{"3/16 in blade": true}) {
		t.Errorf("blanks by %v, %d times planed, %d times marked out, blades %v", saws, planed, marked, blades)
	}
}
