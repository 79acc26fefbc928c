// The bar at the top: the folder, the toy, its pages, undo, how it looks.

import { hashOf, pages, type Route } from "./route";
import { measureIn, nothingBefore, redo, undo, useModel, type Open } from "./store";
import { Badge } from "./verdict";
import { useLook } from "./look";

export function Bar({ route }: { route: Route }) {
  const folder = useModel((m) => m.shelf?.folder ?? "");
  const open = useModel((m) => m.open);
  const state = open?.state;
  const end = nothingBefore(state?.lost ?? 0);
  const [look, setLook] = useLook();
  const units = useModel((m) => m.units);
  return (
    <header class="bar">
      <a class="brand" href={hashOf({ file: null, page: "dry-fit" })} aria-current={route.file === null ? "page" : undefined}>
        <img src="/assets/icon.svg" alt="" width="26" height="26" /> <span>{folder || "dryfit"}</span>
      </a>
      {route.file !== null && (
        <>
          <span class="toy-name">
            <span class="whose">{open?.toy?.name ?? route.file}</span> <Standing open={open} />
          </span>
          <nav aria-label="Pages of the toy">
            {pages.map((p) => (
              <a key={p.id} href={hashOf({ file: route.file, page: p.id })} aria-current={route.page === p.id ? "page" : undefined}>{p.name}</a>
            ))}
          </nav>
          <span class="row">
            <button disabled={!state?.undo} onClick={() => undo()} title={state?.undo ? "Undo: " + state.undo + " (Ctrl+Z)" : end.charAt(0).toUpperCase() + end.slice(1)}>Undo</button>
            <button disabled={!state?.redo} onClick={() => redo()} title={state?.redo ? "Do again: " + state.redo + " (Ctrl+Y)" : "Nothing to do again"}>Again</button>
          </span>
        </>
      )}
      <select class="measured-in" aria-label="Lengths in" title="Lengths in" value={units} onChange={(e) => measureIn((e.target as HTMLSelectElement).value)}>
        <option value="">As written</option>
        <option value="inch">Inches</option>
        <option value="mm">Millimetres</option>
      </select>
      <label class="look">
        <span class="unseen">Light or dark</span>
        <select title="Light or dark" value={look} onChange={(e) => setLook((e.target as HTMLSelectElement).value)}>
          <option value="auto">As the room</option>
          <option value="light">Day</option>
          <option value="dark">Evening</option>
        </select>
      </label>
    </header>
  );
}

/** Standing is how the toy stands by its proof, where there is one of the text as it is. */
function Standing({ open }: { open: Open | null }) {
  if (open?.state && open.state.problems.length > 0) return <span class="badge bad"><span aria-hidden="true">✗</span> cannot be read</span>;
  if (open?.proof?.done) return <Badge verdict={open.proof.verdict} />;
  return open?.before ? <span class="room"><Badge verdict={open.before.verdict} /></span> : null;
}
