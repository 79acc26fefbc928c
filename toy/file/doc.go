package file

import (
	"dryfit/toy/file/shape"
)

// The types of this file are the grammar of the toy file: what may be written,
// key by key. The JSON Schema and the reference tables in docs/toy-file.md are
// made from them.

// doc is the whole file.
type doc struct {
	shape.Place
	Dryfit  shape.Count         `key:"dryfit" need:"yes" most:"1000" says:"The version of the toy file: 1."`
	Toy     shape.Text          `key:"toy" need:"yes" says:"The name of the toy."`
	Units   shape.Word          `key:"units" need:"yes" oneof:"inch|mm" says:"What a number without a unit is."`
	Ages    shape.Text          `key:"ages" says:"Whom it is for: '3 and up' (years), '18 months and up'. Left out: 3 and up."`
	Edition shape.Count         `key:"edition" most:"10000" says:"The number of this edition, printed on every page; left out: not published yet."`
	Licence shape.Text          `key:"licence" says:"What others may do with the design, printed on every page."`
	Cover   *cover              `key:"cover" says:"What the designer puts on the first page of the guide."`
	Note    shape.Text          `key:"note" says:"Anything the maker wants to say."`
	Ease    shape.Formula       `key:"ease" says:"How much every arris is rubbed over by hand."`
	Sizes   shape.Named[sizeOf] `key:"sizes" says:"Named sizes; formulas may use each other in any order."`
	Stock   shape.Named[stock]  `key:"stock" need:"yes" says:"What the blanks come from."`
	Parts   shape.Named[part]   `key:"parts" need:"yes" says:"Each part is a blank with its work."`
	GlueUps shape.Named[glueUp] `key:"glue-ups" says:"Parts glued into one piece that then gets work of its own."`
	Build   []step              `key:"build" need:"yes" says:"The pieces and how they sit on each other, in the order they are put together."`
	Finish  shape.Text          `key:"finish" says:"What goes on the wood: mineral oil, shellac, paint; left out: not said."`
	Cord    *cord               `key:"cord" says:"The cord it is pulled by."`
	Shop    *shop               `key:"shop" says:"The tools there are; left out: usual ones."`
	Climate shape.Text          `key:"climate" says:"The year it lives in, as heated-room..damp-summer: see the manual; left out: that one."`
	Must    []must              `key:"must" says:"What the toy is required to do."`
	Waive   []waiver            `key:"waive" says:"Findings that the designer has judged, each with the reason."`
}

type sizeOf = shape.Formula

type stock struct {
	shape.Place
	Wood    shape.Text    `key:"wood" need:"yes" says:"The wood by its trade name."`
	Form    shape.Word    `key:"form" need:"yes" oneof:"board|sheet|dowel|ball" says:"What it looks like when bought."`
	Thick   shape.Formula `key:"thick" says:"Thickness of a board or sheet."`
	Dia     shape.Formula `key:"dia" says:"Diameter of a dowel or ball."`
	Sawn    shape.Word    `key:"sawn" oneof:"flat|quarter" says:"How a board's growth rings lie: along its face (flat) or across its thickness (quarter); left out: not known."`
	Longest shape.Formula `key:"longest" says:"The longest piece to be had."`
}

type cover struct {
	shape.Place
	Photo   shape.Text `key:"photo" says:"A photograph of the toy, JPEG or PNG: a file beside this one, or in a folder beside it."`
	Message shape.Text `key:"message" says:"What the designer says to whoever builds it."`
	Link    shape.Text `key:"link" says:"The designer's web address, from https:// on."`
}

type cord struct {
	shape.Place
	From   shape.Text    `key:"from" need:"yes" says:"The hole it is tied in."`
	Length shape.Formula `key:"length" need:"yes" says:"Its free length."`
	End    shape.Word    `key:"end" oneof:"plain|knot|bead|loop" says:"What is at the hand's end; left out: plain."`
}

