// Draw: the whole toy from the side, or a part's blank with its work in three views.

import { useEffect, useRef, useState } from "preact/hooks";
import type { Part, Toy } from "../protocol";
import { Findings } from "../findings";
import { listed } from "../names";
import { BuildOrder, PlacePart } from "../place/panel";
import { Sizes } from "../sizes";
import { change, rename, useModel } from "../store";
import { useHand } from "../units";
import { Hint } from "../hint";
import { About } from "./about";
import { FieldInput } from "./field";
import { toPaper } from "./keys";
import { rules, shown } from "./lengths";
import { PartList } from "./partlist";
import { Sheet } from "./sheet";
import { SideView } from "./sideview";
import { nothing, useRule, type Drawing, type ToolId } from "./state";
import { tools } from "./tools";
import { FromDrawing } from "./trace";
import { sideNames, opposite, type Side } from "./views";
import { WorkList } from "./worklist";

export function DraftPage() {
  const toy = useModel((m) => m.open?.toy ?? null);
  const unread = useModel((m) => (m.open?.state?.problems.length ?? 0) > 0);
  if (!toy) return unread ? <div class="wait"><h1>Draw</h1><p>There is nothing to draw yet. A toy has stock, a part that is cut from it, and a build that puts the part: write them on the page File, or let the questions on the shelf begin one.</p><Findings /></div> : <p class="wait">Opening …</p>;
  return <Drafting toy={toy} />;
}

function Drafting({ toy }: { toy: Toy }) {
  const [at, setPath] = useState(() => toy.parts.find((p) => p.work.length > 0)?.path ?? "");
  const [called, setCalled] = useState(""); // what the part at it has just become
  const path = toy.parts.some((p) => p.path === called) && !toy.parts.some((p) => p.path === at) ? called : at;
  const [chosen, choose] = useState(nothing);
  const [tool, setTool] = useState<ToolId>("");
  const [sides, setSides] = useState<Drawing["sides"]>(["top", "right", "front"]);
  const hand = useHand();
  const [rule, setRule] = useRule(hand.hand);
  const part = toy.parts.find((p) => p.path === path);
  const changed = useModel((m) => !!m.open?.state?.undo);
  const begun = useRef(false);
  useEffect(() => {
    choose(nothing);
    setTool("");
    if (begun.current && document.activeElement === document.body) toPaper();
    begun.current = true;
  }, [path]);
  const d: Drawing | null = part ? { part, hand, rule, chosen, choose, tool, setTool, sides, setSides } : null;
  return (
    <div class="drafting">
      <PartList toy={toy} chosen={part ? path : ""} choose={setPath} />
      <section class="paper" aria-labelledby="draw-head">
        <h1 id="draw-head" class="unseen">Draw {part ? part.name : "the whole toy"}</h1>
        {d && <Tools d={d} />}
        {d ? d.part.mirrors ? <p class="wait">{d.part.name} is the mirror image of <button onClick={() => setPath("parts." + d.part.mirrors)}>{d.part.mirrors}</button>: draw that one, and this follows.</p> : <Sheet d={d} /> : <SideView toy={toy} rule={rule} open={setPath} />}
        <p class="row foot">
          <label>To the nearest <select value={rule.id} onChange={(e) => setRule((e.target as HTMLSelectElement).value)}>{rules[hand.hand].map((r) => <option key={r.id} value={r.id}>{r.name}</option>)}</select></label>
          {d && ([0, 1, 2] as const).map((i) => (
            <button key={i} class="small" onClick={() => setSides(d.sides.map((s, k) => (k === i ? opposite[s] : s)) as Drawing["sides"])}>See the {sideNames[opposite[d.sides[i]] as Side].toLowerCase()}</button>
          ))}
          <span class="quiet">{d?.tool ? "Shift goes further, Page Down to the next view, Escape leaves the tool." : d ? "Drag a corner or hole, or choose it and use the arrow keys; Delete removes it." : "Drag a piece, or choose it and use the arrow keys; a double click, or Enter, opens its drawing."}</span>
        </p>
      </section>
      <aside class="side">
        {d && !d.part.mirrors && <Hint id="draw" done={changed}>Drag a corner or a hole, or take a tool and draw more; lengths are typed below. Undo takes back all of it.</Hint>}
        {d && <Blank part={d.part} toy={toy} called={setCalled} gone={() => setPath("")} />}
        {d && !d.part.mirrors && <WorkList d={d} />}
        {d && !d.part.mirrors && <FromDrawing d={d} />}
        {d ? <PlacePart key={d.part.path} toy={toy} part={d.part} /> : <><About toy={toy} /><BuildOrder toy={toy} /></>}
        <Findings />
        <Sizes />
      </aside>
    </div>
  );
}

function Tools({ d }: { d: Drawing }) {
  const hint = tools.find((t) => t.id === d.tool)?.hint;
  return (
    <div class="tools" role="group" aria-label="Tools">
      {tools.map((t) => (
        <button key={t.id} aria-pressed={d.tool === t.id} onClick={() => {
          d.setTool(d.tool === t.id ? "" : t.id);
          toPaper();
        }}>{t.name}</button>
      ))}
      <span role="status" class="quiet">{hint}</span>
    </div>
  );
}

interface BlankProps {
  part: Part;
  toy: Toy;
  called: (path: string) => void; // it has another path now
  gone: () => void;
}

function Blank({ part, toy, called, gone }: BlankProps) {
  const stock = toy.stock.find((s) => s.name === part.stock);
  const hand = useHand().hand;
  return (
    <section aria-labelledby="blank-head">
      <h2 id="blank-head">{part.name}</h2>
      <FieldInput name="called" plain text={part.name} set={async (to) => {
        const kind = part.shape === "glue-up" ? "glue-ups." : "parts.";
        if (!(await rename(kind + part.name, to))) return false;
        called(kind + to);
        return true;
      }} />
      {part.shape === "glue-up"
        ? <p class="quiet">Glued of {part.inside.join(", ")}. The work below is done once the glue has set.</p>
        : (
          <>
            <label class="field"><span>from</span>
              <select value={part.stock} onChange={(e) => change([{ op: "set", path: part.path + ".from", value: (e.target as HTMLSelectElement).value }], "stock of " + part.name)}>
                {toy.stock.map((s) => <option key={s.name} value={s.name}>{s.name}</option>)}
              </select>
              {stock && <span class="quiet">{stock.wood}, {shown(stock.size, hand)}</span>}
            </label>
            {stock && (
              <details>
                <summary>Call this stock something else</summary>
                <FieldInput key={stock.name} name="stock called" plain text={stock.name} set={(to) => rename("stock." + stock.name, to)} />
              </details>
            )}
            {part.fields.map((f) => <FieldInput key={f.path} {...f} set={(t) => change([{ op: "set", path: f.path, value: t, as: "text" }], `${part.name}: ${f.name} ${t}`)} />)}
          </>
        )}
      <p class="row">
        <button class="small" disabled={part.users.length > 0} onClick={async () => (await change([{ op: "remove", path: part.path }], "remove " + part.name)) && gone()}>Remove this {part.shape === "glue-up" ? "glue-up" : "part"}</button>
        {part.users.length > 0 && <span class="quiet">It is used by {listed(part.users)}.</span>}
      </p>
    </section>
  );
}
