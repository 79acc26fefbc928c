// Made from the Go side by `go test ./app/web -run Golden -update`; not to be edited.

export interface Bytes {
  Start: number;
  End: number;
}

export interface Edit {
  op: string;
  path?: string;
  value?: string;
  to?: string;
  as?: string;
  hash?: string;
  bytes?: Bytes;
}

export interface ChangeArgs {
  file: string;
  base: string;
  edits: Edit[];
  text?: string;
  intent: string;
  group: string;
}

export interface Problem {
  code: string;
  says: string;
  file: string;
  line: number;
  col: number;
  expected?: string;
  nearest?: string;
  excerpt?: string;
}

export interface State {
  file: string;
  n: number;
  hash: string;
  text: string;
  undo: string;
  redo: string;
  unsaved: string;
  forgets: string;
  lost: number;
  gone: boolean;
  other: string | null;
  problems: Problem[];
}

export interface NamingArgs {
  file: string;
  what: string;
  to: string;
}

export interface Shift {
  path: string;
  by: number;
}

export interface ShiftArgs {
  file: string;
  base: string;
  shifts: Shift[];
  intent: string;
  group: string;
}

export interface WordArgs {
  file: string;
  units: string;
  texts: string[];
}

export interface Words {
  texts: string[];
}

export interface GlueArgs {
  file: string;
  base: string;
  first: number;
  second: number;
  name: string;
}

export interface TraceArgs {
  drawing: string;
  units: string;
  as: string;
}

export interface Traced {
  name: string;
  layer: string;
  holder: string;
  width: number;
  height: number;
  says: string;
}

export interface Traces {
  lines: Traced[];
  notes: string[];
}

export interface ToyArgs {
  file: string;
}

export interface Stepped {
  state: State;
  done: string;
}

export interface ChooseArgs {
  file: string;
  choice: string;
}

export interface CreateArgs {
  name: string;
  text?: string;
  inch: boolean;
  axles: number;
  length: string;
  hitched: boolean;
  board: string;
  dowel: string;
}

export interface NameArgs {
  file: string;
  to: string;
}

export interface AsideArgs {
  at: string;
  file: string;
}

export interface None {
}

export interface Schema {
  text: string;
}

export interface MendArgs {
  file: string;
  check: string;
  about: string;
  units: string;
}

export interface Mend {
  size: string;
  from: string;
  to: string;
}

export interface Mended {
  found: boolean;
  says: string;
  mends: Mend[];
  from: string;
  to: string;
}

export interface WhyArgs {
  check: string;
}

export interface Why {
  text: string;
}

export interface ShopFile {
  file: string;
  hash: string;
  fails: string;
}

export interface Shops {
  shops: ShopFile[];
}

export interface JobArgs {
  file: string;
  hash: string;
  shop: string;
  units: string;
  count: number;
}

export interface ListHead {
  says: string;
  counts: boolean;
}

export interface ListBlock {
  kind: string;
  says: string;
  heads: ListHead[];
  rows: string[][];
}

export interface ListSection {
  title: string;
  blocks: ListBlock[];
}

export interface StockPage {
  hash: string;
  units: string;
  shop: string;
  title: string;
  known: boolean;
  short: string[];
  head: ListBlock[];
  sections: ListSection[];
}

export interface GuideMeasure {
  of: string;
  what: string;
  is: string;
}

export interface GuideStep {
  number: number;
  title: string;
  does: string[];
  measures: GuideMeasure[];
  minds: string[];
  who: string;
  dry: string;
  drawn: boolean;
}

export interface GuideChapter {
  title: string;
  says: string;
  steps: GuideStep[];
}

export interface GuideCheck {
  what: string;
  is: string;
}

export interface StepsPage {
  hash: string;
  unproved: string;
  who: string[];
  chapters: GuideChapter[];
  checks: GuideCheck[];
  minds: string;
  wait: string;
}

export interface Ways {
  hands: string;
  session: string;
}

export interface PlanArgs {
  file: string;
  hash: string;
  shop: string;
  units: string;
  count: number;
  ways: Ways;
}

export interface PlanHand {
  name: string;
  years: number;
  handsOn: string;
}

export interface PlanTask {
  step: number;
  place: string;
  day: number;
  begin: string;
  until: string;
  says: string;
  with: string;
  hands: string;
  why: string;
  then: string;
}

export interface PlanWho {
  says: string;
  source: string;
}

export interface PlanPage {
  hash: string;
  title: string;
  elapsed: string;
  handsOn: string;
  sessions: number;
  sums: string[];
  hands: PlanHand[];
  tasks: PlanTask[];
  who: PlanWho[];
  advice: string[];
  notes: string[];
  chart: string;
}

export interface Print {
  paper: string;
  margin: string;
  correctX: number;
  correctY: number;
}

export interface PatternsArgs {
  file: string;
  hash: string;
  shop: string;
  units: string;
  count: number;
  print: Print;
}

export interface SheetPage {
  title: string;
  svg: string;
  wide: number;
  high: number;
}

export interface PatternsPage {
  hash: string;
  paper: string;
  papers: string[];
  says: string;
  sheets: SheetPage[];
}