type part struct {
	shape.Place
	From    shape.Word      `key:"from" pick:"one" says:"The stock it comes from."`
	Mirrors shape.Word      `key:"mirrors" pick:"one" says:"The part that it is the mirror image of, across the width; it has no other keys then but lies and spare."`
	Blank   []shape.Formula `key:"blank" says:"Length (along the grain) and width of a squared blank; the thickness is the stock's."`
	Disc    shape.Formula   `key:"disc" says:"Diameter of a round piece sawn from a board or sheet: a wheel."`
	Bore    shape.Formula   `key:"bore" says:"Diameter of the hole through the middle of a disc."`
	Length  shape.Formula   `key:"length" says:"Length of a piece of dowel; left out, it follows from the build."`
	Made    shape.Word      `key:"made" oneof:"sawn|hole-saw|turned|bought" says:"How a disc is made."`
	Lies    *lies           `key:"lies" says:"How the blank is laid; left out: length forward, face up; of a mirror image: the other's, left and right changed over."`
	Work    []work          `key:"work" says:"What is done to the blank, in order."`
	Spare   shape.Count     `key:"spare" most:"100" says:"How many more than needed to make."`
}

type lies struct {
	shape.Place
	Length  shape.Word `key:"length" need:"yes" oneof:"forward|back|left|right|up|down" says:"Which way its length points."`
	Up      shape.Word `key:"up" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side of the blank that faces up."`
	Down    shape.Word `key:"down" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side that faces down."`
	Left    shape.Word `key:"left" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side that faces left."`
	Right   shape.Word `key:"right" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side that faces right."`
	Forward shape.Word `key:"forward" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side that faces forward."`
	Back    shape.Word `key:"back" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side that faces back."`
	Lean    *lean      `key:"lean" says:"A turn out of square, about one axis."`
}

type lean struct {
	shape.Place
	About shape.Word    `key:"about" need:"yes" oneof:"forward|back|left|right|up|down" says:"The axis of the turn, right-handed."`
	By    shape.Formula `key:"by" need:"yes" says:"The angle."`
}

type work struct {
	shape.Place
	Drill   *drill   `key:"drill" pick:"one" says:"Bore round holes."`
	Saw     *saw     `key:"saw" pick:"one" says:"Saw along an outline and keep what is inside."`
	CutOut  *cut     `key:"cut-out" pick:"one" says:"Take out what is inside an outline: pierced first."`
	CutIn   *cut     `key:"cut-in" pick:"one" says:"Take away what is inside an outline, sawn in from an edge: a wheel well."`
	Notch   *notch   `key:"notch" pick:"one" says:"Take a rectangle out of an edge or corner."`
	Groove  *groove  `key:"groove" pick:"one" says:"Plough a straight groove."`
	Round   *arris   `key:"round" pick:"one" says:"Round arrises."`
	Chamfer *arris   `key:"chamfer" pick:"one" says:"Chamfer arrises."`
	Flush   *flushTo `key:"sand-flush" pick:"one" says:"Sand what stands proud down to one piece of a glue-up."`
}

type drill struct {
	shape.Place
	Side   shape.Word             `key:"side" need:"yes" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side it starts from."`
	Dia    shape.Formula          `key:"dia" need:"yes" says:"Diameter of the hole."`
	At     [][]shape.Formula      `key:"at" says:"Hole centres, from the lower left corner of the side; middle stands for half the side."`
	Named  shape.Named[pointList] `key:"named" says:"Hole centres that the build refers to by name."`
	Row    *row                   `key:"row" says:"Holes in a row."`
	Depth  shape.Formula          `key:"depth" says:"Depth to the full diameter; left out: through."`
	Lean   *leanIn                `key:"lean" says:"The hole leans off square."`
	Bigger *counter               `key:"counterbore" says:"A wider hole at the mouth."`
}

type pointList = []shape.Formula

type row struct {
	shape.Place
	From  []shape.Formula `key:"from" need:"yes" says:"The first centre."`
	Step  []shape.Formula `key:"step" need:"yes" says:"From each centre to the next."`
	Count shape.Count     `key:"count" need:"yes" most:"200" says:"How many holes."`
	Name  shape.Word      `key:"name" says:"The holes are named name-1, name-2 and so on."`
}

