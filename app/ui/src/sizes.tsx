// The named sizes as a small table: type another value, and all that hangs on it follows.

import { Wrong } from "./draw/field";
import { shown } from "./draw/lengths";
import type { Size } from "./protocol";
import { change, dispatch, trouble, useModel } from "./store";
import { useTyped } from "./typed";
import { saidText, symbols, useHand, worded, type Hand } from "./units";

export function Sizes() {
  const toy = useModel((m) => m.open?.toy ?? null);
  const hand = useHand();
  if (!toy) return null;
  return (
    <section class="sizes" aria-labelledby="sizes-head">
      <h2 id="sizes-head">Sizes</h2>
      {toy.sizes.length === 0 && <p class="quiet">This toy names no sizes.</p>}
      <table>
        <tbody>
          {toy.sizes.map((s) => <Row key={s.name} size={s} hand={hand} />)}
        </tbody>
      </table>
    </section>
  );
}

function Row({ size, hand }: { size: Size; hand: Hand }) {
  const touch = () => dispatch({ do: "look", look: { parts: size.parts } });
  const leave = () => dispatch({ do: "look", look: null });
  const t = useTyped(saidText(size, hand), async (text) => {
    try {
      const [value] = await worded([text], hand);
      return await change([{ op: "set", path: size.path, value }], `${size.name} ${value}`);
    } catch (e) {
      trouble(e);
      return false;
    }
  });
  const id = "size-" + size.name;
  return (
    <tr onPointerEnter={touch} onPointerLeave={leave}>
      <th scope="row"><label for={id}>{size.name}</label></th>
      <td>
        <input
          id={id} value={t.value} spellcheck={false} autocomplete="off" aria-invalid={t.wrong !== ""} aria-describedby={`${id}-says ${id}-wrong`}
          {...t.on} onFocus={touch}
          onBlur={(e) => {
            leave();
            t.on.onBlur(e);
          }}
        />
        <Wrong id={id + "-wrong"} says={t.wrong} />
      </td>
      <td class="quiet" id={id + "-says"}>
        {worth(size, hand)}
        <span class="unseen"> changes {size.parts.join(", ") || "no part"}</span>
      </td>
    </tr>
  );
}

/** worth is what a size comes to. */
function worth(size: Size, { own, hand }: Hand): string {
  if (size.mm === null) return size.says ? "= " + size.says : "";
  if (own !== hand) return `= ${shown(size.mm, hand)} ${symbols[hand]}`;
  if (size.says) return "= " + size.says;
  return own === "inch" ? "≈ " + (Math.round(size.mm * 10) / 10).toString() + " mm" : "";
}