export interface AdaptWish {
  stock: string;
  dowel: string;
  wheel: string;
  units: string;
  scale: number;
  mend: boolean;
}

export interface AdaptArgs {
  file: string;
  hash: string;
  shop: string;
  units: string;
  count: number;
  wish: AdaptWish;
}

export interface AdaptPage {
  hash: string;
  says: string;
  holds: boolean;
  text: string;
}

export interface CompareArgs {
  file: string;
  hash: string;
  shop: string;
  units: string;
  count: number;
  with: string;
}

export interface ComparePage {
  hash: string;
  with: string;
  says: string;
  svg: string;
}

export interface StepArgs {
  file: string;
  hash: string;
  shop: string;
  units: string;
  count: number;
  step: number;
}

export interface FileWish {
  what: string;
  format: string;
  view: string;
  count: number;
  ways: Ways;
  print: Print;
}

export interface FileArgs {
  file: string;
  hash: string;
  shop: string;
  units: string;
  count: number;
  wish: FileWish;
  run: number;
}

export interface Field {
  name: string;
  path: string;
  text: string;
  said: string;
  mm: number | null;
  plain: boolean;
}

export interface Size {
  name: string;
  path: string;
  text: string;
  said: string;
  says: string;
  mm: number | null;
  parts: string[];
}

export interface Stock {
  name: string;
  wood: string;
  form: string;
  size: number;
  text: string;
}

export interface Hole {
  name: string;
  x: Field;
  y: Field;
  path: string;
  dia: number;
}

export interface Corner {
  path: string;
  x: Field;
  y: Field;
  radius: Field | null;
  arc: Field[];
}

export interface Work {
  path: string;
  kind: string;
  side: string;
  says: string;
  fields: Field[];
  holes: Hole[];
  line: string;
  corners: Corner[];
  list: string;
  mirror: string;
}

export interface Part {
  name: string;
  path: string;
  shape: string;
  stock: string;
  mirrors: string;
  size: [number, number, number];
  pieces: string[];
  fields: Field[];
  work: Work[];
  inside: string[];
  users: string[];
}

export interface Toy {
  hash: string;
  name: string;
  units: string;
  edition: number;
  ages: string;
  about: Field[];
  sizes: Size[];
  stock: Stock[];
  parts: Part[];
}

export interface WordList {
  name: string;
  path: string;
  items: string[];
  of: string;
}

export interface BuildSit {
  own: string;
  path: string;
  text: string;
  piece: string;
  feature: string;
  off: string;
  said: string;
  mm: number | null;
  axes: number[];
}

export interface BuildLies {
  path: string;
  said: boolean;
  length: string;
  way: string;
  side: string;
}

export interface Flag {
  name: string;
  path: string;
  said: boolean;
  yes: boolean;
}

export interface BuildStep {
  path: string;
  kind: string;
  ids: string[];
  part: string;
  partPath: string;
  says: string;
  lines: [number, number];
  body: string;
  fields: Field[];
  words: WordList[];
  sits: BuildSit[];
  lies: BuildLies | null;
  yes: Flag[];
  glueTo: string[];
}

export interface SeatSpot {
  name: string;
  kind: string;
  faces: string;
  at: number;
}

export interface Seat {
  id: string;
  part: string;
  step: number;
  low: [number, number, number];
  high: [number, number, number];
  features: SeatSpot[];
}

export interface Build {
  glueUp: string;
  path: string;
  steps: BuildStep[];
  seats: Seat[];
}

export interface Builds {
  hash: string;
  lists: Build[];
}

export interface Place {
  piece: string;
  feature: string;
  at_mm: [number, number, number];
  line: number;
  col: number;
}

export interface Finding {
  id: string;
  check: string;
  about: string;
  verdict: string;
  value: number | null;
  unit: string;
  limit: number | null;
  limit_op: string;
  limit_source: string;
  margin: number | null;
  says: string;
  notes: string[];
  places: Place[];
  mend?: Mend[];
}

export interface NotAsked {
  check: string;
  why: string;
}

export interface Findings {
  hash: string;
  checks: string[];
  findings: Finding[];
  quick: boolean;
  done: boolean;
  verdict: string;
  pieces: number;
  massKg: number;
  notAsked: NotAsked[];
}

export interface Mesh {
  key: string;
  size: [number, number, number];
  corners: string;
  triangles: string;
  faces: string;
  edges: string;
}

export interface Piece {
  id: string;
  part: string;
  shape: string;
  pose: [number, number, number, number, number, number, number, number, number, number, number, number];
  wood: string;
  sheet: boolean;
  colour: [number, number, number];
  body: number;
}

export interface Stop {
  piece: string;
  by: string;
  at: [number, number, number];
}

export interface Body {
  name: string;
  on: number;
  kind: string;
  at: [number, number, number];
  axis: [number, number, number];
  low: number;
  high: number;
  stops: [Stop, Stop];
  radius: number;
}

export interface Scene {
  hash: string;
  meshes: Mesh[];
  pieces: Piece[];
  bodies: Body[];
  leads: number;
  floor: number;
  low: [number, number, number];
  high: [number, number, number];
}

