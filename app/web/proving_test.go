package web

import (
	"bufio"
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"
)

// proofs reads what a window is told of proofs, a proof a call.
func (s *served) proofs(units string) func(hash string) (says string, verdicts []string) {
	s.t.Helper()
	answer, err := http.DefaultClient.Do(s.request("POST", "/stream", jsonOf(StreamArgs{"toy.yaml", units})))
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { answer.Body.Close() })
	lines := bufio.NewReader(answer.Body)
	return func(hash string) (says string, verdicts []string) {
		s.t.Helper()
		for {
			line, err := lines.ReadBytes('\n')
			if err != nil {
				s.t.Fatal(err)
			}
			var e struct {
				Findings struct {
					Hash     string
					Done     bool
					Findings []struct {
						ID, Verdict, Says string
						Notes             []string
					}
				}
			}
			if err := json.Unmarshal(line, &e); err != nil {
				s.t.Fatal(err)
			}
			if e.Findings.Hash != hash {
				continue
			}
			for _, f := range e.Findings.Findings {
				verdicts = append(verdicts, f.ID+" "+f.Verdict)
				says += f.Says + "; " + strings.Join(f.Notes, "; ") + "\n"
			}
			if e.Findings.Done {
				slices.Sort(verdicts)
				return says, verdicts
			}
		}
	}
}

// Each window has findings in its own units, with the same verdicts, also of a text that comes later.
func TestFindingsInTheUnitsOfTheWindow(t *testing.T) {
	s := serve(t)
	own, mm, inch := s.proofs(""), s.proofs("mm"), s.proofs("inch")
	st := *s.listen("toy.yaml").until("a state", stateWith("long: 60")).State
	check := func(hash string) {
		t.Helper()
		ownSays, verdicts := own(hash)
		mmSays, mmVerdicts := mm(hash)
		inchSays, inchVerdicts := inch(hash)
		// Limits that a standard gives in millimetres stay in them.
		if !strings.Contains(ownSays, "mm above the floor") || ownSays != mmSays {
			t.Errorf("as the toy has it:\n%sin mm:\n%s", ownSays, mmSays)
		}
		if !strings.Contains(inchSays, "in above the floor") || !strings.Contains(inchSays, "in² of short grain") {
			t.Errorf("in inches:\n%s", inchSays)
		}
		if len(verdicts) == 0 || !slices.Equal(verdicts, mmVerdicts) || !slices.Equal(verdicts, inchVerdicts) {
			t.Errorf("verdicts %v, in mm %v, in inches %v", verdicts, mmVerdicts, inchVerdicts)
		}
	}
	check(st.Hash)
	now, code := long(s, st.Hash, "70")
	if code != http.StatusOK {
		t.Fatal(code)
	}
	check(now.Hash)
	if code, body := s.post("/stream", jsonOf(StreamArgs{"toy.yaml", "cubit"})); code != http.StatusBadRequest || !strings.Contains(body, "expected inch or mm") {
		t.Errorf("%d %s", code, body)
	}
}

// What is typed in inches is written so that a file in millimetres means it.
func TestWordsOfTheOtherUnit(t *testing.T) {
	s := serve(t)
	typed := []string{"1 1/2", "long - 1/8", "long / 2", "12 mm", "0"}
	for units, want := range map[string][]string{"inch": {"1 1/2 in", "long - 1/8 in", "long / 2", "12 mm", "0"}, "mm": typed} {
		got, code := ask[Words](s, "word", WordArgs{"toy.yaml", units, typed})
		if code != http.StatusOK || !slices.Equal(got.Texts, want) {
			t.Errorf("%s: %d %q, want %q", units, code, got.Texts, want)
		}
	}
	if _, code := ask[Words](s, "word", WordArgs{"toy.yaml", "", typed}); code != http.StatusBadRequest {
		t.Errorf("no units: %d", code)
	}
}
