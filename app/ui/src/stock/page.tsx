// Stock: what the shop needs for so many of the toy, and where its pieces lie on boards.

import type { ListBlock, ListSection } from "../protocol";
import { Hint } from "../hint";
import { useKept } from "../kept";
import { useAsk, useJob } from "../outputs/ask";
import { Count, Download, ShopChoice, show, Standing, useStem, wishOf } from "../outputs/parts";
import { Boards } from "./boards";

export function StockPage() {
  const [count, setCount] = useKept("count", 1);
  const [shop, setShop] = useKept("shop", "");
  const job = useJob(count, shop);
  const lists = useAsk("stock", job);
  const stem = useStem();
  const l = lists.value;
  return (
    <div class="outputs">
      <form class="asks" onSubmit={(e) => e.preventDefault()} aria-label="What is made">
        <Count value={count} set={setCount} />
        <ShopChoice value={shop} set={setShop} />
      </form>
      <div class="stock">
        <section class="lists" aria-labelledby="lists-head" aria-busy={lists.asking}>
          <header>
            <h1 id="lists-head">{l?.title ?? "Stock"}</h1>
            <Download job={job} wish={wishOf("lists", "csv", { count })} name={stem + "-lists.csv"}>Lists for a spreadsheet (CSV)</Download>
          </header>
          <Standing hash={l?.hash} asking={lists.asking} fails={lists.fails} what="The lists" />
          {l && <Hint id="stock" done={shop !== ""}>These lists reckon with what is commonly sold. Once a file says which boards, dowels and tools your shop has, choose it above: then they tell what is short.</Hint>}
          {l && <>
            {l.known && (l.short.length > 0
              ? <div class="short"><h2>Short in {l.shop}</h2><ul>{l.short.map((s) => <li key={s}>{s}</li>)}</ul></div>
              : <p class="enough">✓ By area and length, {l.shop} has enough of everything.</p>)}
            {l.head.map((b, i) => <Block key={i} b={b} />)}
            <nav class="contents" aria-label="Lists"><button class="small below" onClick={() => show("boards-head")}>Boards</button>{l.sections.map((s, i) => <button key={s.title} class="small" onClick={() => show("list-" + i)}>{s.title}</button>)}</nav>
            {l.sections.map((s, i) => <List key={s.title} id={"list-" + i} s={s} />)}
          </>}
        </section>
        <Boards job={job} stem={stem} />
      </div>
    </div>
  );
}

function List({ id, s }: { id: string; s: ListSection }) {
  return (
    <section id={id} tabIndex={-1} aria-label={s.title} class="list">
      <h2>{s.title}</h2>
      {s.blocks.map((b, i) => <Block key={i} b={b} />)}
    </section>
  );
}

function Block({ b }: { b: ListBlock }) {
  switch (b.kind) {
    case "name":
      return <h3>{b.says}</h3>;
    case "item":
      return <p class="item">{b.says}</p>;
    case "table":
      return (
        <div class="scroll" tabIndex={0} role="group" aria-label={"Table: " + b.heads.map((h) => h.says).join(", ")}>
          <table>
            <thead><tr>{b.heads.map((h) => <th key={h.says} scope="col" class={h.counts ? "counts" : ""}>{h.says}</th>)}</tr></thead>
            <tbody>{b.rows.map((r, i) => <tr key={i}>{r.map((c, k) => <td key={k} class={b.heads[k].counts ? "counts" : ""}>{c}</td>)}</tr>)}</tbody>
          </table>
        </div>
      );
  }
  return <p>{b.says}</p>;
}