export interface Leg {
  pieces: number[];
  with: number[];
  out: ([number, number, number])[];
}

export interface Apart {
  hash: string;
  legs: Leg[];
}

export interface Card {
  file: string;
  name: string;
  edition: number;
  ages: string;
  pieces: number;
  verdict: string;
  fails: number;
  minds: number;
  untold: number;
  hash: string;
  problems: Problem[];
}

export interface Shelf {
  folder: string;
  toys: Card[];
}

export interface Event {
  state?: State;
  toy?: Toy;
  builds?: Builds;
  findings?: Findings;
  scene?: Scene;
  apart?: Apart;
  shelf?: Shelf;
}

export interface Failure {
  says: string;
  state?: State;
}

export interface StreamArgs {
  file: string;
  units: string;
}

export interface LayoutArgs {
  file: string;
  hash: string;
  shop: string;
  units: string;
  count: number;
  seconds: number;
  print: Print;
}

export interface LaidBoard {
  name: string;
  about: string;
  heads: string[];
  rows: string[][];
}

export interface LaidStock {
  name: string;
  says: string;
  short: string[];
  buy: string[];
  notes: string[];
  boards: LaidBoard[];
}

export interface LayoutPage {
  hash: string;
  run: number;
  title: string;
  margins: string;
  whole: boolean;
  notes: string[];
  stocks: LaidStock[];
  unused: string[];
  sheets: SheetPage[];
}

export interface LayoutEvent {
  found?: LayoutPage;
  done?: boolean;
  fails?: string;
}

export interface BuildsArgs {
  file: string;
  hash: string;
  shop: string;
  units: string;
  count: number;
  skill: string;
  builds: number;
}

export interface ShareShown {
  of: number;
  low: number;
  high: number;
}

export interface Failing {
  id: string;
  check: string;
  about: string;
  fails: ShareShown;
  says: string;
}

export interface BuildsPage {
  hash: string;
  skill: string;
  says: string;
  builds: number;
  works: ShareShown;
  things: Failing[];
  loosen: string;
  care: string[];
  spreads: string[];
  whole: boolean;
}

export interface BuildsEvent {
  found?: BuildsPage;
  done?: boolean;
  fails?: string;
}

/** What may be called: POST /call/NAME. */
export interface Calls {
  /** Changes a toy: edits of its file, or a whole text. */
  change: { args: ChangeArgs; answer: State };
  /** Gives a size, stock, part, glue-up, piece or hinge another name, wherever the file speaks of it. */
  name: { args: NamingArgs; answer: State };
  /** Moves places, keeping the formulas that they are written as. */
  shift: { args: ShiftArgs; answer: State };
  /** Says lengths as the file has to have them. */
  word: { args: WordArgs; answer: Words };
  /** Makes a glue-up of two pieces. */
  glue: { args: GlueArgs; answer: State };
  /** Reads the outlines of a drawing. */
  trace: { args: TraceArgs; answer: Traces };
  /** Takes the last change back, and tells which. */
  undo: { args: ToyArgs; answer: Stepped };
  /** Makes the change again that was undone last, and tells which. */
  redo: { args: ToyArgs; answer: Stepped };
  /** Says which of two versions stays. */
  choose: { args: ChooseArgs; answer: State };
  /** Makes a toy. */
  create: { args: CreateArgs; answer: ToyArgs };
  /** Makes another toy like one that there is. */
  copy: { args: NameArgs; answer: ToyArgs };
  /** Gives the file of a toy another name. */
  rename: { args: NameArgs; answer: ToyArgs };
  /** Takes a toy off the shelf: its file is put aside, and comes back. */
  aside: { args: ToyArgs; answer: AsideArgs };
  /** Puts a toy on the shelf again that was put aside. */
  back: { args: AsideArgs; answer: ToyArgs };
  /** Tells that the program is there, to whoever knows its token. */
  there: { args: None; answer: None };
  /** Says what may stand in a toy file. */
  schema: { args: None; answer: Schema };
  /** Looks for the value of one size at which a finding holds. */
  mend: { args: MendArgs; answer: Mended };
  /** Explains a check. */
  why: { args: WhyArgs; answer: Why };
  /** Names the shop files of the folder. */
  shops: { args: None; answer: Shops };
  /** Makes the lists of the shop. */
  stock: { args: JobArgs; answer: StockPage };
  /** Says the guide step by step. */
  steps: { args: JobArgs; answer: StepsPage };
  /** Plans when what is done, and by whom. */
  plan: { args: PlanArgs; answer: PlanPage };
  /** Draws the patterns as they are printed. */
  patterns: { args: PatternsArgs; answer: PatternsPage };
  /** Adapts a toy to other stock, size or units. */
  adapt: { args: AdaptArgs; answer: AdaptPage };
  /** Tells what changed from an older edition. */
  compare: { args: CompareArgs; answer: ComparePage };
}

/** What is made as bytes: POST /make/NAME, with its arguments. */
export interface Makings {
  /** The picture of a toy on the shelf. */
  picture: ToyArgs;
  /** The drawings of a step of the guide. */
  step: StepArgs;
  /** A file to download. */
  file: FileArgs;
}
