package page

import (
	"context"
	"fmt"
	"time"

	"dryfit/app"
	"dryfit/shop/boards"
)

// LayoutPage is where the pieces of some toys lie on boards.
type LayoutPage struct {
	Hash    string      `json:"hash"`
	Run     int         `json:"run"` // what it goes by where it is downloaded
	Title   string      `json:"title"`
	Margins string      `json:"margins"`
	Whole   bool        `json:"whole"` // all pieces have a place
	Notes   []string    `json:"notes"`
	Stocks  []LaidStock `json:"stocks"`
	Unused  []string    `json:"unused"`
	Sheets  []SheetPage `json:"sheets"`
}

// LaidStock is one wood of one thickness.
type LaidStock struct {
	Name   string      `json:"name"`
	Says   string      `json:"says"`
	Short  []string    `json:"short"`
	Buy    []string    `json:"buy"`
	Notes  []string    `json:"notes"`
	Boards []LaidBoard `json:"boards"`
}

// LaidBoard is a board with pieces on it.
type LaidBoard struct {
	Name  string     `json:"name"`
	About string     `json:"about"`
	Heads []string   `json:"heads"`
	Rows  [][]string `json:"rows"` // where each piece lies
}

// MostSeconds is how long a layout is sought at most.
const MostSeconds = 3600

// layoutHands is how many searches go side by side: one machine works for one user, who goes on
// with other pages meanwhile.
const layoutHands = 2

// Laid is a layout that was found.
type Laid struct {
	job  *Job
	plan *boards.Plan
}

// LayoutOf seeks a layout for so many seconds and hands on each that is better than those before.
func LayoutOf(ctx context.Context, j *Job, count int, seconds float64, found func(*Laid)) error {
	of, err := j.making(count)
	if err != nil {
		return err
	}
	if !(seconds > 0) || seconds > MostSeconds {
		return fmt.Errorf("%g seconds: expected more than 0, and up to %d", seconds, MostSeconds)
	}
	e := boards.Effort{Seed: 1, Hands: layoutHands, Time: time.Duration(seconds * float64(time.Second))}
	_, err = app.BetterLayouts(ctx, of, j.Shop, e, func(p *boards.Plan) { found(&Laid{j, p}) })
	return err
}

// File draws a layout as pdf or svg.
func (l *Laid) File(format string, on Print) ([]byte, error) {
	return app.DrawLayout(l.plan, format, l.job.On(on, nil))
}

// Page is a layout in words and pages.
func (l *Laid) Page(on Print) (LayoutPage, error) {
	j, p := l.job, l.plan
	sheets, err := app.LayoutSheets(p, j.On(on, nil))
	if err != nil {
		return LayoutPage{}, err
	}
	out := LayoutPage{Hash: j.Hash, Title: p.Heading(), Margins: p.Margins(), Whole: p.Whole, Notes: append([]string{}, p.Notes...), Unused: append([]string{}, p.Unused...), Stocks: []LaidStock{}, Sheets: sheetPages(sheets)}
	for i := range p.Stocks {
		s := &p.Stocks[i]
		st := LaidStock{Name: p.Name(s), Says: p.Says(s), Short: append([]string{}, p.Shorts(s)...), Buy: append([]string{}, p.Buys(s)...), Notes: append([]string{}, s.Notes...), Boards: []LaidBoard{}}
		for k := range s.Boards {
			b := &s.Boards[k]
			heads, rows := app.LayoutTable(p, b)
			st.Boards = append(st.Boards, LaidBoard{Name: b.Name, About: p.About(b), Heads: heads, Rows: rows})
		}
		out.Stocks = append(out.Stocks, st)
	}
	return out, nil
}
