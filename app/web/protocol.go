package web

import (
	"context"

	"dryfit/app"
	"dryfit/app/page"
	"dryfit/measure/source"
	"dryfit/prove"
	"dryfit/toy/file/tree"
)

// The protocol: what a page may call and what it is told. `go generate` makes
// ../ui/src/protocol.ts of these types; a test sees that it is up to date.

// Call is one thing that a page may ask for: POST /call/NAME with its arguments as JSON, its
// answer as JSON.
type call struct {
	name, says   string
	args, answer any // of which type they are
	run          func(ctx context.Context, s *Server, body []byte) (any, error)
}

// State is the text of a toy and what was done to it.
type State struct {
	File     string           `json:"file"`
	N        int64            `json:"n"` // grows with each state of a toy: tells the later of two
	Hash     string           `json:"hash"`
	Text     string           `json:"text"`
	Undo     string           `json:"undo"` // what would be undone, in words; empty: nothing
	Redo     string           `json:"redo"`
	Unsaved  string           `json:"unsaved"` // why the file does not have this text; empty: it has
	Forgets  string           `json:"forgets"` // why this cannot be undone after a restart; empty: it can
	Lost     int              `json:"lost"`    // how many changes before all that can be undone are no longer kept
	Gone     bool             `json:"gone"`    // the file has been taken away
	Other    *string          `json:"other"`   // what another program wrote at the same time, waiting for a choice
	Problems []source.Problem `json:"problems"`
}

// Stepped is what undoing and doing again answer.
type Stepped struct {
	State State  `json:"state"`
	Done  string `json:"done"` // what was undone or done again, in words; empty: there was nothing
}

// Event is one thing that a page is told: one of its members is there.
type Event struct {
	State    *State         `json:"state,omitempty"`
	Toy      *page.Toy      `json:"toy,omitempty"`
	Builds   *page.Builds   `json:"builds,omitempty"`
	Findings *page.Findings `json:"findings,omitempty"`
	Scene    *page.Scene    `json:"scene,omitempty"`
	Apart    *Apart         `json:"apart,omitempty"`
	Shelf    *Shelf         `json:"shelf,omitempty"`
}

// Apart is how a toy comes apart.
type Apart struct {
	Hash string     `json:"hash"`
	Legs []page.Leg `json:"legs"`
}

// Shelf is the toys of the folder.
type Shelf struct {
	Folder string `json:"folder"`
	Toys   []Card `json:"toys"`
}

// Card is a toy on the shelf.
type Card struct {
	File     string           `json:"file"`
	Name     string           `json:"name"`
	Edition  int              `json:"edition"`
	Ages     string           `json:"ages"`
	Pieces   int              `json:"pieces"`
	Verdict  string           `json:"verdict"` // empty: not proved yet
	Fails    int              `json:"fails"`
	Minds    int              `json:"minds"`
	Untold   int              `json:"untold"`
	Hash     string           `json:"hash"`
	Problems []source.Problem `json:"problems"`
}

// Failure is the answer to a call that failed.
type Failure struct {
	Says  string `json:"says"`
	State *State `json:"state,omitempty"` // of a toy that has changed meanwhile
}

// ToyArgs names a toy of the folder.
type ToyArgs struct {
	File string `json:"file"`
}

// ChangeArgs is a wish for a toy: edits, or a whole text.
type ChangeArgs struct {
	File   string      `json:"file"`
	Base   string      `json:"base"` // hash of the text that it is made for
	Edits  []tree.Edit `json:"edits"`
	Text   *string     `json:"text,omitempty"`
	Intent string      `json:"intent"` // in words, for undo
	Group  string      `json:"group"`  // changes of one group that follow each other are undone as one
}

// ChooseArgs ends a conflict.
type ChooseArgs struct {
	File   string `json:"file"`
	Choice string `json:"choice"` // here, there, apart
}

// NameArgs is for what gets another name.
type NameArgs struct {
	File string `json:"file"`
	To   string `json:"to"`
}

// AsideArgs is a file that was put aside, and the name that it had.
type AsideArgs struct {
	At   string `json:"at"`
	File string `json:"file"`
}

// CreateArgs makes a toy: of a text, or a new one of a few answers.
type CreateArgs struct {
	Name string  `json:"name"`
	Text *string `json:"text,omitempty"`
	Inch bool    `json:"inch"`

	app.Answers
}

// MendArgs asks for the value of one size at which a finding holds.
type MendArgs struct {
	File  string `json:"file"`
	Check string `json:"check"`
	About string `json:"about"`
	Units string `json:"units"` // that its values are shown in: inch or mm; "": as the toy has them
}

// Mended is what such a search found.
type Mended struct {
	Found bool         `json:"found"`
	Says  string       `json:"says"`
	Mends []prove.Mend `json:"mends"`
	From  string       `json:"from"` // the value of the first, as it is shown
	To    string       `json:"to"`
}

// WhyArgs asks for the page on a check.
type WhyArgs struct {
	Check string `json:"check"`
}

// Why is that page.
type Why struct {
	Text string `json:"text"`
}

// None is no arguments or no answer.
type None struct{}