type leanIn struct {
	shape.Place
	Toward shape.Word    `key:"toward" need:"yes" oneof:"right|left|up|down" says:"Which way the hole goes as it deepens, seen from outside."`
	By     shape.Formula `key:"by" need:"yes" says:"The angle off square."`
}

type counter struct {
	shape.Place
	Dia   shape.Formula `key:"dia" need:"yes" says:"Diameter."`
	Depth shape.Formula `key:"depth" need:"yes" says:"Depth."`
}

type saw struct {
	shape.Place
	Side    shape.Word `key:"side" need:"yes" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side the outline is drawn on."`
	Outline outline    `key:"outline" need:"yes" says:"The line to saw."`
}

type cut struct {
	shape.Place
	Side    shape.Word    `key:"side" need:"yes" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side the outline is drawn on."`
	Outline outline       `key:"outline" need:"yes" says:"The line to saw."`
	Depth   shape.Formula `key:"depth" says:"How deep; left out: right through."`
}

type notch struct {
	shape.Place
	Side  shape.Word      `key:"side" need:"yes" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side it is drawn on."`
	At    []shape.Formula `key:"at" need:"yes" says:"Its lower left corner."`
	Size  []shape.Formula `key:"size" need:"yes" says:"Its width and height."`
	Depth shape.Formula   `key:"depth" says:"How deep; left out: right through."`
}

type groove struct {
	shape.Place
	Side  shape.Word      `key:"side" need:"yes" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side it is ploughed in."`
	From  []shape.Formula `key:"from" need:"yes" says:"Where its middle line starts."`
	To    []shape.Formula `key:"to" need:"yes" says:"Where its middle line ends."`
	Wide  shape.Formula   `key:"wide" need:"yes" says:"Its width."`
	Depth shape.Formula   `key:"depth" need:"yes" says:"Its depth."`
}

type arris struct {
	shape.Place
	By    shape.Formula  `key:"by" need:"yes" says:"Radius of the round, or width of the chamfer."`
	Along [][]shape.Word `key:"along" says:"Which arrises: pairs of sides, as [top, front]; left out: all."`
}

type flushTo struct {
	shape.Place
	Side shape.Word `key:"side" need:"yes" oneof:"face|other-face|edge|other-edge|end|other-end|top|bottom|right|left|front|back" says:"The side that is sanded."`
	With shape.Word `key:"with" need:"yes" says:"The piece that is not to lose any wood."`
}

type glueUp struct {
	shape.Place
	Pieces []put  `key:"pieces" need:"yes" says:"What is glued; the first one gives the frame."`
	Work   []work `key:"work" says:"What is done once the glue has set."`
}

type put struct {
	shape.Place
	Put    shape.Word              `key:"put" need:"yes" says:"A part, or in the build a glue-up."`
	As     shape.Word              `key:"as" says:"A name of its own for this piece."`
	Sits   shape.Named[shape.Text] `key:"sits" says:"Where it goes, a direction a line: its own side, middle (or middle-along, middle-across, middle-up), hole, flat or point, and what that meets."`
	Lies   *lies                   `key:"lies" says:"Laid otherwise than the part says."`
	Glued  shape.Flag              `key:"glued" says:"Glued to what it sits against."`
	GlueTo []shape.Text            `key:"glue-to" says:"Glued to these pieces."`
	Keyed  shape.Text              `key:"keyed-by" says:"The piece that keeps it in place while the glue sets."`
	Leave  shape.Word              `key:"may-leave-out" says:"A group that a builder may leave out."`
	Saddle *saddle                 `key:"saddle" says:"It straddles another piece."`
	Slot   *saddle                 `key:"slot" says:"It goes into a slot of another piece."`
}

type saddle struct {
	shape.Place
	Over   shape.Text `key:"over" need:"yes" says:"The other piece."`
	Across shape.Word `key:"across" need:"yes" oneof:"forward|back|left|right|up|down" says:"The direction in which the two are fitted."`
	Fit    shape.Word `key:"fit" need:"yes" oneof:"running|glued" says:"Free to slide, or glued."`
}

