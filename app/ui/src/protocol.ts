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
  hash: string;
  text: string;
  undo: string;
  redo: string;
  unsaved: string;
  forgets: string;
  gone: boolean;
  theirs: string | null;
  problems: Problem[];
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

export interface MendArgs {
  file: string;
  check: string;
  about: string;
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
}

export interface WhyArgs {
  check: string;
}

export interface Why {
  text: string;
}

export interface Size {
  name: string;
  path: string;
  text: string;
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

export interface Field {
  name: string;
  path: string;
  text: string;
  mm: number | null;
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
}

export interface Toy {
  hash: string;
  name: string;
  units: string;
  edition: number;
  ages: string;
  sizes: Size[];
  stock: Stock[];
  parts: Part[];
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
}

/** What may be called: POST /call/NAME. */
export interface Calls {
  /** Changes a toy: edits of its file, or a whole text. */
  change: { args: ChangeArgs; answer: State };
  /** Moves places, keeping the formulas that they are written as. */
  shift: { args: ShiftArgs; answer: State };
  /** Reads the outlines of a drawing. */
  trace: { args: TraceArgs; answer: Traces };
  /** Takes the last change back. */
  undo: { args: ToyArgs; answer: State };
  /** Makes the change again that was undone last. */
  redo: { args: ToyArgs; answer: State };
  /** Says which of two versions stays. */
  choose: { args: ChooseArgs; answer: State };
  /** Makes a toy. */
  create: { args: CreateArgs; answer: ToyArgs };
  /** Makes another toy like one that there is. */
  copy: { args: NameArgs; answer: ToyArgs };
  /** Gives the file of a toy another name. */
  rename: { args: NameArgs; answer: ToyArgs };
  /** Looks for the value of one size at which a finding holds. */
  mend: { args: MendArgs; answer: Mended };
  /** Explains a check. */
  why: { args: WhyArgs; answer: Why };
}

/** What is made as bytes: POST /make/NAME, with its arguments. */
export interface Makings {
  /** The picture of a toy on the shelf. */
  picture: ToyArgs;
}