type step struct {
	shape.Place
	put    *put
	wheels *wheels
	peg    *peg
	hinge  *hinge
}

type wheels struct {
	shape.Place
	In      shape.OneOrMany[shape.Text] `key:"in" need:"yes" says:"The hole, or the holes in line, that the axle runs in."`
	Axle    shape.Word                  `key:"axle" need:"yes" says:"The part that is the axle: a piece of dowel."`
	Outward []shape.Word                `key:"outward" need:"yes" says:"The wheels at each end from the body outward; gap stands for the space between twins."`
	Length  shape.Formula               `key:"length" says:"Length of the axle."`
	Proud   shape.Formula               `key:"proud" says:"How far the axle stands out of the outer wheel."`
	Play    shape.Formula               `key:"play" says:"Room between body and wheel, at each side."`
	Gap     shape.Formula               `key:"gap" says:"The space between twin wheels."`
	Leave   shape.Word                  `key:"may-leave-out" says:"A group that a builder may leave out."`
}

type peg struct {
	shape.Place
	Use    shape.Word                  `key:"use" need:"yes" says:"The part: a piece of dowel."`
	As     shape.Word                  `key:"as" says:"A name of its own for this piece."`
	In     shape.OneOrMany[shape.Text] `key:"in" need:"yes" says:"The holes it is glued into, in line."`
	Proud  shape.Formula               `key:"proud" says:"How far it stands out of the last hole."`
	Length shape.Formula               `key:"length" says:"Its length; left out, it fills the holes."`
	Leave  shape.Word                  `key:"may-leave-out" says:"A group that a builder may leave out."`
}

type hinge struct {
	shape.Place
	Name     shape.Word                  `key:"name" need:"yes" says:"What the hinge is called."`
	Pin      shape.Word                  `key:"pin" need:"yes" says:"The part that is the pin: a piece of dowel."`
	As       shape.Word                  `key:"as" says:"A name of its own for the pin; left out, that of the hinge and the part."`
	Fixed    shape.OneOrMany[shape.Text] `key:"fixed" need:"yes" says:"The holes that the pin is glued into."`
	Runs     shape.OneOrMany[shape.Text] `key:"runs" need:"yes" says:"The holes that turn on the pin."`
	Proud    shape.Formula               `key:"proud" says:"How far the pin stands out at its running end."`
	Length   shape.Formula               `key:"length" says:"Length of the pin; left out, it fills the holes."`
	Leave    shape.Word                  `key:"may-leave-out" says:"A group that a builder may leave out."`
	LiftsOff shape.Flag                  `key:"lifts-off" says:"Whether the two come apart along the pin."`
}

// must is the word rolls, or a mustMap.
type must struct {
	shape.Place
	Rolls                 bool
	Swings                shape.Word
	Least, Stands, Clears shape.Formula
	Turns                 shape.Formula
	Each                  shape.Flag
}

type mustMap struct {
	shape.Place
	Swings shape.Word    `key:"swings" pick:"one" says:"A hinge that must swing."`
	Least  shape.Formula `key:"at-least" says:"By this angle."`
	Each   shape.Flag    `key:"each-way" says:"To both sides, not just to one."`
	Stands shape.Formula `key:"stands-on-slope" pick:"one" says:"It stands on a slope of this angle, whichever way it faces."`
	Clears shape.Formula `key:"clears-floor" pick:"one" says:"Everything but the wheels is this far above the floor."`
	Turns  shape.Formula `key:"turns-in" pick:"one" says:"It goes round, either way, in a circle of this diameter, measured over all of it."`
}

type waiver struct {
	shape.Place
	Check  shape.Text `key:"check" need:"yes" says:"The check, as prove names it."`
	About  shape.Text `key:"about" need:"yes" says:"What the finding is about, as prove names it."`
	Reason shape.Text `key:"reason" need:"yes" says:"Why it is all right; printed with the finding."`
}
